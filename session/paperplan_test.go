package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// byPaper is a session of a child set up with nothing amiss, by the unit's paper in the place of
// a plan: 2 L in 4 hours.
func byPaper(t testing.TB) *Session {
	s := ready(t)
	s.Child = true
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "plan" || e.Kind == "read_back" })
	for i, b := range []any{&PaperPlan{Goal: 2000, Length: 240, From: "Dr Lind, 9 March"}, &ReadBack{Goal: 2000, Shown: "2.00"}} {
		id := []string{"paper", "back"}[i]
		at := evening.Add(mins(35 + 2*i))
		s.Add(Event{ID: id, Kind: []string{"paper_plan", "read_back"}[i], At: at, Written: at, By: "Ada", Body: b})
	}
	return s
}

// Every state of the plan's line in a session that goes by the unit's paper. The
// sentence of the refusal stands in each.
func TestStartLineByPaper(t *testing.T) {
	const sentence = "Plan by your unit's paper. Everything you measure is kept here. A child"
	paper := func(s *Session) *PaperPlan { b, _ := Last[PaperPlan](s); return b }
	back := func(s *Session) *ReadBack { b, _ := Last[ReadBack](s); return b }
	drop := func(s *Session, kind string) {
		s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == kind })
	}
	for _, tt := range []struct {
		name  string
		set   func(*Session)
		state CheckState
		says  string
	}{
		{"typed and read back", func(*Session) {}, Ready, "Paper: Dr Lind, 9 March. 2.00 L in 4 h, read back."},
		{"not typed", func(s *Session) { drop(s, "paper_plan") }, OpenYet, "Type what the paper says."},
		{"not read back", func(s *Session) { drop(s, "read_back") }, OpenYet, "Not read back."},
		{"read back before the paper", func(s *Session) {
			drop(s, "read_back")
			at := evening.Add(mins(34))
			s.Add(Event{ID: "early", Kind: "read_back", At: at, Body: &ReadBack{Goal: 2000, Shown: "2.00"}})
		}, OpenYet, "Not read back."},
		{"another goal on the machine", func(s *Session) { back(s).Goal, back(s).Shown = 200, "0.20" }, StopHere, "Paper 2.00, machine 0.20."},
		{"another time on the machine", func(s *Session) { back(s).Length = ref(unit.Minutes(180)) }, StopHere, "Paper 4 h, machine 3 h."},
		{"as much as the unit's rate", func(s *Session) { paper(s).Goal, back(s).Goal = 2784, 2780 }, Ready, "read back."}, // 12 · 58 · 4
		{"above the unit's rate", func(s *Session) { paper(s).Goal, back(s).Goal = 2790, 2790 }, StopHere, "above your unit’s"},
		{"above 13 with no limit", func(s *Session) { s.Rx.Rate, paper(s).Goal, back(s).Goal = nil, 3020, 3020 }, StopHere, "13.02 mL/h/kg (755 mL/h), above 13 mL/h/kg, a figure of adults; your unit wrote none. Ring your unit."},
		{"above 10 with no limit", func(s *Session) { s.Rx.Rate, paper(s).Goal, back(s).Goal = nil, 2330, 2330 }, Look, "No limit of your unit is written"},
		{"above the largest removal", func(s *Session) { s.Rx.MaxRemoval = ref(unit.Volume(1900)) }, StopHere, "largest removal"},
		{"highest rate inside", func(s *Session) { paper(s).Rate = ref(unit.Rate(696)) }, Ready, "read back."},
		{"highest rate above the unit's", func(s *Session) { paper(s).Rate = ref(unit.Rate(697)) }, StopHere, "Highest rate on the paper 12.02"},
		{"highest rate above 13, no limit", func(s *Session) { s.Rx.Rate, paper(s).Rate = nil, ref(unit.Rate(755)) }, StopHere, "Highest rate on the paper 13.02 mL/h/kg (755 mL/h), above 13 mL/h/kg, a figure of adults"},
		{"highest rate above 10, the unit sets none", func(s *Session) {
			s.Rx.Rate, s.Rx.RateNoneBy, s.Rx.RateNoneOn, paper(s).Rate = nil, "Dr Lind", s.Rx.OrderedOn, ref(unit.Rate(581))
		}, Ready, "read back."},
		{"in haemodiafiltration, what the machine's figure means not said", func(s *Session) { s.Rx.Filtration = true }, OpenYet, "hold the substitution fluid?"},
		{"in haemodiafiltration, said", func(s *Session) { s.Rx.Filtration, s.Machine.RemovedShows = true, RemovedGross }, Ready, "read back."},
		{"a plan agreed before stands beside it", func(s *Session) {
			at := evening.Add(mins(20))
			s.Add(Event{ID: "plan", Kind: "plan", At: at, Body: &AgreedPlan{SetGoal: 2000, Length: 240}})
		}, StopHere, "A plan made here was agreed at 17:20. Strike it out."},
	} {
		s := byPaper(t)
		tt.set(s)
		c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckPlan)
		c.Words = strings.ReplaceAll(c.Words, "\u00a0", " ")
		if c.State != tt.state || !strings.Contains(c.Words, tt.says) || !strings.Contains(c.Words, sentence) {
			t.Errorf("%s: %s %q, want %s with %q", tt.name, c.State, c.Words, tt.state, tt.says)
		}
	}
	// The paper is no way round a plan that can be made.
	adult := byPaper(t)
	adult.Child = false
	if c := check(t, StartLine(adult, known(), evening.Add(mins(40))), CheckPlan); c.State != OpenYet || !strings.Contains(c.Words, "Not agreed yet") {
		t.Errorf("an adult with a paper: %s %q", c.State, c.Words)
	}
	// Nothing else on the start line waits for a plan.
	s := byPaper(t)
	childsFigures(&s.Rx.Limits)
	for _, c := range StartLine(s, known(), evening.Add(mins(40))) {
		if c.State != Ready && c.ID != CheckGap {
			t.Errorf("%s: %s %q", c.ID, c.State, c.Words)
		}
	}
}

// What runs by the paper's plan, and what is computed only from a plan of the
// program's own.
func TestRunByPaper(t *testing.T) {
	for _, profile := range []bool{false, true} {
		s := byPaper(t)
		s.Rx.RemovalProfile = profile
		put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(300))})
		run, ok := Follow(s, on(120))
		if !ok || run.Goal != 2000 || run.Length != 240 || !run.PlannedEnd.Equal(on(240)) {
			t.Fatalf("profile %v: goal %s, length %s, end %s", profile, run.Goal, run.Length, run.PlannedEnd)
		}
		if on := run.Expected != nil; on == profile {
			t.Errorf("profile %v: by now %v; a profile has no straight line", profile, run.Expected)
		}
		if !profile && *run.Expected != 1000 {
			t.Errorf("by now %s, want 1000", run.Expected.Text())
		}
		if set, ok := ToSetNow(s, on(120)); ok {
			t.Errorf("profile %v: to set %+v, want nothing", profile, set)
		}
		if set, err := SetNow(s, on(120)); err == nil {
			t.Errorf("profile %v: %+v", profile, set)
		}
		if ebb, ok := EbbOf(s, on(120)); ok {
			t.Errorf("profile %v: %+v; nobody knows what lies above the dry weight", profile, ebb)
		}
		put(s, on(120), &Reading{Systolic: ref(unit.Pressure(128)), Removed: ref(unit.Volume(300))})
		put(s, on(150), &Reading{Systolic: ref(unit.Pressure(80)), Removed: ref(unit.Volume(2100))})
		codes := map[string]bool{}
		for _, r := range Remarks(s, on(151)) {
			codes[r.Code] = true
		}
		if codes["removal_behind"] == profile || !codes["goal_exceeded"] || !codes["low_pressure"] {
			t.Errorf("profile %v: %v", profile, codes)
		}
		if _, err := SetNow(s, on(151)); err == nil {
			t.Errorf("profile %v: something to set after a low pressure", profile)
		}
		if n, _ := NextCheck(s, on(151)); n.Why != DueLow {
			t.Errorf("profile %v: next check %s", profile, n.Why)
		}
		put(s, on(240), &CameOff{Returned: "all", Removed: ref(unit.Volume(2000)), Washback: ref(unit.Volume(300))})
		if c := Close(s, on(250)); c.Delivered != "whole" {
			t.Errorf("profile %v: %s", profile, c.Words)
		}
		for _, o := range OpenItems(s) {
			if o.Kind == "plan" || o.Kind == "read_back" {
				t.Errorf("profile %v: still asks for %s", profile, o.What)
			}
		}
	}
}

// A plan that was agreed and then replaced by the paper computes nothing any more; one
// agreed after the paper does.
func TestTheLaterOfPaperAndPlanCounts(t *testing.T) {
	s := ready(t)
	put(s, evening.Add(mins(40)), &PaperPlan{Goal: 1500, Length: 180, From: "Dr Lind"})
	if plan, _ := Agreed(s, evening.Add(mins(41))); plan != nil {
		t.Error("the plan before the paper still counts")
	}
	if plan, _ := Agreed(s, evening.Add(mins(39))); plan == nil {
		t.Error("the plan did not count before the paper was typed")
	}
	if goal, _ := Goal(s, evening.Add(mins(41))); goal != 1500 {
		t.Errorf("goal %s", goal.Text())
	}
	again := *s
	again.Log = slices.Clone(s.Log)
	plan, _ := Last[AgreedPlan](s)
	put(&again, evening.Add(mins(42)), plan)
	if p, _ := PaperPlanOf(&again, evening.Add(mins(43))); p != nil {
		t.Error("the paper counts beside a plan agreed after it")
	}
}

// The paper ticks the step of the plan, and opens the read-back again.
func TestPaperTicksThePlan(t *testing.T) {
	states := func(s *Session) (plan, back bool) {
		for _, st := range Progress(DefaultSetUp(), s, evening.Add(mins(50))).Steps {
			plan = plan || st.ID == "plan" && st.State == StepIsDone
			back = back || st.ID == "dial_in" && st.State == StepIsDone
		}
		return plan, back
	}
	s := byPaper(t)
	if plan, back := states(s); !plan || !back {
		t.Errorf("plan %v, read back %v", plan, back)
	}
	put(s, evening.Add(mins(45)), &PaperPlan{Goal: 1500, Length: 180, From: "Dr Lind"})
	if plan, back := states(s); !plan || back {
		t.Errorf("another paper: plan %v, read back %v", plan, back)
	}
}
