package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// What the machine's figure means is asked before anything is compared with the goal,
// in haemodiafiltration alone.
func TestStartLineAsksWhatTheFigureMeans(t *testing.T) {
	at := evening.Add(mins(40))
	for _, tt := range []struct {
		name  string
		set   func(*Session)
		state CheckState
		asked bool
	}{
		{"haemodialysis", func(*Session) {}, Ready, false},
		{"not said", func(s *Session) { s.Rx.Filtration = true }, OpenYet, true},
		{"net", func(s *Session) { s.Rx.Filtration, s.Machine.RemovedShows = true, RemovedNet }, Ready, false},
		{"with the substitution fluid", func(s *Session) { s.Rx.Filtration, s.Machine.RemovedShows = true, RemovedGross }, Ready, false},
		{"held elsewhere", func(s *Session) {
			s.Rx.Filtration = true
			edit(s, func(b *Opened) { b.Place = "elsewhere" })
		}, Ready, false},
		{"not said, and the goal is wrong", func(s *Session) {
			s.Rx.Filtration = true
			edit(s, func(b *ReadBack) { b.Goal, b.Shown = 1000, "1.00" })
		}, StopHere, true},
		{"not said, and there is no plan", func(s *Session) {
			s.Rx.Filtration = true
			s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { _, is := e.Body.(*AgreedPlan); return is })
		}, OpenYet, true},
	} {
		s := ready(t)
		tt.set(s)
		c := check(t, StartLine(s, known(), at), CheckPlan)
		if c.State != tt.state || slices.Contains(c.Codes, "plan_shows") != tt.asked {
			t.Errorf("%s: %s, %v: %q", tt.name, c.State, c.Codes, c.Words)
		}
		if tt.asked && tt.state == OpenYet && !strings.Contains(c.Words, "hold the substitution fluid?") {
			t.Errorf("%s: %q", tt.name, c.Words)
		}
	}
}

// Where fluid is only removed none is given, whatever was ordered and whatever the
// machine's figure means: every figure is net, and more than the goal is said.
func TestRemovalOnlyUnderHaemodiafiltration(t *testing.T) {
	for _, shows := range []string{RemovedNet, RemovedGross, ""} {
		for _, only := range []bool{false, true} {
			s := ready(t)
			s.Rx.Filtration, s.Machine.RemovedShows = true, shows
			edit(s, func(b *Opened) { b.RemovalOnly = only })
			if s.ByFiltration() == only {
				t.Errorf("%q, removal only %v: by filtration %v", shows, only, s.ByFiltration())
			}
			want := shows
			if only {
				want = RemovedNet
			}
			if got := s.RemovedShows(); got != want {
				t.Errorf("%q, removal only %v: shows %q, want %q", shows, only, got, want)
			}
			c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckPlan)
			if asked := slices.Contains(c.Codes, "plan_shows"); asked != (want == "") {
				t.Errorf("%q, removal only %v: %v", shows, only, c.Codes)
			}
			put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(300))})
			put(s, on(60), &Reading{Removed: ref(unit.Volume(5000))})
			said := slices.ContainsFunc(Remarks(s, on(61)), func(r Remark) bool { return r.Code == "goal_exceeded" })
			if said != (want == RemovedNet) {
				t.Errorf("%q, removal only %v: more than the goal said: %v", shows, only, said)
			}
		}
	}
}

// The substitution fluid is no look at the start line: what an order lacks of it is asked
// on Unit, and nothing is said in each session.
func TestAnOldOrderOfHaemodiafiltrationIsQuiet(t *testing.T) {
	s := ready(t)
	s.Rx.Filtration, s.Machine.RemovedShows = true, RemovedNet
	for _, c := range StartLine(s, known(), evening.Add(mins(40))) {
		if c.State != Ready {
			t.Errorf("%s: %s, %q", c.ID, c.State, c.Words)
		}
	}
	if got := askedWords(s.Rx, nil, Asker{}); !slices.Contains(got, AskSubstitutionWords) {
		t.Errorf("not asked on Unit: %q", got)
	}
	s.Rx.Substitution = ref(unit.Litres(23_000))
	if got := askedWords(s.Rx, nil, Asker{}); !slices.Contains(got, AskSubstitutionWords) {
		t.Errorf("the place is not asked on Unit: %q", got)
	}
	s.Rx.SubstitutionPlace = SubstitutedAfter
	if got := askedWords(s.Rx, nil, Asker{}); len(got) != 0 {
		t.Errorf("asked though it is written: %q", got)
	}
	if got := askedWords(ordered(t), nil, Asker{}); len(got) != 0 {
		t.Errorf("asked without haemodiafiltration: %q", got)
	}
}

func TestSubstitutionInWords(t *testing.T) {
	for _, tt := range []struct {
		of   OrderedSubstitution
		want string
	}{
		{OrderedSubstitution{}, "substitution not written, where it is added is not written"},
		{OrderedSubstitution{Substitution: ref(unit.Litres(23_000))}, "substitution 23\u00a0L, where it is added is not written"},
		{OrderedSubstitution{SubstitutionPlace: SubstitutedBefore}, "substitution not written, before the dialyser"},
		{OrderedSubstitution{ref(unit.Litres(22_500)), SubstitutedAfter}, "substitution 22.5\u00a0L, after the dialyser"},
		{OrderedSubstitution{ref(unit.Litres(40_000)), SubstitutedMixed}, "substitution 40\u00a0L, before and after the dialyser"},
	} {
		if got := tt.of.SubstitutionText(); got != tt.want || tt.of.Whole() == strings.Contains(got, "not written") {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
	if (&CameOff{}).WashedWith() != "saline" || (&CameOff{WashbackWith: WithMachineFluid}).WashedWith() != "fluid from the machine" {
		t.Error("what the blood was given back with")
	}
	rx := ordered(t)
	line := func() string {
		s := ready(t)
		s.Rx = rx
		p, err := MakePlan(s, Choices{}, known(), evening.Add(mins(30)))
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range p.Terms {
			if l.Code == "goal" {
				return l.From
			}
		}
		return ""
	}
	if got := line(); got != "the sum of the lines above" {
		t.Errorf("%q", got)
	}
	rx.Filtration = true
	if got := line(); !strings.Contains(got, "what comes off you. The substitution fluid is not in it") {
		t.Errorf("%q", got)
	}
}
