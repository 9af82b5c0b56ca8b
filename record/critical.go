package record

import (
	"slices"
	"time"

	"ebbline/session"
)

// A Critical is a critical result about which nobody has been rung yet, by
// what is written down.
type Critical struct {
	Blood  *Blood
	Result BloodResult
	Judged BloodVerdict
}

// CriticalOpen lists critical results, newest first, about which nothing is
// written of whom was rung. Each stays in the list until an entry of kind
// blood_call names it; there is no other way to put it away.
func (m *Member) CriticalOpen() []Critical {
	return m.criticalOpen(func(time.Time, int) bool { return true })
}

// criticalOpen is [Member.CriticalOpen] by those samples and calls alone that were
// known, by their moment and their place in the order of writing.
func (m *Member) criticalOpen(known func(at time.Time, place int) bool) []Critical {
	var open []Critical
	for i := len(m.Bloods) - 1; i >= 0; i-- {
		b := m.Bloods[i]
		if !b.Counts() || !known(b.At, b.place) {
			continue
		}
		for _, r := range b.Value.Results {
			limits := m.LimitsAt(r.Analyte, b.Since)
			if !limits.reached(r) {
				continue
			}
			if j := limits.Judge(r, b.Value.Timing); j.Critical != "" && !m.called(b, r, known) {
				open = append(open, Critical{b, r, j})
			}
		}
	}
	return open
}

// criticalAtStart lists the critical results that hold up a start made after a
// moment: those that Today asks to ring about, until a later sample that was not
// drawn after a session finds the same thing no longer critical. What was written
// down after the lines were joined holds up nothing.
func (m *Member) criticalAtStart(s *session.Session, until time.Time) []session.Waiting {
	began := -1
	if s != nil {
		session.Each(s, func(_ *session.Connected, e *session.Event) {
			if began < 0 {
				began = e.Place
			}
		})
	}
	known := func(at time.Time, place int) bool { return !at.After(until) && (began < 0 || place < began) }
	var list []session.Waiting
	for _, c := range m.criticalOpen(known) {
		better := slices.ContainsFunc(m.Bloods, func(b *Blood) bool {
			r := b.Value.Find(c.Result.Analyte)
			return r != nil && b.Counts() && b.At.After(c.Blood.At) && known(b.At, b.place) && b.Value.Timing != Post &&
				m.LimitsAt(r.Analyte, b.Since).Judge(*r, b.Value.Timing).Critical == ""
		})
		if better {
			continue
		}
		since := c.Blood.At // or when it was typed in: a call before that was not about it
		if c.Blood.Since.After(since) && !c.Blood.Since.After(until) {
			since = c.Blood.Since
		}
		list = append(list, session.Waiting{Words: c.Words() + " Ring your unit now.", Since: since, Limit: c.Judged.CriticalWhose})
	}
	return list
}

// called reports whether a call about this result is written down: of the sample
// as it stands, or of an earlier version in which the result was the same.
func (m *Member) called(b *Blood, r BloodResult, known func(at time.Time, place int) bool) bool {
	for {
		for _, c := range m.Calls {
			if c.Struck == nil && known(c.At, c.place) && c.Value.Bloods == b.ID && c.Value.Analyte == r.Analyte {
				return true
			}
		}
		before := m.Blood(b.Corrects)
		if b.Corrects == "" || before == nil {
			return false
		}
		old := before.Value.Find(r.Analyte)
		if old == nil || old.Op != r.Op || old.Value != r.Value || old.Unit != r.Unit {
			return false
		}
		b = before
	}
}

// Words say what is critical and what a person must know of it.
func (c Critical) Words() string {
	s := AnalyteName(c.Result.Analyte) + " " + c.Result.Text() + ": " + c.Judged.CriticalWords + "."
	if c.Blood.Value.Haemolysed {
		s += " The laboratory marked the sample as haemolysed; it may read high, and it may be true."
	}
	if c.Blood.Value.Timing == Post {
		s += " It was drawn after the session."
	}
	return s
}

// Whose says who set the limit that makes it critical.
func (c Critical) Whose() string { return "That limit is " + c.Judged.CriticalWhose + "." }
