package session

import (
	"math"
	"time"

	"ebbline/unit"
)

// A Hold is what a low pressure holds the removal to for the rest of the
// session: nothing is caught up. The rate to set is never above
//
//	the rate set before each fall,
//	the unit's rate limit, or 13 mL/h/kg of dry weight where it set none
//
// so that what did not come off while removal was off, or slower, stays on and
// is shown as left; another length is not proposed for it. Saline given for a
// low pressure or a cramp is not added to the goal.
//
// The rate set before a fall is what was set last before that entry: the plan's,
// that of a goal changed on the machine, or one read off it (a reading of 0 is
// removal switched off for the moment, and sets none).
//
// Only the unit's word lifts it. There is no entry for that yet: until there is
// the person sets the machine as the unit says and enters it as a changed goal,
// and the hold stays.
type Hold struct {
	Rate   unit.Rate // the most, in whole mL/h, down
	Before bool      // it is the rate set before the fall, not a limit
	Whose  string    // whose limit it is, where it is one
}

// hold gives what the falls of a run hold the removal to; nil without a fall.
// A cramp alone keeps its saline out of the goal and holds no rate.
func (w *watch) hold(dry unit.Mass) *Hold {
	if len(w.bp.falls) == 0 {
		return nil
	}
	limit, byUnit := stopsAt(w.s.Rx)
	h := Hold{Rate: unit.Rate(goalAt(limit, 60, dry, 1)), Whose: ownDefault} // what an hour at the limit takes off
	if byUnit {
		h.Whose = setByUnit(w.s.Rx)
	}
	for _, i := range w.bp.falls {
		if before, ok := setBefore(w.s, i); ok && before <= h.Rate {
			h.Rate, h.Before, h.Whose = before, true, ""
		}
	}
	return &h
}

// setBefore gives the removal rate that was set last before the entry at a place
// of the log, in whole mL/h, down. ok is false when none is known.
func setBefore(s *Session, place int) (rate unit.Rate, ok bool) {
	for i := range s.Log[:place] {
		e := &s.Log[i]
		if e.Struck != nil {
			continue
		}
		switch b := e.Body.(type) {
		case *AgreedPlan:
			if b.Length > 0 {
				rate, ok = unit.Rate(int64(b.SetGoal)*60/int64(b.Length)), true
			}
		case *GoalChanged:
			if l := lineOf(s, e.At); l != nil {
				rate, ok = l.lastRate(), true
			}
		case *Reading:
			if b.Rate != nil && *b.Rate > 0 {
				rate, ok = *b.Rate, true
			}
		}
	}
	return rate, ok
}

// removedBy gives what is taken to be removed by now: the last reading of it,
// carried on along the line. From a fall on removal may be off: nothing is
// carried on from there until the removal was read again and no reading is low,
// so that a goal made from it never asks for more than the rate that holds.
func (w *watch) removedBy(l line, now time.Time) unit.Volume {
	until := now
	_, read := removedBy(w.s, now)
	for _, i := range w.bp.falls {
		if at := w.s.Log[i].At; !at.Before(read) {
			until = at
			break
		}
	}
	if until.Equal(now) && w.bp.low && !read.IsZero() {
		until = read
	}
	return unit.Volume(math.Round(l.carried(w.s, until)))
}

// takenAt gives what a rate takes off in so many minutes, down.
func takenAt(rate unit.Rate, left unit.Minutes) unit.Volume {
	return unit.Volume(int64(rate) * int64(left) / 60)
}

// salineBefore is how long before a low pressure or a cramp was written saline
// may have been given for it. Ours.
const salineBefore = 15 * time.Minute

// forEase reports whether saline given at a moment was given for a low pressure
// or a cramp: from shortly before the first one on all of it is taken so, for
// the words beside it are not read.
func (w *watch) forEase(at time.Time) bool {
	return !w.eased.IsZero() && !at.Before(w.eased.Add(-salineBefore))
}

// salineFor sums that saline.
func (w *watch) salineFor() unit.Volume {
	sum := unit.Volume(0)
	Each(w.s, func(b *Saline, e *Event) {
		if w.forEase(e.At) && !e.At.After(w.until) {
			sum += b.Volume
		}
	})
	return sum
}

// addedSince gives what was drunk and given beyond the plan between the last
// change of the goal, which took in what was added by then, and now; without
// the saline that was given for a low pressure or a cramp.
func (w *watch) addedSince(changed, now time.Time) unit.Volume {
	plan, _ := lastBy[AgreedPlan](w.s, now)
	beyond := func(at time.Time) unit.Volume {
		drunk, saline := addedBy(w.s, at)
		Each(w.s, func(b *Saline, e *Event) {
			if !e.At.After(at) && w.forEase(e.At) {
				saline -= b.Volume
			}
		})
		return plan.beyond(drunk + saline)
	}
	if changed.IsZero() {
		return beyond(now)
	}
	return beyond(now) - beyond(changed)
}
