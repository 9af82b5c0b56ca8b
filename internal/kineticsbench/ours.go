package main

import (
	"time"

	"ebbline/kinetics"
)

// ours times the package. Each figure is the least of several rounds of many
// runs, for all outputs of the steady state, the Kt/V of each session too.
func ours(problems []problem) (result, error) {
	r := result{route: "ebbline/kinetics"}
	var answers [][]float64
	for _, p := range problems {
		into := make([]kinetics.Levels, len(p.cycle.Sessions))
		s, err := p.pools.Steady(p.cycle, into)
		if err != nil {
			return r, err
		}
		answer := []float64{s.TimeAveraged}
		for _, l := range s.Sessions {
			answer = append(answer, l.Pre, l.Post, l.Rebound60)
		}
		answers = append(answers, answer)
		const rounds, runs = 20, 1000
		least := time.Duration(1 << 62)
		for range rounds {
			began := time.Now()
			for range runs {
				if _, err := p.pools.Steady(p.cycle, into); err != nil {
					return r, err
				}
			}
			least = min(least, time.Since(began))
		}
		r.seconds = append(r.seconds, least.Seconds()/runs)
	}
	var err error
	r.worst, err = worst(problems, answers)
	return r, err
}
