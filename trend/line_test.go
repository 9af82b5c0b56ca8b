package trend

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func along(level, slope float64, n int, noise func(i int) float64) []Point {
	var p []Point
	for i := range n {
		p = append(p, Point{Day: float64(i), Value: level + slope*float64(i) + noise(i)})
	}
	return p
}

func TestLineOf(t *testing.T) {
	none := func(int) float64 { return 0 }
	for _, tt := range []struct {
		name  string
		in    []Point
		slope float64
		says  Says
	}{
		{"too few", along(5, 1, 5, none), 0, TooFew},
		{"all on two days", []Point{{1, 1}, {1, 2}, {1, 3}, {2, 4}, {2, 5}, {2, 6}, {2, 7}}, 0, TooFew},
		{"straight up", along(5, 0.5, 6, none), 0.5, Rising},
		{"straight down", along(5, -0.5, 20, none), -0.5, Falling},
		{"level", along(5, 0, 20, none), 0, Steady},
		{"level, to and fro", along(5, 0, 20, func(i int) float64 { return float64(i%2*2 - 1) }), 0, Steady},
		{"up with every fourth wild", along(5, 1, 20, func(i int) float64 {
			if i%4 == 3 {
				return -500
			}
			return 0
		}), 1, Rising},
	} {
		got := LineOf(tt.in)
		if got.Says != tt.says || math.Abs(got.PerDay-tt.slope) > 1e-9 {
			t.Errorf("%s: slope %v, %s; want %v, %s", tt.name, got.PerDay, got.Says, tt.slope, tt.says)
		}
	}
	l := LineOf(along(5, 0.5, 9, none))
	if math.Abs(l.At(0)-5) > 1e-9 || math.Abs(l.At(100)-55) > 1e-9 || l.Spread > 1e-9 {
		t.Errorf("line %+v is not 5 + 0.5 a day", l)
	}
}

// The confidence limits hold what they promise on simulated noise: the true
// slope lies inside in 95 % of runs, give or take what 2,000 runs allow.
func TestLineCoverage(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const runs = 2000
	for _, n := range []int{10, 30} {
		inside, up := 0, 0
		for range runs {
			l := LineOf(along(70, 0.02, n, func(int) float64 { return r.NormFloat64() }))
			if l.Low <= 0.02 && 0.02 <= l.High {
				inside++
			}
			if l.Says == Rising {
				up++
			}
		}
		if share := float64(inside) / runs; share < 0.93 || share > 0.98 {
			t.Errorf("%d points: the true slope lies inside in %.3f of runs, want about 0.95", n, share)
		}
	}
	false1 := 0
	for range runs {
		if l := LineOf(along(70, 0, 20, func(int) float64 { return r.NormFloat64() })); l.Says != Steady {
			false1++
		}
	}
	if share := float64(false1) / runs; share > 0.07 {
		t.Errorf("a level series is called rising or falling in %.3f of runs", share)
	}
}

// Turning a series upside down turns the line; shifting it shifts the level.
func TestLineTurnsAndShifts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-50, 50), 6, 40).Draw(t, "values")
		shift := rapid.Float64Range(-100, 100).Draw(t, "shift")
		var p, down, moved []Point
		for i, v := range values {
			p = append(p, Point{float64(i), v})
			down = append(down, Point{float64(i), -v})
			moved = append(moved, Point{float64(i), v + shift})
		}
		a, b, c := LineOf(p), LineOf(down), LineOf(moved)
		if math.Abs(a.PerDay+b.PerDay) > 1e-9 || math.Abs(a.Low+b.High) > 1e-9 || math.Abs(a.Level+b.Level) > 1e-9 {
			t.Fatalf("%+v turned is %+v", a, b)
		}
		if math.Abs(a.PerDay-c.PerDay) > 1e-9 || math.Abs(a.Level+shift-c.Level) > 1e-9 {
			t.Fatalf("%+v shifted by %v is %+v", a, shift, c)
		}
		if a.Low > a.PerDay || a.High < a.PerDay {
			t.Fatalf("slope %v outside its limits %v to %v", a.PerDay, a.Low, a.High)
		}
	})
}

func TestReachOf(t *testing.T) {
	none := func(int) float64 { return 0 }
	up := along(0, 0.5, 10, none) // 4.5 on day 9; 10 on day 20
	r := ReachOf(up, 10, 9, true)
	if !r.OnWay || math.Abs(r.Likely-20) > 1e-9 || r.Soonest > r.Likely || r.Latest < r.Likely {
		t.Errorf("on its way: %+v, want day 20", r)
	}
	if r := ReachOf(up, 4, 9, true); !r.Already || r.OnWay {
		t.Errorf("beyond: %+v", r)
	}
	if r := ReachOf(up, -5, 9, false); r.OnWay || r.Already {
		t.Errorf("moving away: %+v", r)
	}
	if r := ReachOf(up[:4], 10, 9, true); r.OnWay || r.Line.Says != TooFew {
		t.Errorf("too few: %+v", r)
	}
	down := along(99, -0.25, 12, none) // rejection from 99 %, 90 % on day 36
	if r := ReachOf(down, 90, 11, false); !r.OnWay || math.Abs(r.Likely-36) > 1e-9 {
		t.Errorf("falling: %+v, want day 36", r)
	}
	noisy := along(0, 0.5, 30, func(i int) float64 { return float64(i * 7 % 11) })
	if r := ReachOf(noisy, 30, 29, true); !(r.OnWay && r.Soonest < r.Likely && r.Likely < r.Latest) {
		t.Errorf("no range: %+v", r)
	}
}
