package session

import (
	"slices"
	"strings"
	"testing"
)

// What is taken out of the general steps and put into them, for each kind of treatment;
// a sheet of the household's own keeps its steps but for those of heparin and of the
// dialysis fluid, and is given those of a night.
func TestSheetFor(t *testing.T) {
	own := DefaultSetUp()
	own.Marked = "our unit's steps"
	night := []string{NightSensors, NightAlarm, NightHouse, NightArm, NightTape}
	for _, tt := range []struct {
		name      string
		own       RunSheet
		change    func(s *Session)
		gone, new []string
	}{
		{"tap water", RunSheet{}, func(*Session) {}, nil, nil},
		{"the general one kept", DefaultSetUp(), func(s *Session) { s.Machine.Kind = "batch" }, []string{"water_on", "water_runs"}, []string{BatchStep}},
		{"a batch", RunSheet{}, func(s *Session) { s.Machine.Kind = "batch" }, []string{"water_on", "water_runs"}, []string{BatchStep}},
		{"bags", RunSheet{}, func(s *Session) { s.Machine.Kind = "bags" }, []string{"water_on", "water_runs", "chlorine", "conductivity"}, nil},
		{"bags, own", own, func(s *Session) { s.Machine.Kind = "bags" }, nil, nil},
		{"no heparin", RunSheet{}, func(s *Session) { s.Rx.Heparin = "none" }, []string{"heparin"}, nil},
		{"no heparin, own", own, func(s *Session) { s.Rx.Heparin = "none" }, []string{"heparin"}, nil},
		{"no heparin, drawn up", RunSheet{}, func(s *Session) { s.Rx.Heparin = "none"; put(s, evening, &HeparinDrawn{}) }, nil, nil},
		{"removal only", RunSheet{}, func(s *Session) { put(s, evening, &Opened{Place: "home", Source: "live", RemovalOnly: true}) }, []string{"bath", "conductivity"}, nil},
		{"a night", RunSheet{}, func(s *Session) { *s.Rx.Length = 600 }, nil, night},
		{"a night, own", own, func(s *Session) { *s.Rx.Length = 600 }, nil, night},
		{"one needle", RunSheet{}, func(s *Session) { s.Rx.SingleNeedle = true }, nil, nil},
		{"haemodiafiltration", RunSheet{}, func(s *Session) { s.Rx.Filtration = true }, nil, nil},
		{"a catheter", RunSheet{}, func(s *Session) { s.Rx.Access = "catheter" }, []string{"arm", "needles"},
			[]string{"lock_read", MaskStep, ClampStep, CapsOffStep, DrawnStep, JoinedStep}},
	} {
		s := newSession(t)
		if tt.name != "removal only" {
			put(s, evening, &Opened{Place: "home", Source: "live"})
		}
		tt.change(s)
		got := SheetFor(SetUp, tt.own, s, evening)
		if err := got.Validate(); err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		was, now := stepIDs(DefaultSetUp()), stepIDs(got)
		gone := slices.DeleteFunc(slices.Clone(was), func(id string) bool { return slices.Contains(now, id) })
		added := slices.DeleteFunc(slices.Clone(now), func(id string) bool { return slices.Contains(was, id) })
		slices.Sort(gone)
		slices.Sort(added)
		slices.Sort(tt.gone)
		slices.Sort(tt.new)
		if !slices.Equal(gone, tt.gone) || !slices.Equal(added, tt.new) {
			t.Errorf("%s: without %v and with %v, want %v and %v", tt.name, gone, added, tt.gone, tt.new)
		}
		off := SheetFor(TakeOff, RunSheet{}, s, evening)
		if !off.Same(DefaultSheet(TakeOff, s.Rx, s.Machine)) {
			t.Errorf("%s: coming off has %v", tt.name, stepIDs(off))
		}
	}
}

// Where no plan is made the general step of the plan names the unit's paper.
func TestStepOfThePlanByPaper(t *testing.T) {
	for _, child := range []bool{false, true} {
		s := byPaper(t)
		s.Child = child
		if !child { // nor is there a paper
			s = ready(t)
		}
		paper := false
		for _, one := range SheetFor(SetUp, RunSheet{}, s, evening).Steps {
			paper = paper || one.ID == "plan" && strings.Contains(one.Words, "unit’s paper")
		}
		if paper != child {
			t.Errorf("child %v: the step names the paper: %v", child, paper)
		}
	}
}
