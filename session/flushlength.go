package session

import (
	"time"

	"ebbline/unit"
)

// takenBeyond gives what came in above what a plan allowed for, up to a moment: drinks and
// saline together, not below 0, and the flushes by their own slots, which may be negative.
// Saline for which except holds is left out. A plan without flushes takes one as any
// saline.
func takenBeyond(s *Session, plan *AgreedPlan, at time.Time, except func(*Saline, *Event) bool) unit.Volume {
	length, _ := Length(s, at)
	return takenOver(s, plan, at, length, except)
}

// takenOver is [takenBeyond] in a session of a length.
func takenOver(s *Session, plan *AgreedPlan, at time.Time, length unit.Minutes, except func(*Saline, *Event) bool) unit.Volume {
	own := plan.flushes(s)
	var taken unit.Volume
	Each(s, func(b *Drink, e *Event) {
		if !e.At.After(at) {
			taken += b.Volume
		}
	})
	Each(s, func(b *Saline, e *Event) {
		if !e.At.After(at) && !(b.Flush && own) && !except(b, e) {
			taken += b.Volume
		}
	})
	beyond := plan.beyond(taken)
	if own {
		beyond += flushesBeyond(s, plan, at, length)
	}
	return beyond
}

// flushes reports whether a plan has flushes as a term of its own.
func (a *AgreedPlan) flushes(s *Session) bool { return a != nil && a.Flushes > 0 && s.Rx.Flushes() }

// takenIn is what of [takenBeyond] a change of the goal, at its place in the log, took in:
// all that came in by then. Of the flushes that its own new length leaves out, or has
// again, it is asked which goal the told one is nearer to:
//
//	wanted by the old length = goal before + beyond the plan since that was told
//	wanted by the new length = the same, with the flushes of the new length
//
// Nearer to the first, only the length was changed, and they are still in the goal.
func takenIn(s *Session, plan *AgreedPlan, place int, except func(*Saline, *Event) bool) unit.Volume {
	e := &s.Log[place]
	all := takenBeyond(s, plan, e.At, except)
	told, is := e.Body.(*GoalChanged)
	if !is || told.Length == nil || !plan.flushes(s) {
		return all
	}
	before := *s
	before.Log = s.Log[:place]
	length, _ := Length(&before, e.At)
	by := takenOver(s, plan, e.At, length, except)
	since := unit.Volume(0)
	for i := place - 1; i >= 0; i-- {
		if b, is := s.Log[i].Body.(*GoalChanged); is && s.Log[i].Struck == nil && b != nil {
			since = takenIn(s, plan, i, except)
			break
		}
	}
	goal, _ := Goal(&before, e.At)
	old := goal + by - since
	if far := told.Goal - old; max(far, -far) < max(far+by-all, -(far+by-all)) {
		return by
	}
	return all
}

// flushesLeftOutBy gives the flushes of a plan that a session of another length than now
// would leave out besides.
func flushesLeftOutBy(s *Session, plan *AgreedPlan, at time.Time, length unit.Minutes) unit.Volume {
	if !plan.flushes(s) {
		return 0
	}
	now, _ := Length(s, at)
	return flushesBeyond(s, plan, at, now) - flushesBeyond(s, plan, at, length)
}
