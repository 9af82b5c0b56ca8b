package report

import (
	"slices"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// The grid has no column for heparin where none is ordered and none was written.
func TestNoColumnForHeparin(t *testing.T) {
	has := func(s *session.Session) bool {
		m := &maker{s: s, placed: map[string]bool{}}
		return slices.ContainsFunc(m.columns(), func(c gridColumn) bool { return c.key == "heparin_so_far_iu" })
	}
	s := &session.Session{Rx: &session.Prescription{Heparin: "none"}, Log: []session.Event{{Kind: "reading", Body: &session.Reading{}}}}
	if has(s) {
		t.Error("a column for heparin that nobody ordered")
	}
	s.Log[0].Body = &session.Reading{Heparin: ptr(unit.Dose(500))}
	if !has(s) {
		t.Error("what was written is not shown")
	}
	s.Log[0].Body, s.Rx.Heparin = &session.Reading{}, "unfractionated"
	if !has(s) {
		t.Error("no column for heparin that is ordered")
	}
}
