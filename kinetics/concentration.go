package kinetics

import "ebbline/unit"

// A Point is a urea in blood at a time.
type Point struct {
	Min  float64 // minutes from any beginning
	Urea unit.Urea
}

// TimeAveraged gives the mean urea over the time its points span, by
// trapezoids:
//
//	TAC = Σ (t[i+1] − t[i])·(C[i] + C[i+1])/2 / (t[last] − t[0])
//
// It needs two points or more, each later than the one before, with ureas
// above 0, up to 300 mmol/L; otherwise an [*unit.InputError] comes back. With
// only three points a cycle (before, after, before) the curve of the fall is
// taken as straight: the true mean of a session lies a little lower. Use the
// model of the week where there is one.
//
// Source: definition.
func TimeAveraged(points []Point) (unit.Urea, error) {
	if len(points) < 2 {
		return 0, unit.Refuse("points", len(points), "two points or more")
	}
	var area float64
	for i, p := range points {
		if err := refuse(
			above("urea", p.Urea.MmolPerL(), 0, maxUreaMmolPerL),
			within("min", p.Min, -1e9, 1e9),
		); err != nil {
			return 0, err
		}
		if i == 0 {
			continue
		}
		before := points[i-1]
		if p.Min <= before.Min {
			return 0, unit.Refuse("min", p.Min, "a time after the point before, "+plain(before.Min))
		}
		area += (p.Min - before.Min) * float64(p.Urea+before.Urea) / 2
	}
	return unit.Urea(area / (points[len(points)-1].Min - points[0].Min)), nil
}

// EquivalentClearance gives the steady clearance in mL/min that would hold the
// mean urea of the week (EKR):
//
//	EKR = G / TAC
//
// G in mg/min of urea nitrogen, above 0, up to 200, TAC above 0, up to 300
// mmol/L; otherwise an [*unit.InputError] comes back.
//
// Source: Casino and Lopez, Nephrol Dial Transplant 1996;11:1574–81 (from
// memory).
func EquivalentClearance(generation float64, timeAveraged unit.Urea) (float64, error) {
	if err := refuse(
		above("generation_mg_min", generation, 0, maxGeneration),
		above("time_averaged_urea", timeAveraged.MmolPerL(), 0, maxUreaMmolPerL),
	); err != nil {
		return 0, err
	}
	return generation / timeAveraged.NitrogenMgPerML(), nil
}

// EquivalentPer40L scales an [EquivalentClearance] in mL/min to a urea volume
// of 40 L (EKRc):
//
//	EKRc = EKR·40/V
//
// EKR from 0 to 2000, V litres from 1 to 250; otherwise an [*unit.InputError]
// comes back. Source: as for [EquivalentClearance].
func EquivalentPer40L(ekr, volumeL float64) (float64, error) {
	if err := checkEquivalent(ekr, volumeL); err != nil {
		return 0, err
	}
	return ekr * 40 / volumeL, nil
}

// EquivalentWeekly states an [EquivalentClearance] in mL/min as volumes
// cleared a week, comparable in form to a standard Kt/V:
//
//	EKR·10.08/V
//
// Ranges as in [EquivalentPer40L].
//
// Source: definition; 13.2 mL/min at 40 L is printed as 3.34 a week by Vartia,
// Nephrol Dial Transplant 2009 (abstract read).
func EquivalentWeekly(ekr, volumeL float64) (float64, error) {
	if err := checkEquivalent(ekr, volumeL); err != nil {
		return 0, err
	}
	return ekr * minutesAWeek / (volumeL * 1000), nil
}

func checkEquivalent(ekr, volumeL float64) error {
	return refuse(
		within("ekr_ml_min", ekr, 0, 2000),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
	)
}
