package kinetics

import "math"

// A cycleRun is one steady state being worked out. Session i has the parts
// 3i (the session), 3i+1 (the 60 minutes after, or less when the next session
// comes sooner) and 3i+2 (the rest of the time until the next).
type cycleRun struct {
	pools *Pools
	cycle *Cycle
	parts []cyclePart
	gain  float64 // mL/min
	first float64 // volume at the start of the first session, mL
}

// A cyclePart is a part of the cycle with what it does.
type cyclePart struct {
	length, clearance, volume, trend float64
	step                             poolStep
}

// same reports whether two parts differ by no more than rounding. Sessions that
// end at the same dry weight have the same hour after them, and those after
// equal gaps are equal themselves; such a part is not worked out twice.
func (a *cyclePart) same(b *cyclePart) bool {
	return a.clearance == b.clearance && nearlySame(a.length, b.length) &&
		nearlySame(a.volume, b.volume) && nearlySame(a.trend, b.trend)
}

func nearlySame(a, b float64) bool {
	const within = 1e-14
	d := a - b
	return d <= within*math.Abs(b) && -d <= within*math.Abs(b)
}

const reboundMin = 60.0

// trend is how the volume changes in session i, mL/min.
func (r *cycleRun) trend(i int) float64 {
	s := &r.cycle.Sessions[i]
	return r.gain - s.RemovedL*1000/s.LengthMin
}

// solve works out all steps and the state before the first session that the
// cycle brings back. It reports false when nothing is cleared.
func (r *cycleRun) solve() (poolMass, bool) {
	r.setVolumes()
	var (
		whole                = poolStill
		lostOuter, lostInner float64 // of a milligram in either pool, over the cycle
	)
	volume := r.first
	for i := range r.cycle.Sessions {
		s := &r.cycle.Sessions[i]
		gap := r.cycle.gap(i)
		rebound := min(gap, reboundMin)
		r.parts[3*i] = cyclePart{length: s.LengthMin, clearance: s.ClearanceMlMin, trend: r.trend(i)}
		r.parts[3*i+1] = cyclePart{length: rebound, trend: r.gain}
		r.parts[3*i+2] = cyclePart{length: gap - rebound, trend: r.gain}
		for k := 3 * i; k < 3*i+3; k++ {
			part := &r.parts[k]
			part.volume = volume
			r.work(k)
			volume += part.trend * part.length
			removal := part.clearance + r.pools.ResidualMlMin
			lostOuter += removal * (part.step.ao*whole.oo + part.step.ai*whole.io)
			lostInner += removal * (part.step.ao*whole.oi + part.step.ai*whole.ii)
			whole = whole.then(&part.step)
		}
	}
	// (I − A)·m = g·G. The diagonal of I − A is what leaves a pool for good and
	// for the other one: 1 − oo = io + lost. Written so, nothing is subtracted,
	// and the answer keeps its digits however little is cleared.
	det := lostOuter*(lostInner+whole.oi) + whole.io*lostInner
	if !(det > 0) {
		return poolMass{}, false
	}
	g := r.pools.GenerationMgMin
	return poolMass{
		outer: g / det * ((lostInner+whole.oi)*whole.og + whole.oi*whole.ig),
		inner: g / det * (whole.io*whole.og + (lostOuter+whole.io)*whole.ig),
	}, true
}

// work solves part k, or takes over what an earlier one has found.
func (r *cycleRun) work(k int) {
	part := &r.parts[k]
	if part.length <= 0 {
		part.step = poolStill
		return
	}
	for before := k - 3; before >= 0 && before >= k-3*maxFixedSessions; before -= 3 {
		if part.same(&r.parts[before]) {
			part.step = r.parts[before].step
			return
		}
	}
	stretch := r.pools.stretch(part.length, part.clearance, part.volume, part.trend)
	stretch.solve(&part.step)
}

// setVolumes finds the volume at the start of the first session from the
// lowest one in the cycle. The volume goes in straight lines, so its lowest
// point is at the start or the end of a session.
func (r *cycleRun) setVolumes() {
	volume, lowest := 0.0, 0.0
	for i := range r.cycle.Sessions {
		volume += r.trend(i) * r.cycle.Sessions[i].LengthMin
		lowest = min(lowest, volume)
		volume += r.gain * r.cycle.gap(i)
		lowest = min(lowest, volume)
	}
	r.first = r.pools.VolumeL*1000 - lowest
}

// levels runs the cycle once from its steady state.
func (r *cycleRun) levels(mass poolMass, into []Levels) Steady {
	var (
		p             = r.pools
		g             = p.GenerationMgMin
		out           = Steady{Sessions: into}
		area, removed float64
	)
	for i := range r.cycle.Sessions {
		session, rebound, rest := &r.parts[3*i], &r.parts[3*i+1], &r.parts[3*i+2]
		post, drawn := mass.carry(&session.step, g)
		after, drawnRebound := post.carry(&rebound.step, g)
		next, drawnRest := after.carry(&rest.step, g)

		area += drawn + drawnRebound + drawnRest
		removed += session.clearance * drawn
		start := p.stretch(session.length, session.clearance, session.volume, session.trend)
		postOuter, postInner := p.pools(rebound.volume)
		hourOuter, _ := p.pools(rest.volume)
		l := &into[i]
		*l = Levels{
			StartMin: r.cycle.Sessions[i].StartMin,
			Pre:      mass.outer / start.outer, Post: post.outer / postOuter,
			PreInner: mass.inner / start.inner, PostInner: post.inner / postInner,
			Rebound60:  after.outer / hourOuter,
			Mixed:      (post.outer + post.inner) / rebound.volume,
			PreVolumeL: session.volume / 1000, PostVolumeL: rebound.volume / 1000,
			RemovedMg: session.clearance * drawn,
		}
		if rebound.length < reboundMin {
			l.Rebound60 = r.through(i, after, reboundMin-rebound.length)
		}
		out.MeanPre += l.Pre
		l.doses(&start, &session.step, mass, session.clearance, g)
		mass = next
	}
	residual := p.ResidualMlMin * area
	out.MeanPre /= float64(len(into))
	out.TimeAveraged = area / r.cycle.LengthMin
	out.StdKtV = g / out.MeanPre / (p.VolumeL * 1000) * weekMin
	out.EKRMlMin = g / out.TimeAveraged
	out.RemovedG, out.ResidualG = removed/1000, residual/1000
	out.Balance = (removed+residual)/(g*r.cycle.LengthMin) - 1
	return out
}

// weekMin is the minutes of a week.
const weekMin = 10080.0

// through gives the outer concentration minutes after the start of the session
// that follows session i.
func (r *cycleRun) through(i int, mass poolMass, minutes float64) float64 {
	for k := 3*i + 3; ; k++ {
		part := &r.parts[k%len(r.parts)]
		if minutes < part.length {
			stretch := r.pools.stretch(minutes, part.clearance, part.volume, part.trend)
			var step poolStep
			stretch.solve(&step)
			mass, _ = mass.carry(&step, r.pools.GenerationMgMin)
			outer, _ := r.pools.pools(part.volume + part.trend*minutes)
			return mass.outer / outer
		}
		mass, _ = mass.carry(&part.step, r.pools.GenerationMgMin)
		minutes -= part.length
	}
}
