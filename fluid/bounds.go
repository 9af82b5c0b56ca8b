package fluid

import (
	"strconv"

	"ebbline/unit"
)

// A Range is what a field can hold, both ends included. It refuses only what
// cannot be: what is merely unlikely is for [WeighIn] and the household's
// asking bounds.
type Range struct{ Low, High float64 }

// The ranges of this room. They are our own, wide on purpose; a unit's limits
// are given with each prescription. Each is a function, so that nobody can move
// a bound for everyone else.

// WeightKg is that of measured and dry weights.
func WeightKg() Range { return Range{20, 300} }

// ClothingKg is the tare of clothes, shoes, a cast.
func ClothingKg() Range { return Range{0, 20} }

// SessionMin is the length of a planned session.
func SessionMin() Range { return Range{1, 1440} }

// StopInMin is the time left when another end is wanted.
func StopInMin() Range { return Range{0.01, 2880} }

// TreatedMin is the time run so far, more than planned too.
func TreatedMin() Range { return Range{0, 2880} }

// VolumeMl is that of a goal, a removal, a drink.
func VolumeMl() Range { return Range{0, 30_000} }

// RateLimitKg is that of a limit in mL/h per kg; one of 0 would need an endless session.
func RateLimitKg() Range { return Range{0.01, 100} }

// StepMl is what the machine's goal field counts in.
func StepMl() Range { return Range{0.001, 5000} }

// GapHours is the time from one session to the next.
func GapHours() Range { return Range{0.1, 2000} }

// UrineMlDay is the urine of a day.
func UrineMlDay() Range { return Range{0, 20_000} }

// EnteredKg is a weight as typed, slips and all.
func EnteredKg() Range { return Range{0, 1_000_000} }

// DoseValue is that of IU, mg and microgram, and of each per mL.
func DoseValue() Range { return Range{0.000001, 10_000_000} }

// StrengthPct is a strength in percent: g in 100 mL.
func StrengthPct() Range { return Range{0.000001, 100} }

// DiluteToMl is the volume in a syringe once made up.
func DiluteToMl() Range { return Range{0.01, 1000} }

func (r Range) words(symbol string) string {
	return strconv.FormatFloat(r.Low, 'f', -1, 64) + " to " + strconv.FormatFloat(r.High, 'f', -1, 64) + " " + symbol
}

// has is false for a NaN too.
func (r Range) has(v float64) bool { return v >= r.Low && v <= r.High }

// check refuses a value outside r, naming the field.
func check[M unit.Measure](field string, v unit.Exact[M], r Range) error {
	if v.Within(r.Low, r.High) {
		return nil
	}
	return unit.Refuse(field, v, r.words(unit.Quantity[M](0).Symbol()))
}

// checkIf refuses a given value outside r; an absent one is fine.
func checkIf[M unit.Measure](field string, v *unit.Exact[M], r Range) error {
	if v == nil {
		return nil
	}
	return check(field, *v, r)
}

// first returns the first error there is.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
