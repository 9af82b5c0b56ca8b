package chart

import (
	"math"
	"strconv"
)

// A scale carries values onto a stretch of the drawing, straight.
type scale struct{ lo, hi, from, to float64 }

func (s scale) at(v float64) float64 {
	if s.hi == s.lo {
		return (s.from + s.to) / 2
	}
	return s.from + (v-s.lo)/(s.hi-s.lo)*(s.to-s.from)
}

// finest is the least spread of values that is drawn as one: nothing in the
// trade is read finer.
const finest = 1e-4

// round widens lo and hi to whole steps and gives the steps between them, at
// most n; the step is 1, 2 or 5 times a power of ten, as on graph paper.
func round(lo, hi float64, n int) (wide scale, ticks []float64, decimals int) {
	if hi-lo < finest {
		lo, hi = (lo+hi)/2-0.5, (lo+hi)/2+0.5
	}
	n = max(n, 2)
	raw := (hi - lo) / float64(n)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	step := power * 10
	for _, m := range [...]float64{1, 2, 5} {
		if a, b := math.Floor(lo/(m*power)), math.Ceil(hi/(m*power)); b-a <= float64(n) {
			step = m * power
			break
		}
	}
	a, b := math.Floor(lo/step), math.Ceil(hi/step)
	for i := a; i <= b; i++ {
		ticks = append(ticks, i*step)
	}
	decimals = max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	return scale{lo: a * step, hi: b * step}, ticks, decimals
}

// figure writes a value as the trade prints it: with a true minus sign.
func figure(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if s[0] == '-' {
		if zero, _ := strconv.ParseFloat(s, 64); zero == 0 {
			return s[1:]
		}
		return "−" + s[1:]
	}
	return s
}

// known reports whether a value can be drawn at all.
func known(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
