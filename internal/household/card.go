package household

import (
	"fmt"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
)

// Phones lists the unit's numbers that there are, in the order in which to try
// them.
func Phones(u record.KidneyUnit) []report.Phone {
	return there(append(append([]report.Phone{ambulanceOf(u)}, unitsOwn(u)...), technicianOf(u)))
}

// PhonesUnitFirst lists the same numbers as a call about a session is written down:
// the unit's by day and at night, the technician's, and the ambulance's last.
func PhonesUnitFirst(u record.KidneyUnit) []report.Phone {
	return there(append(unitsOwn(u), technicianOf(u), ambulanceOf(u)))
}

// Card makes a person's emergency card as it stands on a day: the unit's own
// words, one act a line, and the numbers for somebody in danger, of which the
// technician's is none. Past its day it says that it is old. Without a person
// it holds the numbers alone.
func Card(h *record.Household, m *record.Member, day unit.Date) report.Card {
	var c report.Card
	if u, ok := h.Unit.Now(); ok {
		u.Technician = ""
		c.Phones = Phones(u)
	}
	if m == nil {
		return c
	}
	var rx *session.Prescription
	if in := m.Prescription(day); in != nil {
		rx = &in.Value
		c.Access = wordOf("access", rx) + ", " + wordOf("access_side", rx)
	}
	c.Head = Head(h, m, rx)
	for _, t := range session.TroublesFor(rx) {
		if steps, given := Steps(h, m, t, day, time.Time{}); given {
			c.Troubles = append(c.Troubles, steps)
		}
	}
	given, ok := m.Cards.Now()
	if !ok {
		return c
	}
	c.Words, c.From, c.Stale = acts(given.Words), given.From+", "+given.GivenOn.Long(), old(given.ReviewBy, day)
	return c
}

// Steps gives what the unit wants done when one thing is wrong, as it stands on a
// day, with the numbers in the order in which to ring them at a moment (at the zero
// time, as on paper); given is false where the unit gave no steps for it: then
// there are the numbers and the line about the blood alone.
func Steps(h *record.Household, m *record.Member, t session.TroubleType, day unit.Date, at time.Time) (s report.CardTrouble, given bool) {
	s.Title, s.Blood = t.Title, t.Blood.Words()
	steps := m.StepsFor(t.Code)
	if steps != nil {
		v := steps.Value
		s.Words, s.From, s.Stale = acts(v.Words), v.From+", "+v.GivenOn.Long(), old(v.ReviewBy, day)
		if v.Saline != nil {
			s.Figures = append(s.Figures, "Saline each time: "+v.Saline.Text())
		}
		if v.BackIn != nil {
			s.Figures = append(s.Figures, fmt.Sprintf("The blood goes back within %d\u00a0min; after that no longer", *v.BackIn))
		}
	}
	if u, ok := h.Unit.Now(); ok {
		s.Phones = RingFirst(u, Rings(h, m, t), at)
	}
	return s, steps != nil
}

// acts are the words of the unit, one act a line.
func acts(words string) (list []string) {
	for line := range strings.Lines(words) {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}

// old says that what the unit gave was to be looked at again; empty before that day.
func old(reviewBy, day unit.Date) string {
	if reviewBy.IsZero() || !reviewBy.Before(day) {
		return ""
	}
	return "OLD: to be looked at again since " + reviewBy.Long() + ". Ask your unit."
}

// wordOf is one choice of the prescription in its words.
func wordOf(key string, rx *session.Prescription) string {
	kind, _ := record.Find("prescription")
	f, _ := kind.Field(key)
	text := f.Text(rx)
	for _, c := range f.Choices {
		if c.Value == text {
			return c.Label
		}
	}
	return text
}
