package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// held makes sessions that are over, each with what happened in it.
func held(t *testing.T, happened ...func(*Session)) []*Session {
	var out []*Session
	for _, f := range happened {
		s := connected(t)
		f(s)
		put(s, on(240), &CameOff{})
		out = append(out, s)
	}
	return out
}

func quiet(*Session)   {}
func low(s *Session)   { put(s, on(60), &LowPressure{}) }
func cramp(s *Session) { put(s, on(60), &Cramp{}) }

func read(start, later int) func(*Session) {
	return func(s *Session) {
		put(s, on(-30), &VitalsBefore{SitSystolic: mm(start)})
		put(s, on(60), &Reading{Systolic: mm(later)})
	}
}

func TestTroubleThatComesBack(t *testing.T) {
	for _, tt := range []struct {
		name  string
		held  []func(*Session)
		words string
	}{
		{"two of six", []func(*Session){low, quiet, quiet, cramp, quiet, quiet}, ""},
		{"three of six", []func(*Session){low, quiet, cramp, quiet, quiet, low}, "Low pressure or cramps in 3 of the last 6 sessions"},
		{"three of three", []func(*Session){low, low, low}, "Low pressure in 3 of the last 3 sessions"},
		{"cramps alone", []func(*Session){cramp, quiet, cramp, cramp}, "Cramps in 3 of the last 4 sessions"},
		{"both in one count once", []func(*Session){quiet, quiet, quiet, quiet, low, func(s *Session) { low(s); cramp(s) }}, ""},
		{"the third lies too long ago", []func(*Session){low, quiet, quiet, quiet, quiet, low, low}, ""},
		{"read under 90", []func(*Session){read(120, 89), read(120, 89), read(120, 89)}, "Low pressure in 3"},
		{"read at 90", []func(*Session){read(120, 90), read(120, 90), read(120, 90)}, ""},
		{"99 after a start at 160", []func(*Session){read(160, 99), read(160, 99), read(160, 99)}, "Low pressure in 3"},
		{"99 after a start at 159", []func(*Session){read(159, 99), read(159, 99), read(159, 99)}, ""},
		{"nobody yet", nil, ""},
	} {
		got := OftenLowOf(held(t, tt.held...))
		if got.Flagged != (tt.words != "") || !strings.HasPrefix(got.Words, tt.words) {
			t.Errorf("%s: %+v", tt.name, got)
		}
	}
	// A session that is not over, and an entry that was struck out, do not count.
	all := held(t, low, low)
	under := connected(t)
	low(under)
	if got := OftenLowOf(append(all, under)); got.Flagged || got.Sessions != 2 {
		t.Errorf("with one under way: %+v", got)
	}
	all = held(t, low, low, quiet)
	put(all[2], on(60), &Cramp{}).Struck = &Strike{Reason: "the other leg's story"}
	if got := OftenLowOf(all); got.Flagged || got.Either != 2 {
		t.Errorf("with one struck out: %+v", got)
	}
}

func TestLatelySaysBoth(t *testing.T) {
	if got := Lately(held(t, quiet, quiet, quiet, quiet)); got != nil {
		t.Errorf("nothing to say: %q", got)
	}
	far := func(s *Session) { low(s); put(s, on(250), &WeighOut{Weight: 59_500}) }
	got := Lately(held(t, far, far, far, far))
	if len(got) != 2 || !strings.Contains(got[0], "1.5\u00a0kg above") || !strings.HasPrefix(got[1], "Low pressure in 4") {
		t.Errorf("%q", got)
	}
}

// Three rows that agree in every figure that moves are remarked on, once.
func TestCopiedRows(t *testing.T) {
	row := func(sys, venous int) *Reading {
		return &Reading{Systolic: mm(sys), Diastolic: mm(70), Pulse: ref(unit.Pulse(72)), Arterial: mm(-160), Venous: mm(venous)}
	}
	for _, tt := range []struct {
		name string
		rows []*Reading
		want int
	}{
		{"two", []*Reading{row(130, 140), row(130, 140)}, 0},
		{"three", []*Reading{row(130, 140), row(130, 140), row(130, 140)}, 1},
		{"five", []*Reading{row(130, 140), row(130, 140), row(130, 140), row(130, 140), row(130, 140)}, 1},
		{"one figure moves", []*Reading{row(130, 140), row(130, 141), row(130, 140), row(131, 140)}, 0},
		{"a row with gaps between", []*Reading{row(130, 140), row(130, 140), {Systolic: mm(130)}, row(130, 140)}, 1},
		{"never all five", []*Reading{{Systolic: mm(130)}, {Systolic: mm(130)}, {Systolic: mm(130)}}, 0},
	} {
		got := codes(withReadings(t, tt.rows...), on(30*len(tt.rows)+1))
		if n := len(slices.DeleteFunc(got, func(c string) bool { return c != "copied" })); n != tt.want {
			t.Errorf("%s: said %d times, want %d", tt.name, n, tt.want)
		}
	}
}
