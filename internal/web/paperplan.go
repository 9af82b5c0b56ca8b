package web

import (
	"time"

	"ebbline/record"
	"ebbline/session"
)

// noPlan gives why the page of the plan takes the unit's paper; nil where it makes a
// plan. A session typed in afterwards goes by the paper too once that is typed.
func (v visit) noPlan() *session.NoPlan {
	no := v.member.NoPlanFor(v.session, v.now)
	if p, _ := session.PaperPlanOf(v.session, v.now); no == nil && p != nil && fromPaper(v.session) {
		return &session.NoPlan{}
	}
	return no
}

// paper makes the page of a session for which no plan is made: why, what was typed
// from the unit's paper, and the form to type it. It asks for no weight first.
func (b *planBody) paper(v visit, no *session.NoPlan, fill func(form) form) {
	b.No = no.Words()
	kind, _ := record.Find("paper_plan")
	f := newForm(kind, b.Base+"/paper_plan", nil)
	f.Submit, f.Next, f.Back = "This is what the paper says", b.Base+"/read_back", b.Base
	if p, _ := session.PaperPlanOf(v.session, v.now); p != nil {
		b.Typed = onMachine(v.session.Machine, p.Goal) + " in " + span(time.Duration(p.Length)*time.Minute) + ", from " + p.From
	}
	b.Form = fill(f.onPaper(v.session))
}

// byPaper says, on the page of a treatment that goes by the unit's paper, why nothing
// is worked out there to be set.
func (b *runningBody) byPaper(v visit) {
	one := b.Session
	if set, _ := session.Agreed(one, v.now); set != nil {
		return
	}
	if no := session.NoPlanOf(one, v.member.History(one), v.now); no != nil {
		b.SetWhy = no.Words()
	}
}
