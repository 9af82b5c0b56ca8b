package kinetics

import "ebbline/unit"

// Nadler gives blood volume in litres:
//
//	men    0.3669·h³ + 0.03219·W + 0.6041
//	women  0.3561·h³ + 0.03308·W + 0.1833
//
// h metres, W kg. Ranges as in [Watson]; a result outside 0 to a fifth of the
// weight is an [*unit.InputError].
//
// Source: Nadler, Hidalgo, Bloch, Surgery 1962;51:224 (from memory).
func Nadler(p Person) (float64, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	m := p.HeightCm / 100
	litres := 0.3561*m*m*m + 0.03308*p.WeightKg + 0.1833
	if p.Sex == Male {
		litres = 0.3669*m*m*m + 0.03219*p.WeightKg + 0.6041
	}
	if litres > p.WeightKg/5 {
		return 0, unit.Refuse("weight_kg", p.WeightKg, "an adult's height and weight: the equation gives "+plain(litres)+" L of blood")
	}
	return litres, nil
}
