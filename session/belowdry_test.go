package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/fluid"
	"ebbline/unit"
)

// term finds a line of a plan by its code; nil where there is none.
func term(p Plan, code string) *Term {
	if i := slices.IndexFunc(p.Terms, func(t Term) bool { return t.Code == code }); i >= 0 {
		return &p.Terms[i]
	}
	return nil
}

// 58 kg dry, 300 mL of drinks and 300 of washback: what comes in fills up to the
// dry weight first. How far under is a term with its minus.
func TestBelowDryWeight(t *testing.T) {
	for _, tt := range []struct {
		pre         unit.Mass
		shown       string
		ml, goal    unit.Volume
		short       unit.Volume
		after       unit.Mass
		level       fluid.DryLevel
		code, words string
	}{
		{57_950, "−0.05\u00a0kg", -50, 550, 0, 58_000, fluid.DryQuiet, "", ""},
		{57_710, "−0.29\u00a0kg", -290, 310, 0, 58_000, fluid.DryQuiet, "", ""},
		{57_700, "−0.3\u00a0kg", -300, 300, 0, 58_000, fluid.DryLook, "below_dry", "0.3\u00a0kg below your dry weight. Look again"},
		{57_600, "−0.4\u00a0kg", -400, 200, 0, 58_000, fluid.DryLook, "below_dry", "0.4\u00a0kg below your dry weight. Look again"},
		{57_510, "−0.49\u00a0kg", -490, 110, 0, 58_000, fluid.DryLook, "below_dry", "Look again"},
		{57_500, "−0.5\u00a0kg", -500, 100, 0, 58_000, fluid.DryStop, "far_below_dry", "0.5\u00a0kg below your dry weight. Ring your unit before you start."},
		{57_400, "−0.6\u00a0kg", -600, 0, 0, 58_000, fluid.DryStop, "far_below_dry", "Ring your unit"},
		{57_200, "−0.8\u00a0kg", -800, 0, 200, 57_800, fluid.DryStop, "far_below_dry", "Ring your unit"},
		{52_000, "−6\u00a0kg", -6000, 0, 5400, 52_600, fluid.DryStop, "far_below_dry", "Ring your unit"},
	} {
		s := weighed(t, tt.pre, 0)
		p := plan(t, s, Choices{}, History{})
		if !p.BelowDry || p.AboveDry != 0 || p.Goal != tt.goal || p.SetGoal != tt.goal || p.Expected != tt.after || p.Rate != rateOf(tt.goal, 240) {
			t.Errorf("%s: %+v, after %s", tt.pre.Text(), p.AgreedPlan, p.Expected.Text())
		}
		if below := term(p, "below_dry"); below == nil || below.Value != tt.shown || *below.ML != tt.ml || term(p, "above_dry") != nil {
			t.Errorf("%s: the term is %+v", tt.pre.Text(), below)
		}
		if short := term(p, "not_removed"); (short != nil) != (tt.short > 0) || short != nil && *short.ML != tt.short {
			t.Errorf("%s: short of dry weight %+v, want %s", tt.pre.Text(), short, tt.short.Text())
		}
		if term(p, "rate") == nil || term(p, "length") == nil {
			t.Errorf("%s: the plan ends with its goal", tt.pre.Text())
		}
		// Less than 0.3 kg under stands in the term and is shouted nowhere.
		if p.Dry.Level != tt.level || p.Dry.Code() != tt.code || !strings.Contains(p.Dry.Words(), tt.words) || (p.Dry.Words() == "") != (tt.code == "") {
			t.Errorf("%s: %+v, %q, %q", tt.pre.Text(), p.Dry, p.Dry.Code(), p.Dry.Words())
		}
		if said := len(p.Shouts) > 0; said != (tt.code != "") || said && !has3(p.Shouts, tt.code) || len(p.Said) > 0 {
			t.Errorf("%s: shouts %v, said %v", tt.pre.Text(), p.Shouts, p.Said)
		}
		// The only praise there is goes with no weight that is asked about.
		if praised := p.Within != ""; praised != (tt.level == fluid.DryQuiet) {
			t.Errorf("%s: within %q", tt.pre.Text(), p.Within)
		}
		if err := Agree(p, p.Form(s.Rx)); err != nil {
			t.Errorf("%s: %v", tt.pre.Text(), err)
		}
	}
	at := plan(t, weighed(t, 58_000, 0), Choices{}, History{})
	if at.BelowDry || at.Goal != 600 || term(at, "below_dry") != nil || at.Dry.Code() != "" {
		t.Errorf("at dry weight: %+v", at.AgreedPlan)
	}
	if p := plan(t, weighed(t, 58_400, 500), Choices{}, History{}); !p.BelowDry || p.Goal != 500 || term(p, "below_dry").Value != "−0.1\u00a0kg" || p.Expected != 58_500 {
		t.Errorf("below dry weight under the clothes: %+v", p.AgreedPlan)
	}
}

// A limit of the unit cuts the goal below the dry weight as it does above.
func TestBelowDryWeightWithinTheLimit(t *testing.T) {
	s := weighed(t, 57_600, 0)
	s.Rx.MaxRemoval = ref(unit.Volume(150))
	p := plan(t, s, Choices{}, History{})
	if p.Goal != 200 || p.SetGoal != 150 || p.LeftOver != 50 || p.Expected != 58_050 {
		t.Errorf("%+v, after %s", p.AgreedPlan, p.Expected.Text())
	}
}

// Agree has a road of its own below the dry weight too: a page that took the
// absolute value, or nothing, is refused.
func TestAgreeBelowDryWeight(t *testing.T) {
	s := weighed(t, 57_600, 0)
	p := plan(t, s, Choices{}, History{})
	for name, goal := range map[string]unit.Volume{"an absolute value": 1000, "the older rule": 0, "only what comes in": 600} {
		wrong, form := p, p.Form(s.Rx)
		wrong.Goal, wrong.SetGoal, form.Goal, form.SetGoal = goal, goal, goal, goal
		wrong.Rate, wrong.RatePerKg = rateOf(goal, p.Length), perKg(goal, p.Length, p.DryWeight)
		form.Rate, form.RatePerKg = wrong.Rate, wrong.RatePerKg
		if err := Agree(wrong, form); err == nil || !strings.HasPrefix(err.Error(), "goal_ml: ") {
			t.Errorf("%s on both: %v", name, err)
		}
	}
}

// The unit's own figure first; and somebody who is short of water for another reason
// is stopped by any amount.
func TestUnderDryOf(t *testing.T) {
	for _, tt := range []struct {
		name  string
		under unit.Mass
		set   func(*Session)
		level fluid.DryLevel
		code  string
		words string
	}{
		{"0.9 kg, the unit rings from 1 kg", 900, func(s *Session) { s.Rx.DryRing = ref(unit.Mass(1000)) }, fluid.DryLook, "below_dry", "Look again"},
		{"1 kg, the unit rings from 1 kg", 1000, func(s *Session) { s.Rx.DryRing = ref(unit.Mass(1000)) }, fluid.DryStop, "far_below_dry", "Ring your unit"},
		{"0.2 kg, the unit rings from 0.2 kg", 200, func(s *Session) { s.Rx.DryRing = ref(unit.Mass(200)) }, fluid.DryStop, "far_below_dry", "Ring your unit"},
		{"0.1 kg, the unit rings from 0.2 kg", 100, func(s *Session) { s.Rx.DryRing = ref(unit.Mass(200)) }, fluid.DryQuiet, "", ""},
		{"0.1 kg with a bad stomach", 100, func(s *Session) { put(s, evening, &Fitness{Stomach: true}) }, fluid.DryStop, "below_dry",
			"0.1\u00a0kg below your dry weight, with vomiting, diarrhoea or not eating. Ring your unit"},
		{"a bad stomach, then a better answer", 100, func(s *Session) {
			put(s, evening, &Fitness{Stomach: true})
			put(s, evening.Add(mins(3)), &Fitness{})
		}, fluid.DryStop, "below_dry", "vomiting"},
		{"told later", 100, func(s *Session) { put(s, evening.Add(mins(60)), &Fitness{Stomach: true}) }, fluid.DryQuiet, "", ""},
		{"at dry weight with a bad stomach", 0, func(s *Session) { put(s, evening, &Fitness{Stomach: true}) }, fluid.DryQuiet, "", ""},
		{"0.1 kg, standing under the unit's limit", 100, func(s *Session) {
			s.Rx.SystolicLow = ref(unit.Pressure(105))
			put(s, evening, &VitalsBefore{SitSystolic: ref(unit.Pressure(110)), StandSystolic: ref(unit.Pressure(104))})
		}, fluid.DryStop, "below_dry", "with a blood pressure of 104\u00a0mmHg."},
		{"0.1 kg, at the unit's limit", 100, func(s *Session) {
			s.Rx.SystolicLow = ref(unit.Pressure(105))
			put(s, evening, &VitalsBefore{SitSystolic: ref(unit.Pressure(105))})
		}, fluid.DryQuiet, "", ""},
		{"0.1 kg, under the program's own limit", 100, func(s *Session) {
			s.Rx.SystolicLow = nil
			put(s, evening, &VitalsBefore{SitSystolic: ref(startSystolicLow - 1)})
		}, fluid.DryStop, "below_dry", "blood pressure"},
		{"0.6 kg with both", 600, func(s *Session) {
			put(s, evening, &Fitness{Stomach: true})
			put(s, evening, &VitalsBefore{SitSystolic: ref(unit.Pressure(80))})
		}, fluid.DryStop, "far_below_dry", "not eating and a blood pressure of 80\u00a0mmHg. Ring"},
	} {
		s := newSession(t)
		tt.set(s)
		a := AgreedPlan{PreWeight: 58_500 - tt.under, Clothing: 500, DryWeight: 58_000}
		u := UnderDryOf(s, a, evening.Add(mins(30)))
		if u.Level != tt.level || u.Code() != tt.code || !strings.Contains(u.Words(), tt.words) || (u.Words() == "") != (tt.words == "") {
			t.Errorf("%s: level %v, %q, %q", tt.name, u.Level, u.Code(), u.Words())
		}
		mine := s.Rx.DryRing == nil
		if strings.Contains(u.Limit(), ownDefault) != mine || strings.Contains(u.Limit(), "set by") != true || !strings.Contains(u.Limit(), u.Ring.Text()) {
			t.Errorf("%s: the limit is %q", tt.name, u.Limit())
		}
	}
	if u := UnderDryOf(&Session{}, AgreedPlan{PreWeight: 57_500, DryWeight: 58_000}, evening); u.Level != fluid.DryStop || u.Ring != fluid.BelowDryStop {
		t.Errorf("without a prescription: %+v", u)
	}
}

// A plan that was agreed when nothing was taken off below the dry weight is told
// from one of today's, to the machine's step.
func TestOlderRule(t *testing.T) {
	for _, tt := range []struct {
		pre  unit.Mass
		goal unit.Volume
		step unit.Volume
		want bool
	}{
		{57_600, 0, 10, true}, {57_600, 200, 10, false}, {57_400, 0, 10, false}, {57_000, 0, 10, false},
		{57_405, 0, 10, true}, {57_404, 0, 10, false}, {57_449, 0, 100, false}, {57_450, 0, 100, true}, {57_401, 0, 0, true},
		{58_000, 0, 10, false}, // at dry weight there was no such rule
	} {
		a := AgreedPlan{PreWeight: tt.pre, DryWeight: 58_000, BelowDry: tt.pre < 58_000, Intake: 300, Washback: 300, Goal: tt.goal}
		if got := a.OlderRule(tt.step); got != tt.want {
			t.Errorf("%s, goal %s, step %s: %v", tt.pre.Text(), tt.goal.Text(), tt.step.Text(), got)
		}
	}
}

// What is drunk beyond the plan fills up to the dry weight before any of it is
// taken off again.
func TestSetNowShortOfDryWeight(t *testing.T) {
	s := newSession(t)
	put(s, evening, &Opened{Place: "home", Source: "live"})
	put(s, evening, &WeighIn{Weight: 57_200, Scale: "bath"}) // 0.8 kg under, 0.6 comes in: 0.2 short
	p, err := MakePlan(s, Choices{}, History{}, evening)
	if err != nil || p.Goal != 0 {
		t.Fatal(p.Goal, err)
	}
	put(s, evening, &p.AgreedPlan)
	put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(300))})
	put(s, on(60), &Drink{Volume: 450}) // 300 planned
	if n := setNow(t, s, 60); n.Options[0].Goal != 0 || n.Added != 0 {
		t.Errorf("150 mL of the 200 that are short: %+v", n)
	}
	put(s, on(61), &Drink{Volume: 150})
	if n := setNow(t, s, 61); n.Options[0].Goal != 100 || n.Added != 100 {
		t.Errorf("100 mL beyond the dry weight: %+v", n)
	}
	put(s, on(62), &GoalChanged{Goal: 100})
	put(s, on(90), &Drink{Volume: 50})
	if n := setNow(t, s, 90); n.Options[0].Goal != 150 || n.Added != 50 {
		t.Errorf("50 mL after the goal was set again: %+v", n)
	}
}
