package fluid

import (
	"math/big"

	"ebbline/unit"
)

// BetweenInput is the stretch from one session to the next weigh-in.
type BetweenInput struct {
	LastPost  unit.ExactMass
	DryWeight unit.ExactMass
	Gap       unit.ExactHours   // until the next weigh-in
	Session   unit.ExactMinutes // length of the next session

	Intake      unit.ExactVolume // planned for that session
	Washback    unit.ExactVolume
	UrinePerDay unit.ExactVolume

	RateLimit  *unit.ExactRatePerKg // one of the two limits is needed
	MaxRemoval *unit.ExactVolume
}

// An Allowance is what may be gained until the next weigh-in.
type Allowance struct {
	AllowanceMl    float64 `json:"allowance_ml"`
	AllowanceMlDay float64 `json:"allowance_ml_day"`
	AlreadyAboveMl float64 `json:"already_above_ml"` // negative when the last session ended below dry weight

	RoomMl   float64        `json:"-"` // what the next session can take off besides its own additions
	Cautions []unit.Caution `json:"-"`
}

// The cautions of an allowance.
var (
	insensibleAssumed = unit.Caution{
		Code: "insensible_assumed",
		Text: "Sweat and breath are taken to cancel the water in food. Heat, fever, exercise or diarrhoea change that.",
	}
	noAllowance = unit.Caution{
		Code: "no_allowance",
		Text: "The next session, as planned, cannot take off within the limits what is there already. Ask your unit about a longer or an extra session.",
	}
)

// Between computes how much fluid may be gained until the next weigh-in with
// the next session's goal still inside the limits:
//
//	room          = the lesser of limit · dry weight · session and the
//	                largest removal, less intake and washback
//	already above = last post-weight − dry weight                (1 kg = 1 L)
//	allowance     = room − already above + urine · gap, not below 0
//
// Urine counts towards what may be drunk. Insensible loss and the water of food
// are taken as cancelling, and a caution says so. Input outside the ranges of
// this room, or without any limit, returns an [*unit.InputError].
//
// Source: common practice.
func Between(in BetweenInput) (Allowance, error) {
	if err := in.check(); err != nil {
		return Allowance{}, err
	}
	var removable *big.Rat
	if in.RateLimit != nil {
		removable = quo(mul(mul(in.RateLimit.Rat(), in.DryWeight.Rat()), in.Session.Rat()), sixty)
	}
	if in.MaxRemoval != nil {
		removable = least(removable, in.MaxRemoval.Rat())
	}
	room := sub(removable, sum(in.Intake.Rat(), in.Washback.Rat()))
	above := mul(sub(in.LastPost.Rat(), in.DryWeight.Rat()), thousand)
	days := quo(in.Gap.Rat(), dayHours)
	balance := sum(sub(room, above), mul(in.UrinePerDay.Rat(), days))
	allowance := notBelowZero(balance)

	a := Allowance{
		AllowanceMl:    float(allowance),
		AllowanceMlDay: float(quo(allowance, days)),
		AlreadyAboveMl: float(above),
		RoomMl:         float(room),
		Cautions:       []unit.Caution{insensibleAssumed},
	}
	if balance.Sign() < 0 {
		a.Cautions = append(a.Cautions, noAllowance)
	}
	return a, nil
}

func (in BetweenInput) check() error {
	err := first(
		check("last_post_kg", in.LastPost, WeightKg()),
		check("dry_weight_kg", in.DryWeight, WeightKg()),
		check("hours_to_next", in.Gap, GapHours()),
		check("session_min", in.Session, SessionMin()),
		check("intake_ml", in.Intake, VolumeMl()),
		check("washback_ml", in.Washback, VolumeMl()),
		check("urine_ml_day", in.UrinePerDay, UrineMlDay()),
		checkIf("rate_limit_ml_per_kg_h", in.RateLimit, RateLimitKg()),
		checkIf("max_removal_ml", in.MaxRemoval, VolumeMl()),
	)
	if err == nil && in.RateLimit == nil && in.MaxRemoval == nil {
		return unit.Refuse("rate_limit_ml_per_kg_h", "no limit", "this limit or max_removal_ml")
	}
	return err
}
