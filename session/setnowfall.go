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
// removal switched off for the moment, and sets none). A lower rate that the reading
// of the fall itself shows is what was set when the pressure fell; but one of 100 mL/h
// or less is a machine's least, to which the removal was turned down because of it.
//
// The unit's word lifts it: a goal changed after the fall with who of the unit
// said so. From then on the rate that this goal names, goal over the rest, takes
// the place of those before the falls; the limit stays. A fall after it holds
// again. A goal changed without that word changes nothing of it.
type Hold struct {
	Rate   unit.Rate // the most, in whole mL/h; down, but for the unit's word: to the nearest
	Before bool      // it is the rate set before the fall, not a limit
	Whose  string    // whose limit it is, where it is one
	Said   string    // who of the unit gave its word since; empty where nobody did
	SaidAt time.Time

	exact float64 // of the unit's word, mL/h; 0 otherwise
	word  int     // its place in the log while it is what holds; −1 otherwise
}

// hold gives what the falls of a run hold the removal to; nil without a fall.
// A cramp alone keeps its saline out of the goal and holds no rate.
func (w *watch) hold(dry unit.Mass) *Hold {
	if len(w.bp.falls) == 0 {
		return nil
	}
	limit, byUnit := stopsAt(w.s.Rx)
	h := Hold{Rate: unit.Rate(goalAt(limit, 60, dry, 1)), Whose: ownDefault, word: -1} // what an hour at the limit takes off
	if byUnit {
		h.Whose = setByUnit(w.s.Rx)
	}
	if word, rate, ok := w.unitsWord(); ok {
		e := &w.s.Log[word]
		h.Said, h.SaidAt = e.Body.(*GoalChanged).Unit, e.At
		if rate <= h.Rate.Float() {
			h.Rate, h.Whose, h.exact, h.word = unit.Rate(math.Round(rate)), "", rate, word
		}
	}
	for _, i := range w.holding() {
		before, ok := setBefore(w.s, i)
		if b, is := w.s.Log[i].Body.(*Reading); is && b.Rate != nil && *b.Rate > leastRate && (!ok || *b.Rate < before) {
			before, ok = *b.Rate, true
		}
		if ok && before <= h.Rate {
			h = Hold{Rate: before, Before: true, word: -1}
		}
	}
	return &h
}

// holding gives the places of the falls that hold the removal: those after the
// unit's word, all of them without one.
func (w *watch) holding() []int {
	for n, i := range w.bp.falls {
		if i > w.word {
			return w.bp.falls[n:]
		}
	}
	return nil
}

// takesWord keeps the place of the unit's word, when there was a fall for it.
func (w *watch) takesWord(b *GoalChanged, i int) {
	if b.UnitSaid() && len(w.bp.falls) > 0 {
		w.word = i
	}
}

// UnitSaid reports whether somebody of the unit is named for a changed goal: a
// call that nobody answered is no word.
func (b *GoalChanged) UnitSaid() bool {
	return unit.Legible(b.Unit) > 0 && ReachedBy(b.Unit) != Nobody
}

// unitsWord gives the place of the unit's word and the rate that it named: what
// the goal left to take off then, over the treated time that was left. In mL/h.
func (w *watch) unitsWord() (place int, rate float64, ok bool) {
	if w.word < 0 {
		return 0, 0, false
	}
	for _, st := range lineOf(w.s, w.until) {
		if st.by == w.word {
			return w.word, st.slope(), true
		}
	}
	return 0, 0, false
}

// most gives what the hold lets through in so many minutes, down; half a
// millilitre is no difference to the rate that the unit named.
func (h *Hold) most(left unit.Minutes) unit.Volume {
	if h.exact > 0 {
		return unit.Volume(h.exact*left.Float()/60 + 0.5)
	}
	return takenAt(h.Rate, left)
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
		case *PaperPlan:
			if b.Length > 0 && !s.Rx.Profile() {
				rate, ok = unit.Rate(int64(b.Goal)*60/int64(b.Length)), true
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
// carried on from there until the unit's word is written, or until the removal
// was read again and no reading is low, so that a goal made from it never asks
// for more than the rate that holds.
func (w *watch) removedBy(l line, now time.Time) unit.Volume {
	until := now
	_, read := removedBy(w.s, now)
	for _, i := range w.holding() {
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

// leastRate is the highest rate that is taken for a machine's least. Ours.
const leastRate unit.Rate = 100

// takenAt gives what a rate takes off in so many minutes, down.
func takenAt(rate unit.Rate, left unit.Minutes) unit.Volume {
	return unit.Volume(int64(rate) * int64(left) / 60)
}

// salineBefore is how long before a low pressure or a cramp was written saline
// may have been given for it. Ours.
const salineBefore = 15 * time.Minute

// forEase reports whether saline was given for a low pressure or a cramp: from
// shortly before the first one on all of it is taken so, whatever the words beside
// it; before that what its words name so ([namesEase]).
func (w *watch) forEase(b *Saline, at time.Time) bool {
	if b.Flush {
		return false // it is in the goal
	}
	return !w.eased.IsZero() && !at.Before(w.eased.Add(-salineBefore)) || namesEase(b.Why)
}

// salineFor sums that saline.
func (w *watch) salineFor() unit.Volume {
	sum := unit.Volume(0)
	Each(w.s, func(b *Saline, e *Event) {
		if w.forEase(b, e.At) && !e.At.After(w.until) {
			sum += b.Volume
		}
	})
	return sum
}

// addedSince gives what was drunk and given beyond the plan between the last
// change of the goal, which took in what was added by then, and now; without
// the saline that was given for a low pressure or a cramp.
func (w *watch) addedSince(changed stretchOfLine, now time.Time) unit.Volume {
	plan, _ := agreed(w.s, now)
	forEase := func(b *Saline, e *Event) bool { return w.forEase(b, e.At) }
	beyond := takenBeyond(w.s, plan, now, forEase)
	if !changed.changedAt.IsZero() {
		beyond -= takenIn(w.s, plan, changed.by, forEase)
	}
	return beyond
}
