package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// startedAt makes sessions that are over, each begun with these two pressures, sitting
// and standing.
func startedAt(t *testing.T, pairs ...[2]int) []*Session {
	var list []func(*Session)
	for _, p := range pairs {
		list = append(list, func(s *Session) {
			edit(s, func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mm(p[0]), mm(p[1]) })
		})
	}
	return held(t, list...)
}

// readAt makes sessions that are over, begun at 138, each with one upper pressure read.
func readAt(t *testing.T, read ...int) []*Session {
	var list []func(*Session)
	for _, v := range read {
		list = append(list, func(s *Session) {
			edit(s, func(b *VitalsBefore) { b.SitSystolic = mm(138) })
			put(s, on(60), bp(v))
		})
	}
	return held(t, list...)
}

// planned makes sessions that are over, whose plan began so far under the dry weight.
func planned(t *testing.T, under ...unit.Mass) []*Session {
	var list []func(*Session)
	for _, u := range under {
		list = append(list, func(s *Session) {
			edit(s, func(b *AgreedPlan) { b.PreWeight, b.Clothing = b.DryWeight-u, 0 })
		})
	}
	return held(t, list...)
}

// A figure of the program's own that speaks in three of the last six sessions, or in
// two where it speaks while running, asks for the unit's, until that is written.
func TestAsksForTheFigureThatSpoke(t *testing.T) {
	sit, low := func(v int) [2]int { return [2]int{v, 120} }, func(v int) [2]int { return [2]int{120, v} }
	none := func(*Prescription) {}
	for _, tt := range []struct {
		name string
		set  func(*Prescription)
		held []*Session
		want []string
	}{
		{"under 100 sitting in three", none, startedAt(t, sit(99), sit(130), sit(99), sit(130), sit(99), sit(130)), []string{AskFall, AskStart}},
		{"at 100", none, startedAt(t, sit(100), sit(100), sit(100)), []string{AskFall}},
		{"in two", none, startedAt(t, sit(99), sit(99), sit(130)), nil},
		{"180 in three", none, startedAt(t, sit(180), sit(180), sit(180)), []string{AskStart}},
		{"179", none, startedAt(t, sit(179), sit(179), sit(179)), nil},
		{"180, the unit set only the lower one", func(rx *Prescription) { rx.SystolicLow = mm(95) }, startedAt(t, sit(180), sit(180), sit(180)), []string{AskStart}},
		{"180, the unit set the upper one", func(rx *Prescription) { rx.SystolicHi = mm(190) }, startedAt(t, sit(180), sit(180), sit(180)), nil},
		{"the third lies too long ago", none, startedAt(t, sit(180), sit(130), sit(130), sit(130), sit(130), sit(180), sit(180)), nil},

		{"under 90 standing in three", none, startedAt(t, low(89), low(89), low(89)), []string{AskStand}},
		{"at 90", none, startedAt(t, low(90), low(90), low(90)), nil},
		{"under the figure for sitting", func(rx *Prescription) { rx.SystolicLow = mm(105) }, startedAt(t, low(104), low(104), low(104)), []string{AskStand}},
		{"at it", func(rx *Prescription) { rx.SystolicLow = mm(105) }, startedAt(t, low(105), low(105), low(105)), nil},
		{"its own figure is written", func(rx *Prescription) { rx.StandLow = mm(70) }, startedAt(t, low(60), low(60), low(60)), nil},

		{"30 under the start in two", none, readAt(t, 108, 130, 130, 130, 130, 108), []string{AskFall}},
		{"29 under", none, readAt(t, 109, 109, 109), nil},
		{"in one", none, readAt(t, 108, 130), nil},
		{"the unit acts below a figure", actBelow(90), readAt(t, 108, 108), nil},
		{"it sets none", func(rx *Prescription) { rx.FallNoneBy = "Nurse Oren" }, readAt(t, 108, 108), nil},

		{"0.3 kg under in three", none, planned(t, 300, 300, 300), []string{AskDry}},
		{"just less", none, planned(t, 299, 299, 299), nil},
		{"in two", none, planned(t, 300, 300, 0), nil},
		{"the unit's figure", func(rx *Prescription) { rx.DryRing = ref(unit.Mass(800)) }, planned(t, 300, 300, 300), nil},
	} {
		rx := ordered(t)
		tt.set(rx)
		var got []string
		for _, a := range AskedOfUnit(rx, tt.held, Asker{}) {
			got = append(got, a.Code)
			if a.Kind != "prescription" || len(a.Keys) == 0 || !strings.Contains(a.Words, "Ask your unit for its own") {
				t.Errorf("%s: %+v", tt.name, a)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// Where the unit set its own figure a pressure that only counts as low is a note, and
// a look from 20 mmHg under the start on; somebody who is always low is told once, and
// again 10 mmHg further down.
func TestCountsAsLowIsALookFromTwentyUnder(t *testing.T) {
	levels := func(s *Session, rows int) (list []string) {
		for _, r := range Remarks(s, on(5*rows+1)) {
			if r.Code == "nadir" || r.Code == "low_pressure" {
				list = append(list, r.Level+" "+r.Code)
			}
		}
		return list
	}
	const look, note, low = "look nadir", "note nadir", "look low_pressure"
	for _, tt := range []struct {
		name  string
		start int
		set   func(*Prescription)
		rows  []int
		want  []string
	}{
		{"19 under", 108, actBelow(75), []int{89}, []string{note}},
		{"20 under", 109, actBelow(75), []int{89}, []string{look}},
		{"first a note, then 20 under", 105, actBelow(75), []int{88, 85}, []string{note, look}},
		{"90 does not count", 138, actBelow(75), []int{90}, nil},
		{"low by the unit's", 95, actBelow(75), []int{74}, []string{low}},
		{"always low, with no figure", 86, nil, []int{86, 85, 84, 91, 84, 92, 80, 90, 84}, []string{low}},
		{"and falls", 86, nil, []int{86, 85, 84, 91, 84, 73}, []string{low, low}},
		{"an unknown start", 0, func(rx *Prescription) { rx.FallBy = mm(40) }, []int{120, 99, 84}, []string{look}},
	} {
		s := pressed(t, tt.start, tt.set, tt.rows...)
		if got := levels(s, len(tt.rows)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// The one standing is held against its own figure, or else as before; so is whether it
// makes a weight below the dry one a reason to ring.
func TestStandingHasAFigureOfItsOwn(t *testing.T) {
	for _, tt := range []struct {
		low, stand int // of the unit; 0: none
		got        int
		want       CheckState
	}{
		{0, 0, 90, Ready}, {0, 0, 89, Look}, {100, 0, 100, Ready}, {100, 0, 99, StopHere},
		{100, 70, 70, Ready}, {100, 70, 69, StopHere}, {0, 70, 70, Ready}, {0, 70, 69, StopHere},
	} {
		s := ready(t)
		if s.Rx.Limits = (Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-01-02")}); tt.low > 0 {
			s.Rx.SystolicLow = mm(tt.low)
		}
		if tt.stand > 0 {
			s.Rx.StandLow = mm(tt.stand)
		}
		edit(s, func(b *VitalsBefore) {
			b.SitSystolic, b.SitDiastolic, b.StandSystolic, b.StandDiastolic = mm(108), mm(60), mm(tt.got), mm(55)
		})
		c := vitalsOf(t, s, History{Drops: []bool{true, true, true}})
		if c.State != tt.want {
			t.Errorf("unit's %d and standing %d, %d: %s %q", tt.low, tt.stand, tt.got, c.State, c.Words)
		}
		plan := AgreedPlan{PreWeight: 59_900, DryWeight: 60_000}
		if got := len(UnderDryOf(s, plan, evening.Add(mins(40))).Unwell) > 0; got != (tt.want != Ready) {
			t.Errorf("unit's %d and standing %d, %d: unwell %v", tt.low, tt.stand, tt.got, got)
		}
	}
}

// A drop is no news where it is as usual, and is again where it goes far beyond it.
func TestUsualDropIsNoNews(t *testing.T) {
	usual := func(upper, lower int, n int) (h History) {
		for range n {
			h.Fell = append(h.Fell, fell{unit.Pressure(upper), mm(lower)})
			h.Drops = append(h.Drops, upper >= 20 || lower >= 10)
		}
		return h
	}
	for _, tt := range []struct {
		name         string
		h            History
		upper, lower int
		want         bool
	}{
		{"nothing known", History{}, 20, 5, true},
		{"two known", usual(18, 5, 2), 20, 5, true},
		{"as usual", usual(18, 5, 3), 20, 5, false},
		{"14 beyond", usual(18, 5, 6), 32, 5, false},
		{"15 beyond", usual(18, 5, 6), 33, 5, true},
		{"a small one that is usual", usual(4, 2, 6), 19, 5, false},
		{"a new one", usual(4, 2, 6), 20, 5, true},
		{"of the lower one", usual(4, 2, 6), 8, 12, true},
		{"9 beyond of the lower one", usual(4, 2, 6), 8, 11, false},
		{"always, and as usual", usual(25, 5, 6), 30, 5, false},
		{"always, 19 beyond", usual(25, 5, 6), 44, 5, false},
		{"always, 20 beyond", usual(25, 5, 6), 45, 5, true},
		{"always, the lower one 20 beyond", usual(25, 12, 6), 26, 32, true},
	} {
		s := ready(t)
		edit(s, func(b *VitalsBefore) {
			b.SitSystolic, b.SitDiastolic, b.StandSystolic, b.StandDiastolic = mm(150), mm(80), mm(150-tt.upper), mm(80-tt.lower)
		})
		c := vitalsOf(t, s, tt.h)
		if got := slices.Contains(c.Codes, "vitals_drop_new"); got != tt.want {
			t.Errorf("%s: %v %q", tt.name, got, c.Words)
		}
	}
}
