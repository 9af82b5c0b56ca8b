package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// What the last sessions show together stands with the questions for the unit,
// and becomes one only when somebody keeps it.
func TestLatelyIsReadyToBeAsked(t *testing.T) {
	h := home(t, 2, false)
	const said = "of the last 6 sessions. Ask your unit"
	if text := h.see(vida + "/unit"); strings.Contains(text, said) {
		t.Fatalf("the invented life has trouble already: %s", text)
	}
	var cramps []record.Entry
	h.member("p-vida-hribar", func(m *record.Member) {
		for _, s := range m.Sessions[len(m.Sessions)-3:] {
			began, _ := s.Began()
			cramps = append(cramps, record.Entry{ID: "cramp-" + s.ID, Kind: "cramp", Person: m.ID, Session: s.ID, At: began.Add(time.Hour), Body: &session.Cramp{Where: "calf"}})
		}
	})
	if out, err := h.desk.Record(t.Context(), cramps...); err != nil || !out.Clear() {
		t.Fatal(out, err)
	}
	h.says(vida+"/unit", said, "Keep it as a question")
	h.sound("trouble", vida+"/unit", "<b>Unit", 64<<10)
	h.saved(vida+"/question", "words", "Cramps again and again. Why?")
	h.member("p-vida-hribar", func(m *record.Member) {
		if n := len(m.Questions); n == 0 || !strings.HasPrefix(m.Questions[n-1].Value.Words, "Cramps") {
			t.Errorf("%d questions", n)
		}
	})
	// The person sees it at the chair too, before the next session is closed.
	base := h.begin()
	h.later(4 * time.Hour)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "2000", "again.removed_ml", "2000", "returned", "all")
	h.says(base, "Coming off", said)
}
