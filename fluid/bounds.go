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
// are given with each prescription.
var (
	WeightKg    = Range{20, 300} // measured and dry weights
	ClothingKg  = Range{0, 20}   // tare of clothes, shoes, a cast
	SessionMin  = Range{1, 1440} // a planned session
	StopInMin   = Range{0.01, 2880}
	TreatedMin  = Range{0, 2880}     // run so far, more than planned too
	VolumeMl    = Range{0, 30_000}   // a goal, a removal, a drink
	RateLimitKg = Range{0.01, 100}   // mL/h per kg; a limit of 0 would need an endless session
	StepMl      = Range{0.001, 5000} // what the machine's goal field counts in
	GapHours    = Range{0.1, 2000}   // from one session to the next
	UrineMlDay  = Range{0, 20_000}
	EnteredKg   = Range{0, 1_000_000}         // a weight as typed, slips and all
	DoseValue   = Range{0.000001, 10_000_000} // IU, mg, microgram, and each per mL
	StrengthPct = Range{0.000001, 100}        // percent: g in 100 mL
	DiluteToMl  = Range{0.01, 1000}
)

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
