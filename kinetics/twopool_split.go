package kinetics

import "math"

// split solves a stretch over which the inner volume stays the same, when the
// exchange between the pools is quick against everything else. With M the
// total mass, D = Ci − Co the difference of the concentrations, o and i the
// volumes, V = o + i, K what is cleared, s the trend of the outer volume and
// E = K + s:
//
//	M' = G − K·(M − i·D)/V
//	D' = −λ·D + E·d·M − G/o,   λ = Kc/i + Kc/o + E·i·d,  d = 1/(o·V)
//
// D soon follows M: D = E·r·M + G·w + z with r and w smooth and z dying out.
// Putting that in and asking that z answer to itself alone gives
//
//	r' = −λ·r + d + K·(1 − i·E·r)·r/V
//	z' = −μ·z,   μ = λ + K·i·E·r/V
//
// and w = −V·r, since both pools at G/E is a solution. M = m + K·h·z takes z
// out of M as well when
//
//	h' = q·h + i/V,   q = μ − K·(1 − i·E·r)/V
//	m' = −K·(1 − i·E·r)/V·m + G·(1 − K·i·r)
//
// r and h have one smooth solution each, found at a few nodes by sweeps that
// put the derivative on the right-hand side: each sweep gains the ratio of the
// two time scales. What is left are scalar integrals of smooth functions, one
// step whatever the length.
//
// It reports false, with out unset, when the sweeps do not settle or the nodes
// are too few for the functions; the caller then takes another way.
//
// Source: derived here; the transformation is that of Chang KW, SIAM J Appl
// Math 1972;22:520–6, for linear systems with two time scales (from memory).
func (p *poolStretch) split(out *poolStep) bool {
	if p.innerTrend != 0 {
		return false
	}
	rules := splitRules[:]
	if p.removal*p.length > 0.1*(p.outer+p.inner) {
		rules = rules[1:] // splitEnds would refuse the first
	}
	for _, rule := range rules {
		if p.splitTail(rule.n) < splitTail && p.splitOn(rule, out) {
			return true
		}
	}
	return false
}

var splitRules = [...]*lobattoRule{newLobattoRule(4), newLobattoRule(6), newLobattoRule(8), newLobattoRule(10)}

const (
	// splitSettled is what the last sweep may still change of the step. The
	// next one would change a tenth of it or less.
	splitSettled = 1e-12
	// splitTail is what the highest coefficient of r may weigh in the step; the
	// error is some hundredth of it (measured).
	splitTail   = 3e-10
	splitSweeps = 11
)

// splitTail guesses the highest of n coefficients of r from how much the
// volumes change, relative to what matters, and what n nodes miss of the
// integrals of 1/V and of 1/o.
func (p *poolStretch) splitTail(n int) float64 {
	volume, change := p.outer+p.inner, p.outerTrend*p.length
	size := p.inner * p.inner / (p.transfer * volume * volume) * p.splitScale()
	whole := math.Abs(change) / (4*volume + 2*change)
	outer := math.Abs(change) / (4*p.outer + 2*change)
	a, b := whole, outer
	for range n - 2 {
		a, b = a*whole, b*outer
	}
	return max(size*(a+b*math.Abs(p.outerTrend)/p.transfer), a*whole, 100*b*b)
}

// splitScale is what r weighs with in the step, as 1/(inner·r).
func (p *poolStretch) splitScale() float64 {
	return max(p.removal+math.Abs(p.removal+p.outerTrend), (p.outer+p.inner)/p.length)
}

type nodeValues = [lobattoMost]float64

// splitNodes holds the coefficients and the smooth functions at the nodes.
type splitNodes struct {
	rule      *lobattoRule
	perLength float64
	inner     float64

	perVolume  nodeValues
	drive      nodeValues // d
	linear     nodeValues // λ − K/V
	bend       nodeValues // K·i·E/V
	r, h       nodeValues
	perQ       nodeValues
	derivative nodeValues
}

func (p *poolStretch) splitOn(rule *lobattoRule, out *poolStep) bool {
	if rule.n > lobattoMost {
		return false // tells the compiler that no index below is out of range
	}
	at := splitNodes{rule: rule, perLength: 1 / p.length, inner: p.inner}
	at.start(p)
	return at.settleR(p.splitScale()*p.inner) &&
		at.settleH(at.perLength/(at.perVolume[0]*min(p.outer, p.inner))) &&
		p.splitEnds(&at, out)
}

// start fills in the coefficients and, for r, the root of its equation without
// the derivative, which is a quadratic. Its discriminant is Newton's slope
// there, near enough for all sweeps.
func (at *splitNodes) start(p *poolStretch) {
	excess := p.removal + p.outerTrend
	exchange := p.transfer / p.inner
	for i := 0; i < at.rule.n; i++ {
		o := p.outer + p.outerTrend*p.length*at.rule.node[i]
		d := 1 / (o * (o + p.inner))
		v := d * o
		linear := exchange + p.transfer*d*(o+p.inner) + excess*d*p.inner - p.removal*v
		bend := p.removal * p.inner * excess * v
		q := math.Sqrt(linear*linear + 4*bend*d)
		if linear >= 0 {
			at.r[i] = 2 * d / (linear + q)
		} else {
			at.r[i] = (q - linear) / (2 * bend)
		}
		at.perVolume[i], at.drive[i], at.linear[i], at.bend[i], at.perQ[i] = v, d, linear, bend, 1/q
	}
}

// settleR sweeps r until a sweep changes the step no more; scale is what r
// weighs with there.
func (at *splitNodes) settleR(scale float64) bool {
	for range splitSweeps {
		at.rule.derivative(&at.r, &at.derivative)
		change := 0.0 // sum of squares
		for i := 0; i < at.rule.n; i++ {
			r := at.r[i]
			step := (at.derivative[i]*at.perLength + (at.linear[i]+at.bend[i]*r)*r - at.drive[i]) * at.perQ[i]
			at.r[i] = r - step
			change += step * step
		}
		change *= scale * scale
		if change < splitSettled*splitSettled {
			return at.rule.topCoefficient(&at.r)*scale < splitTail
		}
		if !(change < 1) {
			return false
		}
	}
	return false
}

// settleH does the same for h, once r is known.
func (at *splitNodes) settleH(scale float64) bool {
	for i := 0; i < at.rule.n; i++ {
		q := at.linear[i] + 2*at.bend[i]*at.r[i]
		if !(q > 0) {
			return false
		}
		at.perQ[i] = 1 / q
		at.h[i] = -at.inner * at.perVolume[i] * at.perQ[i]
	}
	for range splitSweeps {
		at.rule.derivative(&at.h, &at.derivative)
		change := 0.0
		for i := 0; i < at.rule.n; i++ {
			h := (at.derivative[i]*at.perLength - at.inner*at.perVolume[i]) * at.perQ[i]
			step := h - at.h[i]
			at.h[i] = h
			change += step * step
		}
		if change*scale*scale < 100*splitSettled*splitSettled {
			return at.rule.topCoefficient(&at.h)*scale < splitTail
		}
	}
	return false
}

// splitEnds puts the smooth functions together to the step.
func (p *poolStretch) splitEnds(at *splitNodes, out *poolStep) bool {
	var (
		rule    = at.rule
		n       = rule.n
		last    = n - 1
		inner   = p.inner
		removal = p.removal
		excess  = removal + p.outerTrend
		v0      = p.outer + inner
		outer1  = p.outer + p.outerTrend*p.length
		v1      = outer1 + inner

		rate, ahead        nodeValues // (1 − i·E·r)/V, and its integral from the node to the end
		fade, whole, stays float64
		area               float64
	)
	if n > lobattoMost {
		return false
	}
	for i := 0; i < n; i++ {
		rate[i] = (1 - inner*excess*at.r[i]) * at.perVolume[i]
		fade += rule.weight[i] * (at.linear[i] + removal*at.perVolume[i] + at.bend[i]*at.r[i])
		whole += rule.weight[i] * rate[i]
	}
	fade, whole = math.Exp(-fade*p.length), whole*p.length
	gap := whole * expGap(removal*whole)
	c := splitCarry{
		r0: excess * at.r[0], w0: -v0 * at.r[0], h0: at.h[0],
		r1: excess * at.r[last], w1: -v1 * at.r[last], h1: at.h[last],
		removal: removal, keep: math.Exp(-removal * whole), gap: gap, fade: fade,
		outer: outer1, inner: inner, perVolume: 1 / v1,
	}
	out.oo, out.io, out.ao = c.carry(1, -1/p.outer, 0, 0, 0)
	out.oi, out.ii, out.ai = c.carry(1, 1/inner, 0, 0, 0)

	// Generation. Where the clearance has done much by the end, the solution
	// with both pools at G/E, less what it started with, loses nothing.
	if math.Abs(excess)*p.length > 0.4*max(v0, v1) {
		out.og = (outer1 - out.oo*p.outer - out.oi*inner) / excess
		out.ig = (inner - out.io*p.outer - out.ii*inner) / excess
		out.ag = (p.length - out.ao*p.outer - out.ai*inner) / excess
		return true
	}
	// Otherwise what is made at each node, what of it is still there at the
	// end, and the area it has drawn by then: the quadrature of an exponential
	// that falls by removal·whole, good to 1e-12 within these bounds.
	if removal*whole > 1 || n < 6 && removal*whole > 0.1 {
		return false
	}
	for i := 0; i < n; i++ {
		row, sum := rule.ahead[i][:n], 0.0
		for j, s := range row {
			sum += s * rate[j]
		}
		ahead[i] = sum * p.length
		made := 1 - removal*inner*at.r[i]
		left := ahead[i] * expGap(removal*ahead[i])
		stays += rule.weight[i] * made * (1 - removal*left)
		area += rule.weight[i] * (made*left + inner*at.r[i])
	}
	out.og, out.ig, out.ag = c.carry(0, 0, 1, stays*p.length, area*p.length)
	return true
}

// splitCarry takes one start of a stretch to its end.
type splitCarry struct {
	r0, w0, h0, r1, w1, h1   float64
	removal, keep, gap, fade float64
	outer, inner, perVolume  float64 // at the end
}

// carry takes a total mass, a difference and a generation, with what of the
// generation stays and the area it draws, to both masses and the area.
func (c *splitCarry) carry(mass, difference, made, stays, area float64) (outer, inner, drawn float64) {
	z := difference - c.r0*mass - c.w0*made
	m := mass - c.removal*c.h0*z
	left := z * c.fade
	end := c.keep*m + stays + c.removal*c.h1*left
	d := c.r1*end + c.w1*made + left
	return c.outer * (end - c.inner*d) * c.perVolume,
		c.inner * (end + c.outer*d) * c.perVolume,
		c.gap*m + area + c.h0*z - c.h1*left
}
