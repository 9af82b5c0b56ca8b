package kinetics

import "math"

// closedForm solves a stretch in which both pools keep their share of the
// water. In the time τ = ∫dt/V the masses follow a constant matrix
//
//	A = [ −(K+in)/fo   out/fi ]      with roots −z1 < −z2 ≤ 0,
//	    [   in/fo     −out/fi ]
//
// and the generation is G·V0·e^(στ), σ = dV/dt. Everything is then a divided
// difference of exp over −z1·τ, −z2·τ, σ·τ and 0. Written with the particular
// solution instead, (σ − A)v = g, all digits are lost when z2 and σ are both
// near zero: little residual clearance and little fluid removed.
func (p *poolStretch) closedForm(out *poolStep) {
	var (
		volume  = p.outer + p.inner
		fo, fi  = p.outer / volume, p.inner / volume
		trend   = p.outerTrend + p.innerTrend
		growth  = 1 + trend*p.length/volume // V at the end over V at the start
		tau     = p.length / volume * logRatio(trend*p.length/volume)
		outward = p.outward / fi
		inward  = p.inward / fo
		leave   = (p.removal + p.inward) / fo
		half    = (leave - outward) / 2
		cross   = outward * inward
		root    = math.Sqrt(half*half + cross)
		z1      = (leave+outward)/2 + root
		z2      = p.removal / fo * outward / z1 // det/z1, no cancellation
	)
	// The shares of the two roots in the outer pool's own decay; the smaller is
	// taken from the product cross so that it keeps its digits.
	fast := (math.Abs(half) + root) / (2 * root)
	slow := cross / ((math.Abs(half) + root) * 2 * root)
	if half < 0 {
		fast, slow = slow, fast
	}

	x1, x2, xv := -z1*tau, -z2*tau, trend*tau
	e1, e2 := math.Exp(x1), math.Exp(x2)
	d12 := expDiff(x1, e1, x2, e2)
	d10 := expDiff(x1, e1, 0, 1)
	d20 := expDiff(x2, e2, 0, 1)
	d1v := expDiff(x1, e1, xv, growth)
	d2v := expDiff(x2, e2, xv, growth)
	dv0 := p.length / (volume * tau)

	out.oo = slow*e2 + fast*e1
	out.ii = fast*e2 + slow*e1
	out.oi = outward * tau * d12
	out.io = inward * tau * d12
	out.og = volume * tau * (slow*d2v + fast*d1v)
	out.ig = volume * tau * tau * inward * expDiff2(x1, x2, xv, e2, d12, d1v, d2v)
	out.ao = tau * (slow*d20 + fast*d10) / fo
	out.ai = tau * tau * outward * expDiff2(x1, x2, 0, e2, d12, d10, d20) / fo
	out.ag = volume * tau * tau * (slow*expDiff2(x2, xv, 0, growth, d2v, d20, dv0) +
		fast*expDiff2(x1, xv, 0, growth, d1v, d10, dv0)) / fo
}

// logRatio returns ln(1+x)/x, which is 1 at 0.
func logRatio(x float64) float64 {
	if math.Abs(x) < 1e-8 {
		return 1 - x/2
	}
	return math.Log1p(x) / x
}

// expDiff is the first divided difference of exp, (e^b − e^a)/(b − a), given
// ea = e^a and eb = e^b.
func expDiff(a, ea, b, eb float64) float64 {
	if a > b {
		a, b, ea, eb = b, a, eb, ea
	}
	if gap := b - a; gap <= 0.5 {
		return eb * expGapSmall(gap)
	}
	return (eb - ea) / (b - a)
}

// expGapSmall is (1 − e^−y)/y for 0 ≤ y ≤ ½ by its series.
func expGapSmall(y float64) float64 {
	return 1 - y/2*(1-y/3*(1-y/4*(1-y/5*(1-y/6*(1-y/7*(1-y/8*(1-y/9*(1-y/10*(1-y/11*(1-y/12*(1-y/13)))))))))))
}

// expDiff2 is the second divided difference of exp over a, b and c, given
// e^b and the three first ones. The outermost two are subtracted when they
// are far enough apart; otherwise the series about b is summed.
func expDiff2(a, b, c, eb, dab, dac, dbc float64) float64 {
	switch ac, ab, bc := math.Abs(c-a), math.Abs(b-a), math.Abs(c-b); {
	case max(ac, ab, bc) < 0.7:
		return eb * expDiff2Series(a-b, c-b)
	case ac >= ab && ac >= bc:
		return (dbc - dab) / (c - a)
	case ab >= bc:
		return (dbc - dac) / (b - a)
	default:
		return (dac - dab) / (c - b)
	}
}

// expDiff2Series is exp[p, 0, q] = Σ (p^k + p^(k−1)q + … + q^k)/(k+2)!.
func expDiff2Series(p, q float64) float64 {
	sum, power, symmetric := 0.5, 1.0, 1.0
	for k := 1; k <= 15; k++ {
		power *= p
		symmetric = symmetric*q + power
		sum += symmetric * inverseFactorial[k+2]
	}
	return sum
}

var inverseFactorial = func() (f [18]float64) {
	f[0] = 1
	for i := 1; i < len(f); i++ {
		f[i] = f[i-1] / float64(i)
	}
	return f
}()
