package web

import (
	"net/http"
	"strings"

	"ebbline/record"
	"ebbline/session"
)

// noToAll is the key of the answer that nothing of the list is so.
const noToAll = "none_of_these"

// ofFitness makes the no to everything a button beside Save: it has to be said, and
// costs one tap all the same.
func (f form) ofFitness() form {
	for i := range f.Inputs {
		if f.Inputs[i].Key == noToAll {
			in := f.Inputs[i]
			f.None = &in
		}
	}
	f.Submit = "Save what is ticked"
	return f.without(noToAll)
}

// fitGiven are the ticks of the last answer in this session: what was said is
// there until somebody unticks it.
func fitGiven(v visit) map[string]string {
	given := map[string]string{}
	said, _ := session.Last[session.Fitness](v.session)
	kind, _ := record.Find("fitness")
	for _, f := range kind.Fields {
		if said != nil && f.Key != noToAll && ticked(f, said) {
			given[f.Key] = "yes"
		}
	}
	return given
}

// fitBefore says what was answered last in this session, and when; empty where
// nothing was.
func fitBefore(v visit) string {
	said, e := session.Last[session.Fitness](v.session)
	if said == nil {
		return ""
	}
	kind, _ := record.Find("fitness")
	var list []string
	shown := true // a form that comes back shows what was sent, not what was said
	for _, f := range kind.Fields {
		if ticked(f, said) {
			list = append(list, strings.ToLower(f.Label))
			shown = shown && (v.Method != http.MethodPost || v.PostFormValue(f.Key) != "")
		}
	}
	at := e.At.In(v.now.Location()).Format("15:04")
	switch {
	case said.Any():
		words := "At " + at + " you said: " + strings.Join(list, "; ") + ". "
		if !shown {
			return words + "Below is ticked what you sent now."
		}
		return words + "It is ticked below: untick what is gone."
	case said.None:
		return "At " + at + " you said no to all of these."
	}
	return "At " + at + " nothing was ticked."
}

// ticked reports whether a tick of an entry is set.
func ticked(f record.Field, body any) bool {
	value, _ := f.Of(body)
	return value == true
}

// sendFitness takes the answer to "how am I?". One that says nothing at all is no
// answer: sent by mistake it would stand for "all is well".
func (s *server) sendFitness(w http.ResponseWriter, r *http.Request, kind *record.Kind) error {
	e, found := s.read(r, kind)
	if b, ok := e.Body.(*session.Fitness); ok && len(found) == 0 && !b.Any() && !b.None {
		found = append(found, record.Finding{
			Field: "kind", Step: record.Refuse, Words: "Nothing is ticked. Tick what is so, or press “No to all of these”",
		})
	}
	return s.settle(w, r, e, found, s.kindForm)
}
