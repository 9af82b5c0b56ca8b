package report

import (
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// A call stands on the sheet with its time, whom and what was said; what stopped
// the start and was taken back stands there with the reason; a disinfection while
// setting up is not the one after the treatment. On every form of the sheet.
func TestCallsAndWhatWasUndone(t *testing.T) {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	for _, e := range evening(t).Log {
		if e.Kind != "disinfection" {
			d.s.Add(e)
		}
	}
	d.n = 700
	d.add(d.at(17, 43), &session.Disinfection{Programme: "heat", Result: "passed"})
	d.add(d.at(18, 1), &session.Rang{Whom: "Unit, by day, +000 55 01", Said: "draw behind the second carbon"})
	wrong := d.add(d.at(18, 3), &session.BathLabel{K: 300, Ca: 150, Lot: "B-1", Expiry: unit.NewDate(2027, 1, 31)})
	wrong.Struck = &session.Strike{At: d.at(18, 5), By: "Torleiv", Reason: "the canister of the neighbour"}
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, History: history(), Now: made})
	if len(s.Calls) != 1 || s.Calls[0].At != "18:01" || s.Calls[0].Title != "Rang Unit, by day, +000 55 01" || s.Calls[0].Words != "draw behind the second carbon" {
		t.Errorf("calls: %+v", s.Calls)
	}
	if len(s.Undone) != 1 || s.Undone[0].At != "18:05" || s.Undone[0].Title != "Undone after it stopped the start (bath, 18:03)" ||
		s.Undone[0].Words != "Label K 3, prescribed 2. Do not use it. Struck out by Torleiv. Reason: the canister of the neighbour" {
		t.Errorf("undone: %+v", s.Undone)
	}
	// What the record took away besides, by an entry of the house, stands there too.
	known := history()
	known.Undone = []session.Undone{
		{What: "Delivery", Check: session.CheckHeparin, Words: "Read the label.", At: d.at(18, 7), By: "Torleiv", Reason: "the label was misread"},
		{Check: session.CheckBath, Words: "of the log", At: d.at(18, 8), InLog: true},
	}
	more := SheetOf(SheetInput{Head: ilsabet, Session: d.s, History: known, Now: made}).Undone
	if len(more) != 2 || more[1].At != "18:07" || more[1].Title != "Undone after it stopped the start (heparin)" ||
		more[1].Words != "Read the label. Corrected (Delivery) by Torleiv. Reason: the label was misread" {
		t.Errorf("undone in the house: %+v", more)
	}
	html := pageOf(t, s, printing)
	pdf := sheetFile(t, s, printing).words()
	for _, want := range []string{"Rang", "draw behind the second carbon", "Undone after it stopped the start", "the canister of the neighbour", "heat, passed · 17:43"} {
		if !strings.Contains(html, want) {
			t.Errorf("the page does not hold %q", want)
		}
		if !strings.Contains(strings.Join(strings.Fields(pdf), " "), want) {
			t.Errorf("the print does not hold %q", want)
		}
	}
	for _, f := range s.After.Fields {
		if f.Label == "Disinfection" && (f.Value.Text != "" || f.At != "") {
			t.Errorf("after the treatment: %+v", f)
		}
	}
	for _, e := range s.Events {
		if strings.HasPrefix(e.Title, "Rang") {
			t.Errorf("the call stands a second time: %+v", e)
		}
	}
}
