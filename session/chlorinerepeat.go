package session

import (
	"time"

	"ebbline/unit"
)

// ChlorineRepeat is how often total chlorine is tested again while a session
// runs. The zero rule asks for none.
type ChlorineRepeat struct {
	Every time.Duration
	SetBy string // empty: the program's own figure
	SetOn unit.Date
}

// Whose names who set the rule, for a sentence.
func (r ChlorineRepeat) Whose() string {
	if r.SetBy == "" {
		return ownDefault
	}
	return "set by " + r.SetBy + " on " + r.SetOn.Long()
}

// Next gives when the test is due again in a session that is running, counted
// from the last test of its water or from the beginning, whichever came later,
// and whether that lies behind now. It gives the zero time when no other test is
// due before the session is planned to end, when the session is not running,
// and for a machine that makes no fluid as it runs: a batch or bags. None
// either where fluid is only removed.
func (r ChlorineRepeat) Next(s *Session, now time.Time) (at time.Time, due bool) {
	began, ok := s.Began()
	if _, over := s.Ended(); !ok || over || r.Every <= 0 || s.RemovalOnly() || s.Machine.Fluid() != FluidTap {
		return time.Time{}, false
	}
	last := began
	Each(s, func(b *Chlorine, e *Event) {
		if e.At.After(last) && !e.At.After(now) && e.Missing["total_chlorine_mg_l"] == "" {
			last = e.At
		}
	})
	at = last.Add(r.Every)
	if run, ok := Follow(s, now); ok && !run.PlannedEnd.IsZero() && !at.Before(run.PlannedEnd) {
		return time.Time{}, false
	}
	return at, !now.Before(at)
}

// beforeDue is how long before it is due a test is spoken of. Ours.
const beforeDue = 20 * time.Minute

// Remark says that the test is due again, or will be shortly. It is no part of
// [Remarks]: the rule is the household's, and the remark is gone once the water
// was tested.
func (r ChlorineRepeat) Remark(s *Session, now time.Time) (Remark, bool) {
	at, due := r.Next(s, now)
	if at.IsZero() || !due && at.Sub(now) > beforeDue {
		return Remark{}, false
	}
	level := LevelNote
	if due {
		level = LevelLook
	}
	f := facts{value: clock(at), limit: hoursText(unit.Minutes(r.Every / time.Minute)), whose: r.Whose(), hard: due}
	return Remark{Code: "chlorine_again", Words: wordsOf("chlorine_again", f), At: at, Level: level}, true
}
