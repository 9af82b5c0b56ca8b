package session

import (
	"time"

	"ebbline/unit"
)

// stillOff is how much the count may grow while removal is taken to be off by a
// reading of its rate: more than that, and it runs again. Ours.
const stillOff unit.Volume = 50

// RemovalOffs lists when removal was off while the treatment went on, in order:
// what did not come off then is not made good by itself.
//
// It is off from an entry that says so, or from a reading of 0 mL/h, until an
// entry says that it is on, or until a reading shows a rate (and no count that
// stood still). Off by a reading alone it is also on again with another goal, and
// from a reading whose count grew by more than 50 mL. Nothing else ends what the
// person said: a machine may go on counting at its smallest rate.
func RemovalOffs(s *Session) []Stretch {
	began, ok := s.Began()
	if !ok {
		return nil
	}
	ended, over := theEnd(s)
	var out []Stretch
	open, told := false, false
	c := countOf(s)
	var last, stood unit.Volume // last count, and the one at which removal was switched off
	begin := func(at time.Time, why string) {
		if !open {
			out, open, stood = append(out, Stretch{From: at, Why: why}), true, last
		}
	}
	end := func(at time.Time) {
		if open {
			out[len(out)-1].End, open, told = at, false, false
		}
	}
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.Before(began) || over && e.At.After(ended) {
			continue
		}
		total, counted := c.take(e)
		switch b := e.Body.(type) {
		case *RemovalOff:
			begin(e.At, b.Why)
			told = true
		case *RemovalOn:
			end(e.At)
		case *GoalChanged:
			if !told {
				end(e.At)
			}
		case *Reading:
			switch {
			case b.Rate != nil && *b.Rate == 0:
				begin(e.At, "")
			case b.Rate != nil && (!counted || total > stood), counted && !told && total > stood+stillOff:
				end(e.At)
			}
		}
		if counted {
			if last = total; open && out[len(out)-1].From.Equal(e.At) {
				stood = total
			}
		}
	}
	if open && over {
		out[len(out)-1].End = ended
	}
	return out
}

// RemovalIsOff reports whether removal is off at an instant, and since when.
func RemovalIsOff(s *Session, at time.Time) (since time.Time, off bool) {
	for _, p := range RemovalOffs(s) {
		if !at.Before(p.From) && (p.End.IsZero() || at.Before(p.End)) {
			return p.From, true
		}
	}
	return time.Time{}, false
}
