package household

import (
	"encoding/hex"
	"time"

	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
)

// Head gives whose document it is, for every page that is printed.
func Head(h *record.Household, m *record.Member, rx *session.Prescription) report.Head {
	p, _ := m.Person.Now()
	u, _ := h.Unit.Now()
	head := report.Head{
		Name: p.Name, BirthYear: p.BirthYear, Colour: p.Colour, Number: p.Number, Allergies: p.Allergies,
		Unit: u.Name, Telephone: u.Day,
	}
	if rx != nil {
		head.Prescription = "ordered by " + rx.OrderedBy + " on " + rx.OrderedOn.Long()
	}
	return head
}

// Sheet makes the sheet of a session as it stands now.
func Sheet(h *record.Household, m *record.Member, s *session.Session, now time.Time) report.Sheet {
	return report.SheetOf(report.SheetInput{
		Head: Head(h, m, s.Rx), Session: s, History: m.History(s), Now: now,
		Steps: []session.RunSheet{m.SetUpFor(s, now), m.SheetFor(s, session.TakeOff)},
	})
}

// BlankSheet makes the form for a day on paper, by the prescription in force.
func BlankSheet(h *record.Household, m *record.Member, now time.Time) report.Sheet {
	machine, _ := h.Machine.Now()
	var rx *session.Prescription
	if in := m.Prescription(unit.DateOf(now)); in != nil {
		rx = &in.Value
	}
	return report.BlankSheet(Head(h, m, rx), rx, machine)
}

// Printing says what a print is made from: when, of which state of the record,
// and whether all of it is invented.
func (d *Desk) Printing(h *record.Household) report.Printing {
	_, hash := d.journal.Head()
	return report.Printing{At: d.Now().Format("2 January 2006 at 15:04"), Hash: hex.EncodeToString(hash[:6]), Demo: h.Demo}
}
