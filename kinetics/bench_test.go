package kinetics

import "testing"

// unequalWeek has three sessions that differ in everything, so that nothing
// found for one serves another.
var unequalWeek = Cycle{LengthMin: 10080, Sessions: []CycleSession{
	{480, 240, 230, 3.1}, {3400, 215, 210, 1.9}, {6205, 255, 240, 2.3},
}}

func benchmarkCase(b *testing.B, id string) (Pools, Cycle) {
	b.Helper()
	for _, c := range readWeekCases(b) {
		if c.ID == id {
			return c.model()
		}
	}
	b.Fatalf("no case %s", id)
	return Pools{}, Cycle{}
}

// BenchmarkSteady is one steady state with all its figures: levels, rebound,
// time average, standard Kt/V and the three Kt/V of each session.
func BenchmarkSteady(b *testing.B) {
	week, cycle := benchmarkCase(b, "c01")
	daily, six := benchmarkCase(b, "c03")
	for _, bb := range []struct {
		name  string
		pools Pools
		cycle Cycle
	}{
		{"three sessions", week, cycle},
		{"three unequal sessions", week, unequalWeek},
		{"six sessions", daily, six},
	} {
		for fluid, rule := range []string{"extracellular", "both"} {
			bb.pools.Fluid = FluidFrom(fluid)
			into := make([]Levels, len(bb.cycle.Sessions))
			b.Run(bb.name+"/"+rule, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := bb.pools.Steady(bb.cycle, into); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

func BenchmarkFollowWeek(b *testing.B) {
	p, c := tableSchedules["T1"].model()
	s, err := p.Steady(c, nil)
	if err != nil {
		b.Fatal(err)
	}
	r, err := p.Course(c, s)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Follow(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFitThree(b *testing.B) {
	shape := UsualShape(0)
	s := ThreeSamples{ClearanceMlMin: 230, LengthMin: 240, RemovedL: 2.3, GainMlMin: 0.75, NextPreAfterMin: 2640, Pre: 0.606, Post: 0.163, NextPre: 0.563}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := FitThree(shape, s); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlan is what a page of other weeks asks for: 1,000 draws of a
// person over 200 schedules.
func BenchmarkPlan(b *testing.B) {
	shape := UsualShape(0.5)
	e := Estimate{shape: shape, mean: [3]float64{3.55, 1.68, 0}, root: [3][3]float64{{0.1, 0, 0}, {0.08, 0.05, 0}, {0.09, 0, 0.03}}}
	draws := e.Draws(1000)
	var schedules []Cycle
	for _, starts := range [][]float64{mondayWednesdayFriday, {480, 3360, 4800, 7680}, mondayToSaturday[:5], mondayToSaturday, {480, 3360, 6240, 9120}} {
		for length := 120.0; length < 480; length += 45 {
			for clearance := 120.0; clearance <= 280; clearance += 40 {
				c := Cycle{LengthMin: 10080}
				if len(starts) == 4 && starts[3] == 9120 {
					c.LengthMin = 11520 // every other day, four times
				}
				for i, start := range starts {
					since := start - starts[(i+len(starts)-1)%len(starts)]
					if since <= 0 {
						since += c.LengthMin
					}
					c.Sessions = append(c.Sessions, CycleSession{start, length, clearance, 0.75e-3 * since})
				}
				schedules = append(schedules, c)
			}
		}
	}
	if len(schedules) != 200 {
		b.Fatalf("%d schedules", len(schedules))
	}
	into := make([]Levels, 6)
	for b.Loop() {
		for _, d := range draws {
			p := e.Pools(d)
			for _, c := range schedules {
				if _, err := p.Steady(c, into); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}

// A schedule of up to eight sessions works in the memory it is given.
func TestSteadyDoesNotAllocate(t *testing.T) {
	p, c := tableSchedules["T2"].model()
	into := make([]Levels, len(c.Sessions))
	for _, p.Fluid = range []FluidFrom{FromExtracellular, FromBoth} {
		for _, cycle := range []Cycle{c, unequalWeek} {
			if n := testing.AllocsPerRun(100, func() {
				if _, err := p.Steady(cycle, into); err != nil {
					t.Fatal(err)
				}
			}); n != 0 {
				t.Errorf("%v allocations with fluid rule %d", n, p.Fluid)
			}
		}
	}
}
