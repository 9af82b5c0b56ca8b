package kinetics

import "math"

const (
	taylorReach = 6    // time constants of the fast mode in one step
	taylorTrend = 0.12 // largest relative change of a volume in one step
	taylorTerms = 72
)

// taylor solves a stretch by the power series of the concentrations. With
// linear volumes the coefficients follow from each other one by one:
//
//	outer·(n+1)·e[n+1] = G·[n=0] − (K + in + (n+1)·outer')·e[n] + out·i[n]
//	inner·(n+1)·i[n+1] = in·e[n] − (out + (n+1)·inner')·i[n]
//
// Steps are short enough for the terms never to grow above e^6 of the sum, so
// about 14 digits are kept.
func (p *poolStretch) taylor(out *poolStep) {
	part := *p
	*out = poolStill
	for left := p.length; left > 0; {
		part.length = 0
		rate := part.fast()
		// A pool that empties is quicker at the end of the step.
		rate = max(rate*(1+2*taylorTrend)/taylorReach, math.Abs(part.outerTrend)/(taylorTrend*part.outer), math.Abs(part.innerTrend)/(taylorTrend*part.inner))
		steps := math.Ceil(left * rate)
		if steps <= 1 {
			part.length, left = left, 0
		} else {
			part.length = left / steps // the rest in equal steps, if it were to go on like this
			left -= part.length
		}
		var next poolStep
		part.taylorStep(&next)
		*out = out.then(&next)
		part.outer += part.outerTrend * part.length
		part.inner += part.innerTrend * part.length
	}
}

func (p *poolStretch) taylorStep(out *poolStep) {
	var (
		h        = p.length
		perOuter = h / p.outer
		perInner = h / p.inner
		leave    = (p.removal + p.inward) * perOuter
		arrive   = p.outward * perOuter
		cross    = p.inward * perInner
		back     = p.outward * perInner
		bendO    = p.outerTrend * perOuter
		bendI    = p.innerTrend * perInner

		// Columns: one milligram in the outer pool, one in the inner, and G = 1.
		// Terms hold coefficient·h^n, so sums need no powers.
		eo, io = 1 / p.outer, 0.0
		ei, ii = 0.0, 1 / p.inner
		eg, ig = perOuter, 0.0 // the terms n = 1, the first that are not zero
		sumEo  = eo
		sumIi  = ii
		sumEg  = eg
		areaO  = eo
		areaG  = eg / 2

		sumIo, sumEi, sumIg, areaI float64
	)
	for n := 1; n < taylorTerms; n++ {
		inv, next := reciprocal[n], reciprocal[n+1]
		a, b := (leave*inv + bendO), arrive*inv
		c, d := cross*inv, (back*inv + bendI)
		eo, io = b*io-a*eo, c*eo-d*io
		ei, ii = b*ii-a*ei, c*ei-d*ii
		sumEo += eo
		sumIo += io
		sumEi += ei
		sumIi += ii
		areaO += eo * next
		areaI += ei * next
		// The third column runs one term ahead.
		a, b = (leave*next + bendO), arrive*next
		c, d = cross*next, (back*next + bendI)
		eg, ig = b*ig-a*eg, c*eg-d*ig
		sumEg += eg
		sumIg += ig
		areaG += eg * reciprocal[n+2]
		if n&3 == 0 && math.Abs(eo)+math.Abs(ei) < 1e-17*sumEo &&
			math.Abs(io)+math.Abs(ii) < 1e-17*sumIi && math.Abs(eg)+math.Abs(ig) < 1e-17*sumEg {
			break
		}
	}
	outer, inner := p.outer+p.outerTrend*h, p.inner+p.innerTrend*h
	*out = poolStep{
		oo: outer * sumEo, oi: outer * sumEi, io: inner * sumIo, ii: inner * sumIi,
		og: outer * sumEg, ig: inner * sumIg,
		ao: areaO * h, ai: areaI * h, ag: areaG * h,
	}
}

var reciprocal = func() (r [taylorTerms + 3]float64) {
	for i := 1; i < len(r); i++ {
		r[i] = 1 / float64(i)
	}
	return r
}()
