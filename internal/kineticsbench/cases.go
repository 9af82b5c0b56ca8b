package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"

	"ebbline/kinetics"
)

// A problem is one steady state to find. Its reference figures, where it has
// them, are the time-averaged level and then pre, post and the level an hour
// after for each session.
type problem struct {
	id        string
	pools     kinetics.Pools
	cycle     kinetics.Cycle
	reference []float64
}

// readProblems reads the reference cases and adds the first of them once more
// with the other fluid rule, so that one week stands in the table under both.
// That one has no reference figures.
func readProblems(path string) ([]problem, error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("the cases: %w", err)
	}
	var file struct {
		Cases []struct {
			ID string
			In struct {
				V       float64 `json:"V_L"`
				FE      float64 `json:"fe"`
				Variant string  `json:"variant"`
				G       float64 `json:"G_mg_min"`
				Kr      float64 `json:"Kr_mL_min"`
				Kc      float64 `json:"Kc_mL_min"`
				Cycle   float64 `json:"cycle_min"`
				Session []struct {
					Start  float64 `json:"start_min"`
					Length float64 `json:"length_min"`
					Kd     float64 `json:"Kd_mL_min"`
					UF     float64 `json:"UF_L"`
				} `json:"sessions"`
			}
			Out struct {
				TAC      float64
				Sessions []struct{ Pre, Post, Reb60 float64 }
			}
		}
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		return nil, fmt.Errorf("the cases: %w", err)
	}
	if len(file.Cases) == 0 {
		return nil, errors.New("the cases: there are none in " + path)
	}
	var list []problem
	for _, c := range file.Cases {
		p := problem{id: c.ID, pools: kinetics.Pools{
			VolumeL: c.In.V, ExtracellularFraction: c.In.FE, GenerationMgMin: c.In.G,
			ResidualMlMin: c.In.Kr, TransferMlMin: c.In.Kc,
		}, cycle: kinetics.Cycle{LengthMin: c.In.Cycle}, reference: []float64{c.Out.TAC}}
		if c.In.Variant == "B" {
			p.pools.Fluid = kinetics.FromBoth
		}
		for _, s := range c.In.Session {
			p.cycle.Sessions = append(p.cycle.Sessions, kinetics.CycleSession{
				StartMin: s.Start, LengthMin: s.Length, ClearanceMlMin: s.Kd, RemovedL: s.UF,
			})
		}
		for _, s := range c.Out.Sessions {
			p.reference = append(p.reference, s.Pre, s.Post, s.Reb60)
		}
		list = append(list, p)
	}
	other := list[0]
	other.id += " other rule"
	other.pools.Fluid = kinetics.FromBoth - list[0].pools.Fluid
	other.reference = nil
	return append(list, other), nil
}

// write gives the problems as the peers read them.
func write(problems []problem) string {
	var b strings.Builder
	fmt.Fprintln(&b, len(problems))
	for _, p := range problems {
		fmt.Fprintf(&b, "%.17g %.17g %d %.17g %.17g %.17g %.17g %d\n", p.pools.VolumeL, p.pools.ExtracellularFraction, p.pools.Fluid,
			p.pools.GenerationMgMin, p.pools.ResidualMlMin, p.pools.TransferMlMin, p.cycle.LengthMin, len(p.cycle.Sessions))
		for _, s := range p.cycle.Sessions {
			fmt.Fprintf(&b, "%.17g %.17g %.17g %.17g\n", s.StartMin, s.LengthMin, s.ClearanceMlMin, s.RemovedL)
		}
	}
	return b.String()
}

// A result is one route with one setting over all problems.
type result struct {
	route, setting string
	seconds        []float64 // per steady state, by problem
	worst          float64   // largest relative difference from the reference
}

// mean is the mean time over the problems that have a reference.
func (r result) mean(problems []problem) float64 {
	sum, n := 0.0, 0.0
	for i, p := range problems {
		if p.reference != nil {
			sum, n = sum+r.seconds[i], n+1
		}
	}
	return sum / n
}

// worst is the largest relative difference of the answers from the references.
// The mean pre and the standard Kt/V follow from the figures compared.
func worst(problems []problem, answers [][]float64) (float64, error) {
	most := 0.0
	for i, p := range problems {
		if p.reference == nil {
			continue
		}
		if len(answers[i]) != len(p.reference) {
			return 0, fmt.Errorf("%s: %d figures, want %d", p.id, len(answers[i]), len(p.reference))
		}
		for k, want := range p.reference {
			most = math.Max(most, math.Abs(answers[i][k]-want)/want)
		}
	}
	return most, nil
}
