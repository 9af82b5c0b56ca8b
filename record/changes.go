package record

import (
	"reflect"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A Change is one line of the prescription that is not as it was.
type Change struct{ Label, Was, Now string }

// Changes compares a prescription version with the one that the person last
// dialysed by, line by line. It is empty when there was none, when nothing
// differs, and when the person has said that they read it.
func (m *Member) Changes(rx *Rx) []Change {
	if rx == nil || rx.Seen != nil {
		return nil
	}
	var old *Rx
	for i := len(m.Sessions) - 1; i >= 0 && old == nil; i-- {
		s := m.Sessions[i]
		switch {
		case s.Abandoned() || !s.Treated():
		case s.PrescriptionID == rx.ID:
			return nil // dialysed by this very version already
		default:
			old = m.Rx(s.PrescriptionID)
		}
	}
	if old == nil {
		return nil
	}
	return Diff(&old.Value, &rx.Value)
}

// Diff lists the lines in which two prescriptions differ, the limits first: a
// limit that was loosened must not be the last of many lines (hazard H-24).
func Diff(was, now *session.Prescription) []Change {
	kind, _ := Find("prescription")
	var limits, others []Change
	for _, f := range kind.Fields {
		a, b := f.withUnit(was), f.withUnit(now)
		switch {
		case a == b:
		case f.limit():
			limits = append(limits, Change{f.Label, a, b})
		default:
			others = append(others, Change{f.Label, a, b})
		}
	}
	return append(limits, others...)
}

// limit reports whether the field is one of the limits of a prescription, who
// set them and when among them.
func (f Field) limit() bool {
	return reflect.TypeFor[session.Prescription]().Field(f.index[0]).Type == reflect.TypeFor[session.Limits]()
}

func (f Field) withUnit(body any) string {
	text := f.Text(body)
	for _, c := range f.Choices {
		if c.Value == text {
			return c.Label
		}
	}
	if s := f.Symbol(); s != "" && text != "" {
		text += "\u00a0" + s
	}
	if text == "" {
		return "nothing"
	}
	return text
}

// Asked lists what the prescription of a day should say and does not, and what the
// last sessions give reason to ask for. It holds nothing up by itself.
func (m *Member) Asked(day unit.Date) (words []string) {
	for _, a := range m.Asks(day) {
		words = append(words, a.Words)
	}
	return words
}

// Asks is [Member.Asked] with the code of each line, and where its answer is written.
func (m *Member) Asks(day unit.Date) []session.Ask {
	rx := m.Prescription(day)
	if rx == nil {
		return nil
	}
	var list []session.Ask
	if !rx.Value.RateKnown() {
		words := session.AskRateWords
		if at := m.house.momentOf(m, nil); m.Child(at) || m.Pregnant(at) {
			words = session.AskRateOnlyWords
		}
		list = append(list, session.Ask{Code: session.AskRate, Kind: "prescription", Words: words, Keys: []string{"rate_limit_ml_h_kg", "rate_limit_none_by", "rate_limit_none_on"}})
	}
	if machine, ok := m.house.Machine.Now(); ok && rx.Value.ByFiltration() && machine.RemovedShows == "" {
		list = append(list, session.Ask{Code: session.AskRemoved, Kind: "machine", Words: session.AskRemovedWords, Keys: []string{"removed_shows"}})
	}
	who, _ := m.Person.Now()
	return append(list, session.AskedOfUnit(&rx.Value, m.Sessions, session.Asker{Pacemaker: who.Pacemaker, Child: who.child(day.Time(time.UTC))})...)
}

// Stale lists what is past its review date, or older than a hospital stay, in
// words that name the date.
func (m *Member) Stale(day unit.Date) []string {
	rx := m.Prescription(day)
	if rx == nil {
		return nil
	}
	var list []string
	p := rx.Value
	var home unit.Date // from the latest stay: one sentence is enough
	for _, stay := range m.Stays {
		if stay.Struck == nil && home.Before(stay.Value.To) {
			home = stay.Value.To
		}
	}
	list = append(list, p.StaleDry(day, home)...)
	if p.ReviewBy.Before(day) && !p.ReviewBy.IsZero() {
		list = append(list, "The prescription was due for review on "+p.ReviewBy.Long()+". Ring your unit.")
	}
	if rx.Unconfirmed() {
		list = append(list, "The prescription of "+p.OrderedOn.Long()+" came by telephone; the paper has not come yet.")
	}
	return list
}
