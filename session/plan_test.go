package session

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/fluid"
	"ebbline/unit"
)

// weighed is a session with nothing but a weight.
func weighed(t testing.TB, pre, clothing unit.Mass) *Session {
	s := newSession(t)
	put(s, evening, &WeighIn{Weight: pre, Clothing: clothing, Scale: "bath"})
	return s
}

func plan(t testing.TB, s *Session, c Choices, h History) Plan {
	t.Helper()
	p, err := MakePlan(s, c, h, evening.Add(mins(5)))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The worked check of the trade: 74.6 to 72.0 kg, drinks and washback 0.3 L
// each: 3.2 L, 11.1 mL/h/kg in 4 h; 10 needs 4 h 27 min and 13 needs 3 h 26
// min; in 4 h 2.88 L pass at 10 and 3.74 L at 13.
func TestWorkedCheck(t *testing.T) {
	s := weighed(t, 74_600, 0)
	s.Rx.DryWeight, s.Rx.Rate = 72_000, nil
	p := plan(t, s, Choices{}, History{})
	if p.AboveDry != 2600 || p.Goal != 3200 || p.SetGoal != 3200 || p.Rate != 800 || p.RatePerKg != 1111 || p.GoalShown != "3.20\u00a0L" || p.LeftOver != 0 {
		t.Errorf("%+v", p.AgreedPlan)
	}
	// No limit of the unit: the program's own lines caution and do not cut.
	if len(p.Limits) != 2 || !p.Limits[0].Over || p.Limits[0].Cut || p.Limits[0].Unit || p.Limits[1].Over || p.Limits[0].Whose != ownDefault {
		t.Errorf("limits %+v", p.Limits)
	}
	if p.Within != "" {
		t.Errorf("praised as %q though the unit set no limit", p.Within)
	}
	if len(p.Ways) != 1 || p.Ways[0].Shortest != 267 || p.Ways[0].Largest != 2880 {
		t.Errorf("ways %+v", p.Ways)
	}
	if !has3(p.Said, "rate_above_10") || has3(p.Said, "rate_above_13") {
		t.Errorf("said %v", p.Said)
	}

	s.Rx.Rate = ref(unit.RatePerKg(1000))
	p = plan(t, s, Choices{}, History{})
	if p.Goal != 3200 || p.SetGoal != 2880 || p.LeftOver != 320 || p.RatePerKg != 1000 || p.WholeRate != 1111 || p.Within != "" {
		t.Errorf("at 10: %+v", p.AgreedPlan)
	}
	if want := "0.32\u00a0L stays on."; !strings.HasPrefix(p.Question, want) || !strings.Contains(p.Question, "4\u00a0h\u00a027\u00a0min today") {
		t.Errorf("question %q", p.Question)
	}
	if has3(p.Said, "rate_above_10") {
		t.Error("cautioned at exactly 10")
	}
	s.Rx.Rate = ref(unit.RatePerKg(1300))
	if p := plan(t, s, Choices{}, History{}); p.SetGoal != 3200 || p.Within != "inside the limits your unit set on 3 March 2026" {
		t.Errorf("at 13: %v, %q", p.SetGoal, p.Within)
	}
}

func has3(said []unit.Caution, code string) bool {
	return slices.ContainsFunc(said, func(c unit.Caution) bool { return c.Code == code })
}

// The lines that carry millilitres add up to the goal, whatever the settings.
func TestTermsAddUpToTheGoal(t *testing.T) {
	dice, below, short := lcg(3), 0, 0
	for range 3000 {
		s := weighed(t, unit.Mass(57_000+dice.next(6000)), unit.Mass(dice.next(900)))
		s.Machine = Machine{GoalUnit: []string{"L", "mL"}[dice.next(2)], GoalDecimals: dice.next(4), AddsWashback: dice.next(2) == 0}
		if dice.next(2) == 0 {
			s.Machine.GoalStep = ref([]unit.Volume{1, 5, 10, 20, 25, 50, 100, 200}[dice.next(8)])
		}
		c := Choices{}
		if dice.next(2) == 0 {
			c.Intake, c.Saline = ref(unit.Volume(dice.next(800))), ref(unit.Volume(dice.next(500)))
		}
		p := plan(t, s, c, History{})
		sum := unit.Volume(0)
		for _, term := range p.Terms {
			if term.ML != nil {
				sum += *term.ML
			}
		}
		if p.BelowDry {
			below++
		}
		if term(p, "not_removed") != nil {
			short++
		}
		if sum != p.Goal || p.Goal < 0 {
			t.Fatalf("terms add up to %v, goal %v: %+v", sum, p.Goal, p.Terms)
		}
		if p.SetGoal > p.Goal || p.SetGoal%p.Step != 0 || p.SetGoal < 0 || p.LeftOver != p.Goal-p.SetGoal {
			t.Fatalf("set goal %v, goal %v, step %v, left %v", p.SetGoal, p.Goal, p.Step, p.LeftOver)
		}
		if p.RatePerKg > *s.Rx.Rate {
			t.Fatalf("rate %v over the unit's %v", p.RatePerKg, *s.Rx.Rate)
		}
		if err := Agree(p, p.Form(s.Rx)); err != nil {
			t.Fatalf("the two routes: %v\n%+v\n%+v", err, p.AgreedPlan, s.Machine)
		}
	}
	if below < 300 || short < 30 {
		t.Errorf("only %d of the plans lie below dry weight, %d of them so far that what comes in does not reach it", below, short)
	}
}

// Rounding to the machine's step must never lift the goal over a limit.
func TestRoundingNeverCrossesTheLimit(t *testing.T) {
	s := weighed(t, 60_746, 0) // 2746 + 600 = 3346 mL
	s.Machine = Machine{GoalUnit: "L", GoalDecimals: 1}
	s.Rx.Rate, s.Rx.MaxRemoval = nil, ref(unit.Volume(3360))
	p := plan(t, s, Choices{}, History{})
	if p.Goal != 3300 || p.SetGoal != 3300 {
		t.Errorf("goal %v, set %v", p.Goal, p.SetGoal)
	}
	s = weighed(t, 60_760, 0) // 3360 rounds up to 3.4 L; the cap is 3.39 L
	s.Machine = Machine{GoalUnit: "L", GoalDecimals: 1}
	s.Rx.Rate, s.Rx.MaxRemoval = nil, ref(unit.Volume(3390))
	p = plan(t, s, Choices{}, History{})
	if p.Goal != 3400 || p.SetGoal != 3300 || p.GoalShown != "3.3\u00a0L" || p.LeftOver != 100 {
		t.Errorf("goal %v, set %v (%s), left %v", p.Goal, p.SetGoal, p.GoalShown, p.LeftOver)
	}
}

// Washback is counted once: by the machine or here, and the line says which.
func TestWashbackOnce(t *testing.T) {
	for adds, want := range map[bool]unit.Volume{false: 2600, true: 2300} {
		s := weighed(t, 60_000, 0)
		s.Machine.AddsWashback = adds
		p := plan(t, s, Choices{}, History{})
		if p.Goal != want {
			t.Errorf("machine adds it: %v; goal %v, want %v", adds, p.Goal, want)
		}
		i := slices.IndexFunc(p.Terms, func(t Term) bool { return t.Code == "washback" })
		if said := strings.Contains(p.Terms[i].From, "machine adds it by itself"); said != adds {
			t.Errorf("machine adds it: %v; the line says %q", adds, p.Terms[i].From)
		}
	}
}

func TestPlanByLitresOfDialysate(t *testing.T) {
	s := weighed(t, 59_000, 0)
	s.Rx.Length, s.Rx.Dialysate, s.Rx.DialFlow = nil, ref(unit.Litres(30_000)), ref(unit.Flow(150))
	p := plan(t, s, Choices{}, History{})
	if p.Length != 200 || p.LengthShown != "3\u00a0h\u00a020\u00a0min" {
		t.Errorf("length %v", p.Length)
	}
	i := slices.IndexFunc(p.Terms, func(t Term) bool { return t.Code == "length" })
	if p.Terms[i].From != "30\u00a0L of dialysate at 150\u00a0mL/min" {
		t.Errorf("the line says %q", p.Terms[i].From)
	}
}

func TestPlanShouts(t *testing.T) {
	for _, tt := range []struct {
		name string
		set  func(*Session, *History)
		code string // "" for none
	}{
		{"nothing amiss", func(*Session, *History) {}, ""},
		{"dry weight on its review day", func(s *Session, _ *History) { s.Rx.DryReview = date(t, "2026-03-12") }, ""},
		{"dry weight a day past it", func(s *Session, _ *History) { s.Rx.DryReview = date(t, "2026-03-11") }, "dry_review"},
		{"no review date, 90 days", func(s *Session, _ *History) { s.Rx.DryReview, s.Rx.DrySetOn = unit.Date{}, date(t, "2025-12-12") }, ""},
		{"no review date, 91 days", func(s *Session, _ *History) { s.Rx.DryReview, s.Rx.DrySetOn = unit.Date{}, date(t, "2025-12-11") }, "dry_age"},
		{"no date at all", func(s *Session, _ *History) { s.Rx.DrySetOn = unit.Date{} }, "dry_undated"},
		{"hospital before it was set", func(_ *Session, h *History) { h.Hospital = date(t, "2026-02-27") }, ""},
		{"hospital after it was set", func(_ *Session, h *History) { h.Hospital = date(t, "2026-03-05") }, "dry_hospital"},
		{"hospital told today", func(s *Session, _ *History) { put(s, evening.Add(mins(1)), &Fitness{Hospital: true}) }, "dry_hospital"},
		{"not eating last week", func(_ *Session, h *History) { h.Stomach = date(t, "2026-03-05") }, "dry_stomach"},
		{"not eating long ago", func(s *Session, h *History) {
			s.Rx.DrySetOn, h.Stomach = date(t, "2026-01-01"), date(t, "2026-02-25")
		}, ""},
		{"phoned", func(s *Session, _ *History) { s.Rx.How = "phone" }, "phoned"},
		{"phoned, paper came", func(s *Session, h *History) { s.Rx.How, h.PaperCame = "phone", true }, ""},
		{"prescription past review", func(s *Session, _ *History) { s.Rx.ReviewBy = date(t, "2026-03-01") }, "prescription_review"},
	} {
		s, h := weighed(t, 59_000, 0), History{}
		tt.set(s, &h)
		p := plan(t, s, Choices{}, h)
		switch {
		case tt.code == "" && len(p.Shouts) > 0:
			t.Errorf("%s: %v", tt.name, p.Shouts)
		case tt.code != "" && !has3(p.Shouts, tt.code):
			t.Errorf("%s: %v, want %s", tt.name, p.Shouts, tt.code)
		}
		if len(p.Cautions) != len(p.Shouts)+len(p.Said) {
			t.Errorf("%s: %d cautions kept of %d", tt.name, len(p.Cautions), len(p.Shouts)+len(p.Said))
		}
	}
}

func TestPlanAsksForAFreshWeight(t *testing.T) {
	s := weighed(t, 59_000, 0)
	for after, want := range map[time.Duration]bool{time.Hour: false, time.Hour + time.Second: true, 20 * time.Hour: true} {
		p, err := MakePlan(s, Choices{}, History{}, evening.Add(after))
		if err != nil || p.WeighAgain != want || has3(p.Shouts, "weight_old") != want {
			t.Errorf("after %v: %v, weigh again %v, want %v", after, err, p.WeighAgain, want)
		}
	}
}

func TestPlanNeeds(t *testing.T) {
	for _, tt := range []struct {
		name, field string
		set         func(*Session)
	}{
		{"no weight", "pre_weight_kg", func(s *Session) { s.Log = nil }},
		{"weight struck out", "pre_weight_kg", func(s *Session) { s.Log[0].Struck = &Strike{} }},
		{"weight not done", "pre_weight_kg", func(s *Session) { s.Log[0].Missing = map[string]Missing{"weight_kg": NotDone} }},
		{"no prescription", "prescription_id", func(s *Session) { s.Rx = nil }},
		{"no length", "length_min", func(s *Session) { s.Rx.Length = nil }},
		{"unknown machine", "goal_unit", func(s *Session) { s.Machine = Machine{} }},
		{"an impossible weight", "pre_weight_kg", func(s *Session) { s.Log[0].Body = &WeighIn{Weight: 720_000} }},
	} {
		s := weighed(t, 59_000, 0)
		tt.set(s)
		_, err := MakePlan(s, Choices{}, History{}, evening)
		var input *unit.InputError
		if !errors.As(err, &input) || input.Field != tt.field {
			t.Errorf("%s: %v, want an InputError on %s", tt.name, err, tt.field)
		}
	}
	for _, ok := range []func(*Session){
		func(s *Session) { s.Rx.DryWeight, s.Rx.Rate = 35_000, nil },
		func(s *Session) { s.Rx.DryWeight = 34_999 },
	} {
		s := weighed(t, 36_000, 0)
		ok(s)
		if _, err := MakePlan(s, Choices{}, History{}, evening); err != nil {
			t.Error(err)
		}
	}
}

// Of two limits the goal is cut by the one that leaves less, and only that one
// is named; where it is the largest removal, more hours are no way out.
func TestTheLimitThatCuts(t *testing.T) {
	for _, tt := range []struct {
		max       unit.Volume
		cut, over string
		hours     bool
	}{
		{2000, "Largest removal", "Removal rate", false},
		{2900, "Removal rate", "Largest removal", false},
		{3500, "Removal rate", "", true},
	} {
		s := weighed(t, 60_400, 0) // goal 3.00 L, of which 2.78 L pass at the unit's rate
		s.Rx.MaxRemoval = &tt.max
		p := plan(t, s, Choices{}, History{})
		var named string
		for _, l := range p.Limits {
			if l.Cut != (l.What == tt.cut) || l.Over != (l.What == tt.cut || l.What == tt.over) {
				t.Errorf("largest removal %v: %+v", tt.max, l)
			}
			if l.Cut {
				named = l.Value
			}
			want := "inside it"
			switch l.What {
			case tt.cut:
				want = "cuts the goal"
			case tt.over: // the other limit has cut more than this one would
				want = "whole goal above it; dialled in, inside"
			}
			if got := l.Lies(); got != want {
				t.Errorf("largest removal %v: %s: %q, want %q", tt.max, l.What, got, want)
			}
		}
		i := slices.IndexFunc(p.Terms, func(one Term) bool { return one.Code == "left_over" })
		if i < 0 || named == "" || !strings.Contains(p.Terms[i].From, named) {
			t.Errorf("largest removal %v: what is left for later does not name %q: %+v", tt.max, named, p.Terms)
		}
		if got := strings.Contains(p.Question, "min today"); got != tt.hours {
			t.Errorf("largest removal %v: %q", tt.max, p.Question)
		}
	}
}

// A plan typed in days later is not told that its weight is days old.
func TestPlanFromPaper(t *testing.T) {
	s := weighed(t, 60_000, 0)
	late := evening.Add(100 * time.Hour)
	live, err := MakePlan(s, Choices{}, History{}, late)
	if err != nil || !live.WeighAgain || !has3(live.Shouts, "weight_old") {
		t.Errorf("live: %v, %v, %v", live.WeighAgain, live.Shouts, err)
	}
	put(s, evening, &Opened{Place: "home", Source: "paper"})
	paper, err := MakePlan(s, Choices{}, History{}, late)
	if err != nil || paper.WeighAgain || has3(paper.Shouts, "weight_old") {
		t.Errorf("from paper: %v, %v, %v", paper.WeighAgain, paper.Shouts, err)
	}
}

func TestChoices(t *testing.T) {
	s := weighed(t, 60_000, 0)
	p := plan(t, s, Choices{Intake: ref(unit.Volume(0)), Saline: ref(unit.Volume(200)), Length: ref(unit.Minutes(270)), SetGoal: ref(unit.Volume(2000))}, History{})
	if p.Goal != 2500 || p.SetGoal != 2000 || p.LeftOver != 500 || p.Length != 270 || !has3(p.Said, "length_differs") {
		t.Errorf("%+v, %v", p.AgreedPlan, p.Said)
	}
	for _, bad := range []unit.Volume{2510, 2505, -10} { // more than the plan, between steps, below nothing
		if _, err := MakePlan(s, Choices{SetGoal: &bad, Intake: ref(unit.Volume(0)), Saline: ref(unit.Volume(200))}, History{}, evening); err == nil {
			t.Errorf("a set goal of %v was taken", bad)
		}
	}
}

// What is left over is put to the unit as a question, by the person's own
// usual goals where there are enough of them.
func TestQuestion(t *testing.T) {
	s := weighed(t, 60_400, 0) // goal 3.00 L, cut to 2.78 L
	h := History{Goals: []unit.Volume{2600, 2650, 2700, 2680}}
	p := plan(t, s, Choices{}, h)
	if p.LeftOver != 220 || !strings.Contains(p.Question, "over the next 3 sessions (about 74\u00a0mL each)") || !strings.HasSuffix(p.Question, "?") {
		t.Errorf("left %v: %q", p.LeftOver, p.Question)
	}
	if p := plan(t, s, Choices{}, History{Goals: []unit.Volume{2900, 2900, 2900, 2900}}); !strings.Contains(p.Question, "spread over the next sessions") {
		t.Errorf("no room in the usual goals: %q", p.Question)
	}
	if p := plan(t, weighed(t, 59_000, 0), Choices{}, h); p.Question != "" {
		t.Errorf("nothing left over: %q", p.Question)
	}
}

func TestExpectedWeightAfter(t *testing.T) {
	s := weighed(t, 60_500, 500) // 2.0 above dry, goal 2.60 with drinks and washback
	if p := plan(t, s, Choices{}, History{}); p.Expected != 58_500 {
		t.Errorf("the scale should show %v, want dry weight and clothes, 58.5", p.Expected)
	}
}

func TestGainTerm(t *testing.T) {
	s := weighed(t, 60_500, 500)
	for treated, want := range map[int]string{0: "no session before this one is written down", 1: "the last session has no weight after"} {
		p := plan(t, s, Choices{}, History{Treated: treated})
		if i := slices.IndexFunc(p.Terms, func(t Term) bool { return t.Code == "gain" }); p.Terms[i].From != want {
			t.Errorf("%d sessions before: the gain is not known since %s", treated, p.Terms[i].From)
		}
	}
	h := History{LastPost: &WeighOut{Weight: 58_700, Clothing: 400, Scale: "bath"}, LastPostAt: evening.AddDate(0, 0, -2)}
	find := func(p Plan) Term {
		return p.Terms[slices.IndexFunc(p.Terms, func(t Term) bool { return t.Code == "gain" })]
	}
	if got := find(plan(t, s, Choices{}, h)); got.Value != "1.7\u00a0kg, 2.9\u00a0%" || !strings.Contains(got.From, "10 March 2026") {
		t.Errorf("gain %+v", got)
	}
	if got := find(plan(t, s, Choices{}, History{})); got.Value != "not known" {
		t.Errorf("gain without a weight after: %+v", got)
	}
}

func TestAgreeFindsEveryDifference(t *testing.T) {
	s := weighed(t, 60_600, 100)
	p := plan(t, s, Choices{}, History{})
	whole := p.Form(s.Rx)
	if err := Agree(p, whole); err != nil {
		t.Fatal(err)
	}
	for field, change := range map[string]func(*PlanForm){
		"pre_weight_kg":   func(f *PlanForm) { f.PreWeight += 100 },
		"clothing_kg":     func(f *PlanForm) { f.Clothing = 0 },
		"dry_weight_kg":   func(f *PlanForm) { f.DryWeight -= 100 },
		"intake_ml":       func(f *PlanForm) { f.Intake += 300 },
		"washback_ml":     func(f *PlanForm) { f.Washback = 0 },
		"saline_ml":       func(f *PlanForm) { f.Saline = 10 },
		"length_min":      func(f *PlanForm) { f.Length = 24 },
		"above_dry_ml":    func(f *PlanForm) { f.AboveDry = 0 },
		"below_dry":       func(f *PlanForm) { f.BelowDry = true },
		"goal_ml":         func(f *PlanForm) { f.Goal *= 10 },
		"set_goal_ml":     func(f *PlanForm) { f.SetGoal -= 10 },
		"left_over_ml":    func(f *PlanForm) { f.LeftOver = 1 },
		"rate_ml_h":       func(f *PlanForm) { f.Rate++ },
		"rate_ml_h_kg":    func(f *PlanForm) { f.RatePerKg++ },
		"goal_shown":      func(f *PlanForm) { f.GoalShown = "32.0\u00a0L" },
		"weigh_in_id":     func(f *PlanForm) { f.WeighInID = "e99" },
		"prescription_id": func(f *PlanForm) { f.PrescriptionID = "rx0" },
	} {
		f := whole
		change(&f)
		err := Agree(p, f)
		var d *fluid.Disagreement
		if !errors.As(err, &d) || d.Field != field || d.Planned == d.Rechecked {
			t.Errorf("%s changed: %v", field, err)
		}
	}
	// The second road catches a record's route gone wrong though the page agrees.
	wrong := p
	wrong.Goal, wrong.SetGoal = p.Goal+300, p.SetGoal+300 // washback twice
	f := whole
	f.Goal, f.SetGoal = wrong.Goal, wrong.SetGoal
	var d *fluid.Disagreement
	if err := Agree(wrong, f); !errors.As(err, &d) || d.Field != "goal_ml" {
		t.Errorf("washback counted twice on both: %v", err)
	}
	// And a limit that was left out of the record's route.
	loose := weighed(t, 61_000, 0)
	loose.Rx.Rate = nil
	over := plan(t, loose, Choices{}, History{})
	form := over.Form(ordered(t))
	if err := Agree(over, form); !errors.As(err, &d) || d.Field != "set_goal_ml" {
		t.Errorf("a limit forgotten: %v", err)
	}
}
