package kinetics

import (
	"math"

	"ebbline/unit"
)

// The widest flows and mass transfer areas taken, in mL/min.
const (
	maxBloodFlow     = 1000.0
	maxDialysateFlow = 2000.0
	maxKoA           = 20000.0
)

func checkFlows(bloodFlow, dialysateFlow float64) error {
	return refuse(
		above("blood_flow_ml_min", bloodFlow, 0, maxBloodFlow),
		above("dialysate_flow_ml_min", dialysateFlow, 0, maxDialysateFlow),
	)
}

// DiffusiveClearance gives the clearance in mL/min of a dialyser whose two
// streams run against each other:
//
//	K = Qb·(e^Z − 1)/(e^Z − Qb/Qd),  Z = (KoA/Qb)·(1 − Qb/Qd)
//	K = Qb·N/(1 + N),  N = KoA/Qb,    where Qb = Qd
//
// KoA, Qb (blood) and Qd (dialysate) in mL/min, above 0, up to 20 000, 1000
// and 2000; otherwise an [*unit.InputError] comes back. Worked out in a form
// that holds its digits where the flows nearly agree. The result lies below
// both flows. Outside KoA 300–2000, Qb 50–500 and Qd 50–1000 it carries a
// caution. How full the dialysate gets depends on KoA and both flows, not on
// their ratio alone.
//
// Source: Michaels, Trans Am Soc Artif Intern Organs 1966;12:387–92 (from
// memory; its inverse agrees with a published worked case).
func DiffusiveClearance(koa, bloodFlow, dialysateFlow float64) (Figure, error) {
	if err := refuse(above("koa_ml_min", koa, 0, maxKoA)); err != nil {
		return Figure{}, err
	}
	if err := checkFlows(bloodFlow, dialysateFlow); err != nil {
		return Figure{}, err
	}
	// With y = N·(e^Z − 1)/Z both forms are K = Qb·y/(1 + y), and y runs
	// smoothly through Z = 0. Dividing by y keeps an e^Z too large for a
	// float64 harmless.
	y := koa / bloodFlow * expm1Over(koa/bloodFlow-koa/dialysateFlow)
	return Figure{
		Value:    math.Min(bloodFlow/(1+1/y), math.Min(bloodFlow, dialysateFlow)),
		Cautions: dialyserCautions(koa, bloodFlow, dialysateFlow),
	}, nil
}

// KoA gives the mass transfer area coefficient in mL/min of a dialyser from a
// diffusive clearance K measured on it, the other way of [DiffusiveClearance]:
//
//	KoA = Qb·Qd/(Qd − Qb) · ln[(1 − K/Qd)/(1 − K/Qb)]
//	KoA = Qb·K/(Qb − K),  where Qb = Qd
//
// K must be above 0 and below both flows, by enough that KoA stays below
// 20 000; otherwise an [*unit.InputError] comes back. Cautions as there.
//
// Source: as for [DiffusiveClearance]; K 280 at 400 and 500 gives the 766 of
// the Yale haemodialysis kinetics teaching site (read).
func KoA(clearance, bloodFlow, dialysateFlow float64) (Figure, error) {
	if err := checkFlows(bloodFlow, dialysateFlow); err != nil {
		return Figure{}, err
	}
	slower := math.Min(bloodFlow, dialysateFlow)
	if !(clearance > 0 && clearance < slower) {
		return Figure{}, unit.Refuse("clearance_ml_min", clearance, "a clearance above 0 and below the slower flow, "+plain(slower))
	}
	left := 1 - clearance/bloodFlow
	x := clearance * (1/bloodFlow - 1/dialysateFlow) / left
	koa := clearance / left * log1pOver(x)
	if !(koa > 0 && koa <= maxKoA) {
		return Figure{}, unit.Refuse("clearance_ml_min", clearance, "a clearance further below the slower flow, "+plain(slower)+": no dialyser reaches it")
	}
	return Figure{Value: koa, Cautions: dialyserCautions(koa, bloodFlow, dialysateFlow)}, nil
}

// expm1Over is (e^x − 1)/x, 1 at x = 0.
func expm1Over(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Expm1(x) / x
}

// log1pOver is ln(1 + x)/x, 1 at x = 0.
func log1pOver(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Log1p(x) / x
}

// TotalClearance adds what fluid removal carries along to a diffusive
// clearance, in mL/min:
//
//	K_total = K·(1 − Qf/Qb) + Qf
//
// K must lie from 0 to Qb, Qb above 0, up to 1000, Qf (removal) from 0 to
// below Qb; otherwise an [*unit.InputError] comes back.
//
// Source: common practice (from memory).
func TotalClearance(diffusive, bloodFlow, removal float64) (float64, error) {
	if err := refuse(
		above("blood_flow_ml_min", bloodFlow, 0, maxBloodFlow),
		within("clearance_ml_min", diffusive, 0, bloodFlow),
		within("removal_ml_min", removal, 0, bloodFlow),
	); err != nil {
		return 0, err
	}
	if removal == bloodFlow {
		return 0, unit.Refuse("removal_ml_min", removal, "less than the blood flow, "+plain(bloodFlow))
	}
	return diffusive*(1-removal/bloodFlow) + removal, nil
}

// InVivoShare is the part of a KoA measured in the laboratory that is found
// with blood: makers' figures run about 20 % high. 0.8 to 0.85 is the usual
// span.
//
// Source: Yale haemodialysis kinetics teaching site (read: "about 20 %").
const InVivoShare = 1 / 1.2

// InVivoKoA gives the KoA to expect with blood from a maker's in-vitro one:
//
//	KoA in vivo = share · KoA in vitro
//
// KoA above 0, up to 20 000 mL/min, share from 0.5 to 1 ([InVivoShare] when
// nothing better is known); otherwise an [*unit.InputError] comes back.
//
// Source: as for [InVivoShare].
func InVivoKoA(inVitro, share float64) (float64, error) {
	if err := refuse(
		above("koa_in_vitro_ml_min", inVitro, 0, maxKoA),
		within("in_vivo_share", share, 0.5, 1),
	); err != nil {
		return 0, err
	}
	return inVitro * share, nil
}

func dialyserCautions(koa, bloodFlow, dialysateFlow float64) []unit.Caution {
	if koa >= 300 && koa <= 2000 && bloodFlow >= 50 && bloodFlow <= 500 && dialysateFlow >= 50 && dialysateFlow <= 1000 {
		return nil
	}
	return []unit.Caution{{Code: "outside_dialysers",
		Text: "Dialysers in use have a KoA for urea of 300 to 2000 mL/min, at a blood flow of 50 to 500 and a dialysate flow of 50 to 1000; one of the three lies outside. Check its digits."}}
}
