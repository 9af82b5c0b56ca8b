package trend

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestCentreOf(t *testing.T) {
	for _, tt := range []struct {
		name           string
		in             []float64
		median, spread float64
		enough         bool
	}{
		{"none", nil, 0, 0, false},
		{"one", []float64{7}, 7, 0, false},
		{"even", []float64{4, 1, 3, 2}, 2.5, 1.4826, false},
		// Middle 3, distances 2 1 0 1 97: their middle is 1.
		{"one wild", []float64{1, 2, 3, 4, 100}, 3, 1.4826, true},
		{"no number among them", []float64{math.NaN(), 5, math.Inf(1)}, 5, 0, false},
	} {
		got := CentreOf(tt.in)
		if math.Abs(got.Median-tt.median) > 1e-12 || math.Abs(got.Spread-tt.spread) > 1e-12 || got.Enough != tt.enough {
			t.Errorf("%s: %+v; want %v ± %v, enough %v", tt.name, got, tt.median, tt.spread, tt.enough)
		}
	}
}

// Fewer than half of the values, however wild, cannot carry the middle out of
// the range of the rest.
func TestCentreIsRobust(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		good := rapid.SliceOfN(rapid.Float64Range(-10, 10), 3, 40).Draw(t, "good")
		wild := rapid.SliceOfN(rapid.Float64Range(-1e9, 1e9), 0, len(good)-1).Draw(t, "wild")
		if c := CentreOf(append(good, wild...)); c.Median < -10 || c.Median > 10 {
			t.Fatalf("median %v", c.Median)
		}
	})
}

func TestQuantile(t *testing.T) {
	v := []float64{30, 10, 20, 40}
	for q, want := range map[float64]float64{0: 10, 0.5: 25, 1: 40, 0.1: 13} {
		if got, ok := Quantile(v, q); !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("Quantile(%v) = %v, %v; want %v", q, got, ok, want)
		}
	}
	if _, ok := Quantile(nil, 0.5); ok {
		t.Error("a quantile of nothing")
	}
	if _, ok := Quantile(v, 1.5); ok {
		t.Error("a quantile above 1")
	}
	if v[0] != 30 {
		t.Error("the values were put in order in place")
	}
}
