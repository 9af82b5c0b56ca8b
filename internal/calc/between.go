package calc

import "ebbline/fluid"

func init() {
	register(Topic{
		Name:    "between",
		Summary: "what may be gained until the next weigh-in with the goal still inside the limits",
		Example: `{"last_post_kg": 72.4, "dry_weight_kg": 72, "hours_to_next": 44, "session_min": 240,
 "intake_ml": 300, "washback_ml": 300, "urine_ml_day": 200, "rate_limit_ml_per_kg_h": 13}`,
		Run: runBetween,
	})
}

func runBetween(o *Object) (Answer, error) {
	var in fluid.BetweenInput
	readExact(o, "last_post_kg", fluid.WeightKg(), &in.LastPost)
	readExact(o, "dry_weight_kg", fluid.WeightKg(), &in.DryWeight)
	readExact(o, "hours_to_next", fluid.GapHours(), &in.Gap)
	readExact(o, "session_min", fluid.SessionMin(), &in.Session)
	readExactOr(o, "intake_ml", fluid.VolumeMl(), &in.Intake)
	readExactOr(o, "washback_ml", fluid.VolumeMl(), &in.Washback)
	readExactOr(o, "urine_ml_day", fluid.UrineMlDay(), &in.UrinePerDay)
	readExactIf(o, "rate_limit_ml_per_kg_h", fluid.RateLimitKg(), &in.RateLimit)
	readExactIf(o, "max_removal_ml", fluid.VolumeMl(), &in.MaxRemoval)
	if !o.Has("rate_limit_ml_per_kg_h") && !o.Has("max_removal_ml") {
		o.Refuse("rate_limit_ml_per_kg_h", "is missing, and so is max_removal_ml; one of the two is needed")
	}
	if err := o.Done(); err != nil {
		return Answer{}, err
	}
	a, err := fluid.Between(in)
	if err != nil {
		return Answer{}, refused(err)
	}
	return Answer{Out: a, Cautions: a.Cautions, Sources: []string{"common practice"}, Steps: betweenSteps(in, a)}, nil
}

func betweenSteps(in fluid.BetweenInput, a fluid.Allowance) []Step {
	limits := ""
	if in.RateLimit != nil {
		limits = in.RateLimit.String() + " mL/h/kg × " + in.DryWeight.String() + " kg × " + in.Session.String() + " min"
	}
	if in.MaxRemoval != nil {
		if limits != "" {
			limits += ", at most "
		}
		limits += in.MaxRemoval.String() + " mL"
	}
	return []Step{
		{"room in the next session", ml(a.RoomMl), limits + ", less intake " + in.Intake.String() + " and washback " + in.Washback.String() + " mL", "limits set by the unit"},
		{"already above dry weight", ml(a.AlreadyAboveMl), "last post-weight " + in.LastPost.String() + " kg − dry weight, 1 kg = 1 L", "common practice"},
		{"urine until then", ml(in.UrinePerDay.Float() * in.Gap.Float() / 24), in.UrinePerDay.String() + " mL a day × " + in.Gap.String() + " h / 24", "common practice"},
		{"allowance", ml(a.AllowanceMl), "room − already above + urine, not below 0; sweat and breath taken to cancel the water in food", "common practice"},
		{"allowance a day", ml(a.AllowanceMlDay), "allowance × 24 / " + in.Gap.String() + " h", "definition"},
	}
}
