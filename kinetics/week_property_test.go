package kinetics

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// spread draws a figure between lo and hi evenly by its logarithm.
func spread(t *rapid.T, name string, lo, hi float64) float64 {
	return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, name))
}

// spreadOrNone draws 0 one time in four.
func spreadOrNone(t *rapid.T, name string, lo, hi float64) float64 {
	if rapid.IntRange(0, 3).Draw(t, name+" at all") == 0 {
		return 0
	}
	return spread(t, name, lo, hi)
}

// drawPools draws a person over the whole range that is taken.
func drawPools(t *rapid.T) Pools {
	return Pools{
		VolumeL:               spread(t, "volume", 1, 200),
		ExtracellularFraction: rapid.Float64Range(0.02, 0.98).Draw(t, "fraction"),
		Fluid:                 FluidFrom(rapid.IntRange(0, 2).Draw(t, "fluid")),
		GenerationMgMin:       spread(t, "generation", 0.01, 100),
		ResidualMlMin:         spreadOrNone(t, "residual", 1e-12, 200),
		TransferMlMin:         spread(t, "transfer", 0.01, 1e5),
	}
}

// onGrid rounds a time so that sums of times are exact: the second method
// would otherwise feel that the parts of a cycle do not add up to it.
func onGrid(minutes float64) float64 {
	const grid = 1 << 24
	return max(1, math.Round(minutes*grid)) / grid
}

// drawCycle draws sessions between sorted times, some of which touch.
func drawCycle(t *rapid.T, longest float64, most int) Cycle {
	c := Cycle{LengthMin: onGrid(spread(t, "cycle", 60, longest))}
	n := rapid.IntRange(1, most).Draw(t, "sessions")
	part := math.Floor(c.LengthMin / float64(n))
	offset := onGrid(rapid.Float64Range(0, 0.999).Draw(t, "offset") * part)
	for i := range n {
		share := spread(t, "length", 1e-6, 1)
		if rapid.IntRange(0, 5).Draw(t, "touches") == 0 {
			share = 1
		}
		c.Sessions = append(c.Sessions, CycleSession{
			StartMin:       offset + part*float64(i),
			LengthMin:      onGrid(part * share),
			ClearanceMlMin: spreadOrNone(t, "clearance", 1e-3, 2000),
			RemovedL:       spreadOrNone(t, "removed", 1e-12, 20),
		})
	}
	c.Sessions[0].ClearanceMlMin += 1e-3 // something clears
	return c
}

// stiffness is how many time constants of the fastest exchange a cycle holds,
// which is what the second method's time goes with.
func stiffness(p Pools, c Cycle) float64 {
	v := p.VolumeL * 1000 * min(p.ExtracellularFraction, 1-p.ExtracellularFraction)
	sum := (p.TransferMlMin + p.ResidualMlMin) / v * c.LengthMin
	for _, s := range c.Sessions {
		sum += s.ClearanceMlMin / v * s.LengthMin
	}
	return sum
}

// Over the whole range, made slow enough for the second method to follow.
func TestSteadyOverTheWholeRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawPools(t), drawCycle(t, 20000, 4)
		if slow := 50 / stiffness(p, c); slow < 1 {
			p.TransferMlMin, p.ResidualMlMin = p.TransferMlMin*slow, p.ResidualMlMin*slow
			for i := range c.Sessions {
				c.Sessions[i].ClearanceMlMin *= slow
			}
		}
		compareExactly(t, "drawn", p, c, 1e-9)
	})
}

// Whatever is accepted is answered with figures, soon, and the balance closes.
func TestSteadyNeverFails(t *testing.T) {
	var longest time.Duration
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawPools(t), drawCycle(t, 525600, 30)
		began := time.Now()
		s, err := p.Steady(c, nil)
		longest = max(longest, time.Since(began))
		if err != nil {
			t.Fatalf("%v: %+v %+v", err, p, c)
		}
		if !(math.Abs(s.Balance) < 1e-10) {
			t.Errorf("balance misses by %.2g: %+v %+v", s.Balance, p, c)
		}
		for _, v := range []float64{s.StdKtV, s.MeanPre, s.TimeAveraged, s.EKRMlMin} {
			if !(v > 0) || math.IsInf(v, 0) {
				t.Errorf("%v: %+v %+v", s, p, c)
			}
		}
		for _, l := range s.Sessions {
			for _, v := range []float64{l.Pre, l.Post, l.Rebound60, l.Mixed} {
				if !(v > 0) || math.IsInf(v, 0) {
					t.Errorf("%+v: %+v %+v", l, p, c)
				}
			}
			if math.IsNaN(l.URR) || math.IsNaN(l.SpKtV.Value) || math.IsNaN(l.EKtV.Value) || math.IsNaN(l.EKtV60.Value) {
				t.Errorf("not a number: %+v", l)
			}
		}
	})
	t.Logf("longest %v", longest)
}

// At the bounds of what is taken, many at a time, the reckoning still ends
// with figures. (In the balance the fifteen digits are shared by a clearance
// and a removal that differ by as many orders.)
func TestSteadyAtTheBounds(t *testing.T) {
	var longest time.Duration
	rapid.Check(t, func(t *rapid.T) {
		between := func(name string, lo, hi float64) float64 {
			return []float64{lo, hi, math.Sqrt(lo * hi)}[rapid.IntRange(0, 2).Draw(t, name)]
		}
		p := Pools{
			VolumeL:               between("volume", leastVolumeL, mostVolumeL),
			ExtracellularFraction: between("fraction", leastFraction, mostFraction),
			Fluid:                 FluidFrom(rapid.IntRange(0, 2).Draw(t, "fluid")),
			GenerationMgMin:       between("generation", 1e-9, mostGeneration),
			ResidualMlMin:         between("residual", 1e-9, mostClearance),
			TransferMlMin:         between("transfer", 1e-9, mostTransfer),
		}
		c := Cycle{LengthMin: between("cycle", shortestCycleMin, mostMinutes)}
		n := rapid.IntRange(1, 3).Draw(t, "sessions")
		for i := range n {
			length := c.LengthMin / float64(n) * between("length", 1e-6, 1)
			c.Sessions = append(c.Sessions, CycleSession{
				StartMin: c.LengthMin / float64(n) * float64(i), LengthMin: length,
				ClearanceMlMin: between("clearance", 1e-9, mostClearance),
				RemovedL:       min(between("removed", 1e-9, mostLitres), mostFlow/1000*length),
			})
		}
		began := time.Now()
		s, err := p.Steady(c, nil)
		longest = max(longest, time.Since(began))
		if err != nil {
			t.Fatalf("%v: %+v %+v", err, p, c)
		}
		for _, l := range s.Sessions {
			for _, v := range []float64{l.Pre, l.Post, l.Rebound60, l.Mixed} {
				if !(v > 0) || math.IsInf(v, 0) {
					t.Fatalf("%+v: %+v %+v", l, p, c)
				}
			}
		}
		if !(math.Abs(s.Balance) < 1e-7) {
			t.Errorf("balance misses by %.2g: %+v %+v", s.Balance, p, c)
		}
	})
	t.Logf("longest %v", longest)
}
