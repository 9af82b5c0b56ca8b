package kinetics

import "ebbline/unit"

// A Collection is urine gathered over a known time, with the blood that went
// with it.
type Collection struct {
	UrineMl   float64
	UrineUrea unit.Urea
	Minutes   float64
	MeanUrea  unit.Urea // in blood over that time; see [MeanUreaPlain]
}

// ResidualClearance gives the residual urea clearance in mL/min from a timed
// collection:
//
//	Kr = U·V_urine / (C̄·θ)
//
// U and C̄ are the ureas of urine and blood, V_urine mL, θ minutes. Volume from
// 0 to 60 000 mL, urine urea from 0 to 1500 mmol/L, time above 0, up to 14
// days, blood urea above 0, up to 300 mmol/L and the result up to 150; otherwise an
// [*unit.InputError] comes back. Below 12 h it carries a caution.
//
// The mean must be that of the time of collection. The plain mean of the urea
// after one session and before the next lies below it, which makes Kr read 7
// to 11 % high: take the mean from the model of the interval.
//
// Source: definition; Obi et al. 2017, PMC6018720 (abstract read) for the size
// of the error.
func ResidualClearance(c Collection) (Figure, error) {
	if err := refuse(
		within("urine_ml", c.UrineMl, 0, 60000),
		within("urine_urea", c.UrineUrea.MmolPerL(), 0, 1500),
		above("collection_min", c.Minutes, 0, 14*24*60),
		above("mean_urea", c.MeanUrea.MmolPerL(), 0, maxUreaMmolPerL),
	); err != nil {
		return Figure{}, err
	}
	f := Figure{Value: c.UrineMl * float64(c.UrineUrea/c.MeanUrea) / c.Minutes}
	if f.Value > maxResidual {
		return Figure{}, unit.Refuse("urine_urea", ureaText(c.UrineUrea), "a urine and a blood of one person: their clearance would be "+plain(f.Value)+" mL/min")
	}
	if c.Minutes < 12*60 {
		f.Cautions = append(f.Cautions, unit.Caution{Code: "collection_short",
			Text: "Urine was collected for less than 12 hours. A day, or the whole time between two sessions, is usual."})
	}
	return f, nil
}

// MeanUreaPlain gives the plain mean of the urea after one session and before
// the next, with the caution that goes with it wherever it is used as the mean
// of the interval. Both above 0, up to 300 mmol/L; otherwise an
// [*unit.InputError] comes back.
func MeanUreaPlain(post, nextPre unit.Urea) (unit.Urea, unit.Caution, error) {
	if err := refuse(
		above("post_urea", post.MmolPerL(), 0, maxUreaMmolPerL),
		above("next_pre_urea", nextPre.MmolPerL(), 0, maxUreaMmolPerL),
	); err != nil {
		return 0, unit.Caution{}, err
	}
	return (post + nextPre) / 2, plainMean, nil
}

var plainMean = unit.Caution{Code: "plain_mean",
	Text: "The mean of two samples lies below the mean of the time between them; a residual clearance from it reads some 7 to 11 % high (Obi et al. 2017). The model of the interval gives the true mean."}

// ResidualGFR estimates glomerular filtration in mL/min as the mean of the
// residual clearances of urea, which the kidney takes back in part, and of
// creatinine, which it adds to. Both from 0 to 150 mL/min; otherwise an
// [*unit.InputError] comes back.
//
// Source: common practice (from memory).
func ResidualGFR(ureaClearance, creatinineClearance float64) (float64, error) {
	if err := refuse(
		within("urea_clearance_ml_min", ureaClearance, 0, maxResidual),
		within("creatinine_clearance_ml_min", creatinineClearance, 0, maxResidual),
	); err != nil {
		return 0, err
	}
	return (ureaClearance + creatinineClearance) / 2, nil
}

// PerStandardSurface scales a clearance in mL/min to 1.73 m² of body surface S
// (by [DuBois]), as guidelines state it:
//
//	K·1.73/S
//
// Clearance from 0 to 150, S from 0.1 to 5; otherwise an [*unit.InputError]
// comes back.
//
// Source: definition.
func PerStandardSurface(clearance, surfaceM2 float64) (float64, error) {
	if err := refuse(
		within("clearance_ml_min", clearance, 0, maxResidual),
		within("surface_m2", surfaceM2, 0.1, 5),
	); err != nil {
		return 0, err
	}
	return clearance * 1.73 / surfaceM2, nil
}
