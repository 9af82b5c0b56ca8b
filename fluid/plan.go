package fluid

import (
	"math/big"

	"ebbline/unit"
)

// PlanInput is what the plan of one session is computed from.
type PlanInput struct {
	PreWeight unit.ExactMass // as the scale showed it, dressed
	Clothing  unit.ExactMass // weight of what was worn, 0 when weighed as for the dry weight
	DryWeight unit.ExactMass // as prescribed
	Session   unit.ExactMinutes

	Intake   unit.ExactVolume // drinks and food planned during the session
	Washback unit.ExactVolume // saline that returns the blood, 0 when the machine adds it itself
	Saline   unit.ExactVolume // any other saline that will be given

	RateLimit  *unit.ExactRatePerKg // the unit's limit; nil when none was set
	MaxRemoval *unit.ExactVolume    // the unit's largest removal; nil when none was set
	Step       unit.ExactVolume     // the step of the machine's goal field; 0 stands for 1 mL
}

// A Term is one part of the goal. The terms of a plan add up to its goal: below
// dry weight above_dry is negative, and not_removed is what the sum is short of 0.
type Term struct {
	Name string // "above_dry", "intake", "washback", "saline", "not_removed", "rounding"
	Ml   float64
}

// A Plan is how much to take off and how fast, and how that lies to the limits.
// Volumes are in mL, rates in mL/h; the rate per kilogram is by dry weight.
type Plan struct {
	AboveDryMl         float64  `json:"above_dry_ml"` // negative below dry weight
	BelowDry           bool     `json:"below_dry"`
	GoalMl             float64  `json:"goal_ml"`
	RateMlH            float64  `json:"rate_ml_h"`
	RateMlHKg          float64  `json:"rate_ml_per_kg_h"`
	WithinLimits       bool     `json:"within_limits"`
	ShortestSessionMin *float64 `json:"shortest_session_min"`
	LargestGoalMl      *float64 `json:"largest_goal_ml"`
	LeftOverMl         float64  `json:"left_over_ml"`
	ExpectedPostKg     float64  `json:"expected_post_weight_kg"`

	Terms    []Term         `json:"-"`
	Cautions []unit.Caution `json:"-"`
}

// NewPlan computes the plan of one session:
//
//	above dry = pre-weight − clothing − dry weight           (1 kg = 1 L)
//	goal      = max(0, above dry + intake + washback + saline)
//	rate      = goal / session, and per kg of dry weight
//
// The goal is rounded to the machine's step, halves away from zero. Below the
// dry weight above dry is negative: what is drunk and given fills that up first,
// and only what goes beyond it is taken off. The goal is never negative, and
// never an absolute value. A caution says that the weight is below the dry
// weight, another from [BelowDryStop] under. The limits are inclusive: a rate
// equal to the limit lies within.
//
//	shortest session = goal / (limit · dry weight), up to the whole minute
//	largest goal     = the lesser of limit · dry weight · session and the
//	                   largest removal, down to the whole mL
//	left over        = goal − largest goal, not below 0
//	expected post    = pre-weight − goal + intake + washback + saline
//
// The expected post-weight is that of the whole goal even when a limit cuts
// it. Without a limit the plan is within limits and the figures that need one
// are nil; the shortest session needs a rate limit. Input outside the ranges
// of this room returns an [*unit.InputError].
//
// Source: the terms are common practice. The cautions: Flythe JE et al.,
// Kidney Int 2011;79:250–7; Assimon MM et al., Am J Kidney Dis 2016;68:911–22.
func NewPlan(in PlanInput) (Plan, error) {
	if err := in.check(); err != nil {
		return Plan{}, err
	}
	pre, dry := in.PreWeight.Rat(), in.DryWeight.Rat()
	above := mul(sub(sub(pre, in.Clothing.Rat()), dry), thousand)
	additions := sum(in.Intake.Rat(), in.Washback.Rat(), in.Saline.Rat())

	unrounded := sum(above, additions)
	wanted := notBelowZero(unrounded)
	goal := roundTo(wanted, in.step())
	rate := quo(mul(goal, sixty), in.Session.Rat())
	perKg := quo(rate, dry)

	p := Plan{
		AboveDryMl:     float(above),
		BelowDry:       above.Sign() < 0,
		GoalMl:         float(goal),
		RateMlH:        float(rate),
		RateMlHKg:      float(perKg),
		WithinLimits:   true,
		ExpectedPostKg: float(sum(pre, quo(sub(additions, goal), thousand))),
		Terms: []Term{
			{"above_dry", float(above)},
			{"intake", in.Intake.Float()},
			{"washback", in.Washback.Float()},
			{"saline", in.Saline.Float()},
			{"not_removed", float(sub(wanted, unrounded))}, // fills up to the dry weight, or part of the way
			{"rounding", float(sub(goal, wanted))},
		},
	}
	p.limit(in, goal, perKg)
	p.Cautions = append(dryCautions(above), rateCautions(perKg)...)
	return p, nil
}

// limit fills what depends on the unit's limits.
func (p *Plan) limit(in PlanInput, goal, perKg *big.Rat) {
	var largest *big.Rat
	if in.RateLimit != nil {
		atLimit := mul(in.RateLimit.Rat(), in.DryWeight.Rat()) // mL/h
		p.ShortestSessionMin = new(float(ceil(quo(mul(goal, sixty), atLimit))))
		p.WithinLimits = perKg.Cmp(in.RateLimit.Rat()) <= 0
		largest = quo(mul(atLimit, in.Session.Rat()), sixty)
	}
	if in.MaxRemoval != nil {
		most := in.MaxRemoval.Rat()
		p.WithinLimits = p.WithinLimits && goal.Cmp(most) <= 0
		largest = least(largest, most)
	}
	if largest != nil {
		whole := floor(largest)
		p.LargestGoalMl = new(float(whole))
		p.LeftOverMl = float(notBelowZero(sub(goal, whole)))
	}
}

func (in PlanInput) step() *big.Rat {
	if in.Step.Sign() == 0 {
		return big.NewRat(1, 1)
	}
	return in.Step.Rat()
}

func (in PlanInput) check() error {
	var step error
	if in.Step.Sign() != 0 {
		step = check("step_ml", in.Step, StepMl())
	}
	return first(
		check("pre_weight_kg", in.PreWeight, WeightKg()),
		check("dry_weight_kg", in.DryWeight, WeightKg()),
		check("session_min", in.Session, SessionMin()),
		check("intake_ml", in.Intake, VolumeMl()),
		check("washback_ml", in.Washback, VolumeMl()),
		check("saline_ml", in.Saline, VolumeMl()),
		check("clothing_kg", in.Clothing, ClothingKg()),
		checkIf("rate_limit_ml_per_kg_h", in.RateLimit, RateLimitKg()),
		checkIf("max_removal_ml", in.MaxRemoval, VolumeMl()),
		step,
	)
}
