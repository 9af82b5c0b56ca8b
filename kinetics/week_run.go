package kinetics

// A cycleRun is one steady state being worked out. Session i has the steps
// 3i (the session), 3i+1 (the 60 minutes after, or less when the next session
// comes sooner) and 3i+2 (the rest of the time until the next).
type cycleRun struct {
	pools *Pools
	cycle *Cycle
	steps []poolStep
	gain  float64 // mL/min
	first float64 // volume at the start of the first session, mL
}

const reboundMin = 60.0

// parts gives the lengths of the two steps after session i.
func (r *cycleRun) parts(i int) (rebound, rest float64) {
	gap := r.cycle.gap(i)
	rebound = min(gap, reboundMin)
	return rebound, gap - rebound
}

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
		rebound, rest := r.parts(i)
		for k, part := range [3]struct{ length, clearance, trend float64 }{
			{s.LengthMin, s.ClearanceMlMin, r.trend(i)}, {rebound, 0, r.gain}, {rest, 0, r.gain},
		} {
			step := &r.steps[3*i+k]
			if part.length <= 0 {
				*step = poolStill
				continue
			}
			stretch := r.pools.stretch(part.length, part.clearance, volume, part.trend)
			stretch.solve(step)
			lostOuter += stretch.removal * (step.ao*whole.oo + step.ai*whole.io)
			lostInner += stretch.removal * (step.ao*whole.oi + step.ai*whole.ii)
			whole = whole.then(step)
			volume += part.trend * part.length
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
		volume        = r.first
		out           = Steady{Sessions: into}
		area, removed float64
	)
	for i := range r.cycle.Sessions {
		s := &r.cycle.Sessions[i]
		steps := r.steps[3*i : 3*i+3]
		start := p.stretch(s.LengthMin, s.ClearanceMlMin, volume, r.trend(i))
		post, drawn := mass.carry(&steps[0], g)
		after, drawnRebound := post.carry(&steps[1], g)
		next, drawnRest := after.carry(&steps[2], g)

		area += drawn + drawnRebound + drawnRest
		removed += s.ClearanceMlMin * drawn
		postVolume := volume + r.trend(i)*s.LengthMin
		end := p.stretch(0, 0, postVolume, 0)
		l := &into[i]
		*l = Levels{
			StartMin: s.StartMin,
			Pre:      mass.outer / start.outer, Post: post.outer / end.outer,
			PreInner: mass.inner / start.inner, PostInner: post.inner / end.inner,
			Mixed:      (post.outer + post.inner) / postVolume,
			PreVolumeL: volume / 1000, PostVolumeL: postVolume / 1000,
			RemovedMg: s.ClearanceMlMin * drawn,
		}
		out.MeanPre += l.Pre
		if rebound, _ := r.parts(i); rebound < reboundMin {
			l.Rebound60 = r.through(i, after, postVolume+r.gain*rebound, reboundMin-rebound)
		} else {
			l.Rebound60 = after.outer / p.stretch(0, 0, postVolume+r.gain*rebound, 0).outer
		}
		l.doses(&start, &steps[0], mass, s.ClearanceMlMin, g)

		mass = next
		volume = postVolume + r.gain*r.cycle.gap(i)
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
func (r *cycleRun) through(i int, mass poolMass, volume, minutes float64) float64 {
	for minutes > 0 {
		i = (i + 1) % len(r.cycle.Sessions)
		s := &r.cycle.Sessions[i]
		rebound, rest := r.parts(i)
		for k, part := range [3]struct{ length, clearance, trend float64 }{
			{s.LengthMin, s.ClearanceMlMin, r.trend(i)}, {rebound, 0, r.gain}, {rest, 0, r.gain},
		} {
			if part.length <= 0 || minutes <= 0 {
				continue
			}
			step := r.steps[3*i+k]
			length := part.length
			if minutes < length {
				length = minutes
				stretch := r.pools.stretch(length, part.clearance, volume, part.trend)
				stretch.solve(&step)
			}
			mass, _ = mass.carry(&step, r.pools.GenerationMgMin)
			volume += part.trend * length
			minutes -= length
		}
	}
	return mass.outer / r.pools.stretch(0, 0, volume, 0).outer
}
