package web

import (
	"net/url"
	"time"

	"ebbline/session"
)

// sugarLine is the blood sugar of a run on its page: what was read last, and when the
// unit wants the next one.
type sugarLine struct {
	Last  *session.Sugar // nil where none was read in this session
	Due   time.Time      // zero where none is due
	Is    bool           // it is due now
	Whose string
	Link  string // to its form
}

// sugarOf gives it for a person whose unit marked it, and for everybody of whom one was
// written; nil otherwise.
func sugarOf(v visit, one *session.Session) *sugarLine {
	base := "/p/" + one.Person + "/session/" + one.ID
	l := sugarLine{Link: base + "/glucose"}
	if last, ok := session.LastSugar(one, v.now); ok {
		l.Last = &last
	}
	if due, ok := session.NextSugar(one, v.now); ok {
		l.Due, l.Whose, l.Is = due.At, due.Whose, !v.now.Before(due.At)
	}
	if l.Last == nil && l.Due.IsZero() && !one.Rx.MarkedGlucose() {
		return nil
	}
	return &l
}

// sugarDue says in the bar that the blood sugar is due, and until when it is not.
func (b *bar) sugarDue(v visit, one *session.Session) (is bool) {
	due, ok := session.NextSugar(one, v.now)
	switch {
	case !ok:
		return false
	case v.now.Before(due.At):
		if b.Again.IsZero() || due.At.Before(b.Again) {
			b.Again = due.At
		}
		return false
	}
	b.Words = "Blood sugar due at " + clockFace(due.At)
	return true
}

// sugarTile are the troubles under which the blood sugar is asked for: a low one looks
// like either (hazard H-143).
var sugarTile = []string{session.TroubleLow, session.TroubleConfused}

// tileSugar is a blood sugar under a trouble, with the way to its form, which comes back
// to the trouble.
type tileSugar struct {
	Last *session.Sugar
	Link string
}

// sugarFor gives it for a trouble.
func sugarFor(v visit, one *session.Session, base, code string) *tileSugar {
	t := tileSugar{Link: base + "/glucose?next=" + url.QueryEscape(base+"#wrong-"+code)}
	if last, ok := session.LastSugar(one, v.now); ok {
		t.Last = &last
	}
	return &t
}

// sugarAfter reports whether the form of the blood sugar while coming off was answered
// after the treatment.
func sugarAfter(one *session.Session, now time.Time) bool {
	ended, over := one.Ended()
	last, ok := session.LastSugar(one, now)
	return over && ok && !last.At.Before(ended)
}
