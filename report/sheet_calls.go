package report

import (
	"fmt"

	"ebbline/session"
)

// calls are all calls about this session, struck ones included: when, whom, and
// what was said.
func (m *maker) calls() []Line {
	m.placed["rang"] = true
	var out []Line
	for i := range m.s.Log {
		e := &m.s.Log[i]
		if b, ok := e.Body.(*session.Rang); ok {
			out = append(out, m.line(e, "Rang "+b.Whom, b.Said))
		}
	}
	return out
}

// undone are the values that stopped the start, or were a low blood sugar of the run,
// and were struck out or corrected, each with the reason that was typed.
func (m *maker) undone() []Line {
	var out []Line
	for _, u := range session.UndoneStops(m.s, m.History) {
		about := checkTitle(u.Check)
		if !u.Then.IsZero() {
			about += ", " + m.moment(u.Then)
		}
		out = append(out, m.undoneLine("Undone after it stopped the start ("+about+")", u))
	}
	for _, u := range session.UndoneSugars(m.s) {
		out = append(out, m.undoneLine("Undone after it was low (blood sugar, "+m.moment(u.Then)+")", u))
	}
	return out
}

func (m *maker) undoneLine(title string, u session.Undone) Line {
	how := "Corrected"
	switch {
	case u.Struck:
		how = "Struck out"
	case u.Again:
		how = "Written again"
	}
	if u.What != "" {
		how += " (" + u.What + ")"
	}
	_, opened := m.s.Opened()
	words := fmt.Sprintf("%s %s%s.", u.Words, how, by(u.By))
	if !u.Again {
		words += " Reason: " + reason(u.Reason)
	}
	return Line{At: m.moment(u.At.In(opened.Location())), Title: title, Words: words}
}
