package kinetics

import "ebbline/unit"

// BloodWaterFlow gives the water that carries urea past the membrane, in
// mL/min, of a blood flow Qb:
//
//	Qbw = Qb·(0.72·Hct + 0.93·(1 − Hct))
//
// Hct as a fraction from 0 to 0.8, Qb above 0, up to 1000; otherwise an
// [*unit.InputError] comes back. Urea crosses the red cell fast enough for
// both waters to count.
//
// Source: textbook form (from memory).
func BloodWaterFlow(bloodFlow, haematocrit float64) (float64, error) {
	if err := checkBlood(bloodFlow, haematocrit); err != nil {
		return 0, err
	}
	return bloodFlow * (0.72*haematocrit + 0.93*(1-haematocrit)), nil
}

// PlasmaWaterFlow gives the plasma water of a blood flow in mL/min, which is
// all that counts for potassium, phosphate and larger solutes:
//
//	Qpw = 0.93·Qb·(1 − Hct)
//
// Ranges as in [BloodWaterFlow].
//
// Source: textbook form (from memory); that red cells give no potassium to the
// dialyser was measured (abstract read).
func PlasmaWaterFlow(bloodFlow, haematocrit float64) (float64, error) {
	if err := checkBlood(bloodFlow, haematocrit); err != nil {
		return 0, err
	}
	return 0.93 * bloodFlow * (1 - haematocrit), nil
}

func checkBlood(bloodFlow, haematocrit float64) error {
	return refuse(
		above("blood_flow_ml_min", bloodFlow, 0, maxBloodFlow),
		within("haematocrit", haematocrit, 0, 0.8),
	)
}

// Saturation gives how full the spent dialysate is, clearance over dialysate
// flow. Both mL/min; clearance from 0 to the flow, flow above 0, up to 2000;
// otherwise an [*unit.InputError] comes back.
//
// Source: definition. At one KoA it is not a function of Qd/Qb alone.
func Saturation(clearance, dialysateFlow float64) (float64, error) {
	if err := refuse(
		above("dialysate_flow_ml_min", dialysateFlow, 0, maxDialysateFlow),
		within("clearance_ml_min", clearance, 0, dialysateFlow),
	); err != nil {
		return 0, err
	}
	return clearance / dialysateFlow, nil
}

// BloodSideClearance gives the clearance in mL/min from a concentration going
// into the dialyser and coming out of it, in any one unit:
//
//	K = Qb·(in − out)/in
//
// Qb above 0, up to 1000, in above 0, up to 1e6, out from 0 to in; otherwise
// an [*unit.InputError] comes back.
//
// Source: definition.
func BloodSideClearance(bloodFlow, in, out float64) (float64, error) {
	if err := refuse(
		above("blood_flow_ml_min", bloodFlow, 0, maxBloodFlow),
		above("concentration_in", in, 0, 1e6),
		within("concentration_out", out, 0, in),
	); err != nil {
		return 0, err
	}
	return bloodFlow * ((in - out) / in), nil
}

// RecirculatedShare gives the part of the pumped blood that has just come from
// the dialyser, where the access carries less than the pump draws:
//
//	R = (Qb − Qa)/Qb,  0 where Qa ≥ Qb
//
// Both flows in mL/min, Qb above 0, up to 1000, Qa from 0 to 5000; otherwise
// an [*unit.InputError] comes back.
//
// Source: Mercadal et al., Kidney Int 1999;56:1560–5 (text of its figures
// read).
func RecirculatedShare(bloodFlow, accessFlow float64) (float64, error) {
	if err := refuse(
		above("blood_flow_ml_min", bloodFlow, 0, maxBloodFlow),
		within("access_flow_ml_min", accessFlow, 0, 5000),
	); err != nil {
		return 0, err
	}
	return max(0, (bloodFlow-accessFlow)/bloodFlow), nil
}

// RecirculatedClearance gives the clearance in mL/min that is left of K when a
// share R of the blood comes round again:
//
//	K_eff = K·(1 − R)/(1 − R·(1 − K/Qb))
//
// K must lie above 0, up to Qb, Qb above 0, up to 1000, R from 0 to below 1;
// otherwise an [*unit.InputError] comes back.
//
// Source: derived from the balance at the needles.
func RecirculatedClearance(clearance, bloodFlow, share float64) (float64, error) {
	if err := refuse(
		above("blood_flow_ml_min", bloodFlow, 0, maxBloodFlow),
		above("clearance_ml_min", clearance, 0, bloodFlow),
		within("recirculated_share", share, 0, 1),
	); err != nil {
		return 0, err
	}
	if share == 1 {
		return 0, unit.Refuse("recirculated_share", share, "less than 1: with all of it coming round nothing is cleared")
	}
	return clearance * (1 - share) / (1 - share*(1-clearance/bloodFlow)), nil
}
