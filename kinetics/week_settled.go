package kinetics

import "math"

// settledShare is how near to its end a session must come, as a share of G in
// E·C − G, for the levels to be reckoned from there.
const settledShare = 1e-3

// indeterminate is the share of G below which a fall of E·C − G near its end
// is rounding; then every pool fits and none is named.
const indeterminate = 1e-11

// settled fills in the Kt/V of a session so long that the levels come close to
// where they would stay: what is left, E·C − G, is then reckoned from the
// distance to that state, which the step carries on without generation, and
// not as a difference of two figures that agree in most of their digits.
//
// Where no water crosses, or it carries its urea, both pools settle at G/E.
// Where it crosses without, they settle a little apart, at
//
//	Ci·(1 − u) = Co,   E·Co = G + u²·Kc·Ci,   u = −si/Kc
//
// where si is the trend of the inner volume.
func (f *singlePoolFall) settled(l *Levels, start *poolStretch, step *poolStep, mass poolMass) {
	if !(f.excess > 0) || f.clearance == 0 {
		return
	}
	u := 0.0
	if start.together && start.outward == start.inward {
		u = -start.innerTrend / start.transfer
	}
	apart := start.transfer * u * u / (1 - u) // what E·Co exceeds G by, per Co
	if !(u < 1 && apart < f.excess/2) {
		return
	}
	outer := f.generation / (f.excess - apart)
	inner := outer / (1 - u)
	// Distances from there, as masses, at the start and at the end.
	before := poolMass{mass.outer - outer*start.outer, mass.inner - inner*start.inner}
	after, _ := before.carry(step, 0)
	endOuter := start.outer + start.outerTrend*start.length
	endInner := start.inner + start.innerTrend*start.length
	endVolume := endOuter + endInner

	restBefore := f.excess*before.outer/start.outer + apart*outer
	post := f.excess*after.outer/endOuter + apart*outer
	mixed := f.excess*((after.outer+after.inner)/endVolume+(inner-outer)*endInner/endVolume) + apart*outer
	if math.Abs(restBefore-post) < indeterminate*f.generation {
		// The session begins where it ends; only rounding tells its levels apart.
		l.SpKtV, l.EKtV = KtV{}, KtV{}
		return
	}
	l.SpKtV = f.between(restBefore, post)
	l.EKtV = f.between(restBefore, mixed)
}

// between is the Kt/V of the pool that brings E·C − G from one figure to
// another.
func (f *singlePoolFall) between(before, after float64) KtV {
	ratio := before / after
	if !(ratio > 1) {
		return KtV{}
	}
	return f.after(math.Log(ratio) / f.excess)
}
