package fluid

import (
	"math/big"

	"ebbline/unit"
)

// How far under the dry weight a person is before it is said, and from where on
// the unit is rung. Both are ours: no guideline gives a figure. Units change a
// dry weight by 0.2 to 0.5 kg at a time (common practice), so a difference of the
// largest of these steps is one that the unit would want to hear of.
const (
	BelowDryLook unit.Mass = 300
	BelowDryStop unit.Mass = 500
)

// A DryLevel is what a weight below the dry weight asks for.
type DryLevel int

// The levels, the mildest first.
const (
	DryQuiet DryLevel = iota // not under, or so little that the term of the plan says enough
	DryLook                  // it is said, and the person may go on
	DryStop                  // ring the unit first
)

// JudgeBelowDry returns what it asks for to weigh so much under the dry weight
// (under = dry weight − weight without clothes; 0 or less is not under). This is
// the only place that decides it:
//
//	under ≤ 0                                     quiet
//	under > 0, unwell                             stop
//	under ≥ ring                                  stop
//	under ≥ the larger of BelowDryLook and
//	        ring − (BelowDryStop − BelowDryLook)  look
//	less                                          quiet
//
// The look lies as far before a figure of the unit's as ours lie apart, and never
// before ours: who begins under as a rule is not told each time. ring is the unit's own
// figure; where it set none (nil) it is [BelowDryStop].
// unwell is vomiting, diarrhoea, not eating, or a blood pressure under the limit
// for starting: then the body is short of water, however little the scale shows.
// Each bound belongs to the level that it begins. Ours.
func JudgeBelowDry(under unit.Mass, ring *unit.Mass, unwell bool) DryLevel {
	stop := BelowDryStop
	if ring != nil {
		stop = *ring
	}
	switch {
	case under <= 0:
		return DryQuiet
	case unwell || under >= stop:
		return DryStop
	case under >= max(BelowDryLook, stop-(BelowDryStop-BelowDryLook)):
		return DryLook
	}
	return DryQuiet
}

// BelowDryWeight is the caution of a weight less than [BelowDryStop] below the
// dry weight.
func BelowDryWeight() unit.Caution {
	return unit.Caution{
		Code: "below_dry",
		Text: "The weight is below the dry weight. Drinks and washback come off only as far as they go beyond it. " +
			"Look again: scale, clothes, how you feel.",
	}
}

// FarBelowDry is the caution of a weight [BelowDryStop] and more below the dry
// weight. It takes the place of [BelowDryWeight].
func FarBelowDry() unit.Caution {
	return unit.Caution{
		Code: "far_below_dry",
		Text: "The weight is " + BelowDryStop.Text() + " or more below the dry weight. Ring your unit before you start.",
	}
}

// dryCautions gives the caution that belongs to so many mL above dry weight,
// exactly: none from 0 on, and one of two below.
func dryCautions(aboveMl *big.Rat) []unit.Caution {
	switch {
	case aboveMl.Sign() >= 0:
		return nil
	case aboveMl.Cmp(big.NewRat(-int64(BelowDryStop), 1)) <= 0: // 1 g for each mL
		return []unit.Caution{FarBelowDry()}
	}
	return []unit.Caution{BelowDryWeight()}
}
