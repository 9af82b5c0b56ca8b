package web

import (
	"slices"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// momentOf is the moment that a form of a session is about: now, or for a
// session typed in afterwards the time it was opened.
func momentOf(v visit) time.Time {
	if _, at := v.session.Opened(); fromPaper(v.session) {
		return at
	}
	return v.now
}

// unableAt is what the person said cannot be measured.
func unableAt(v visit) session.Unable {
	return session.UnableAt(v.session, v.member.History(v.session), momentOf(v))
}

// onVitals leaves out of the form of the vitals what need not be said again: a
// month goes by before somebody without a thermometer is asked.
func (f form) onVitals(v visit) form {
	if f.Kind.Name == "vitals_before" && unableAt(v).WithoutThermometer(momentOf(v)) {
		f.Inputs = slices.DeleteFunc(f.Inputs, func(in input) bool { return in.Key == "no_thermometer" })
	}
	return f
}

// vitalsNotes says how to measure, and what was said once that cannot be.
func vitalsNotes(u session.Unable, at time.Time) []string {
	day := func(t time.Time) string { return unit.DateOf(t).Long() }
	notes := []string{"Five minutes of rest first. Sitting, then standing."}
	if !u.Stand.IsZero() {
		notes = []string{"Five minutes of rest first. Lying, then sitting.",
			"You wrote on " + day(u.Stand) + " that you cannot stand. Untick it when you can."}
	}
	switch {
	case u.WithoutThermometer(at):
		notes = append(notes, "You had no thermometer on "+day(u.Thermometer)+". You are asked again on "+day(u.Thermometer.Add(session.NoThermometerFor))+".")
	case !u.Thermometer.IsZero():
		notes = append(notes, "You had no thermometer on "+day(u.Thermometer)+". Take a temperature, or tick it again.")
	}
	return notes
}
