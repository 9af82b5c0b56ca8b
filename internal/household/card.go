package household

import (
	"strings"

	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
)

// Phones lists the unit's numbers that there are, in the order in which to try
// them.
func Phones(u record.KidneyUnit) []report.Phone {
	var list []report.Phone
	for _, p := range []report.Phone{
		{Who: "Ambulance", Number: u.Ambulance}, {Who: "Unit, by day", Number: u.Day}, {Who: "Unit, at night", Number: u.Night}, {Who: "Technician", Number: u.Technician},
	} {
		if p.Number != "" {
			list = append(list, p)
		}
	}
	return list
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
	given, ok := m.Cards.Now()
	if !ok {
		return c
	}
	for line := range strings.Lines(given.Words) {
		if line = strings.TrimSpace(line); line != "" {
			c.Words = append(c.Words, line)
		}
	}
	c.From = given.From + ", " + given.GivenOn.Long()
	if !given.ReviewBy.IsZero() && given.ReviewBy.Before(day) {
		c.Stale = "OLD: to be looked at again since " + given.ReviewBy.Long() + ". Ask your unit."
	}
	return c
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
