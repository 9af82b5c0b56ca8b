package session

import "time"

// Whom is what a session must know of its person, as it was written down at the
// time. The zero value is somebody of whom no pregnancy is written. A child is told by
// [Session.Child].
type Whom struct {
	Pregnant bool      // or may be
	Written  time.Time // when that was last written; zero where nothing is
}

// IsPregnant reports whether somebody is pregnant, or may be, at a moment of a
// session: it is written of the person, or was told under "How am I?" in this session
// or an earlier one since the person was last written. Written again without it, as
// after the birth, it is over; the record asks for that to be confirmed. An answer that
// does not tell of it ends nothing.
func IsPregnant(s *Session, h History, at time.Time) bool {
	if h.Who.Pregnant || h.PregnantTold.After(h.Who.Written) {
		return true
	}
	told := false
	Each(s, func(b *Fitness, e *Event) {
		told = told || b.Pregnant && !e.At.After(at) && e.At.After(h.Who.Written)
	})
	return told
}

// toldInSession reports whether an answer of a session before an entry told of a
// pregnancy; for nil any answer.
func toldInSession(s *Session, before *Event) (told bool) {
	Each(s, func(b *Fitness, e *Event) {
		earlier := before == nil || e.At.Before(before.At) || e.At.Equal(before.At) && e.Place < before.Place
		told = told || b.Pregnant && earlier
	})
	return told
}

// ownStop names the program's own rate that stops, in mL/h per kg of dry weight: as its
// own figure, or in a pregnancy told in the session, whose people it is not from, as
// where it stops.
func ownStop(s *Session) string {
	if s.Rx == nil || !toldInSession(s, nil) {
		return "13\u00a0mL/h/kg (ours)"
	}
	return stopsHere(s.Rx)
}

// newlyPregnant reports whether one answer tells of a pregnancy that was not known
// before it. Of an earlier telling only the last is known; where that one does not
// lie before the answer, the answer counts as the first.
func (l startLine) newlyPregnant(b *Fitness, e *Event) bool {
	who, told := l.h.Who, l.h.PregnantTold
	switch {
	case !b.Pregnant,
		who.Pregnant && who.Written.Before(e.At),
		told.After(who.Written) && told.Before(e.At):
		return false
	}
	known := false
	Each(l.s, func(one *Fitness, when *Event) {
		before := when.At.Before(e.At) || when.At.Equal(e.At) && when.Place < e.Place
		known = known || one.Pregnant && before && when.At.After(who.Written)
	})
	return !known
}
