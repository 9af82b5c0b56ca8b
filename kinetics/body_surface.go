package kinetics

import "math"

// DuBois gives body surface in m²:
//
//	0.007184 · H^0.725 · W^0.425
//
// H cm from 30 to 260, W kg from 1 to 500; otherwise an [*unit.InputError].
// The one to use for 1.73 m² and for surface-normalised Kt/V; it falls short
// in great weight, by up to 20 %.
//
// Source: Du Bois and Du Bois 1916 (read on a secondary page of such
// formulas).
func DuBois(heightCm, weightKg float64) (float64, error) {
	return surface(heightCm, weightKg, 0.007184, 0.725, 0.425)
}

// GehanGeorge gives body surface in m²:
//
//	0.0235 · H^0.42246 · W^0.51456
//
// Ranges as in [DuBois].
//
// Source: Gehan and George 1970 (read on a secondary page of such formulas).
func GehanGeorge(heightCm, weightKg float64) (float64, error) {
	return surface(heightCm, weightKg, 0.0235, 0.42246, 0.51456)
}

// Haycock gives body surface in m²:
//
//	0.024265 · H^0.3964 · W^0.5378
//
// Ranges as in [DuBois]. Made with infants and children among its subjects.
//
// Source: Haycock et al. 1978 (read on a secondary page of such formulas).
func Haycock(heightCm, weightKg float64) (float64, error) {
	return surface(heightCm, weightKg, 0.024265, 0.3964, 0.5378)
}

// Mosteller gives body surface in m²:
//
//	√(H·W / 3600)
//
// Ranges as in [DuBois].
//
// Source: Mosteller 1987 (read on a secondary page of such formulas).
func Mosteller(heightCm, weightKg float64) (float64, error) {
	return surface(heightCm, weightKg, 1.0/60, 0.5, 0.5)
}

func surface(heightCm, weightKg, factor, height, weight float64) (float64, error) {
	if err := checkSize(heightCm, weightKg); err != nil {
		return 0, err
	}
	return factor * math.Pow(heightCm, height) * math.Pow(weightKg, weight), nil
}
