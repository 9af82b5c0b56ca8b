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
// for nothing while a reading is low and none since was inside, nor while a
// trouble is open, nor while something felt holds; see [hardFelt].
//
// The rate of the machine is taken to be what takes off the goal set on it in
// the time left. It passes a limit when the rest lies over what the limit lets
// through by more than a step of the machine's goal field; a rate that a fall or the
// unit's word holds, by more than what the machine rounds ([rounding]). Where the unit set no
// limit of the rate it is 13 mL/h/kg of dry weight (ours): nothing is cut for
// that, but what is offered may pass it no more than what is set.
func (n Settings) ask(s *Session, run Run, left unit.Minutes) bool {
	o := n.Options[0]
	goal, length := o.Goal-run.Goal, o.Length-run.Length
	set := max(run.Goal-n.Removed, 0) // what the machine would still take off
	switch {
	case max(goal, -goal) >= askGoal || max(length, -length) >= askLength:
		return true
	case o.Rate == 0 && (set > 0 || n.Removed > 0):
		return true
	}
	if o.Over {
		set = max(set, o.Goal-n.Removed)
	}
	step := s.Machine.FieldStep()
	if h := n.Hold; h != nil && set > h.most(left)+max(step, takenAt(rounding(s.Machine, h.Rate), left)) {
		return true
	}
	most, limited := n.mostLeft(s, left)
	return limited && set > most+step
}

// rateRead gives the removal rate that was read off the machine last, in the removal
// that runs now: since it was switched on, and since the goal was changed. ok is
// false where none was, or removal is off.
func rateRead(s *Session, now time.Time) (read readRate, ok bool) {
	if _, off := RemovalIsOff(s, now); off {
		return readRate{}, false
	}
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(now) {
			continue
		}
		switch b := e.Body.(type) {
		case *GoalChanged, *RemovalOff, *RemovalOn:
			ok = false
		case *Reading:
			if b.Rate != nil {
				read, ok = readRate{*b.Rate, e.At}, *b.Rate > 0
			}
		}
	}
	return read, ok
}

// A readRate is a removal rate as the machine showed it.
type readRate struct {
	rate unit.Rate
	at   time.Time
}

// readTooHigh says that the machine runs above what holds the removal, the unit's
// limit, or 13 mL/h/kg where it set none; it is empty where it does not. A rate that
// a fall or the unit's word holds may be passed by what the machine rounds, a limit
// by nothing.
func (n Settings) readTooHigh(s *Session, read readRate, dry unit.Mass) string {
	limit, byUnit := stopsAt(s.Rx)
	most, named := unit.Rate(goalAt(limit, 60, dry, 1)), ownStop(s)
	if byUnit {
		named = most.Text() + ", the limit (" + setByUnit(s.Rx) + ")"
	}
	if h := n.Hold; h != nil && h.Rate <= most {
		most = min(most, h.Rate+rounding(s.Machine, h.Rate))
		switch {
		case h.Before:
			named = h.Rate.Text() + " as set before the low pressure"
		case h.Said != "" && h.Whose == "":
			named = h.Rate.Text() + " as your unit said at " + clock(h.SaidAt)
		default:
			most = h.Rate
		}
	}
	if read.rate <= most {
		return ""
	}
	return "The machine was read at " + read.rate.Text() + " at " + clock(read.at) + ", above " + named + ". Set it down."
}

// overWords say that what would have to come off is too much for the time left.
func overWords(s *Session, rest unit.Volume, left unit.Minutes) string {
	return rest.Text() + " in " + hoursText(left) + " would be " + rateOf(rest, left).Text() +
		", above " + ownStop(s) + ". Do not set that: more time, or less. Ask your unit."
}

// mostLeft gives what the limits of the unit, or the program's own, let through in
// the time left.
func (n Settings) mostLeft(s *Session, left unit.Minutes) (most unit.Volume, limited bool) {
	plan, _ := agreed(s, n.At)
	if plan != nil && plan.DryWeight > 0 {
		limit, _ := stopsAt(s.Rx)
		rest := goalAt(limit, left, plan.DryWeight, 1)
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

// Withheld says why there is nothing to set although the treatment runs by a plan: the
// first of the ways to go on would run above 13 mL/h/kg (ours) where the unit set no
// limit of the rate, and the page says not to set it. Empty otherwise.
func Withheld(s *Session, now time.Time) string {
	if n, err := SetNow(s, now); err == nil && n.Over {
		return n.Lead[0]
	}
	return ""
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
	plan, _ := agreed(s, now)
	if !ok || plan == nil || !run.Ended.IsZero() {
		return ToSet{}, false
	}
	if n, err := SetNow(s, now); err == nil {
		o := n.Options[0]
		return ToSet{Goal: o.Goal, Rate: o.Rate, Left: minutesLeft(run), LeftOver: o.LeftOver, Ask: n.Ask}, true
	}
	w, _ := watchRun(s, now)
	l, step := lineOf(s, now), s.Machine.FieldStep()
	n := Settings{At: now, Removed: w.removedBy(l, now)}
	n.takes(w.addedSince(l.last(), now), plan, l.unchanged())
	whole := n.wanted(run, step)
	goal := min(whole, floorTo(n.Removed, step))
	return ToSet{Goal: goal, LeftOver: whole - goal, Ask: !w.quiet(now)}, true
}
