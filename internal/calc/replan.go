package calc

import "ebbline/fluid"

func init() {
	register(Topic{
		Name:    "replan",
		Summary: "what is left of a session under way: how much, in how long, how fast",
		Example: `{"goal_ml": 3200, "removed_ml": 1250, "treated_min": 100, "planned_min": 240, "added_ml": 200,
 "dry_weight_kg": 72, "rate_limit_ml_per_kg_h": 13}`,
		Run: runReplan,
	})
}

func runReplan(o *Object) (Answer, error) {
	var in fluid.ReplanInput
	readExact(o, "goal_ml", fluid.VolumeMl(), &in.Goal)
	readExact(o, "removed_ml", fluid.VolumeMl(), &in.Removed)
	readExact(o, "treated_min", fluid.TreatedMin(), &in.Treated)
	readExact(o, "planned_min", fluid.SessionMin(), &in.Planned)
	readExactIf(o, "stop_in_min", fluid.StopInMin(), &in.StopIn)
	readExactOr(o, "added_ml", fluid.VolumeMl(), &in.Added)
	readExact(o, "dry_weight_kg", fluid.WeightKg(), &in.DryWeight)
	readExactIf(o, "rate_limit_ml_per_kg_h", fluid.RateLimitKg(), &in.RateLimit)
	if err := o.Done(); err != nil {
		return Answer{}, err
	}
	r, err := fluid.Replan(in)
	if err != nil {
		return Answer{}, refused(err)
	}
	return Answer{Out: r, Cautions: r.Cautions, Sources: rateSources, Steps: replanSteps(in, r)}, nil
}

func replanSteps(in fluid.ReplanInput, r fluid.Remainder) []Step {
	end := in.Planned.String() + " min planned − " + in.Treated.String() + " min treated"
	if in.StopIn != nil {
		end = "the end that was asked for"
	}
	steps := []Step{
		{"still to remove", ml(r.RemainingMl), "goal " + in.Goal.String() + " + added " + in.Added.String() + " − removed " + in.Removed.String() + ", not below 0", "common practice"},
		{"minutes left", sig(r.RemainingMin, 6) + " min", end, "definition"},
		{"rate", sig(r.RateMlH, 5) + " mL/h", "still to remove / minutes left × 60", "definition"},
		{"rate per kg", sig(r.RateMlHKg, 4) + " mL/h/kg", "rate / dry weight " + in.DryWeight.String() + " kg; cautions above 10 and 13", fluid.SourceFlythe + "; " + fluid.SourceAssimon},
	}
	if in.RateLimit != nil {
		steps = append(steps,
			Step{Term: "rate limit", Value: in.RateLimit.String() + " mL/h/kg", Formula: "set by the unit"},
			Step{"minutes needed", sig(*r.MinutesNeeded, 8) + " min", "still to remove / (rate limit × dry weight), up to the minute", "definition"},
			Step{"removable", ml(*r.RemovableMl), "rate limit × dry weight × minutes left", "definition"},
			Step{"left over", ml(r.LeftOverMl), "still to remove − removable, not below 0", "definition"})
	}
	return append(steps, Step{Term: "within the limit given", Value: yes(r.WithinLimits), Formula: "equal to the limit is within; without a limit it is within"})
}
