package report

import (
	"strings"
	"time"

	"ebbline/session"
)

// The blood sugar of a session: before and after in their own parts, each one with its
// time among what happened.

// orderedSugar says that the unit marked it, with its figure and its hours.
func orderedSugar(rx *session.Prescription) string {
	if !rx.MarkedGlucose() {
		return ""
	}
	parts := []string{"before and after"}
	if rx.GlucoseEvery != nil {
		parts = append(parts, "every "+rx.GlucoseEvery.Text())
	}
	if rx.GlucoseLow != nil {
		parts = append(parts, "low under "+rx.GlucoseLow.Text())
	}
	return strings.Join(parts, ", ")
}

// sugarBefore is the last one before the treatment, or before now.
func (m *maker) sugarBefore() Field {
	return m.sugar("Blood sugar", func(at time.Time) bool { return m.began.IsZero() || !at.After(m.began) })
}

// sugarAfter is the last one after the treatment, with what was low or high after it, and the hours
// in the treatment at which none was measured.
func (m *maker) sugarAfter() Field {
	f := m.sugar("Blood sugar", func(at time.Time) bool { return !m.ended.IsZero() && !at.Before(m.ended) })
	for _, said := range session.AfterSugars(m.s, m.Now) {
		f.Label = "Blood sugar"
		f.Value.Marks = append(f.Value.Marks, m.note(said.Words))
	}
	var late []string
	for _, at := range session.LateSugars(m.s, m.present()) {
		late = append(late, m.clock(at))
	}
	if len(late) > 0 {
		f.Label = "Blood sugar"
		f.Value.Marks = append(f.Value.Marks, m.note("Blood sugar not measured when it was due, at "+strings.Join(late, ", ")))
	}
	return f
}

// sugar is the last one within a time; without one it is left out where the unit did not
// mark it.
func (m *maker) sugar(label string, within func(time.Time) bool) Field {
	var f Field
	if m.s.Rx.MarkedGlucose() {
		f.Label = label
	}
	if m.blank {
		if f.Label != "" {
			f.Value.Unit = "mmol/L or mg/dL"
		}
		return f
	}
	session.Each(m.s, func(b *session.Glucose, e *session.Event) {
		if text := b.Text(); text != "" && within(e.At) {
			f = Field{Label: label, At: m.clock(e.At), Value: Value{Text: text, Marks: m.marksOf(e)}}
		}
	})
	return f
}
