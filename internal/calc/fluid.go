package calc

import (
	"strings"

	"ebbline/fluid"
	"ebbline/unit"
)

func init() {
	register(Topic{
		Name:    "fluid",
		Summary: "how much to take off and how fast, against the unit's limits",
		Example: `{"pre_weight_kg": 74.6, "dry_weight_kg": 72, "session_min": 240,
 "intake_ml": 300, "washback_ml": 300, "rate_limit_ml_per_kg_h": 10, "max_removal_ml": 3500}`,
		Run: runFluid,
	})
}

func runFluid(o *Object) (Answer, error) {
	var in fluid.PlanInput
	readExact(o, "pre_weight_kg", fluid.WeightKg(), &in.PreWeight)
	readExact(o, "dry_weight_kg", fluid.WeightKg(), &in.DryWeight)
	readExact(o, "session_min", fluid.SessionMin(), &in.Session)
	readExactOr(o, "intake_ml", fluid.VolumeMl(), &in.Intake)
	readExactOr(o, "washback_ml", fluid.VolumeMl(), &in.Washback)
	readExactOr(o, "saline_ml", fluid.VolumeMl(), &in.Saline)
	readExactOr(o, "clothing_kg", fluid.ClothingKg(), &in.Clothing)
	readExactIf(o, "rate_limit_ml_per_kg_h", fluid.RateLimitKg(), &in.RateLimit)
	readExactIf(o, "max_removal_ml", fluid.VolumeMl(), &in.MaxRemoval)
	readExactOr(o, "step_ml", fluid.StepMl(), &in.Step)
	if err := o.Done(); err != nil {
		return Answer{}, err
	}
	p, err := fluid.NewPlan(in)
	if err != nil {
		return Answer{}, refused(err)
	}
	if err := fluid.Recheck(in, p); err != nil {
		return Answer{}, err
	}
	return Answer{Out: p, Cautions: p.Cautions, Sources: rateSources, Steps: fluidSteps(in, p)}, nil
}

// rateSources is what the cautions on removal rates rest on.
var rateSources = []string{fluid.SourceFlythe, fluid.SourceAssimon}

func fluidSteps(in fluid.PlanInput, p fluid.Plan) []Step {
	above := Step{"above dry weight", ml(p.AboveDryMl), "(pre-weight − clothing − dry weight) × 1000", "common practice, 1 kg = 1 L"}
	if p.BelowDry {
		above.Term, above.Value = "below dry weight", minus(above.Value)
		above.Formula += "; less is removed by so much. From " + fluid.BelowDryStop.Text() + " under: ring the unit (ours)"
	}
	steps := []Step{
		{Term: "pre-weight", Value: in.PreWeight.String() + " kg"},
		{Term: "clothing", Value: in.Clothing.String() + " kg"},
		{Term: "dry weight", Value: in.DryWeight.String() + " kg"},
		above,
		{Term: "intake", Value: in.Intake.String() + " mL"},
		{Term: "washback", Value: in.Washback.String() + " mL"},
		{Term: "saline", Value: in.Saline.String() + " mL"},
	}
	for _, t := range p.Terms {
		if t.Name == "not_removed" && t.Ml > 0 {
			steps = append(steps, Step{"short of dry weight", ml(t.Ml), "what comes in does not reach it; nothing is removed", "common practice"})
		}
	}
	step := in.Step.String()
	if in.Step.Sign() == 0 {
		step = "1"
	}
	steps = append(steps,
		Step{"goal", ml(p.GoalMl), "above dry weight + intake + washback + saline, not below 0, to " + step + " mL, halves away from zero", "common practice"},
		Step{"rate", sig(p.RateMlH, 5) + " mL/h", "goal / " + in.Session.String() + " min × 60", "definition"},
		Step{"rate per kg", sig(p.RateMlHKg, 4) + " mL/h/kg", "rate / dry weight; cautions above 10 and 13", fluid.SourceFlythe + "; " + fluid.SourceAssimon})
	if by, err := fluid.RatesByWeight(in.DryWeight); err == nil { // the plan would have refused the weight
		steps = append(steps, Step{"rates by weight", sig(by.TwentyPct, 5) + " and " + sig(by.FortyPct, 5) + " mL/h",
			"20 % and 40 % more deaths than at the mean rate, in people with three sessions a week: 3·dry + 500 and 3·dry + 630", fluid.SourceByWeight})
	}
	steps = append(steps, limitSteps(in.RateLimit, in.MaxRemoval, p)...)
	return append(steps, Step{"expected post-weight", sig(p.ExpectedPostKg, 6) + " kg",
		"pre-weight − goal + intake + washback + saline, same clothing", "common practice"})
}

// limitSteps explains what follows from the unit's limits, when it set any.
func limitSteps(rate *unit.ExactRatePerKg, most *unit.ExactVolume, p fluid.Plan) []Step {
	var steps []Step
	if rate != nil {
		steps = append(steps,
			Step{Term: "rate limit", Value: rate.String() + " mL/h/kg", Formula: "set by the unit"},
			Step{"shortest session", sig(*p.ShortestSessionMin, 8) + " min", "goal / (rate limit × dry weight), up to the minute", "definition"})
	}
	if most != nil {
		steps = append(steps, Step{Term: "largest removal", Value: most.String() + " mL", Formula: "set by the unit"})
	}
	if p.LargestGoalMl != nil {
		steps = append(steps,
			Step{"largest goal", ml(*p.LargestGoalMl), "lesser of rate limit × dry weight × session and largest removal, down to the mL", "definition"},
			Step{"left over", ml(p.LeftOverMl), "goal − largest goal, not below 0", "definition"})
	}
	return append(steps, Step{Term: "within the limits given", Value: yes(p.WithinLimits), Formula: "equal to a limit is within; without a limit it is within"})
}

func ml(v float64) string { return sig(v, 8) + " mL" }

// minus writes a number below 0 with a true minus.
func minus(text string) string { return strings.Replace(text, "-", "−", 1) }

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
