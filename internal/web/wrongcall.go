package web

import (
	"strings"

	"ebbline/session"
)

// A wrongCall is a call that is written down under a trouble: whom, and what was said by
// one press or in words. A call that reached nobody is a note: it answers nothing.
type wrongCall struct {
	wrongTap
	Whom    string   // as a sentence goes on: "the ambulance"
	Answers []string // ready ones, in nobody's name; none before the treatment, where a call answers stops
	NoteID  string
	Nobody  string // the words of that note
}

// callOf makes the call of a tap whose value names whom.
func callOf(t wrongTap, one *session.Session) wrongCall {
	c := wrongCall{wrongTap: t, Whom: "your " + strings.ToLower(t.Words), Answers: []string{"They ring back"}, NoteID: newID()}
	switch {
	case strings.HasPrefix(t.Value, "Ambulance"):
		c.Whom, c.Answers = ringWords[session.RingAmbulance], []string{"They come", "They ring back"}
	case strings.HasPrefix(t.Value, "Technician"):
		c.Whom = ringWords[session.RingTechnician]
	}
	if one.Phase() == session.SettingUp {
		c.Answers = nil
	}
	c.Nobody = "Rang " + t.Value + ": nobody answered"
	return c
}
