package kinetics

import "math"

// A poolStretch is a piece of time in which every rate of the two-pool model
// is constant: a session, or the time between two of them. Units are mL, min
// and mg/mL.
type poolStretch struct {
	length     float64 // min, above 0
	removal    float64 // everything that clears the outer pool: dialyser + residual, mL/min
	transfer   float64 // between the pools, mL/min
	outward    float64 // transfer and what water carries out of the inner pool
	inward     float64 // transfer and what water carries into it
	outer      float64 // extracellular volume at the start, mL
	inner      float64 // intracellular volume at the start, mL
	outerTrend float64 // mL/min
	innerTrend float64 // mL/min
	together   bool    // both volumes change by the same factor
}

// poolStep carries the urea of both pools over a stretch. The model is linear
// in the masses, so ten numbers say everything about it:
//
//	outer mass after = oo·outer + oi·inner + og·G
//	inner mass after = io·outer + ii·inner + ig·G
//	∫ outer concentration dt = ao·outer + ai·inner + ag·G
//
// All of them are ≥ 0 and are kept to nearly full relative precision, and all
// that is done with them later is adding and multiplying. So nothing cancels,
// however weak the clearance or however short the session.
type poolStep struct {
	oo, oi, io, ii float64
	og, ig         float64 // min
	ao, ai         float64 // min/mL
	ag             float64 // min²/mL
}

// then gives the step that does s first and next after it.
func (s *poolStep) then(next *poolStep) poolStep {
	return poolStep{
		oo: next.oo*s.oo + next.oi*s.io,
		oi: next.oo*s.oi + next.oi*s.ii,
		io: next.io*s.oo + next.ii*s.io,
		ii: next.io*s.oi + next.ii*s.ii,
		og: next.oo*s.og + next.oi*s.ig + next.og,
		ig: next.io*s.og + next.ii*s.ig + next.ig,
		ao: s.ao + next.ao*s.oo + next.ai*s.io,
		ai: s.ai + next.ao*s.oi + next.ai*s.ii,
		ag: s.ag + next.ao*s.og + next.ai*s.ig + next.ag,
	}
}

// poolStill is the step over no time at all.
var poolStill = poolStep{oo: 1, ii: 1}

// proportional reports whether both volumes change by the same factor (or not at
// all); then the closed form applies.
func (p *poolStretch) proportional() bool {
	return p.together || p.outerTrend == 0 && p.innerTrend == 0
}

// fast bounds the faster rate of exchange over the stretch, 1/min.
func (p *poolStretch) fast() float64 {
	outer := min(p.outer, p.outer+p.outerTrend*p.length)
	inner := min(p.inner, p.inner+p.innerTrend*p.length)
	return (p.removal+p.inward)/outer + p.outward/inner
}

// Over fewer time constants than taylorBelow the power series is quicker than
// the split; a stretch the split cannot do is halved down to taylorInstead.
const (
	taylorBelow   = 4
	taylorInstead = 60
)

// solve computes the step. It never fails: what the quick routes cannot do to
// full precision is cut up until the power series can.
func (p *poolStretch) solve(out *poolStep) {
	if p.proportional() {
		p.closedForm(out)
		return
	}
	stiff := p.fast() * p.length
	if stiff > taylorBelow && p.split(out) {
		return
	}
	if stiff <= taylorInstead {
		p.taylor(out)
		return
	}
	first, second := p.halves()
	var one, two poolStep
	first.solve(&one)
	second.solve(&two)
	*out = one.then(&two)
}

func (p *poolStretch) halves() (first, second poolStretch) {
	first, second = *p, *p
	first.length = p.length / 2
	second.length = p.length - first.length
	second.outer += p.outerTrend * first.length
	second.inner += p.innerTrend * first.length
	return first, second
}

// expGap returns (1 − e^−y)/y for y ≥ 0, which is 1 at 0.
func expGap(y float64) float64 {
	if y < 1e-8 {
		return 1 - y/2
	}
	return -math.Expm1(-y) / y
}
