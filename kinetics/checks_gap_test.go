package kinetics

// The mean urea between two sessions, from the model's levels by the balance
// of urea: what was made and is not there was passed in urine.

// thriceWithKidneys is the reference week T2: three sessions of 4 h, 230
// mL/min, 7.5 L gained between them, residual clearance 3, a person of 35 L
// and nPCR 1.0.
func thriceWithKidneys(extra ...CycleSession) (Pools, Cycle) {
	p := Pools{VolumeL: 35, ExtracellularFraction: 1.0 / 3, GenerationMgMin: 5.35346, ResidualMlMin: 3, TransferMlMin: 560}
	const gain = 7.5 / (minutesAWeek - 3*240)
	c := Cycle{LengthMin: minutesAWeek, Sessions: []CycleSession{
		{StartMin: 480, LengthMin: 240, ClearanceMlMin: 230, RemovedL: gain * (minutesAWeek - 2*2880)},
		{StartMin: 3360, LengthMin: 240, ClearanceMlMin: 230, RemovedL: gain * 2880},
	}}
	c.Sessions = append(c.Sessions, extra...)
	c.Sessions = append(c.Sessions, CycleSession{StartMin: 6240, LengthMin: 240, ClearanceMlMin: 230, RemovedL: gain * 2880})
	return p, c
}

// massBefore and massAfter are the urea nitrogen in the body in mg at the
// beginning and the end of a session.
func massAfter(l Levels) float64 { return l.Mixed * l.PostVolumeL * 1000 }

func massBefore(p Pools, s CycleSession, l Levels) float64 {
	return massAfter(l) + l.RemovedMg*(1+p.ResidualMlMin/s.ClearanceMlMin) - p.GenerationMgMin*s.LengthMin
}

// meanOver is the mean in the outer pool over minutes in which the mass went
// from one value to another and only the kidneys cleared.
func meanOver(p Pools, minutes, from, to float64) float64 {
	return (p.GenerationMgMin - (to-from)/minutes) / p.ResidualMlMin
}

// gapShares gives the mean over the 44 h after the second session, and over
// the last 24 of them, as shares of the urea before the third.
func gapShares(checkInputs) ([]float64, error) {
	p, c := thriceWithKidneys()
	s, err := p.Steady(c, nil)
	if err != nil {
		return nil, err
	}
	whole := meanOver(p, 2640, massAfter(s.Sessions[1]), massBefore(p, c.Sessions[2], s.Sessions[2]))

	// A session that clears and removes nothing shows the body a day before.
	p, c = thriceWithKidneys(CycleSession{StartMin: 6240 - 1440 - 1, LengthMin: 1})
	marked, err := p.Steady(c, nil)
	if err != nil {
		return nil, err
	}
	day := meanOver(p, 1440, massAfter(marked.Sessions[2]), massBefore(p, c.Sessions[3], marked.Sessions[3]))
	next := s.Sessions[2].Pre
	return []float64{whole / next, day / next}, nil
}

// plainMeans gives the plain mean of the urea after a session and before the
// next as a share of the true mean between them.
func plainMeans(checkInputs) ([]float64, error) {
	p, c := thriceWithKidneys()
	s, err := p.Steady(c, nil)
	if err != nil {
		return nil, err
	}
	var v []float64
	for i, after := range s.Sessions {
		j := (i + 1) % len(s.Sessions)
		minutes := c.Sessions[j].StartMin - c.Sessions[i].StartMin - c.Sessions[i].LengthMin
		if minutes < 0 {
			minutes += c.LengthMin
		}
		truth := meanOver(p, minutes, massAfter(after), massBefore(p, c.Sessions[j], s.Sessions[j]))
		v = append(v, (after.Post+s.Sessions[j].Pre)/2/truth)
	}
	return v, nil
}
