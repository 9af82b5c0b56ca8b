package web

import (
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The fields of haemodiafiltration, and what else the pages say of it.

// filtrationKeys are the fields of a session's forms that belong to it, each with the
// field that it stands behind.
var filtrationKeys = map[string]string{"substitution_l": "removed_ml", "washback_with": "washback_ml"}

// ofFiltration leaves the fields of haemodiafiltration out of a form of another session,
// and in such a session puts each beside the field it goes with. One that holds something
// stays to be seen. A machine that counts the substitution fluid as removed shows ten
// times as much: the bounds of that field are its own.
func (f form) ofFiltration(one *session.Session) form {
	if one == nil {
		return f
	}
	f.Asleep = fromPaper(one) || one.Has("asleep")
	var list []input
	for _, in := range f.Inputs {
		if _, is := filtrationKeys[in.Key]; !is {
			in.Field = in.Field.In(one)
			list = append(list, in)
		}
	}
	for _, in := range f.Inputs {
		beside, is := filtrationKeys[in.Key]
		if !is || !one.ByFiltration() && in.Value == "" && in.Problem == "" && in.Asked == "" {
			continue
		}
		at := slices.IndexFunc(list, func(other input) bool { return other.Key == beside })
		list = slices.Insert(list, at+1, in)
	}
	f.Inputs = list
	switch {
	case !one.ByFiltration():
		return f
	case one.RemovedShows() == session.RemovedGross:
		return f.hint(map[string]string{
			"removed_ml":        "As shown, with the substitution fluid.",
			"removal_rate_ml_h": "Without the substitution fluid. Blank if the machine does not show that.",
			"substitution_l":    "From the same look.",
		})
	}
	return f.hint(map[string]string{"substitution_l": "As the machine shows it."})
}

// substitution is the substitution fluid of a session under way, as a tile shows it.
type substitution struct {
	So   string // far; empty where none was read
	At   time.Time
	Of   string // what was ordered; empty where nothing is written
	Gone bool   // the figure for the fluid removed has it in it, and is shown without it
}

// substitutionOf is nil but in haemodiafiltration.
func substitutionOf(one *session.Session, now time.Time) *substitution {
	if !one.ByFiltration() {
		return nil
	}
	s := substitution{Gone: one.RemovedShows() == session.RemovedGross}
	if c := session.Counted(one, now); !c.GivenAt.IsZero() {
		s.So, s.At = unit.Litres(c.Given).Text(), c.GivenAt
	}
	if one.Rx.Substitution != nil {
		s.Of = one.Rx.Substitution.Text()
	}
	return &s
}

// filtrationLacks says what an order of haemodiafiltration does not say, before it is
// kept.
func filtrationLacks(rx *session.Prescription) (list []string) {
	if !rx.ByFiltration() {
		return nil
	}
	if rx.Substitution == nil {
		list = append(list, "Haemodiafiltration is ticked, but not how much substitution fluid a session has. What did your unit write?")
	}
	if rx.SubstitutionPlace == "" {
		list = append(list, "Haemodiafiltration is ticked, but not where the fluid is added. What did your unit write?")
	}
	return list
}

// An askedLine is what the prescription or the machine does not say, and where to write it.
type askedLine struct{ Words, Link string }

// askedLines are what a person is asked to ask their unit.
func askedLines(v visit) (list []askedLine) {
	base := "/p/" + v.member.ID
	for _, ask := range v.member.Asks(v.today()) {
		link := base + "/prescription/new#limits"
		switch ask.Code {
		case session.AskSubstitution:
			link = base + "/prescription/new#flows"
		case session.AskRemoved:
			link = base + "/machine"
		}
		list = append(list, askedLine{ask.Words, link})
	}
	if words := v.member.IdleAsked(); words != "" {
		list = append(list, askedLine{words, base + "/round/rules"})
	}
	return list
}

// fluidOnTheLine is what is looked at before the blood goes back where it may be given
// back with fluid from the machine too.
const fluidOnTheLine = "Saline or machine fluid is on the arterial line"

// removedWords say what the figure of a machine means, on Unit.
func removedWords(m session.Machine) string {
	kind, _ := record.Find("machine")
	f, _ := kind.Field("removed_shows")
	for _, c := range f.Choices {
		if c.Value == m.RemovedShows {
			return c.Label
		}
	}
	return ""
}
