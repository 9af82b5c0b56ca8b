package session

import (
	"math"
	"time"

	"ebbline/unit"
)

// The ebb is the line from the excess above dry weight, with everything that
// will be added, down to what the plan leaves behind, and the readings on it.
type Ebb struct {
	Start   unit.Volume // above dry weight and all planned additions
	Rest    unit.Volume // what the plan leaves for later: 0 unless a limit cuts the goal
	Planned []EbbPoint  // ends of the planned stretches, two for each
	Actual  []EbbPoint  // the start, and each reading of what was removed
	ToCome  unit.Volume // still to come off by the last of them, with what came in or was left out since
}

// An EbbPoint is one moment on the ebb.
type EbbPoint struct {
	At      time.Time
	Treated time.Duration
	Excess  unit.Volume // still above dry weight, additions counted
	Removed unit.Volume
}

// EbbOf draws the ebb of a session up to now. ok is false before there is a
// plan or before connecting.
//
// Planned: the goal, evenly over the treated time; after a change of goal on
// the machine a new stretch from where the removal then stood; level while
// removal was off, and higher by that from then on. Actual: start + drinks and
// saline beyond the plan − removed.
func EbbOf(s *Session, now time.Time) (Ebb, bool) {
	plan, _ := agreed(s, now)
	began, ok := s.Began()
	l := lineOf(s, now)
	if plan == nil || l == nil || !ok || now.Before(began) {
		return Ebb{}, false
	}
	ebb := Ebb{Start: plan.Goal, Rest: plan.LeftOver}
	for i, st := range l {
		to := st.to
		if i+1 < len(l) {
			to = l[i+1].from
		}
		for _, treated := range []time.Duration{st.from, to} {
			ml := l[:i+1].at(treated)
			ebb.Planned = append(ebb.Planned, EbbPoint{
				At: instantOf(s, treated, now), Treated: treated, Removed: unit.Volume(math.Round(ml)),
				Excess: ebb.Start + unit.Volume(math.Round(st.addedByPlanned-ml)),
			})
		}
	}
	ebb.Actual = append(ebb.Actual, EbbPoint{At: began, Excess: ebb.Start})
	c := countOf(s)
	for i := range s.Log {
		e := &s.Log[i]
		if removed, told := c.take(e); told && !e.At.After(now) && !e.At.Before(began) {
			ebb.Actual = append(ebb.Actual, EbbPoint{
				At: e.At, Treated: TreatedFor(s, e.At), Removed: removed,
				Excess: ebb.Start + beyondPlan(s, e.At) - removed,
			})
		}
	}
	last := ebb.Actual[len(ebb.Actual)-1]
	ebb.ToCome = last.Excess + beyondPlan(s, now) - beyondPlan(s, last.At)
	return ebb, true
}

// instantOf gives when the treated time reaches d, taking it that nothing
// stands still any more after now.
func instantOf(s *Session, d time.Duration, now time.Time) time.Time {
	if treated := TreatedFor(s, now); d > treated {
		return now.Add(d - treated)
	}
	return whenTreated(s, d)
}
