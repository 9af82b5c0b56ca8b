package fluid

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"ebbline/unit"

	"pgregory.net/rapid"
)

// The tests' numbers are all finite, so that setting them cannot fail.
func set(err error) {
	if err != nil {
		panic(err)
	}
}

func kg(v float64) (e unit.ExactMass)             { set(e.SetFloat(v)); return e }
func ml(v float64) (e unit.ExactVolume)           { set(e.SetFloat(v)); return e }
func minutes(v float64) (e unit.ExactMinutes)     { set(e.SetFloat(v)); return e }
func perKgHour(v float64) (e unit.ExactRatePerKg) { set(e.SetFloat(v)); return e }
func hours(v float64) (e unit.ExactHours)         { set(e.SetFloat(v)); return e }

// The person of the trade's worked check: 74.6 to 72.0 kg, 0.3 L of drinks and
// 0.3 L of washback, four hours.
func evening() PlanInput {
	var in PlanInput
	in.PreWeight = unit.Mass(74_600).Exact()
	in.DryWeight = unit.Mass(72_000).Exact()
	in.Session = unit.Minutes(240).Exact()
	in.Intake = unit.Volume(300).Exact()
	in.Washback = unit.Volume(300).Exact()
	return in
}

func (in PlanInput) limited(rate float64) PlanInput {
	in.RateLimit = new(perKgHour(rate))
	return in
}

func plan(t *testing.T, in PlanInput) Plan {
	t.Helper()
	p, err := NewPlan(in)
	if err != nil {
		t.Fatal(err)
	}
	if err := Recheck(in, p); err != nil {
		t.Fatal(err)
	}
	return p
}

func codes(said []unit.Caution) string {
	s := ""
	for _, c := range said {
		s += c.Code + " "
	}
	return s
}

func TestNewPlan(t *testing.T) {
	p := plan(t, evening())
	if p.AboveDryMl != 2600 || p.GoalMl != 3200 || p.RateMlH != 800 {
		t.Errorf("above %v, goal %v mL, rate %v mL/h; want 2600, 3200, 800", p.AboveDryMl, p.GoalMl, p.RateMlH)
	}
	if math.Abs(p.RateMlHKg-11.1) > 0.05 { // printed 11.1
		t.Errorf("rate %v mL/h/kg, want 11.1", p.RateMlHKg)
	}
	// 74.6 − 3.2 + 0.6: dry, and nothing of what was drunk is left.
	if p.ExpectedPostKg != 72 {
		t.Errorf("expected post-weight %v kg, want 72", p.ExpectedPostKg)
	}
	if !p.WithinLimits || p.ShortestSessionMin != nil || p.LargestGoalMl != nil || p.LeftOverMl != 0 {
		t.Errorf("without a limit: %+v", p)
	}
	// The definition: 3000 mL, 4 h, 70 kg.
	in := evening()
	in.PreWeight, in.DryWeight = unit.Mass(72_400).Exact(), unit.Mass(70_000).Exact()
	if p := plan(t, in); math.Abs(p.RateMlHKg-10.7142857) > 1e-6 {
		t.Errorf("3000 mL in 4 h at 70 kg = %v mL/h/kg, want 10.7142857", p.RateMlHKg)
	}
}

func TestNewPlanAgainstLimits(t *testing.T) {
	for _, tt := range []struct {
		name                    string
		limit                   float64
		within                  bool
		shortest, largest, left float64
	}{
		{"10 needs 4 h 27", 10, false, 4*60 + 27, 2880, 320},
		{"13 needs 3 h 26", 13, true, 3*60 + 26, 3744, 0},
		{"12 holds it with room", 12, true, 223, 3456, 0}, // 222.2 min, up
	} {
		p := plan(t, evening().limited(tt.limit))
		if p.WithinLimits != tt.within || *p.ShortestSessionMin != tt.shortest || *p.LargestGoalMl != tt.largest || p.LeftOverMl != tt.left {
			t.Errorf("%s: within %v, shortest %v min, largest %v mL, left %v mL", tt.name, p.WithinLimits, *p.ShortestSessionMin, *p.LargestGoalMl, p.LeftOverMl)
		}
	}
	// 3000 mL, 60 kg, 10 mL/h/kg: five hours to the minute, not a minute more.
	in := evening().limited(10)
	in.PreWeight, in.DryWeight, in.Session = unit.Mass(62_400).Exact(), unit.Mass(60_000).Exact(), unit.Minutes(300).Exact()
	if p := plan(t, in); *p.ShortestSessionMin != 300 || !p.WithinLimits || *p.LargestGoalMl != 3000 || len(p.Cautions) != 0 {
		t.Errorf("at exactly the limit: %+v", p)
	}
}

func TestNewPlanLargestRemoval(t *testing.T) {
	in := evening()
	in.MaxRemoval = new(unit.Volume(3000).Exact())
	p := plan(t, in)
	if p.WithinLimits || *p.LargestGoalMl != 3000 || p.LeftOverMl != 200 || p.ShortestSessionMin != nil {
		t.Errorf("3200 mL against 3000: %+v", p)
	}
	if p.ExpectedPostKg != 72 {
		t.Errorf("expected post-weight %v kg; it is that of the whole goal", p.ExpectedPostKg)
	}
	in = in.limited(10) // 2880 mL in four hours: the lesser counts
	if p := plan(t, in); *p.LargestGoalMl != 2880 || p.LeftOverMl != 320 {
		t.Errorf("two limits: largest %v, left %v", *p.LargestGoalMl, p.LeftOverMl)
	}
	in.MaxRemoval = new(unit.Volume(3200).Exact())
	in = in.limited(13)
	if p := plan(t, in); !p.WithinLimits {
		t.Error("a goal equal to the largest removal is within")
	}
	in.MaxRemoval = new(unit.Volume(0).Exact())
	if p := plan(t, in); p.WithinLimits || *p.LargestGoalMl != 0 || p.LeftOverMl != 3200 {
		t.Errorf("nothing may be removed: %+v", p)
	}
}

// Below the dry weight what is drunk and given fills up to it first; only what
// goes beyond is taken off.
func TestNewPlanBelowDry(t *testing.T) {
	for _, tt := range []struct {
		name                     string
		pre                      unit.Mass // of 72 kg dry, 600 mL come in
		above, goal, rate, after float64
		said                     string
	}{
		{"at dry weight: the additions come off", 72_000, 0, 600, 150, 72, ""},
		{"10 g under", 71_990, -10, 590, 147.5, 72, "below_dry "},
		{"0.2 kg under", 71_800, -200, 400, 100, 72, "below_dry "},
		{"0.4 kg under", 71_600, -400, 200, 50, 72, "below_dry "},
		{"1 g less than half a kilogram", 71_501, -499, 101, 25.25, 72, "below_dry "},
		{"half a kilogram", 71_500, -500, 100, 25, 72, "far_below_dry "},
		{"what comes in just fills it up", 71_400, -600, 0, 0, 72, "far_below_dry "},
		{"0.8 kg under: 0.2 of it stays open", 71_200, -800, 0, 0, 71.8, "far_below_dry "},
		{"10 kg under: never an absolute value", 62_000, -10_000, 0, 0, 62.6, "far_below_dry "},
	} {
		in := evening().limited(10)
		in.PreWeight = tt.pre.Exact()
		p := plan(t, in)
		if p.AboveDryMl != tt.above || p.GoalMl != tt.goal || p.RateMlH != tt.rate || p.BelowDry != (tt.above < 0) || codes(p.Cautions) != tt.said {
			t.Errorf("%s: above %v, goal %v mL, %v mL/h, below %v, cautions %q", tt.name, p.AboveDryMl, p.GoalMl, p.RateMlH, p.BelowDry, codes(p.Cautions))
		}
		if math.Abs(p.ExpectedPostKg-tt.after) > 1e-12 || !p.WithinLimits || p.LeftOverMl != 0 {
			t.Errorf("%s: after %v kg, want %v; within %v, left %v", tt.name, p.ExpectedPostKg, tt.after, p.WithinLimits, p.LeftOverMl)
		}
		if dropped := p.Terms[4]; dropped.Name != "not_removed" || dropped.Ml != max(0, -tt.above-600) {
			t.Errorf("%s: %+v", tt.name, dropped)
		}
	}
	// Clothes that weigh more than the difference put the person below.
	in := evening()
	in.PreWeight, in.Clothing = unit.Mass(72_500).Exact(), unit.Mass(800).Exact()
	if p := plan(t, in); !p.BelowDry || p.AboveDryMl != -300 || p.GoalMl != 300 || p.ExpectedPostKg != 72.8 {
		t.Errorf("in 0.8 kg of clothes: %+v", p)
	}
	// The limits cut what is left as they cut any goal, and the step rounds it.
	in = evening()
	in.PreWeight, in.MaxRemoval, in.Step = unit.Mass(71_600).Exact(), new(ml(150)), ml(100)
	if p := plan(t, in); p.GoalMl != 200 || p.WithinLimits || p.LeftOverMl != 50 {
		t.Errorf("largest removal 150 mL: %+v", p)
	}
	for pre, want := range map[unit.Mass]float64{71_550: 200, 71_549: 100, 71_450: 100, 71_449: 0, 71_300: 0, 71_240: 0} {
		in.PreWeight = pre.Exact()
		if p := plan(t, in); p.GoalMl != want {
			t.Errorf("%v in steps of 100 mL: goal %v, want %v", pre.Text(), p.GoalMl, want)
		}
	}
}

// In floating point 70.2 − 0.6 − 70.1 lies a hair above −0.5; the caution goes by
// what was weighed.
func TestBelowDryIsExact(t *testing.T) {
	pre, clothes, dry := 70.2, 0.6, 70.1
	if (pre-clothes-dry)*1000 <= -500 {
		t.Fatal("these weights do not show the difference; take others")
	}
	p := plan(t, PlanInput{PreWeight: kg(pre), Clothing: kg(clothes), DryWeight: kg(dry), Session: minutes(240)})
	if p.AboveDryMl != -500 || codes(p.Cautions) != "far_below_dry " {
		t.Errorf("%v − %v − %v kg: %v mL, %q", pre, clothes, dry, p.AboveDryMl, codes(p.Cautions))
	}
}

func TestNewPlanClothing(t *testing.T) {
	in := evening()
	in.Clothing = unit.Mass(1_200).Exact()
	p := plan(t, in)
	if p.AboveDryMl != 1400 || p.GoalMl != 2000 || p.ExpectedPostKg != 73.2 { // dry and in the same clothes
		t.Errorf("in 1.2 kg of clothes: %+v", p)
	}
}

func TestNewPlanStep(t *testing.T) {
	for _, tt := range []struct {
		pre  float64
		step float64
		want float64
	}{
		{74.6, 100, 3200}, {74.62, 100, 3200}, {74.649, 100, 3200},
		{74.65, 100, 3300}, // a half goes away from zero
		{74.655, 10, 3260}, {74.6554, 1, 3255}, {74.6555, 1, 3256},
		{74.6554, 0, 3255}, // no step stands for 1 mL
		{74.6554, 0.1, 3255.4}, {74.6, 1000, 3000}, {74.9, 1000, 4000}, {74.6, 3, 3201},
	} {
		in := evening()
		in.PreWeight, in.Step = kg(tt.pre), ml(tt.step)
		if p := plan(t, in); p.GoalMl != tt.want {
			t.Errorf("%v kg in steps of %v mL = %v, want %v", tt.pre, tt.step, p.GoalMl, tt.want)
		}
	}
}

// The published lines are 10 and 13: on them no caution, above them at once.
func TestNewPlanCautions(t *testing.T) {
	for _, tt := range []struct {
		goalMl float64 // at 60 kg in 5 h: 3000 mL is 10 mL/h/kg, 3900 is 13
		want   string
	}{
		{2997, ""}, {3000, ""}, {3001, "rate_above_10 "}, {3003, "rate_above_10 "},
		{3900, "rate_above_10 "}, {3901, "rate_above_10 rate_above_13 "}, {4500, "rate_above_10 rate_above_13 "},
	} {
		in := PlanInput{DryWeight: kg(60), Session: minutes(300)}
		in.PreWeight = kg(60 + tt.goalMl/1000)
		if p := plan(t, in); codes(p.Cautions) != tt.want {
			t.Errorf("%v mL: cautions %q, want %q", tt.goalMl, codes(p.Cautions), tt.want)
		}
	}
}

// In floating point 75.3 − 72.1 is 3.200000000000003: a limit of 3200 mL would
// be passed by a hair that nobody weighed.
func TestNewPlanIsExact(t *testing.T) {
	pre, dry := 75.3, 72.1
	if (pre-dry)*1000 == 3200 {
		t.Fatal("this pair does not show the difference; take another")
	}
	in := PlanInput{PreWeight: kg(pre), DryWeight: kg(dry), Session: minutes(240), MaxRemoval: new(ml(3200))}
	if p := plan(t, in); p.GoalMl != 3200 || p.AboveDryMl != 3200 || !p.WithinLimits {
		t.Errorf("75.3 − 72.1 kg: %+v", p)
	}
}

func TestNewPlanRefuses(t *testing.T) {
	for _, tt := range []struct {
		field  string
		change func(*PlanInput)
	}{
		{"pre_weight_kg", func(in *PlanInput) { in.PreWeight = kg(19.9) }},
		{"pre_weight_kg", func(in *PlanInput) { in.PreWeight = kg(300.1) }},
		{"dry_weight_kg", func(in *PlanInput) { in.DryWeight = unit.ExactMass{} }},
		{"session_min", func(in *PlanInput) { in.Session = unit.ExactMinutes{} }},
		{"session_min", func(in *PlanInput) { in.Session = minutes(1441) }},
		{"intake_ml", func(in *PlanInput) { in.Intake = ml(-1) }},
		{"washback_ml", func(in *PlanInput) { in.Washback = ml(-0.001) }},
		{"saline_ml", func(in *PlanInput) { in.Saline = ml(30_001) }},
		{"clothing_kg", func(in *PlanInput) { in.Clothing = kg(-0.1) }},
		{"rate_limit_ml_per_kg_h", func(in *PlanInput) { in.RateLimit = &unit.ExactRatePerKg{} }},
		{"max_removal_ml", func(in *PlanInput) { in.MaxRemoval = new(ml(-1)) }},
		{"step_ml", func(in *PlanInput) { in.Step = ml(-1) }},
	} {
		in := evening()
		tt.change(&in)
		p, err := NewPlan(in)
		if ie := (*unit.InputError)(nil); !errors.As(err, &ie) || ie.Field != tt.field || p.Terms != nil {
			t.Errorf("%s: %v, want a refusal of that field and no plan", tt.field, err)
		}
		if Recheck(in, p) == nil {
			t.Errorf("%s: Recheck took what NewPlan refused", tt.field)
		}
	}
}

// drawPlanInput makes any allowed input, at the scale's steps or finer.
func drawPlanInput(t *rapid.T) PlanInput {
	var in PlanInput
	number := func(name string, lo, hi float64) float64 {
		v := rapid.Float64Range(lo, hi).Draw(t, name)
		if rapid.Bool().Draw(t, name+" in tenths") {
			return math.Round(v*10) / 10
		}
		return v
	}
	in.PreWeight, in.DryWeight = kg(number("pre", 20, 300)), kg(number("dry", 20, 300))
	if rapid.Bool().Draw(t, "near dry") {
		in.PreWeight = kg(min(300, max(20, in.DryWeight.Float()+number("gain", -2, 6))))
	}
	in.Clothing, in.Session = kg(number("clothing", 0, 20)), minutes(number("session", 1, 1440))
	in.Intake, in.Washback, in.Saline = ml(number("intake", 0, 3000)), ml(number("washback", 0, 1000)), ml(number("saline", 0, 1000))
	in.Step = ml(rapid.SampledFrom([]float64{0, 0.1, 1, 10, 50, 100}).Draw(t, "step"))
	if rapid.Bool().Draw(t, "rate limited") {
		in = in.limited(number("limit", 0.1, 30))
	}
	if rapid.Bool().Draw(t, "removal limited") {
		in.MaxRemoval = new(ml(number("most", 0, 6000)))
	}
	return in
}

func TestPlanProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawPlanInput(t)
		p, err := NewPlan(in)
		if err != nil {
			t.Fatal(err)
		}
		if err := Recheck(in, p); err != nil {
			t.Fatal(err)
		}
		if p.GoalMl < 0 || p.LeftOverMl < 0 || p.RateMlH < 0 {
			t.Fatalf("below zero: %+v", p)
		}
		if said := "below_dry"; p.BelowDry != (p.AboveDryMl < 0) {
			t.Fatalf("below dry weight unsaid: %+v", p)
		} else if p.BelowDry {
			if p.AboveDryMl <= -500 {
				said = "far_below_dry"
			}
			if p.Cautions[0].Code != said {
				t.Fatalf("%v mL above dry weight: %q, want %s", p.AboveDryMl, codes(p.Cautions), said)
			}
		}
		// Never an absolute value: what is taken off is at most what lies above
		// the dry weight with everything that comes in, but for half a step.
		additions := in.Intake.Float() + in.Washback.Float() + in.Saline.Float()
		half := max(in.Step.Float(), 1) / 2
		if p.GoalMl > max(0, p.AboveDryMl+additions)+half+1e-6 || p.GoalMl < p.AboveDryMl+additions-half-1e-6 {
			t.Fatalf("goal %v of %v above dry weight and %v that come in", p.GoalMl, p.AboveDryMl, additions)
		}
		shown := 0.0
		for _, term := range p.Terms {
			shown += term.Ml
		}
		if math.Abs(shown-p.GoalMl) > 1e-6 {
			t.Fatalf("the terms add up to %v, the goal is %v", shown, p.GoalMl)
		}
		// The balance closes: what was on the scale and came in, less what
		// went off, is what the scale will show.
		after := in.PreWeight.Float() + (in.Intake.Float()+in.Washback.Float()+in.Saline.Float()-p.GoalMl)/1000
		if math.Abs(after-p.ExpectedPostKg) > 1e-9 {
			t.Fatalf("balance gives %v kg, the plan %v", after, p.ExpectedPostKg)
		}
		if s := p.ShortestSessionMin; s != nil {
			checkShortest(t, in, *s, p)
		}
	})
}

// The shortest session keeps the limit and a minute less does not; in a
// session no shorter than that the plan is inside the rate limit.
func checkShortest(t *rapid.T, in PlanInput, shortest float64, p Plan) {
	goal := new(big.Rat).SetFloat64(p.GoalMl)
	if in.Step.Sign() != 0 && in.Step.Float() < 1 {
		return // 3255.4 mL is not a whole number in binary
	}
	perMin := mul(in.RateLimit.Rat(), in.DryWeight.Rat())
	lets := func(n float64) bool {
		return quo(mul(perMin, new(big.Rat).SetFloat64(n)), sixty).Cmp(goal) >= 0
	}
	if !lets(shortest) || shortest > 0 && lets(shortest-1) {
		t.Fatalf("%v min is not the shortest for %v mL", shortest, p.GoalMl)
	}
	if in.MaxRemoval == nil && p.WithinLimits != (in.Session.Rat().Cmp(quo(mul(goal, sixty), perMin)) >= 0) {
		t.Fatalf("within %v does not follow from the shortest %v min", p.WithinLimits, shortest)
	}
}

// Every tenth of a kilogram lands on the goal a child would write down.
func TestPlanEveryTenth(t *testing.T) {
	for tenths := int64(720); tenths <= 780; tenths++ {
		in := PlanInput{PreWeight: unit.Mass(tenths * 100).Exact(), DryWeight: unit.Mass(72_000).Exact(), Session: unit.Minutes(240).Exact()}
		if p := plan(t, in); p.GoalMl != float64(tenths-720)*100 {
			t.Errorf("%d.%d kg: goal %v mL", tenths/10, tenths%10, p.GoalMl)
		}
	}
}
