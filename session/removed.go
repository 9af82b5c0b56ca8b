package session

import (
	"time"

	"ebbline/unit"
)

// A count follows what a machine shows as removed. When its count began at zero
// again, what it showed before is added from then on:
//
//	removed = Σ last value shown before each new beginning + value shown now   (mL)
//
// What came off between that last value and the new beginning is not known and
// is not in it.
type count struct {
	before unit.Volume // of counts that are over
	shown  unit.Volume // last, of this one
}

// take takes in an entry that tells of removal and gives all that was removed by
// then; ok is false for an entry that tells of none.
func (c *count) take(e *Event) (total unit.Volume, ok bool) {
	if e.Struck != nil {
		return 0, false
	}
	var shown *unit.Volume
	switch b := e.Body.(type) {
	case *Reading:
		if b.Again {
			c.before, c.shown = c.before+c.shown, 0
		}
		shown = b.Removed
	case *CameOff:
		shown = b.Removed
	}
	if shown == nil {
		return 0, false
	}
	c.shown = *shown
	return c.before + c.shown, true
}

// A Count is what was known of the removal at a moment.
type Count struct {
	Removed unit.Volume // in all
	Shown   unit.Volume // by the machine: less than Removed once its count began again
	Before  unit.Volume // Removed at the reading of it before this one
	At      time.Time   // when it was read; zero when never
}

// Counted gives the removal as last typed from the machine up to an instant.
func Counted(s *Session, at time.Time) Count {
	var c count
	var out Count
	for i := range s.Log {
		e := &s.Log[i]
		if e.At.After(at) {
			break
		}
		if total, ok := c.take(e); ok {
			out.Before, out.Removed, out.At = out.Removed, total, e.At
		}
	}
	out.Shown = c.shown
	return out
}

// removedBy gives the removal last typed from the machine up to an instant, with
// what its earlier counts showed.
func removedBy(s *Session, at time.Time) (*unit.Volume, time.Time) {
	c := Counted(s, at)
	if c.At.IsZero() {
		return nil, time.Time{}
	}
	return &c.Removed, c.At
}

// RemovedInAll gives the total typed at the end of a treatment, with what earlier
// counts of the machine showed; nil while none was typed. A reading before the
// end is not the end.
func RemovedInAll(s *Session) *unit.Volume {
	off, ended := Last[CameOff](s)
	if off == nil || off.Removed == nil {
		return nil
	}
	c := Counted(s, ended.At)
	return &c.Removed
}
