package chart

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestRound(t *testing.T) {
	for _, tt := range []struct {
		lo, hi   float64
		n        int
		ticks    []float64
		decimals int
	}{
		{0, 2.75, 6, []float64{0, 0.5, 1, 1.5, 2, 2.5, 3}, 1},
		{-161, 174, 8, []float64{-200, -150, -100, -50, 0, 50, 100, 150, 200}, 0},
		{58, 60.5, 5, []float64{58, 58.5, 59, 59.5, 60, 60.5}, 1},
		{5, 5, 2, []float64{4.5, 5, 5.5}, 1},
		{0, 1e-58, 2, []float64{-0.5, 0, 0.5}, 1},
		{0, 0.03, 3, []float64{0, 0.01, 0.02, 0.03}, 2},
	} {
		s, got, decimals := round(tt.lo, tt.hi, tt.n)
		if !slices.EqualFunc(got, tt.ticks, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) || decimals != tt.decimals {
			t.Errorf("round(%v, %v, %d) = %v with %d decimals; want %v, %d", tt.lo, tt.hi, tt.n, got, decimals, tt.ticks, tt.decimals)
		}
		if s.lo > tt.lo || s.hi < tt.hi {
			t.Errorf("round(%v, %v) gives the scale %v to %v", tt.lo, tt.hi, s.lo, s.hi)
		}
	}
}

func TestRoundHoldsEveryValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-1e6, 1e6).Draw(t, "lo")
		hi := lo + rapid.Float64Range(1e-3, 1e6).Draw(t, "span")
		n := rapid.IntRange(1, 20).Draw(t, "n")
		s, ticks, decimals := round(lo, hi, n)
		slack := (hi - lo) * 1e-9
		if s.lo > lo+slack || s.hi < hi-slack {
			t.Fatalf("scale %v to %v does not hold %v to %v", s.lo, s.hi, lo, hi)
		}
		if len(ticks) > max(n, 2)+2 {
			t.Fatalf("%d ticks for at most %d", len(ticks), n)
		}
		for i := 1; i < len(ticks); i++ {
			if figure(ticks[i], decimals) == figure(ticks[i-1], decimals) {
				t.Fatalf("two ticks are both labelled %s", figure(ticks[i], decimals))
			}
		}
	})
}

func TestFigure(t *testing.T) {
	for _, tt := range []struct {
		v        float64
		decimals int
		want     string
	}{{-161, 0, "−161"}, {-0.001, 2, "0.00"}, {0, 0, "0"}, {2.745, 1, "2.7"}, {1250, 0, "1250"}} {
		if got := figure(tt.v, tt.decimals); got != tt.want {
			t.Errorf("figure(%v, %d) = %q, want %q", tt.v, tt.decimals, got, tt.want)
		}
	}
}
