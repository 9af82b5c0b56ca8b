package record

import (
	"testing"

	"ebbline/session"
)

// Who else is in the house is a word, by command and from paper too; the other
// steps, and one that is taken back or left out, need none.
func TestWhoElseIsInTheHouseIsWritten(t *testing.T) {
	for _, source := range []string{"live", "paper"} {
		b := newBook(t)
		b.must("session_opened", "session-01", &session.Opened{Place: "home", Source: source, Confirmed: true})
		step := func(id, state, note string) *session.StepDone {
			return &session.StepDone{Phase: session.SetUp, Step: id, State: state, Note: note}
		}
		b.refuses(Refuse, "note", "who else is in the house", b.entry("step", "session-01", step(session.NightHouse, "done", " ")))
		b.must("step", "session-01", step(session.NightHouse, "not_done", ""))
		b.must("step", "session-01", step(session.NightHouse, "done", "nobody"))
		b.must("step", "session-01", step(session.NightHouse, "undone", ""))
		b.must("step", "session-01", step(session.NightTape, "done", ""))
	}
}
