package web

import (
	"net/http"

	"ebbline/session"
)

// lookWords are what the bar says of a look: its first sentence. Of a low pressure that is
// the one written last with its time, whether it was remarked on or not.
func lookWords(v visit, one *session.Session, r session.Remark) string {
	if low, is := pressureLow(v, one); is && isLowLook(r) {
		return low
	}
	return shortened(noBrackets(firstSentence(r.Words)), barLetters)
}

// pressureLow gives the blood pressure written last as the bar says it, while the run
// is low: with its time, or with no figure.
func pressureLow(v visit, one *session.Session) (words string, low bool) {
	p := v.pressure(one)
	if !p.Low {
		return "", false
	}
	figure := lowFigure(v, one)
	if figure == "" {
		return "Low pressure, no figure, " + clockFace(p.Felt), true
	}
	words = "Low pressure " + figure + ", " + clockFace(p.At)
	if p.Felt.After(p.At) {
		words += "; low again, no figure, " + clockFace(p.Felt)
	}
	return words, true
}

// lowFigure is the blood pressure written last, as the figure of a run that is low; empty
// where none was written, or where it was inside: it is none of the one felt since.
func lowFigure(v visit, one *session.Session) string {
	p := v.pressure(one)
	if before, _ := session.LastPressure(one, p.At); p.Upper == nil || p.Before || !before.Low {
		return ""
	}
	return p.Text
}

// leadsToLow reports whether an entry is a pressure that is low: every such one leads
// to the steps, also one that is not lower than what was said before.
func leadsToLow(v visit, one *session.Session, entry string) bool {
	p := v.pressure(one)
	e := one.Find(entry)
	if !p.Low || e == nil || e.Struck != nil {
		return false
	}
	switch b := e.Body.(type) {
	case *session.Reading:
		return b.Systolic != nil && e.At.Equal(p.At)
	case *session.LowPressure:
		return true
	}
	return false
}

// washback says that the blood goes back now, while the pump may be started for that:
// who went away from that page comes back to it, a look standing or not.
func (b *bar) washback(v visit, one *session.Session, said []barSaid) {
	if session.WashbackReady(one, v.now) {
		b.Also = alsoWords(said)
		b.Words, b.Still, b.Due = "Giving the blood back: watch the bag", nil, nil
		base := "/p/" + v.member.ID + "/session/" + one.ID
		b.Link = base + "/washback"
		// What was felt in which the blood would stay out was asked about before the ticks;
		// its steps contradict the pump that may be started now.
		if t, ok := session.TroubleOf(firstLead(said)); !ok || t.StaysOut() {
			b.First, b.Steps, b.ByHand = "Fuller, or red: pump off.", "#wrong-"+session.TroubleBlood, false
		}
	}
}

// firstLead is the trouble that the first of what is said leads to; empty where there is
// none.
func firstLead(said []barSaid) string {
	if len(said) == 0 {
		return ""
	}
	return said[0].code
}

// onSession is the address of the page of the session that is open, to which a place is
// added: empty on that page itself, by either of its addresses, so that the way to a
// place on it needs no request and opens with the program gone.
func (v visit) onSession(base string) string {
	alias := "/p/" + v.PathValue("p") + "/session"
	if (v.URL.Path == base || v.URL.Path == alias) && (v.Method == http.MethodGet || v.Method == http.MethodHead) {
		return ""
	}
	return base
}
