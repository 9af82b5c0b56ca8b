package kinetics

import (
	"strconv"

	"ebbline/unit"
)

// A bound is one input with the values it may take. NaN and the infinities
// are outside every bound.
type bound struct {
	field         string // as in the answer to a person: name with its unit
	value, lo, hi float64
	open          bool // lo itself is refused
}

// nothing is where a value that must lie above 0 counts as 0. No measurement
// is so small, and a division by less could leave the range of a float64.
const nothing = 1e-9

func within(field string, value, lo, hi float64) bound {
	return bound{field, value, lo, hi, false}
}

func above(field string, value, lo, hi float64) bound {
	return bound{field, value, lo, hi, true}
}

// refuse gives the first value that is out of bounds as an
// [*unit.InputError], or nil.
func refuse(bounds ...bound) error {
	for _, b := range bounds {
		if b.value >= b.lo && b.value <= b.hi && !(b.open && b.value < b.lo+nothing) {
			continue
		}
		if b.open {
			return unit.Refuse(b.field, b.value, "a number above "+plain(b.lo)+", up to "+plain(b.hi))
		}
		return unit.Refuse(b.field, b.value, "a number from "+plain(b.lo)+" to "+plain(b.hi))
	}
	return nil
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// The widest values any formula here takes. They keep out what cannot be; what
// merely lies outside a formula's fit gets a caution instead.
const (
	minutesAWeek = 10080.0

	maxUreaMmolPerL = 300.0
	maxSessionMin   = 1440.0 // a day
	maxRemovedL     = 25.0
	minWeightKg     = 1.0
	maxWeightKg     = 500.0
	maxVolumeL      = 250.0
	maxResidual     = 150.0 // mL/min, above a healthy pair of kidneys
	maxSessionsAWk  = 14.0
	maxKtV          = 50.0
	maxDays         = 60.0
)
