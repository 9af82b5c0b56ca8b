package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// pressed is a run that began at a sitting pressure (0: none was taken), with a
// reading of the upper pressure every five minutes, so that none is late.
func pressed(t testing.TB, start int, set func(*Prescription), rows ...int) *Session {
	s := connected(t)
	if start == 0 {
		s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "vitals_before" })
	} else {
		edit(s, func(b *VitalsBefore) { b.SitSystolic = mm(start) })
	}
	if set != nil {
		set(s.Rx)
	}
	for i, sys := range rows {
		put(s, on(5*(i+1)), &Reading{Systolic: mm(sys)})
	}
	return s
}

// saidOf gives the words of the remarks with a code, in order.
func saidOf(s *Session, at time.Time, code string) []string {
	var out []string
	for _, r := range Remarks(s, at) {
		if r.Code == code {
			out = append(out, r.Words)
		}
	}
	return out
}

const lp = "low_pressure"

func actBelow(v int) func(*Prescription) { return func(rx *Prescription) { rx.FallBelow = mm(v) } }

func TestLowPressureRemarks(t *testing.T) {
	for _, tt := range []struct {
		name  string
		start int
		set   func(*Prescription)
		rows  []int
		want  []string
	}{
		// Ours: under 90.
		{"90, begun at 119", 119, nil, []int{90}, nil},
		{"89, begun at 118", 118, nil, []int{89}, []string{lp}},
		// Ours: 30 and more under the start.
		{"29 down", 138, nil, []int{109}, nil},
		{"30 down", 138, nil, []int{108}, []string{lp}},
		{"31 down", 138, nil, []int{107}, []string{lp}},
		// Ours: under 100 when begun at 120 or over.
		{"100, begun at 120", 120, nil, []int{100}, nil},
		{"99, begun at 120", 120, nil, []int{99}, []string{lp}},
		{"99, begun at 119", 119, nil, []int{99}, nil},
		// The unit's figures first.
		{"at the unit's figure", 138, actBelow(95), []int{107, 95}, nil},
		{"under the unit's figure", 138, actBelow(95), []int{94}, []string{lp}},
		{"39 down, the unit's is 40", 138, func(rx *Prescription) { rx.FallBy = mm(40) }, []int{99}, nil},
		{"40 down, the unit's is 40", 138, func(rx *Prescription) { rx.FallBy = mm(40) }, []int{98}, []string{lp}},
		{"85, the unit acts at a fall of 60", 138, func(rx *Prescription) { rx.FallBy = mm(60) }, []int{85}, []string{"nadir"}},
		// Each fall is said; deeper ones by 10.
		{"9 further down", 138, nil, []int{100, 91}, []string{lp}},
		{"10 further down", 138, nil, []int{100, 90}, []string{lp, lp}},
		{"down in small steps", 138, nil, []int{100, 95, 91, 90, 81, 80}, []string{lp, lp, "nadir", lp}},
		{"a second fall", 128, nil, []int{88, 121, 74}, []string{lp, lp}},
		{"a second fall as deep", 138, nil, []int{99, 120, 99}, []string{lp, lp}},
		{"less low is no new fall", 138, nil, []int{88, 97, 92}, []string{lp}},
		// A start that is itself low.
		{"begun at 97, 94 to 98", 97, nil, []int{94, 98, 95, 96, 97}, nil},
		{"begun at 97, 84", 97, nil, []int{94, 96, 84}, []string{lp}},
		{"begun at 85, stays there", 85, nil, []int{84, 86, 83, 88, 80}, []string{lp}},
		{"begun at 85, falls from there", 85, nil, []int{84, 86, 73}, []string{lp, lp}},
		{"begun at 85, 11 under and back", 85, nil, []int{84, 86, 74, 84, 84}, []string{lp, lp}},
		{"begun at 95, the unit's figure is 100: its word first", 95, actBelow(100), []int{94, 95, 96, 85}, []string{lp, "nadir"}},
		// The first reading stands in for a pressure before the session.
		{"no pressure before, 30 down", 0, nil, []int{150, 120}, []string{lp}},
		{"no pressure before, 29 down", 0, nil, []int{150, 121}, nil},
		{"no pressure before, first reading 89", 0, nil, []int{89}, []string{lp}},
		// What counts as low pressure of the session and is not said as one.
		{"at once under 90", 138, nil, []int{85, 84}, []string{lp}},
		{"began at 160", 160, actBelow(80), []int{100, 99, 98}, []string{"nadir"}},
		{"began at 159", 159, actBelow(80), []int{99, 90}, nil},
		{"90 counts not", 120, actBelow(80), []int{90}, nil},
		{"said again after one that does not count", 138, actBelow(70), []int{82, 118, 71}, []string{"nadir", "nadir"}},
		{"9 further", 138, actBelow(70), []int{89, 80}, []string{"nadir"}},
		{"10 further", 138, actBelow(70), []int{89, 79}, []string{"nadir", "nadir"}},
		{"begun at 85, the unit acts at a fall of 30", 85, func(rx *Prescription) { rx.FallBy = mm(30) }, []int{84, 70, 60, 57}, []string{"nadir", "nadir", "nadir"}},
		{"begun unknown, the unit acts at a fall of 40", 0, func(rx *Prescription) { rx.FallBy = mm(40) }, []int{75, 60, 50, 44}, []string{"nadir", "nadir", "nadir"}},
		{"not beside a low pressure", 138, actBelow(75), []int{82, 72, 118, 74}, []string{"nadir", lp, lp}},
		{"89 counts", 120, actBelow(80), []int{89, 79}, []string{"nadir", lp}},
	} {
		s := pressed(t, tt.start, tt.set, tt.rows...)
		if got := codes(s, on(5*len(tt.rows)+1)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestLowPressureWords(t *testing.T) {
	for _, tt := range []struct {
		s    *Session
		want string
	}{
		{pressed(t, 138, nil, 96), "Upper pressure 96; you started at 138. Low by the program's own default, not set by your unit. Follow your unit's plan for low pressure."},
		{pressed(t, 138, actBelow(100), 96), "Upper pressure 96; you started at 138. Low by the figure set by Dr Lind on 3 March 2026. Follow your unit's plan for low pressure."},
	} {
		r := Remarks(tt.s, on(6))[0]
		if r.Words != tt.want || r.Level != LevelLook || !r.At.Equal(on(5)) || r.Entry == "" {
			t.Errorf("%+v", r)
		}
	}
}

// "Low pressure" tapped without a figure is a low reading and is said each time;
// with one it is a reading, low because the person told it.
func TestLowPressureTapped(t *testing.T) {
	s := pressed(t, 138, nil)
	put(s, on(5), &LowPressure{})
	put(s, on(5), &LowPressure{Felt: "dizzy"})
	put(s, on(7), &Reading{Systolic: mm(88)}) // the first figure of this fall
	put(s, on(9), &Reading{Systolic: mm(87)})
	put(s, on(11), &LowPressure{Systolic: mm(86)})
	put(s, on(13), &LowPressure{})
	got := saidOf(s, on(14), lp)
	if len(got) != 4 || got[0] != "Low pressure, no figure written. Measure it. "+unitsPlan || !strings.Contains(got[2], "88") || got[3] != got[0] {
		t.Errorf("%q", got)
	}
	s = pressed(t, 138, nil)
	put(s, on(5), &LowPressure{Systolic: mm(118)})
	if got := saidOf(s, on(6), lp); len(got) != 1 || got[0] != "You said low pressure; upper pressure 118; you started at 138. "+unitsPlan {
		t.Errorf("%q", got)
	}
	put(s, on(10), &LowPressure{Systolic: mm(109)})
	if got := saidOf(s, on(11), lp); len(got) != 1 {
		t.Errorf("9 lower: %q", got)
	}
	put(s, on(12), &LowPressure{Systolic: mm(108)})
	if got := saidOf(s, on(13), lp); len(got) != 2 {
		t.Errorf("10 lower: %q", got)
	}
	// A tap is no first reading, and is not held against one that came later.
	s = pressed(t, 0, nil)
	put(s, on(4), &LowPressure{Systolic: mm(119)})
	put(s, on(5), &Reading{Systolic: mm(150)})
	put(s, on(6), &Reading{Systolic: mm(121)})
	if got := codes(s, on(7)); !slices.Equal(got, []string{lp}) {
		t.Errorf("%v", got)
	}
}

// A complaint breaks the row of readings that make somebody who is always low
// inside.
func TestComplaintIsNotInside(t *testing.T) {
	for name, complaint := range map[string]any{"cramp": &Cramp{}, "unwell": &Unwell{Words: "sick"}, "nothing": &Note{}} {
		s := pressed(t, 85, nil)
		put(s, on(5), &Reading{Systolic: mm(84)})
		put(s, on(7), complaint)
		put(s, on(10), &Reading{Systolic: mm(84)})
		_, calm := complaint.(*Note)
		if w, _ := watchRun(s, on(11)); w.bp.low == calm {
			t.Errorf("%s: low %v", name, w.bp.low)
		}
		put(s, on(15), &Reading{Systolic: mm(86)})
		if w, _ := watchRun(s, on(16)); w.bp.low {
			t.Errorf("%s: low after two running", name)
		}
	}
}

// What happened in one minute counts in the order of writing; what is struck
// out, lies before the beginning or after the end, or has not happened yet does
// not count.
func TestLowPressureOfWhatCounts(t *testing.T) {
	s := pressed(t, 138, nil)
	put(s, on(5), &Reading{Systolic: mm(88)})
	put(s, on(5), &Reading{Systolic: mm(121)})
	if w, _ := watchRun(s, on(5)); w.bp.low || len(saidOf(s, on(5), lp)) != 1 {
		t.Errorf("measured again in the same minute: low %v, %v", w.bp.low, codes(s, on(5)))
	}
	if got := codes(s, on(4)); len(got) != 0 {
		t.Errorf("before it happened: %v", got)
	}
	s.Log[len(s.Log)-2].Struck = &Strike{Reason: "the other arm"}
	if got := codes(s, on(5)); len(got) != 0 {
		t.Errorf("struck out: %v", got)
	}
	put(s, on(-1), &LowPressure{})
	put(s, on(30), &CameOff{Returned: "all"})
	put(s, on(31), &LowPressure{})
	if got := codes(s, on(60)); len(got) != 0 {
		t.Errorf("before the beginning and after the end: %v", got)
	}
	// A pressure written as "before" but taken while running is no start.
	s = pressed(t, 138, nil)
	put(s, on(3), &VitalsBefore{SitSystolic: mm(118)})
	put(s, on(5), &Reading{Systolic: mm(107)})
	if got := codes(s, on(6)); !slices.Equal(got, []string{lp}) {
		t.Errorf("%v", got)
	}
	if got := Remarks(ready(t), on(60)); got != nil {
		t.Errorf("before connecting: %v", got)
	}
}

// Of any run of readings: what is not low is never said, what is low and follows
// one that was inside always is, and so is what lies 10 under all that was said.
func TestEachFallIsSaid(t *testing.T) {
	dice := lcg(41)
	said, falls := 0, 0
	for range 3000 {
		s := pressed(t, 95+dice.next(60), nil)
		p := pressureOf(s, on(0))
		was, lowest := false, unit.Pressure(0)
		for m := 5; m < 100; m += 5 {
			sys := unit.Pressure(70 + dice.next(70))
			put(s, on(m), &Reading{Systolic: &sys})
			low := p.isLow(sys)
			want := low && (!was || sys <= lowest-10)
			if want {
				lowest, falls = sys, falls+1
			}
			was = low
			got := Remarks(s, on(m))
			n := 0
			for _, r := range got {
				if r.Code == lp && r.At.Equal(on(m)) {
					n++
					if !strings.Contains(r.Words, sys.String()) {
						t.Fatalf("%s does not hold %s", r.Words, sys)
					}
				}
			}
			said += n
			if want != (n == 1) {
				t.Fatalf("start %s, %s at %d min: said %d times, want %v", p.start, sys, m, n, want)
			}
		}
	}
	if said == 0 || said != falls {
		t.Errorf("%d said of %d falls", said, falls)
	}
}
