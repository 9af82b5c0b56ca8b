package web

import (
	"net/http"
	"strings"

	"ebbline/record"
	"ebbline/session"
)

// leadsTo is where the saving of an entry leads: where it said something that is to
// be looked at in a live treatment, to what to do about that; else to next.
//
// A fluid too hot or too wrong comes first, then a low pressure, then a feeling that
// has steps of its own; any other look to what was said, under the bar. An
// alarm, of which nothing is said, leads to the steps that its words name.
func (s *server) leadsTo(r *http.Request, e record.Entry, next string) string {
	to := next
	_ = s.look(r, func(v visit) error { // it was saved; where it leads is no reason to fail
		one := v.session
		if one == nil || e.Session != one.ID || e.Kind == "trouble" || fromPaper(one) || one.Phase() != session.Running {
			return nil
		}
		at := leadOf(one, e.ID, v)
		if b, is := e.Body.(*session.Alarm); is && e.Corrects == "" {
			at = "wrong-" + session.AlarmLeads(b.Words)
		}
		if at != "" && !strings.HasSuffix(next, "#"+at+"-taps") { // there it stays where the taps are
			to = sessionURL(r) + "#" + at
		}
		return nil
	})
	return to
}

// leadOf names the place that an entry leads to; empty where it said nothing that
// stands.
func leadOf(one *session.Session, entry string, v visit) (at string) {
	for _, t := range v.troubles(one) {
		if t.Entry == entry && t.Code == session.TroubleFluid {
			return "wrong-" + t.Code
		}
	}
	if leadsToLow(v, one, entry) {
		return "wrong-" + session.TroubleLow
	}
	for _, r := range v.standing(one) {
		if r.Entry != entry {
			continue
		}
		code := r.Trouble()
		switch {
		case code == session.TroubleLow:
			return "wrong-" + code
		case r.Code == "unwell" && code != "":
			at = "wrong-" + code
		case at == "":
			at = "said"
		}
	}
	return at
}
