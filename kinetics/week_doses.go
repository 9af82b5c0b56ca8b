package kinetics

import "math"

// doses fills in the URR and the three Kt/V of a session that began as start
// with the masses mass and was carried by step. The levels are there already.
func (l *Levels) doses(start *poolStretch, step *poolStep, mass poolMass, clearance, generation float64) {
	// The fall is reckoned from the changes, not from the two levels, so that a
	// very short session keeps its digits.
	lost := start.removal * step.ao
	change := step.oi*mass.inner + step.og*generation - (step.io+lost)*mass.outer
	grown := start.outerTrend * start.length
	fall := (l.Pre*grown - change) / (start.outer + grown)
	l.URR = fall / l.Pre

	trend := start.outerTrend + start.innerTrend
	f := singlePoolFall{
		clearance: clearance, length: start.length, trend: trend,
		excess: start.removal + trend, generation: generation,
	}
	l.SpKtV = f.ktv(fall, f.excess*l.Post-generation)
	l.EKtV = f.ktv(fallOf(l.Pre, l.Mixed), f.excess*l.Mixed-generation)
	l.EKtV60 = f.ktv(fallOf(l.Pre, l.Rebound60), f.excess*l.Rebound60-generation)
	near := settledShare * generation
	if math.Abs(f.excess*l.Post-generation) < near || math.Abs(f.excess*l.Mixed-generation) < near {
		f.settled(l, start, step, mass)
	}
}

// fallOf is the difference of two levels, 0 where it is only rounding.
func fallOf(pre, level float64) float64 {
	fall := pre - level
	if math.Abs(fall) < 1e-13*pre {
		return 0
	}
	return fall
}
