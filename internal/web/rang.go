package web

import (
	"net/url"
	"strings"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/session"
)

// rangForm writes down a call about a session: whom, from the unit's numbers or in
// words, and what was said.
func rangForm(v visit, base string) form {
	kind, _ := record.Find("rang")
	return newForm(kind, base+"/rang", nil).ofCall(v, base)
}

// ofCall puts the unit's numbers and the words of a call into its form.
func (f form) ofCall(v visit, base string) form {
	for i := range f.Inputs {
		if in := &f.Inputs[i]; in.Key == "whom" {
			in.Offers = numbers(v)
		}
	}
	f.Submit, f.Next, f.Back = "I rang: write it down", base+"#start-line", base
	if v.session != nil && v.session.Phase() != session.SettingUp {
		f.Next = base // there is no start line any more
		return f.hint(map[string]string{"said": "A call that was answered. Nobody reached? Write a note."})
	}
	return f.hint(map[string]string{
		"whom": "One call answers every stop that asks to ring.",
		"said": "Nobody reached? Then press “Go past it” and write whom you tried, and when.",
	})
}

// numbers are the unit's telephones as a call is written down: the unit by day and
// at night, the technician, the ambulance.
func numbers(v visit) []record.Choice {
	u, _ := v.house.Unit.Now()
	var list []record.Choice
	for _, p := range household.PhonesUnitFirst(u) {
		list = append(list, record.Choice{Value: p.Who + ", " + p.Number, Label: p.Who + " " + strings.ReplaceAll(p.Number, " ", "\u00a0")})
	}
	return list
}

// linesOffForm says that the blood lines are off the machine again; nil where none
// are on it.
func linesOffForm(v visit, base string) *form {
	if v.session == nil || v.session.Phase() != session.SettingUp {
		return nil
	}
	if _, on := session.LinesOn(v.session, v.now); !on {
		return nil
	}
	kind, _ := record.Find("step")
	f := newForm(kind, base+"/step", nil).only()
	f.Hidden = map[string]string{"phase": session.SetUp, "step": session.LinesStep, "state": "undone"}
	f.Submit = "Lines are off again"
	f.Hidden["next"] = base + "/disinfection" + v.typedFor("disinfection")
	return &f
}

// typedFor is what was typed into the form of a kind, as the end of an address
// that fills it in again; empty where nothing was. The form of another kind may be
// sent in between without losing it.
func (v visit) typedFor(kind string) string {
	q := url.Values{}
	k, _ := record.Find(kind)
	for _, f := range k.Fields {
		if text := v.FormValue(f.Key); text != "" && !f.Measured {
			q.Set(f.Key, text)
		}
	}
	for _, key := range []string{"clock", "day", "which"} {
		if text := v.FormValue(key); text != "" {
			q.Set(key, text)
		}
	}
	if len(q) == 0 {
		return ""
	}
	return "?" + q.Encode()
}
