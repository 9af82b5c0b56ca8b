package kinetics

import (
	"math"

	"ebbline/unit"
)

// A CycleSession is one session of a cycle.
type CycleSession struct {
	StartMin       float64 // from the start of the cycle
	LengthMin      float64 // above 0
	ClearanceMlMin float64 // of the dialyser, convection included; 0 or more
	RemovedL       float64 // fluid taken off, evenly over the session; 0 or more
}

// A Cycle is a schedule that repeats: a week, a fortnight, 48 hours.
//
// Fluid is gained at the constant rate Σremoved/length at all times, also
// during the sessions. Sessions are in order of start, each start from 0 to
// below the length of the cycle; they may touch but not overlap, and the last
// may run over the end of the cycle as far as the first begins.
type Cycle struct {
	LengthMin float64
	Sessions  []CycleSession
}

// GainMlMin is the rate at which fluid is gained.
func (c Cycle) GainMlMin() float64 {
	sum := 0.0
	for i := range c.Sessions {
		sum += c.Sessions[i].RemovedL
	}
	return sum * 1000 / c.LengthMin
}

// touching is the part of the cycle by which two sessions may overlap and
// still count as touching: decimals that do not add up in binary.
const touching = 1e-12

// shortestCycleMin bounds how often an hour can run through a cycle.
const shortestCycleMin = 1

func (c *Cycle) check() error {
	if !(c.LengthMin >= shortestCycleMin && c.LengthMin <= mostMinutes) {
		return unit.Refuse("cycle_min", c.LengthMin, "a length from a minute to 1e7 minutes")
	}
	if len(c.Sessions) == 0 {
		return unit.Refuse("sessions", "an empty list", "one session or more")
	}
	for i := range c.Sessions {
		s := &c.Sessions[i]
		switch {
		case !(s.StartMin >= 0 && s.StartMin < c.LengthMin):
			return unit.Refuse(sessionField(i, "start_min"), s.StartMin, "a time from 0 to below the length of the cycle")
		case i > 0 && s.StartMin < c.Sessions[i-1].StartMin:
			return unit.Refuse(sessionField(i, "start_min"), s.StartMin, "a session that starts after the one before it")
		case !(s.LengthMin > 0):
			return unit.Refuse(sessionField(i, "length_min"), s.LengthMin, "a length above 0")
		case !(s.LengthMin-c.gapRoom(i) <= touching*c.LengthMin):
			return unit.Refuse(sessionField(i, "length_min"), s.LengthMin, "a session that ends before the next one starts")
		case !(s.ClearanceMlMin >= 0 && s.ClearanceMlMin <= mostClearance):
			return unit.Refuse(sessionField(i, "clearance_ml_min"), s.ClearanceMlMin, "a clearance from 0 to 100,000 mL/min")
		case !(s.RemovedL >= 0 && s.RemovedL <= mostLitres && s.RemovedL/s.LengthMin <= mostFlow/1000):
			return unit.Refuse(sessionField(i, "removed_l"), s.RemovedL, "an amount from 0 to 10,000 L that can be removed in that time")
		}
	}
	return nil
}

// gapRoom is the time from the start of session i to that of the next.
func (c *Cycle) gapRoom(i int) float64 {
	if i+1 < len(c.Sessions) {
		return c.Sessions[i+1].StartMin - c.Sessions[i].StartMin
	}
	return c.Sessions[0].StartMin + c.LengthMin - c.Sessions[i].StartMin
}

// gap is the time from the end of session i to the start of the next.
func (c *Cycle) gap(i int) float64 {
	g := c.gapRoom(i) - c.Sessions[i].LengthMin
	if g <= touching*c.LengthMin {
		return 0
	}
	return g
}

// Levels is what one session of a cycle does in the steady state.
// Concentrations are urea nitrogen of the outer pool, mg/mL.
type Levels struct {
	StartMin float64
	Pre      float64
	Post     float64
	// Rebound60 is the concentration 60 minutes after the end. Where another
	// session begins sooner, the model simply goes on through it.
	Rebound60 float64
	// Mixed is the total mass over the total volume at the end: what the pools
	// would settle at with nothing made or cleared meanwhile.
	Mixed float64

	PreInner, PostInner     float64 // of the inner pool
	PreVolumeL, PostVolumeL float64
	RemovedMg               float64 // by the dialyser

	URR float64 // 1 − post/pre
	// SpKtV is K·t/V′ with V′ the post-session volume of the one well-mixed
	// variable-volume pool that goes from Pre to Post with the same clearances,
	// generation, gain and removal. EKtV is the same with Mixed in place of
	// Post, EKtV60 with Rebound60 (that hour's generation is in it). Each
	// exists only when some pool does so.
	SpKtV, EKtV, EKtV60 KtV
}

// Steady is a cycle that has repeated until nothing changes any more.
type Steady struct {
	StdKtV       float64 // (G / mean pre) / V × 10080 min, a week
	MeanPre      float64 // mg/mL, plain mean of the sessions
	TimeAveraged float64 // mg/mL, over the whole cycle
	EKRMlMin     float64 // G / TimeAveraged
	RemovedG     float64 // urea nitrogen by the dialyser in a cycle
	ResidualG    float64 // by the kidneys
	Sessions     []Levels

	// Balance is how far removed and residual together miss what was
	// generated, as a fraction: a check of the reckoning, near 1e-15.
	Balance float64
}

// maxFixedSessions is how many sessions a cycle may have for
// [Pools.Steady] to work without allocating.
const maxFixedSessions = 8

// Steady gives the steady state of a cycle: the state that repeats itself.
//
// The model is linear, so the cycle as a whole is a 2×2 matrix and a vector,
// and the steady state one linear equation; no weeks are run. The answer's
// Sessions use the memory of into, which may be nil; given room for all
// sessions there, a cycle of up to 8 sessions allocates nothing.
//
// The relative error is below 1e-9 for anything like a person (1 to 200 L,
// transfers to 100,000 mL/min, cycles to a year), usually below 1e-11; the Kt/V
// of a session in which the level falls by less than a thousandth have as many
// digits less, and so has EKtV60 where the level an hour later comes within a
// thousandth of the one at which such a session would settle. Refused, with a
// [*unit.InputError], are values outside those that [Pools] and [Cycle] name and
// cycles in which nothing clears urea.
//
// Source of the definition of the standard Kt/V: Gotch FA, Nephrol Dial
// Transplant 1998;13 Suppl 6:10–4 (from memory).
func (p Pools) Steady(c Cycle, into []Levels) (Steady, error) {
	if err := p.check(); err != nil {
		return Steady{}, err
	}
	if err := c.check(); err != nil {
		return Steady{}, err
	}
	var fixed [3 * maxFixedSessions]cyclePart
	parts := fixed[:]
	if 3*len(c.Sessions) > len(parts) {
		parts = make([]cyclePart, 3*len(c.Sessions))
	}
	if cap(into) < len(c.Sessions) {
		into = make([]Levels, len(c.Sessions))
	}
	into = into[:len(c.Sessions)]

	run := cycleRun{pools: &p, cycle: &c, parts: parts[:3*len(c.Sessions)], gain: c.GainMlMin()}
	start, ok := run.solve()
	if !ok {
		return Steady{}, unit.Refuse("sessions", "no clearance", "something that clears urea, a dialyser or residual clearance, for there to be a steady state")
	}
	s := run.levels(start, into)
	if !(s.StdKtV > 0 && s.StdKtV <= math.MaxFloat64 && s.TimeAveraged > 0 && s.TimeAveraged <= math.MaxFloat64 && s.EKRMlMin <= math.MaxFloat64) {
		return Steady{}, unit.Refuse("sessions", "a clearance near nothing", "enough clearance for a steady state that can be written")
	}
	return s, nil
}
