package report

import (
	"fmt"
	"strings"

	"ebbline/session"
)

// catheter is what was done at a catheter before the start, where another access has
// its needles: the old lock, lumen by lumen, cuff and length.
func (m *maker) catheter() Part {
	p := m.part([]string{"lock_drawn"},
		Field{Label: "Old lock, arterial", Value: m.drawn("arterial", "arterial_ml")},
		Field{Label: "Old lock, venous", Value: m.drawn("venous", "venous_ml")},
		m.clots(),
		Field{Label: "Cuff", Value: m.choice("access_check", "cuff")},
		Field{Label: "Length outside", Value: m.choice("access_check", "outer_length")},
		m.optional("In words", "lock_drawn", "note"),
	)
	p.Heading = "Catheter"
	return p
}

// drawn is what became of the old lock of one lumen, and how much came.
func (m *maker) drawn(lumen, volume string) Value {
	v := m.choice("lock_drawn", lumen)
	if much := m.value("lock_drawn", volume); v.Text != "" && much.Text != "" {
		v.Text += ", " + much.Text + "\u00a0" + much.Unit
	}
	return v
}

// choice is a value that is one of a few words; on a form for paper they stand there to
// be ticked.
func (m *maker) choice(kind, key string) Value {
	v := m.value(kind, key)
	if m.blank {
		var words []string
		for _, c := range fieldOf(kind, key).Choices {
			words = append(words, c.Label)
		}
		v.Text = m.tick(words...)
	}
	return v
}

func (m *maker) clots() Field {
	e := m.last("lock_drawn")
	if e == nil {
		return Field{}
	}
	if b, ok := e.Body.(*session.LockDrawn); !ok || !b.Clots {
		return Field{}
	}
	return Field{Label: "Clots", Value: Value{Text: "seen in what was drawn"}}
}

// lock is what was to stay in the catheter: as it was read before the end of the
// treatment, or as it was written after it.
func (m *maker) lock(after bool) Value {
	var v Value
	var counts *session.Event
	m.placed["catheter_lock"] = true
	for i := range m.s.Log {
		e := &m.s.Log[i]
		if e.Kind != "catheter_lock" || after != (!m.ended.IsZero() && !e.At.Before(m.ended)) {
			continue
		}
		if e.Struck != nil {
			v.Marks = append(v.Marks, m.note(fmt.Sprintf("struck out: %s%s", m.whole(e), m.strike(e))))
			continue
		}
		if counts != nil {
			v.Marks = append(v.Marks, m.note(fmt.Sprintf("earlier, at %s: %s", m.moment(counts.At), m.whole(counts))))
		}
		counts = e
	}
	if counts == nil {
		return v
	}
	if b, ok := counts.Body.(*session.CatheterLock); ok {
		v.Text = joined(", ", b.Text(), lotOf(counts))
	}
	v.Marks = append(m.marksOf(counts), v.Marks...)
	return v
}

// catheterAfter is how a catheter was closed. The lock stands apart from the heparin
// of the session.
func (m *maker) catheterAfter() []Field {
	given := Field{Label: "Lock given", Value: m.lock(true)}
	if !m.s.Rx.ByCatheter() && given.Value.Blank() && len(given.Value.Marks) == 0 {
		return nil
	}
	if _, e := session.LockAfter(m.s); e != nil {
		given.At = m.clock(e.At)
	}
	for _, words := range session.LockAtEnd(m.s, m.History) {
		given.Value.Marks = append(given.Value.Marks, m.note(words))
	}
	return []Field{given, {Label: "New caps", Value: m.ticked(session.CapsStep)}, {Label: "Clamps shut", Value: m.ticked(session.ShutStep)}}
}

// ticked is when a step of coming off was ticked; blank where it was not, or was taken
// back.
func (m *maker) ticked(step string) (v Value) {
	if m.blank {
		return Value{Text: m.tick("yes")}
	}
	session.Each(m.s, func(b *session.StepDone, e *session.Event) {
		if b.Phase == session.TakeOff && b.Step == step {
			v = Value{}
			switch b.State {
			case session.StepIsDone:
				v.Text = m.clock(e.At)
			case session.StepNotDone:
				v.Gap = strings.TrimSpace("not done " + b.Note)
			}
		}
	})
	return v
}
