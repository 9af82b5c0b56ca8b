package report

import (
	"testing"

	"ebbline/session"
)

// What was ticked of the person and of the access stands on the sheet, and so
// does the gap.
func TestSheetShowsComplaintsAndSigns(t *testing.T) {
	s := evening(t)
	for i := range s.Log {
		switch s.Log[i].Body.(type) {
		case *session.Fitness:
			s.Log[i].Body = &session.Fitness{Weakness: true, OddPulse: true}
		case *session.AccessCheck:
			s.Log[i].Body = &session.AccessCheck{Thrill: "weaker", Bruit: "present", Warm: true, Arm: true}
		}
	}
	f := sheetFile(t, SheetOf(SheetInput{Head: ilsabet, Session: s, History: history(), Now: made}), printing)
	has(t, "the sheet", f.words(), "newly weak; pulse slow or odd", "weaker, heard", "At the access", "warm;", "newly swollen",
		"Weak, pulse odd. Ring the ambulance first, then your unit; do not wait for the session.")
	old := evening(t)
	for i := range old.Log {
		if _, is := old.Log[i].Body.(*session.AccessCheck); is {
			old.Log[i].Body = &session.AccessCheck{Thrill: "present", Bruit: "present", Skin: "red"}
		}
	}
	has(t, "the sheet", sheetFile(t, SheetOf(SheetInput{Head: ilsabet, Session: old, History: history(), Now: made}), printing).words(), "Skin red", "Red: one sign.")
}
