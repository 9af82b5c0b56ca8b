package fluid

import "ebbline/unit"

// SourceByWeight is where [RatesByWeight] is from: 396,358 people who dialysed
// three times a week in centres.
const SourceByWeight = "Mermelstein et al., Clin J Am Soc Nephrol 2023;18:767–76 (abstract)"

// A RateByWeight is removal rates in mL/h as people of one weight had them.
type RateByWeight struct {
	Usual     float64 // the mean
	TwentyPct float64 // where 20 % more people died than at the mean
	FortyPct  float64 // and 40 %
}

// RatesByWeight gives the removal rates that went with more deaths at a
// weight, as straight lines in it:
//
//	mean 3·W + 330      20 % more deaths 3·W + 500      40 % more 3·W + 630
//
// in mL/h with W in kg, 20 to 300; outside that it returns an
// [*unit.InputError]. One rate per kg, such as 13 mL/h, is lenient for the
// heavy and strict for the light beside it. Men lay 70 mL/h above women. The
// lines are of three sessions a week; nothing shows them for shorter gaps.
//
// Source: [SourceByWeight].
func RatesByWeight(dry unit.ExactMass) (RateByWeight, error) {
	if err := check("dry_weight_kg", dry, WeightKg()); err != nil {
		return RateByWeight{}, err
	}
	w := 3 * dry.Float()
	return RateByWeight{w + 330, w + 500, w + 630}, nil
}
