package session

import (
	"fmt"
	"time"

	"ebbline/unit"
)

func (l startLine) plan(v *verdict) {
	b, e := lastBy[AgreedPlan](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not agreed yet.")
		return
	}
	v.from(e)
	old, weighed := outdated(l.s, b, l.at)
	switch {
	case old != "":
		if weighed != nil {
			v.from(weighed)
		}
		v.find(StopHere, "%s", old)
		return
	case b.BelowDry:
		v.find(StopHere, "Below dry weight. Ring your unit.")
		return
	}
	back, typed := lastBy[ReadBack](l.s, l.at)
	if back == nil || typed.At.Before(e.At) {
		v.find(OpenYet, "Not read back. Type what the machine shows.")
		return
	}
	v.from(typed)
	if v.blank(typed, "machine_goal_ml") {
		return
	}
	m := l.s.Machine
	if !GoalMatches(*b, m, back.Goal) {
		v.find(StopHere, "Plan %s, machine %s. Set the machine anew.", m.goalDigits(b.SetGoal), shownGoal(m, *back))
	}
	if back.Length != nil {
		if d := CompareLength(*b, *back.Length); d != nil {
			v.find(StopHere, "Plan %s, machine %s. Set the time anew.", d.Planned, d.Shown)
		}
	}
	v.find(Green, "%s in %s, read back.", m.goalDigits(b.SetGoal)+"\u00a0"+m.goalUnit(), hoursText(b.Length))
}

func shownGoal(m Machine, back ReadBack) string {
	if back.Shown != "" {
		return back.Shown
	}
	return m.goalDigits(back.Goal)
}

func (l startLine) prescription(v *verdict) {
	rx, today := l.rx, unit.DateOf(l.at)
	switch {
	case l.s.Rx == nil:
		v.find(StopHere, "No prescription. Ring your unit.")
	case !rx.ValidFrom.IsZero() && today.Before(rx.ValidFrom):
		v.find(StopHere, "Valid only from %s. Ring your unit.", rx.ValidFrom.Long())
	case rx.How == "phone" && !l.h.PaperCame && !rx.ReadBack:
		v.find(Amber, "Phoned, not read back, no paper yet.")
	case rx.How == "phone" && !l.h.PaperCame:
		v.find(Amber, "Phoned %s; the paper has not come.", rx.OrderedOn.Long())
	case !rx.ReviewBy.IsZero() && rx.ReviewBy.Before(today):
		v.find(Amber, "Review was due %s. Ring your unit.", rx.ReviewBy.Long())
	default:
		v.find(Green, "Of %s, by %s.", rx.OrderedOn.Long(), rx.OrderedBy)
	}
}

// PlanAgain says why the agreed plan no longer stands: the weight was taken
// anew or corrected since, or another prescription holds. It is empty while
// the plan stands, and while there is none.
func PlanAgain(s *Session, at time.Time) string {
	b, _ := lastBy[AgreedPlan](s, at)
	if b == nil {
		return ""
	}
	why, _ := outdated(s, b, at)
	return why
}

// outdated words what has changed under a plan, with the weighing if that is it.
func outdated(s *Session, b *AgreedPlan, at time.Time) (why string, weighed *Event) {
	weight, weighed := lastBy[WeighIn](s, at)
	switch {
	case weight != nil && (weight.Weight != b.PreWeight || weight.Clothing != b.Clothing):
		return fmt.Sprintf("Planned from %s, weight now %s. Plan again.", b.PreWeight.Text(), weight.Weight.Text()), weighed
	case s.PrescriptionID != "" && b.PrescriptionID != s.PrescriptionID:
		return "Planned from another prescription. Plan again.", nil
	}
	return "", nil
}
