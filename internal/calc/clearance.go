package calc

import (
	"fmt"

	"ebbline/kinetics"
)

func init() {
	register(Topic{
		Name:    "clearance",
		Summary: "a dialyser's clearance from its KoA and the flows, or its KoA from a clearance",
		Example: `{"koa_ml_min": 800, "blood_flow_ml_min": 300, "dialysate_flow_ml_min": 500, "removal_ml_min": 10}`,
		Run:     runClearance,
	})
}

type clearanceAnswer struct {
	KoA       float64 `json:"koa_ml_min"`
	Diffusive float64 `json:"diffusive_ml_min"`
	Total     float64 `json:"total_ml_min"`
}

func runClearance(in *Object) (Answer, error) {
	byKoA, byClearance := in.Has("koa_ml_min"), in.Has("clearance_ml_min")
	var given float64
	switch {
	case byKoA && byClearance:
		in.Refuse("clearance_ml_min", "stands beside koa_ml_min; accepted is exactly one of the two")
	case byKoA:
		given = in.FloatAbove("koa_ml_min", 0, 20000)
	case byClearance:
		given = in.FloatAbove("clearance_ml_min", 0, 1000)
	default:
		in.Refuse("koa_ml_min", "is missing, and so is clearance_ml_min; accepted is exactly one of the two")
	}
	blood := in.FloatAbove("blood_flow_ml_min", 0, 1000)
	dialysate := in.FloatAbove("dialysate_flow_ml_min", 0, 2000)
	removal := in.FloatOr("removal_ml_min", 0, 0, 1000)
	if err := in.Done(); err != nil {
		return Answer{}, err
	}

	const michaels = "Michaels, Trans Am Soc Artif Intern Organs 1966;12:387-92 (from memory)"
	a := Answer{Sources: []string{michaels, "convection: common practice (from memory)"}}
	var out clearanceAnswer
	if byKoA {
		k, err := kinetics.DiffusiveClearance(given, blood, dialysate)
		if err != nil {
			return Answer{}, refused(err)
		}
		out.KoA, out.Diffusive = given, k.Value
		a.Cautions = k.Cautions
		a.Steps = append(a.Steps,
			Step{"Z", sig((given/blood)*(1-blood/dialysate), 4), "(KoA/Qb)·(1 − Qb/Qd)", michaels},
			Step{"K, by diffusion", sig(k.Value, 5) + " mL/min", diffusiveFormula(blood, dialysate), michaels})
	} else {
		koa, err := kinetics.KoA(given, blood, dialysate)
		if err != nil {
			return Answer{}, refused(err)
		}
		out.KoA, out.Diffusive = koa.Value, given
		a.Cautions = koa.Cautions
		a.Steps = append(a.Steps, Step{"KoA", sig(koa.Value, 5) + " mL/min", koaFormula(blood, dialysate), michaels})
	}
	total, err := kinetics.TotalClearance(out.Diffusive, blood, removal)
	if err != nil {
		return Answer{}, refused(err)
	}
	out.Total = total
	a.Out = out
	a.Steps = append(a.Steps,
		Step{"K, with fluid removal", sig(total, 5) + " mL/min", fmt.Sprintf("K·(1 − %s/%s) + %s", num(removal), num(blood), num(removal)), "common practice (from memory)"},
		Step{"in the laboratory or with blood", "", "a maker's KoA is measured without blood and runs about 20 % high", "Yale haemodialysis kinetics teaching site"})
	return a, nil
}

func diffusiveFormula(blood, dialysate float64) string {
	if blood == dialysate {
		return "Qb·N/(1 + N), N = KoA/Qb, since the flows are equal"
	}
	return "Qb·(e^Z − 1)/(e^Z − Qb/Qd)"
}

func koaFormula(blood, dialysate float64) string {
	if blood == dialysate {
		return "Qb·K/(Qb − K), since the flows are equal"
	}
	return "Qb·Qd/(Qd − Qb)·ln[(1 − K/Qd)/(1 − K/Qb)]"
}
