package water

import (
	"slices"

	"ebbline/unit"
)

// The bounds of the dialysis fluid, used where the unit set none.
const (
	// MeterApart is how far the conductivities of the machine and of one's own
	// meter may lie apart; a difference of this much agrees. Units set 0.2 to
	// 0.4 mS/cm (from memory); the wider end is a choice of ours.
	MeterApart unit.Conductivity = 40
	// FluidHot is the warmest that the fluid may be, before the start and while
	// running (common practice). Heat harms blood from about 42 °C (from memory).
	FluidHot unit.Temperature = 385
	// PHLow and PHHigh bound the pH of bicarbonate fluid; the bounds pass (from
	// memory).
	PHLow, PHHigh unit.PH = 690, 760
	// UsualOf is how many earlier sessions make the usual value. Ours.
	UsualOf = 6
)

const (
	setLook     unit.Conductivity = 40 // from the set value: said beyond it. Ours
	setPercent                    = 5  // of the set value: stops beyond it (teaching text, of low grade)
	usualLook   unit.Conductivity = 30 // from the usual value: said beyond it. Ours
	neverUnder  unit.Conductivity = 1300
	neverOver   unit.Conductivity = 1500 // no set value: 13.0 to 15.0 stops beyond it. Ours
	atFirstLow  unit.Conductivity = 1320
	atFirstHigh unit.Conductivity = 1450 // no set and no usual value: said outside 13.2 to 14.5. Ours
)

// Apart reports whether the conductivities of machine and meter, in mS/cm, lie
// further apart than most: |machine − meter| > most. Then one of the two is
// wrong. That the machine's own reading is not the whole check: a study guide for
// dialysis technicians (opening read, of low grade).
func Apart(machine, meter, most unit.Conductivity) bool {
	return between(machine, meter) > most
}

func between(a, b unit.Conductivity) unit.Conductivity { return max(a-b, b-a) }

// A FluidStanding is how a reading of the dialysis fluid compares with what it should
// be.
type FluidStanding int

// How a reading can stand.
const (
	FluidNear  FluidStanding = iota
	FluidOff                 // said; nothing is held up
	FluidWrong               // nobody connects
)

// A FluidHeld is a conductivity held against a bound.
type FluidHeld struct {
	FluidStanding
	Against   FluidReference
	Middle    unit.Conductivity // the set or usual value; 0 where there is neither
	Low, High unit.Conductivity // of the bound that decided; both pass
}

// A FluidReference is what a conductivity is held against.
type FluidReference int

// What a conductivity can be held against.
const (
	FluidSet      FluidReference = iota // the conductivity that the unit ordered
	FluidUsual                          // the middle of the last sessions' values
	FluidOrdinary                       // what any fluid has
)

// Conductivity holds one conductivity, of the machine or of the meter, in mS/cm,
// against the set value, or where none was ordered (set is nil) against the
// values that the same instrument showed in earlier sessions on this machine.
//
//	set:           FluidWrong when |v − set| > 5 % of set, FluidOff when |v − set| > 0.4
//	none set:      FluidWrong outside 13.0 to 15.0
//	  six before:  FluidOff when |v − median of the last six| > 0.3
//	  fewer:       FluidOff outside 13.2 to 14.5
//
// A value on a bound is inside it. Of more than six earlier values the last six
// count. The 5 % are from a teaching text of low grade; all else is ours. A
// sodium is never computed from it: makers' temperature coefficients differ, and
// the same conductivity can be 1 to 5 mmol/L apart.
func Conductivity(v unit.Conductivity, set *unit.Conductivity, before []unit.Conductivity) FluidHeld {
	if set != nil {
		most := setPercent * *set / 100
		if h := within(v, FluidSet, *set, *set-most, *set+most, FluidWrong); h.FluidStanding != FluidNear {
			return h
		}
		return within(v, FluidSet, *set, *set-setLook, *set+setLook, FluidOff)
	}
	if h := within(v, FluidOrdinary, 0, neverUnder, neverOver, FluidWrong); h.FluidStanding != FluidNear {
		return h
	}
	if len(before) < UsualOf {
		return within(v, FluidOrdinary, 0, atFirstLow, atFirstHigh, FluidOff)
	}
	last := slices.Sorted(slices.Values(before[len(before)-UsualOf:]))
	// Twice the middle, so that no half of a hundredth is lost: a bound of a half
	// is the next whole hundredth inside it.
	twice := last[UsualOf/2-1] + last[UsualOf/2]
	return within(v, FluidUsual, twice/2, (twice+1)/2-usualLook, twice/2+usualLook, FluidOff)
}

// within holds a value against a bound, and says how it stands beyond it.
func within(v unit.Conductivity, against FluidReference, middle, low, high unit.Conductivity, beyond FluidStanding) FluidHeld {
	h := FluidHeld{Against: against, Middle: middle, Low: low, High: high}
	if v < low || v > high {
		h.FluidStanding = beyond
	}
	return h
}

// PHOff reports whether the pH of bicarbonate fluid lies outside 6.9 to 7.6 (from
// memory).
func PHOff(p unit.PH) bool { return p < PHLow || p > PHHigh }

// TooHot reports whether fluid of this temperature is over [FluidHot].
func TooHot(t unit.Temperature) bool { return t > FluidHot }
