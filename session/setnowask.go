package session

import (
	"time"

	"ebbline/unit"
)

// From how much difference a hand at the machine is asked for. Ours.
const (
	askGoal   unit.Volume  = 100
	askLength unit.Minutes = 10
)

// ask reports whether the machine should be changed now: from 100 mL or 10
// minutes of difference to what is set on it, and always when its rate would
// pass a limit, when the goal is reached, or when removal must stop. It asks
// for nothing while a reading is low and none since was inside.
//
// The rate of the machine is taken to be what takes off the goal set on it in
// the time left. It passes a limit when the rest lies over what the limit lets
// through by more than a step of the machine's goal field.
func (n Settings) ask(s *Session, run Run, left unit.Minutes) bool {
	o := n.Options[0]
	goal, length := o.Goal-run.Goal, o.Length-run.Length
	set := max(run.Goal-n.Removed, 0) // what the machine would still take off
	switch {
	case n.Low:
		return false
	case max(goal, -goal) >= askGoal || max(length, -length) >= askLength:
		return true
	case o.Rate == 0 && (set > 0 || n.Removed > 0):
		return true
	}
	most, limited := n.mostLeft(s, left)
	return limited && set > most+s.Machine.FieldStep()
}

// mostLeft gives what the limits let through in the time left.
func (n Settings) mostLeft(s *Session, left unit.Minutes) (most unit.Volume, limited bool) {
	if n.Hold != nil {
		most, limited = n.Hold.most(left), true
	}
	plan, _ := lastBy[AgreedPlan](s, n.At)
	if s.Rx != nil && s.Rx.Rate != nil && plan != nil {
		rest := goalAt(*s.Rx.Rate, left, plan.DryWeight, 1)
		if !limited || rest < most {
			most, limited = rest, true
		}
	}
	if s.Rx != nil && s.Rx.MaxRemoval != nil {
		rest := max(*s.Rx.MaxRemoval-n.Removed, 0)
		if !limited || rest < most {
			most, limited = rest, true
		}
	}
	return most, limited
}

// ToSet is what to set on the machine now, in a line.
type ToSet struct {
	Goal     unit.Volume  // for the whole session, in the machine's step
	Rate     unit.Rate    // from now on
	Left     unit.Minutes // of treated time, one begun counted
	LeftOver unit.Volume  // what stays on of the goal and of drinks beyond it
	Ask      bool         // the machine should be changed now
}

// ToSetNow gives the first of the ways to go on of [SetNow], which keeps the
// whole treated time. With no treated time left nothing more comes off, and
// what is missing from the goal is left over. ok is false before the treatment
// began and from its end on, and for a session without a plan, which has no
// goal to set.
func ToSetNow(s *Session, now time.Time) (set ToSet, ok bool) {
	run, ok := Follow(s, now)
	plan, _ := lastBy[AgreedPlan](s, now)
	if !ok || plan == nil || !run.Ended.IsZero() {
		return ToSet{}, false
	}
	if n, err := SetNow(s, now); err == nil {
		o := n.Options[0]
		return ToSet{Goal: o.Goal, Rate: o.Rate, Left: minutesLeft(run), LeftOver: o.LeftOver, Ask: n.Ask}, true
	}
	w, _ := watchRun(s, now)
	l, step := lineOf(s, now), s.Machine.FieldStep()
	n := Settings{At: now, Removed: w.removedBy(l, now), Added: w.addedSince(l.last().changedAt, now)}
	whole := n.wanted(run, step)
	goal := min(whole, floorTo(n.Removed, step))
	return ToSet{Goal: goal, LeftOver: whole - goal, Ask: !w.bp.low}, true
}
