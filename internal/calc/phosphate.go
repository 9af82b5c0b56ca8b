package calc

import "ebbline/kinetics"

func init() {
	register(Topic{
		Name:    "phosphate",
		Summary: "the fall of phosphate in a session, its return in the hour after, and the amount removed",
		Example: `{"pre_mmol_l": 1.8, "mobilisation_ml_min": 87, "volume_l": 9.4, "clearance_ml_min": 130, "removed_l": 2.5, "session_min": 240}`,
		Run:     runPhosphate,
	})
}

type phosphateAnswer struct {
	EndMmolL     float64 `json:"end_mmol_l"`
	After60MmolL float64 `json:"after60_mmol_l"`
	RemovedMmol  float64 `json:"removed_mmol"`
}

func runPhosphate(in *Object) (Answer, error) {
	s := kinetics.PhosphateSession{
		PreMmolL:       in.FloatAbove("pre_mmol_l", 0, 20),
		MobilisationMl: in.FloatOr("mobilisation_ml_min", kinetics.MobilisationMlMin, 0, 1000),
		VolumeL:        in.Float("volume_l", 0.5, 250),
		Clearance:      in.Float("clearance_ml_min", 0, 1000),
		RemovedL:       in.Float("removed_l", 0, 25),
		LengthMin:      in.FloatAbove("session_min", 0, 1440),
	}
	given := in.Has("mobilisation_ml_min")
	if err := in.Done(); err != nil {
		return Answer{}, err
	}
	c, err := s.Course()
	if err != nil {
		return Answer{}, refused(err)
	}
	const agar = "Agar et al., Clin J Am Soc Nephrol 2011"
	mobilisation := Step{"KM, mobilisation", num(s.MobilisationMl) + " mL/min", "as given", ""}
	if !given {
		mobilisation = Step{"KM, mobilisation", num(s.MobilisationMl) + " mL/min", "median of 774 people, quartiles 65 and 116", "Leypoldt et al., Kidney Int 2013"}
	}
	return Answer{
		Out:      phosphateAnswer{c.EndMmolL, c.After60MmolL, c.RemovedMmol},
		Cautions: c.Cautions,
		Sources:  []string{agar, "Leypoldt et al., Kidney Int 2013, doi 10.1038/ki.2013.205"},
		Steps: []Step{
			mobilisation,
			{"phosphate at the end", sig(c.EndMmolL, 4) + " mmol/L", "pre·[e^(−aτ) + KM·(1 − e^(−aτ))/a], a = KM + K − Qf, τ = ln(V0/V)/Qf", agar},
			{"an hour later", sig(c.After60MmolL, 4) + " mmol/L", "pre − (pre − end)·e^(−KM·60/V)", agar},
			{"removed", sig(c.RemovedMmol, 4) + " mmol", "∫ K·C dt", agar},
			{"where a long session settles", sig(c.PlateauMmolL, 4) + " mmol/L", "pre·KM/(KM + K)", agar},
		},
	}, nil
}
