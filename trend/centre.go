package trend

import (
	"math"
	"slices"
)

// MinCentre is the fewest values whose middle and spread are given.
const MinCentre = 5

// A Centre is the middle of some values and how far they lie about it.
type Centre struct {
	N      int
	Median float64 // 0 when there is no value
	Spread float64 // 1.4826 × median absolute deviation; 0 with fewer than two values
	Enough bool    // at least [MinCentre] values
}

// toSigma makes the median absolute deviation of normally distributed values
// equal to their standard deviation: 1/Φ⁻¹(3/4). Source: Hampel FR, J Am Stat
// Assoc 1974;69:383–93 (from memory).
const toSigma = 1.4826

// CentreOf gives the median of the values and their spread, the median
// distance from it times 1.4826. Up to half of the values may be wild without
// moving either far. NaNs and infinities are left out.
func CentreOf(values []float64) Centre {
	v := finite(values)
	c := Centre{N: len(v), Enough: len(v) >= MinCentre}
	if c.N == 0 {
		return c
	}
	c.Median = median(v)
	if c.N > 1 {
		away := make([]float64, len(v))
		for i, x := range v {
			away[i] = math.Abs(x - c.Median)
		}
		c.Spread = toSigma * median(away)
	}
	return c
}

// Quantile gives the value below which the share q of the values lies, between
// neighbours by straight line (definition 7 of Hyndman and Fan, Am Stat
// 1996;50:361–5, from memory). It needs 0 ≤ q ≤ 1; with no value it gives
// false.
func Quantile(values []float64, q float64) (float64, bool) {
	v := finite(values)
	if len(v) == 0 || !(q >= 0 && q <= 1) {
		return 0, false
	}
	slices.Sort(v)
	at := q * float64(len(v)-1)
	i := int(at)
	if i+1 >= len(v) {
		return v[len(v)-1], true
	}
	return v[i] + (at-float64(i))*(v[i+1]-v[i]), true
}

// median orders v and gives its middle.
func median(v []float64) float64 {
	slices.Sort(v)
	n := len(v)
	if n%2 == 1 {
		return v[n/2]
	}
	return v[n/2-1] + (v[n/2]-v[n/2-1])/2
}

// finite copies the values that are numbers.
func finite(values []float64) []float64 {
	out := make([]float64, 0, len(values))
	for _, x := range values {
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			out = append(out, x)
		}
	}
	return out
}
