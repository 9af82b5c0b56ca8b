package fluid

import (
	"math/big"

	"ebbline/unit"
)

// The sources that the removal-rate cautions rest on. In 1,846 people of the
// HEMO study a rate above 13 mL/h per kg went with more deaths than one of 10
// or less (hazard ratio 1.59), and the risk began to climb from about 10; in
// 118,394 people the ratios were 1.31 above 13 and 1.22 above 10.
const (
	SourceFlythe  = "Flythe JE et al., Kidney Int 2011;79:250–7"
	SourceAssimon = "Assimon MM et al., Am J Kidney Dis 2016;68:911–22"
)

// The removal rates, in mL/h per kg of dry weight, above which a plan carries
// a caution: [SourceFlythe] and [SourceAssimon]. They are published
// associations, not a unit's limits.
const (
	CautionRate     = 10
	HighCautionRate = 13
)

// RateAbove10 is the caution above [CautionRate].
func RateAbove10() unit.Caution {
	return unit.Caution{
		Code: "rate_above_10",
		Text: "The removal rate is above 10 mL/h per kg of dry weight, from where the risk of dying was seen to climb (" +
			SourceFlythe + "; " + SourceAssimon + "). More time or a smaller goal lowers it; ask your unit which.",
	}
}

// RateAbove13 is the caution above [HighCautionRate].
func RateAbove13() unit.Caution {
	return unit.Caution{
		Code: "rate_above_13",
		Text: "The removal rate is above 13 mL/h per kg of dry weight, where clearly more people died than at 10 or less (" +
			SourceFlythe + "; " + SourceAssimon + "). Ring your unit before you use it.",
	}
}

// rateCautions gives what must be said beside a rate per kg; above 13 both.
func rateCautions(perKg *big.Rat) []unit.Caution {
	var said []unit.Caution
	if perKg.Cmp(big.NewRat(CautionRate, 1)) > 0 {
		said = append(said, RateAbove10())
	}
	if perKg.Cmp(big.NewRat(HighCautionRate, 1)) > 0 {
		said = append(said, RateAbove13())
	}
	return said
}
