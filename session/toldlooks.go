package session

import (
	"slices"
	"time"
)

// What is to look at in a run and stands in no entry of it: of its batch, and of an
// answer of the start that was written otherwise since. The next reading is due after it
// as after any other look.

// toldRemarks are those remarks, in order of time.
func toldRemarks(s *Session, h History, now time.Time) []Remark {
	list := append(FluidRemarks(s, h, now), StartRemarks(s, h, now)...)
	slices.SortStableFunc(list, func(a, b Remark) int { return a.At.Compare(b.At) })
	return list
}

// looksOf are those of level look.
func looksOf(list []Remark) (looks []Remark) {
	for _, r := range list {
		if r.Level == LevelLook {
			looks = append(looks, r)
		}
	}
	return looks
}

// NextCheckWith is [NextCheck] with what the household knows: a look at the batch, or at
// the start line written otherwise, brings the reading forward too.
func NextCheckWith(s *Session, h History, now time.Time) (due CheckDue, ok bool) {
	return nextCheck(s, now, looksOf(toldRemarks(s, h, now)))
}

// DueWith takes the next reading of [NextCheckWith] into a run that is under way.
func (r *Run) DueWith(s *Session, h History, now time.Time) {
	if r.Began.IsZero() || !r.Ended.IsZero() {
		return
	}
	r.due(NextCheckWith(s, h, now))
}

// toldBefore takes in the looks that came to light before an entry, and gives the rest. One
// that a reading itself shows comes after it, and is not answered by it.
func (w *watch) toldBefore(told []Remark, e *Event) (rest []Remark) {
	for i, r := range told {
		if !r.At.Before(e.At) {
			return told[i:]
		}
		w.check.look(&Event{At: r.At}, false)
	}
	return nil
}

// local is a moment in the zone in which the session was opened.
func (s *Session) local(at time.Time) time.Time {
	_, opened := s.Opened()
	return at.In(opened.Location())
}
