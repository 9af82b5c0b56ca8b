package session

import (
	"strconv"
	"time"
)

// A FlushMissing is a flush that was due and of which nobody said anything: it was
// neither given nor left out.
type FlushMissing struct {
	Number, Of int
	Due        time.Time
	Since      time.Time // from when on it is remarked on
	Over       bool      // its time is over: it is not in the goal any more
}

// FlushesMissing lists them in a run up to a moment, in order of time: of each that fits
// into the session, [flushGrace] after it was due by treated time. Half an interval after
// it was due its time is over. That half is ours; the longest interval that is common
// without heparin is 30 minutes (from memory).
func FlushesMissing(s *Session, now time.Time) (list []FlushMissing) {
	began, ok := s.Began()
	if !ok || now.Before(began) || !s.Rx.Flushes() {
		return nil
	}
	until := now
	if ended, over := theEnd(s); over && ended.Before(now) {
		until = ended
	}
	length, _ := Length(s, now)
	every, of, treated := lasting(*s.Rx.FlushEvery), s.Rx.FlushCount(length), TreatedFor(s, until)
	for i, one := range flushSlots(s, of, until)[:of] {
		due := time.Duration(i+1) * every
		wait := min(flushGrace, every/2)
		if one.times > 0 || one.left || treated <= due+wait {
			continue
		}
		m := FlushMissing{Number: i + 1, Of: of, Due: instantOf(s, due, until), Over: slotIsOver(i+1, every, treated)}
		if m.Over {
			wait = every / 2
		}
		m.Since = instantOf(s, due+wait, until)
		list = append(list, m)
	}
	return list
}

// flushes remarks on those that are missing: a note while one can still be given in its
// time, a look from there on.
func (w *watch) flushes() {
	for _, m := range FlushesMissing(w.s, w.until) {
		level := LevelNote
		if m.Over {
			level = LevelLook
		}
		w.out = append(w.out, Remark{Code: "flush_late", At: m.Since, Level: level,
			Words: wordsOf("flush_late", facts{value: strconv.Itoa(m.Number), was: clock(m.Due), hard: m.Over})})
	}
}
