package kinetics

import "math"

// A FitSlope says by how many per cent the answers of a fit change when one
// input is 1 % higher: d ln(answer)/d ln(input).
type FitSlope struct {
	Input      string
	Volume     float64
	Generation float64
}

// FitThreeSlopes gives the slopes of [FitThree]. Inputs that are 0 are left
// out.
func FitThreeSlopes(shape Shape, s ThreeSamples) ([]FitSlope, error) {
	return fitSlopes([]fitInput{
		{"pre", &s.Pre}, {"post", &s.Post}, {"next_pre", &s.NextPre},
		{"clearance", &s.ClearanceMlMin}, {"length", &s.LengthMin}, {"removed", &s.RemovedL},
		{"transfer", shape.transfer()}, {"residual", &shape.ResidualMlMin},
	}, func() (Fit, error) { return FitThree(shape, s) })
}

// FitSteadySlopes gives the slopes of [FitSteady]; that of the clearance is
// for all sessions together.
func FitSteadySlopes(shape Shape, s SteadySamples) ([]FitSlope, error) {
	sessions := append([]CycleSession(nil), s.Cycle.Sessions...)
	share := 1.0
	return fitSlopes([]fitInput{
		{"pre", &s.Pre}, {"post", &s.Post}, {"clearance", &share},
		{"transfer", shape.transfer()}, {"residual", &shape.ResidualMlMin},
	}, func() (Fit, error) {
		s.Cycle.Sessions = make([]CycleSession, len(sessions))
		for i, c := range sessions {
			c.ClearanceMlMin *= share
			s.Cycle.Sessions[i] = c
		}
		return FitSteady(shape, s)
	})
}

func (s *Shape) transfer() *float64 {
	if s.TransferMlMinPerL > 0 {
		return &s.TransferMlMinPerL
	}
	return &s.TransferMlMin
}

type fitInput struct {
	name  string
	value *float64
}

// fitSlopes takes each input a little up and a little down. The step leaves
// 1e-8 of curvature and 1e-8 of rounding.
func fitSlopes(inputs []fitInput, fit func() (Fit, error)) ([]FitSlope, error) {
	const step = 1e-4
	var slopes []FitSlope
	if _, err := fit(); err != nil {
		return nil, err
	}
	for _, in := range inputs {
		was := *in.value
		if was == 0 {
			continue
		}
		var ends [2]Fit
		for k, sign := range []float64{-1, 1} {
			*in.value = was * math.Exp(sign*step)
			var err error
			if ends[k], err = fit(); err != nil {
				return nil, err
			}
		}
		*in.value = was
		slopes = append(slopes, FitSlope{
			in.name,
			math.Log(ends[1].VolumeL/ends[0].VolumeL) / (2 * step),
			math.Log(ends[1].GenerationMgMin/ends[0].GenerationMgMin) / (2 * step),
		})
	}
	return slopes, nil
}

// FitSpread gives the coefficient of variation of volume and generation when
// each sample carries its own error of the given coefficient of variation. It
// is a straight-line estimate, fair up to some 10 %.
func FitSpread(slopes []FitSlope, sampleError float64) (volume, generation float64) {
	for _, s := range slopes {
		switch s.Input {
		case "pre", "post", "next_pre":
			volume = math.Hypot(volume, s.Volume*sampleError)
			generation = math.Hypot(generation, s.Generation*sampleError)
		}
	}
	return volume, generation
}
