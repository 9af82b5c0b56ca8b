package report

import (
	"time"

	"ebbline/session"
)

// paperPlan is the unit's paper as it was typed, in the place of a sum: nobody here
// added it up. What was weighed stands beside it.
func (m *maker) paperPlan(b *session.PaperPlan, e *session.Event) Plan {
	p := Plan{Ordered: m.ordered(), At: m.clock(e.At)}
	p.Sum = []Term{
		{"", "Weight before", m.value("weigh_in", "weight_kg"), false}, {"", "Clothes", m.value("weigh_in", "clothing_kg"), false},
		{"", "Dry weight", m.dry(), false}, {"", "By the unit's paper", volume(b.Goal), true},
	}
	p.Sum[len(p.Sum)-1].Value.Marks = m.marks("paper_plan")
	p.Set = []Field{
		{Label: "Paper", Value: Value{Text: b.From}}, {Label: "Dialled in", At: p.At, Value: Value{Text: m.goal(b.Goal)}},
		{Label: "Over", Value: Value{Text: hours(b.Length)}},
	}
	if b.Rate != nil {
		p.Set = append(p.Set, Field{Label: "Highest rate", Value: Value{Text: b.Rate.String(), Unit: "mL/h"}})
	}
	p.Set = append(p.Set, Field{Label: "Machine shows", At: m.at("read_back"), Value: m.shows()})
	return p
}

// profiles are what the unit ordered to run by a profile of the machine.
func profiles(rx *session.Prescription) string {
	switch {
	case rx.RemovalProfile && rx.SodiumProfile:
		return "removal, sodium"
	case rx.RemovalProfile:
		return "removal"
	}
	return "sodium"
}

// now is the moment of the session's last entry.
func (m *maker) now() (last time.Time) {
	for i := range m.s.Log {
		if at := m.s.Log[i].At; last.Before(at) {
			last = at
		}
	}
	return last
}
