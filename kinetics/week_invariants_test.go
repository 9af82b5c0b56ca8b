package kinetics

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// drawOrdinary draws a person and a week of ordinary sessions.
func drawOrdinary(t *rapid.T) (Pools, Cycle) {
	p := Pools{
		VolumeL:               rapid.Float64Range(20, 60).Draw(t, "volume"),
		ExtracellularFraction: rapid.Float64Range(0.25, 0.45).Draw(t, "fraction"),
		Fluid:                 FluidFrom(rapid.IntRange(0, 2).Draw(t, "fluid")),
		GenerationMgMin:       rapid.Float64Range(2, 12).Draw(t, "generation"),
		ResidualMlMin:         rapid.Float64Range(0, 6).Draw(t, "residual"),
		TransferMlMin:         rapid.Float64Range(300, 1200).Draw(t, "transfer"),
	}
	c := Cycle{LengthMin: 10080}
	n := rapid.IntRange(1, 7).Draw(t, "sessions")
	length := rapid.Float64Range(90, 540).Draw(t, "length")
	for i := range n {
		c.Sessions = append(c.Sessions, CycleSession{
			StartMin: math.Floor(10080*float64(i)/float64(n)) + 120, LengthMin: length,
			ClearanceMlMin: rapid.Float64Range(80, 320).Draw(t, "clearance"),
			RemovedL:       rapid.Float64Range(0, 4).Draw(t, "removed"),
		})
	}
	return p, c
}

func steadyOf(t *rapid.T, p Pools, c Cycle) Steady {
	s, err := p.Steady(c, nil)
	if err != nil {
		t.Fatalf("%v: %+v %+v", err, p, c)
	}
	return s
}

func TestWhatIsMadeIsRemoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		s := steadyOf(t, p, c)
		made := p.GenerationMgMin * c.LengthMin / 1000
		if d := apart(s.RemovedG+s.ResidualG, made); d > 1e-12 {
			t.Errorf("removed %v and residual %v of %v g made: apart %.2g", s.RemovedG, s.ResidualG, made, d)
		}
		sum := 0.0
		for _, l := range s.Sessions {
			sum += l.RemovedMg / 1000
		}
		if apart(sum, s.RemovedG) > 1e-12 {
			t.Errorf("the sessions remove %v g, the cycle %v", sum, s.RemovedG)
		}
	})
}

func TestLevelsScaleWithGeneration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		factor := rapid.Float64Range(0.1, 10).Draw(t, "factor")
		one := steadyOf(t, p, c)
		p.GenerationMgMin *= factor
		other := steadyOf(t, p, c)
		if apart(other.MeanPre, factor*one.MeanPre) > 1e-12 || apart(other.TimeAveraged, factor*one.TimeAveraged) > 1e-12 {
			t.Errorf("%v times the generation takes the mean pre from %v to %v", factor, one.MeanPre, other.MeanPre)
		}
		if apart(other.StdKtV, one.StdKtV) > 1e-12 {
			t.Errorf("the standard Kt/V went from %v to %v", one.StdKtV, other.StdKtV)
		}
	})
}

func TestMoreClearanceNeverRaisesTheMeanPre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		before := steadyOf(t, p, c)
		i := rapid.IntRange(-1, len(c.Sessions)-1).Draw(t, "which")
		more := rapid.Float64Range(0.01, 50).Draw(t, "more")
		if i < 0 {
			p.ResidualMlMin += more
		} else {
			c.Sessions[i].ClearanceMlMin += more
		}
		after := steadyOf(t, p, c)
		if !(after.MeanPre < before.MeanPre) || !(after.StdKtV > before.StdKtV) {
			t.Errorf("mean pre %v to %v, standard Kt/V %v to %v", before.MeanPre, after.MeanPre, before.StdKtV, after.StdKtV)
		}
	})
}

// The same week written twice is a fortnight with the same answer, and a later
// start of the whole schedule changes nothing.
func TestACycleMayBeWrittenOtherwise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		week := steadyOf(t, p, c)
		twice := Cycle{LengthMin: 2 * c.LengthMin}
		for k := range 2 {
			for _, s := range c.Sessions {
				s.StartMin += float64(k) * c.LengthMin
				twice.Sessions = append(twice.Sessions, s)
			}
		}
		fortnight := steadyOf(t, p, twice)
		later := Cycle{LengthMin: c.LengthMin}
		last := len(c.Sessions) - 1
		shift := c.LengthMin - c.Sessions[last].StartMin - 30 // the last one now begins the list
		for i := range c.Sessions {
			s := c.Sessions[(i+last)%len(c.Sessions)]
			s.StartMin = math.Mod(s.StartMin+shift, c.LengthMin)
			later.Sessions = append(later.Sessions, s)
		}
		if later.Sessions[0].StartMin > later.Sessions[len(later.Sessions)-1].StartMin {
			later.Sessions = append(later.Sessions[1:], later.Sessions[0])
		}
		shifted := steadyOf(t, p, later)
		for _, s := range []Steady{fortnight, shifted} {
			if apart(s.StdKtV, week.StdKtV) > 1e-11 || apart(s.TimeAveraged, week.TimeAveraged) > 1e-11 {
				t.Errorf("standard Kt/V %v, time-averaged %v; want %v, %v", s.StdKtV, s.TimeAveraged, week.StdKtV, week.TimeAveraged)
			}
		}
	})
}

// With a transfer without bound both fluid rules become the single pool, whose
// closed forms are reckoned here afresh.
func TestEndlessTransferIsOnePool(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		p.TransferMlMin = 1e10
		s := steadyOf(t, p, c)
		gain := c.GainMlMin()
		// The start of the first session, by its two linear answers.
		run := func(level, generation float64) (end float64, pre, post []float64) {
			volume := s.Sessions[0].PreVolumeL
			for i, cs := range c.Sessions {
				one := OnePool{VolumeL: volume, TrendMlMin: gain - cs.RemovedL*1000/cs.LengthMin,
					ClearanceMlMin: cs.ClearanceMlMin + p.ResidualMlMin, GenerationMgMin: generation, LengthMin: cs.LengthMin}
				pre = append(pre, level)
				level = mustLevel(t, one, level)
				post = append(post, level)
				volume += one.TrendMlMin * one.LengthMin / 1000
				rest := OnePool{VolumeL: volume, TrendMlMin: gain, ClearanceMlMin: p.ResidualMlMin, GenerationMgMin: generation, LengthMin: c.gap(i)}
				level = mustLevel(t, rest, level)
				volume += gain * rest.LengthMin / 1000
			}
			return level, pre, post
		}
		left, _, _ := run(1, 0)
		made, _, _ := run(0, p.GenerationMgMin)
		_, pre, post := run(made/(1-left), p.GenerationMgMin)
		for i, l := range s.Sessions {
			if apart(l.Pre, pre[i]) > 1e-6 || apart(l.Post, post[i]) > 1e-6 || apart(l.Mixed, post[i]) > 1e-6 {
				t.Errorf("session %d: %v to %v, one pool %v to %v", i, l.Pre, l.Post, pre[i], post[i])
			}
			// And then V′ is the volume itself.
			want := c.Sessions[i].ClearanceMlMin * c.Sessions[i].LengthMin / l.PostVolumeL / 1000
			if !l.SpKtV.Exists || apart(l.SpKtV.Value, want) > 1e-5 {
				t.Errorf("session %d: spKt/V %v, want %v", i, l.SpKtV, want)
			}
		}
	})
}

func mustLevel(t *rapid.T, p OnePool, start float64) float64 {
	v, err := p.After(start)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Between the pools the mixed level lies between post and the inner level, and
// the rebound climbs towards it.
func TestReboundClimbs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		for i, l := range steadyOf(t, p, c).Sessions {
			if !(l.Post < l.Mixed && l.Post < l.Rebound60 && l.Post < l.Pre) {
				t.Errorf("session %d: pre %v, post %v, mixed %v, after an hour %v", i, l.Pre, l.Post, l.Mixed, l.Rebound60)
			}
			if !(l.EKtV.Value < l.SpKtV.Value && l.EKtV60.Value < l.SpKtV.Value) {
				t.Errorf("session %d: sp %v, e %v, e60 %v", i, l.SpKtV, l.EKtV, l.EKtV60)
			}
		}
	})
}

// One step at constant volume against the exponential of the matrix, with the
// area and the generation as two more states.
func TestStepAgainstMatrixExponential(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := poolStretch{
			length:   spread(t, "length", 0.01, 3000),
			removal:  spreadOrNone(t, "removal", 1e-9, 400),
			transfer: spread(t, "transfer", 1, 2000),
			outer:    spread(t, "outer", 2000, 40000),
			inner:    spread(t, "inner", 2000, 40000),
		}
		s.outward, s.inward = s.transfer+rapid.Float64Range(0, 20).Draw(t, "water"), s.transfer
		a := mat.NewDense(4, 4, []float64{
			-(s.removal + s.inward) / s.outer, s.outward / s.inner, 1, 0,
			s.inward / s.outer, -s.outward / s.inner, 0, 0,
			0, 0, 0, 0,
			1 / s.outer, 0, 0, 0,
		})
		a.Scale(s.length, a)
		var e mat.Dense
		e.Exp(a)
		var closed, taylor poolStep
		s.closedForm(&closed)
		s.taylor(&taylor)
		for name, got := range map[string]poolStep{"closed form": closed, "power series": taylor} {
			for _, c := range []struct {
				what      string
				got, want float64
			}{
				{"oo", got.oo, e.At(0, 0)}, {"oi", got.oi, e.At(0, 1)}, {"og", got.og, e.At(0, 2)},
				{"io", got.io, e.At(1, 0)}, {"ii", got.ii, e.At(1, 1)}, {"ig", got.ig, e.At(1, 2)},
				{"ao", got.ao, e.At(3, 0)}, {"ai", got.ai, e.At(3, 1)}, {"ag", got.ag, e.At(3, 2)},
			} {
				if apart(c.got, c.want) > 1e-9 && math.Abs(c.got-c.want) > 1e-13 {
					t.Errorf("%s %s = %.13g, want %.13g", name, c.what, c.got, c.want)
				}
			}
		}
	})
}

// The three ways through a stretch agree with each other.
func TestStepsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := poolStretch{
			length:   spread(t, "length", 0.01, 3000),
			removal:  spreadOrNone(t, "removal", 1e-9, 2000),
			transfer: spread(t, "transfer", 1, 2e4),
			outer:    spread(t, "outer", 500, 1e5),
			inner:    spread(t, "inner", 500, 1e5),
		}
		s.outward, s.inward = s.transfer, s.transfer
		s.outerTrend = rapid.Float64Range(-0.9, 5).Draw(t, "trend") * s.outer / s.length
		// The power series gathers rounding over its many steps.
		within := 1e-10 + 1e-15*(s.transfer+s.removal)/(min(s.outer, s.inner, s.outer+s.outerTrend*s.length))*s.length
		var quick, slow poolStep
		s.solve(&quick)
		s.taylor(&slow)
		compareSteps(t, "extracellular", s, quick, slow, within)

		s.innerTrend, s.together = s.outerTrend*s.inner/s.outer, true
		s.closedForm(&quick)
		s.taylor(&slow)
		compareSteps(t, "both", s, quick, slow, within)
		first, second := s.halves()
		var one, two poolStep
		first.closedForm(&one)
		second.closedForm(&two)
		compareSteps(t, "in two", s, one.then(&two), slow, within)
	})
}

// compareSteps compares figure by figure, each to a share of what its row gives
// from equal levels: where a pool is all but washed out, the little of it that
// stays may have fewer digits of its own.
func compareSteps(t *rapid.T, name string, s poolStretch, got, want poolStep, within float64) {
	o, i := s.outer/s.inner, s.inner/s.outer
	for k, c := range [][3]float64{
		{got.oo, want.oo, want.oi * i}, {got.oi, want.oi, want.oo * o}, {got.io, want.io, want.ii * i}, {got.ii, want.ii, want.io * o},
		{got.og, want.og, 0}, {got.ig, want.ig, 0}, {got.ao, want.ao, want.ai * i}, {got.ai, want.ai, want.ao * o}, {got.ag, want.ag, 0},
	} {
		if !(math.Abs(c[0]-c[1]) <= within*(c[1]+c[2])+1e-290) {
			t.Errorf("%s: figure %d = %.13g, want %.13g; %+v", name, k, c[0], c[1], s)
		}
	}
	// What is in neither pool at the end was cleared.
	for _, sum := range []float64{
		got.oo + got.io + s.removal*got.ao, got.oi + got.ii + s.removal*got.ai, (got.og + got.ig + s.removal*got.ag) / s.length,
	} {
		if math.Abs(sum-1) > within {
			t.Errorf("%s: of a milligram, %.13g is accounted for; %+v", name, sum, s)
		}
	}
}
