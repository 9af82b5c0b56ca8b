package calc

import (
	"ebbline/kinetics"
	"ebbline/unit"
)

func init() {
	register(Topic{
		Name:    "fit",
		Summary: "urea volume and generation from three samples: before and after a session, and before the next",
		Example: `{"transfer_ml_min": 560, "clearance_ml_min": 230, "length_min": 240, "removed_l": 2.3, "gain_ml_min": 0.75,
 "next_pre_after_min": 2640, "pre_mg_ml": 0.606, "post_mg_ml": 0.163, "next_pre_mg_ml": 0.563}`,
		Run: runFit,
	})
}

type fitAnswer struct {
	UreaVolumeL     float64 `json:"urea_volume_l"`
	GenerationMgMin float64 `json:"generation_mg_min"`
}

func runFit(in *Object) (Answer, error) {
	p := readPools(in)
	shape := kinetics.Shape{
		ExtracellularFraction: p.ExtracellularFraction, Fluid: p.Fluid,
		ResidualMlMin: p.ResidualMlMin, TransferMlMin: p.TransferMlMin,
	}
	s := kinetics.ThreeSamples{
		ClearanceMlMin:   in.FloatAbove("clearance_ml_min", 0, 2000),
		LengthMin:        in.FloatAbove("length_min", 0, 525600),
		RemovedL:         in.Float("removed_l", 0, 100),
		GainMlMin:        in.Float("gain_ml_min", 0, 100),
		PostAboveLowestL: in.FloatOr("post_above_lowest_l", 0, 0, 100),
		NextPreAfterMin:  in.FloatAbove("next_pre_after_min", 0, 525600),
		Pre:              in.FloatAbove("pre_mg_ml", 0, 20),
		Post:             in.FloatAbove("post_mg_ml", 0, 20),
		NextPre:          in.FloatAbove("next_pre_mg_ml", 0, 20),
	}
	if err := in.Done(); err != nil {
		return Answer{}, err
	}
	fit, err := kinetics.FitThree(shape, s)
	if err != nil {
		return Answer{}, refused(err)
	}
	// At the edge of what can be explained a sample a little lower or higher
	// has no answer; then there are no slopes to show.
	slopes, slopesErr := kinetics.FitThreeSlopes(shape, s)
	a := Answer{
		Out:      fitAnswer{fit.VolumeL, fit.GenerationMgMin},
		Cautions: kinetics.FitCautions(fit, slopes),
		Sources:  []string{weekSource},
		Steps: []Step{
			{"before the session", "pools at rest", "the run up at " + num(s.GainMlMin) + " mL/min of gain until the faster exchange is over", "definition"},
			{"urea volume", sig(fit.VolumeL, 5) + " L", "the volume with which the model goes from pre to post", weekSource},
			{"generation", sig(fit.GenerationMgMin, 5) + " mg/min", "the generation with which it goes on to the next pre", weekSource},
		},
	}
	if slopesErr == nil {
		for _, sl := range slopes {
			a.Steps = append(a.Steps, Step{sl.Input + " 1 % higher",
				sig(sl.Volume, 3) + " % of the volume, " + sig(sl.Generation, 3) + " % of the generation", "d ln(result)/d ln(input)", "computed"})
		}
		v, g := kinetics.FitSpread(slopes, 0.03)
		a.Steps = append(a.Steps, Step{"samples each 3 % off by chance", sig(100*v, 3) + " % of the volume, " + sig(100*g, 3) + " % of the generation",
			"the slopes of the three samples, squared and added", "computed"})
	}
	if a.Cautions == nil {
		a.Cautions = []unit.Caution{}
	}
	return a, nil
}
