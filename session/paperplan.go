package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// PaperPlan is what the unit's paper says of a session for which no plan is made
// here, typed by the person. The program holds the machine against it and computes
// nothing from it.
type PaperPlan struct {
	Goal   unit.Volume  `json:"goal_ml"`             // to dial in
	Length unit.Minutes `json:"length_min"`          // to dial in
	Rate   *unit.Rate   `json:"rate_ml_h,omitempty"` // the highest on the paper, of a profile above all
	From   string       `json:"from"`                // whose paper, and of which day
}

// PaperPlanOf gives the paper's plan by which a session goes at a moment; nil where
// none was typed, or where a plan was agreed after it.
func PaperPlanOf(s *Session, at time.Time) (*PaperPlan, *Event) {
	p, e := lastBy[PaperPlan](s, at)
	if p == nil {
		return nil, nil
	}
	_, agreed := lastBy[AgreedPlan](s, at)
	if agreed != nil && (agreed.At.After(e.At) || agreed.At.Equal(e.At) && agreed.Place > e.Place) {
		return nil, nil
	}
	return p, e
}

// asPlan is the paper's plan as one that can be held against what the machine shows
// and against the bounds of the rate. It has no terms: nobody here added them up.
func (p *PaperPlan) asPlan(s *Session) *AgreedPlan {
	a := &AgreedPlan{Goal: p.Goal, SetGoal: p.Goal, Length: p.Length}
	if s.Rx != nil {
		a.DryWeight = s.Rx.DryWeight
	}
	return a
}

// planOrPaper gives the plan by which a session goes, the agreed one or the paper's,
// and the entry it is from; nil where there is neither.
func planOrPaper(s *Session, at time.Time) (*AgreedPlan, *Event) {
	if p, e := PaperPlanOf(s, at); p != nil {
		return p.asPlan(s), e
	}
	return lastBy[AgreedPlan](s, at)
}

// agreed gives the plan that was agreed; nil where the session goes by the unit's
// paper. What is computed from a plan's terms is computed from this one only.
func agreed(s *Session, at time.Time) (*AgreedPlan, *Event) {
	if p, _ := PaperPlanOf(s, at); p != nil {
		return nil, nil
	}
	return lastBy[AgreedPlan](s, at)
}

// Agreed is the plan of a session that the program made and the person agreed to; nil
// where there is none, or where the session goes by the unit's paper.
func Agreed(s *Session, at time.Time) (*AgreedPlan, *Event) { return agreed(s, at) }

// ToDial gives what is dialled in by the plan of a session, the agreed one or the
// paper's; nil where there is neither. Of the paper's only goal, length and dry weight
// are set.
func ToDial(s *Session) (*AgreedPlan, *Event) { return planOrPaper(s, lastMoment(s)) }

// lastMoment is when the last of a session's entries happened.
func lastMoment(s *Session) time.Time {
	if len(s.Log) == 0 {
		return time.Time{}
	}
	return s.Log[len(s.Log)-1].At
}

// straight gives the plan by which removal runs along a straight line: none where the
// unit ordered a profile.
func straight(s *Session, at time.Time) (*AgreedPlan, *Event) {
	if p, _ := PaperPlanOf(s, at); p != nil && s.Rx.Profile() {
		return nil, nil
	}
	return planOrPaper(s, at)
}

// paperPlan judges the plan of a session for which none is made: typed from the
// unit's paper, inside the bounds of [startLine.paperRate], and read back from the
// machine.
func (l startLine) paperPlan(v *verdict, no *NoPlan) {
	v.ready("no_plan_why", no.Words()).always = true
	if old, e := lastBy[AgreedPlan](l.s, l.at); old != nil {
		v.stop(e, "paper_beside", clock(e.At))
	}
	p, e := lastBy[PaperPlan](l.s, l.at)
	if p == nil {
		v.open(nil, "paper_open")
		l.weightBelowDry(v)
		return
	}
	plan := p.asPlan(l.s)
	l.weightBelowDry(v)
	l.paperRate(v, p, e)
	l.paperBeyond(v, p, e)
	if !l.readBack(v, plan, e, finding{code: "paper_goal"}, finding{code: "paper_length"}) {
		return
	}
	ready := v.ready("paper_ready", sentence(p.From), l.s.Machine.goalText(p.Goal), hoursText(p.Length)).against(l.paperLimit())
	// Beside the one look that nothing is there to hold it against, it is said all the same.
	ready.always = !slices.ContainsFunc(v.findings, func(f finding) bool { return f.state != Ready && f.code != "paper_unheld" })
}
