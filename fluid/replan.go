package fluid

import (
	"math/big"
	"time"

	"ebbline/unit"
)

// ReplanInput is a session under way and what has changed in it.
type ReplanInput struct {
	Goal    unit.ExactVolume // as planned
	Removed unit.ExactVolume // by the machine's count, so far
	Added   unit.ExactVolume // drinks and saline taken beyond the plan

	Treated unit.ExactMinutes  // run so far, pauses taken off
	Planned unit.ExactMinutes  // length of the session as planned
	StopIn  *unit.ExactMinutes // minutes left, when another end is wanted

	DryWeight unit.ExactMass
	RateLimit *unit.ExactRatePerKg // nil when the unit set none
}

// A Remainder is what is left of a session: how much, in how long, how fast.
type Remainder struct {
	RemainingMl   float64  `json:"remaining_ml"`
	RemainingMin  float64  `json:"remaining_min"`
	RateMlH       float64  `json:"rate_ml_h"`
	RateMlHKg     float64  `json:"rate_ml_per_kg_h"`
	WithinLimits  bool     `json:"within_limits"`
	MinutesNeeded *float64 `json:"minutes_needed"`
	RemovableMl   *float64 `json:"removable_ml"`
	LeftOverMl    float64  `json:"left_over_ml"`

	Cautions []unit.Caution `json:"-"`
}

// removedOverGoal says that more has come off than was planned.
var removedOverGoal = unit.Caution{
	Code: "removed_over_goal",
	Text: "More has come off than the goal and everything added since. Nothing is left to remove; your unit's own instructions say what to do.",
}

// Replan computes the rest of a session:
//
//	remaining = goal + added − removed, not below 0
//	minutes   = the wanted end, or planned − treated
//	rate      = remaining / minutes, and per kg of dry weight
//
// With a rate limit it gives the whole minutes the rest needs at the limit
// (up), what the limit lets through in the minutes left, and what stays behind.
// Without one the rest is within limits and those figures are nil.
//
// It needs minutes left, and otherwise returns an [*unit.InputError]: at the
// planned end ask for another one with StopIn.
//
// Source: common practice; the cautions as for [NewPlan].
func Replan(in ReplanInput) (Remainder, error) {
	if err := in.check(); err != nil {
		return Remainder{}, err
	}
	balance := sub(sum(in.Goal.Rat(), in.Added.Rat()), in.Removed.Rat())
	remaining, minutes := notBelowZero(balance), in.minutesLeft()
	rate := quo(mul(remaining, sixty), minutes)
	perKg := quo(rate, in.DryWeight.Rat())

	r := Remainder{
		RemainingMl:  float(remaining),
		RemainingMin: float(minutes),
		RateMlH:      float(rate),
		RateMlHKg:    float(perKg),
		WithinLimits: true,
	}
	if in.RateLimit != nil {
		atLimit := mul(in.RateLimit.Rat(), in.DryWeight.Rat()) // mL/h
		removable := quo(mul(atLimit, minutes), sixty)
		r.WithinLimits = perKg.Cmp(in.RateLimit.Rat()) <= 0
		r.MinutesNeeded = new(float(ceil(quo(mul(remaining, sixty), atLimit))))
		r.RemovableMl = new(float(removable))
		r.LeftOverMl = float(notBelowZero(sub(remaining, removable)))
	}
	if balance.Sign() < 0 {
		r.Cautions = append(r.Cautions, removedOverGoal)
	}
	r.Cautions = append(r.Cautions, rateCautions(perKg)...)
	return r, nil
}

func (in ReplanInput) minutesLeft() *big.Rat {
	if in.StopIn != nil {
		return in.StopIn.Rat()
	}
	return sub(in.Planned.Rat(), in.Treated.Rat())
}

func (in ReplanInput) check() error {
	err := first(
		check("goal_ml", in.Goal, VolumeMl()),
		check("removed_ml", in.Removed, VolumeMl()),
		check("treated_min", in.Treated, TreatedMin()),
		check("planned_min", in.Planned, SessionMin()),
		checkIf("stop_in_min", in.StopIn, StopInMin()),
		check("added_ml", in.Added, VolumeMl()),
		check("dry_weight_kg", in.DryWeight, WeightKg()),
		checkIf("rate_limit_ml_per_kg_h", in.RateLimit, RateLimitKg()),
	)
	if err == nil && in.minutesLeft().Sign() <= 0 {
		return unit.Refuse("treated_min", in.Treated, "less than planned_min, or the minutes left in stop_in_min")
	}
	return err
}

// HeparinOff gives the time from now until heparin is to stop, when it is
// prescribed to stop before the end of the session by the given time. The
// prescription holds a time before the end, never a time of day, so that the
// stop moves whenever the end does. When that time has come or passed, due is
// true and the time is 0.
func HeparinOff(left, beforeEnd time.Duration) (in time.Duration, due bool) {
	in = left - beforeEnd
	if in <= 0 {
		return 0, true
	}
	return in, false
}
