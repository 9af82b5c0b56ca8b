package record

import (
	"slices"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// Pregnant reports whether the person is pregnant, or may be, at a moment, by all
// sessions, as [session.IsPregnant] has it: then no guideline's figure of the dose is shown.
func (m *Member) Pregnant(at time.Time) bool {
	_, so := m.PregnantSince(at)
	return so
}

// PregnantSince gives what tells of a pregnancy at a moment: when it was last written of
// the person, or else told in a session since that; so is false where nothing does.
func (m *Member) PregnantSince(at time.Time) (told time.Time, so bool) {
	who := m.who(at)
	if who.Pregnant {
		return who.Written, true
	}
	if last := m.before(nil).PregnantTold; !last.After(who.Written) {
		return time.Time{}, false
	}
	for _, s := range slices.Backward(m.Sessions) {
		if s.Abandoned() {
			continue
		}
		session.Each(s, func(b *session.Fitness, e *session.Event) {
			if b.Pregnant && e.At.After(who.Written) && !e.At.After(at) {
				told, so = e.At, true
			}
		})
		if so {
			return told, true
		}
	}
	return time.Time{}, false
}

// stillPregnant asks whether a pregnancy is over where the person is written again
// without it: who only adds an allergy has not said so.
func (c *Checker) stillPregnant(p *Person) {
	if c.Member == nil || p.Pregnant {
		return
	}
	if told, so := c.Member.PregnantSince(c.Entry.At); so {
		c.Ask("pregnant", "is not ticked, and a pregnancy was told on %s. Is it over? Then say no again; if it is not, tick it", unit.DateOf(told).Long())
	}
}
