package session

import (
	"time"

	"ebbline/fluid"
	"ebbline/unit"
)

// plan is the plan agreed and read back from the machine.
func (l startLine) plan(v *verdict) {
	if l.s.RemovedShows() == "" {
		v.open(nil, "plan_shows") // before any figure is compared with the goal
	}
	if no := NoPlanOf(l.s, l.h, l.at); no != nil {
		l.paperPlan(v, no)
		return
	}
	b, e := lastBy[AgreedPlan](l.s, l.at)
	if b == nil {
		v.open(nil, "plan_open")
		l.weightBelowDry(v)
		return
	}
	if again, since := outdated(l.s, b, l.at); again != nil {
		if since == nil {
			since = e
		}
		v.stop(since, again.code, again.args...)
		l.planRate(v, b, e) // a reason to keep the plan all the same must know of all
		l.planMost(v, b, e)
		l.weightBelowDry(v)
		return
	}
	l.planBelowDry(v, b, e)
	l.planRate(v, b, e)
	l.planMost(v, b, e)
	if !l.readBack(v, b, e, finding{code: "plan_goal"}, finding{code: "plan_length"}) {
		return
	}
	m := l.s.Machine
	v.ready("plan_ready", m.goalText(b.SetGoal), hoursText(b.Length)).against(rateLimit(l.rx))
	if left := b.Goal - b.SetGoal; left >= max(m.FieldStep(), 1) {
		v.ready("plan_left", m.goalText(left))
	}
}

// readBack holds what the machine shows against a plan, whose entry is given: another
// goal or length stops, by its own code. It reports whether there is anything to compare.
func (l startLine) readBack(v *verdict, plan *AgreedPlan, e *Event, goal, length finding) bool {
	back, typed := lastBy[ReadBack](l.s, l.at)
	if back == nil || typed.At.Before(e.At) {
		v.open(e, "plan_not_read")
		return false
	}
	if v.blank(typed, "machine_goal_ml") {
		return false
	}
	m := l.s.Machine
	if !GoalMatches(*plan, m, back.Goal) {
		v.stop(typed, goal.code, m.goalDigits(plan.SetGoal), shownGoal(m, *back))
	}
	if back.Length != nil {
		if d := CompareLength(*plan, *back.Length); d != nil {
			v.stop(typed, length.code, d.Planned, d.Shown)
		}
	}
	return true
}

// weightBelowDry judges the weight that no plan, or none that stands, was made
// from.
func (l startLine) weightBelowDry(v *verdict) {
	if w, weighed := lastBy[WeighIn](l.s, l.at); w != nil && weighed.Missing["weight_kg"] == "" && l.s.Rx != nil {
		l.planBelowDry(v, &AgreedPlan{PreWeight: w.Weight, Clothing: w.Clothing, DryWeight: l.rx.DryWeight}, weighed)
	}
}

// planBelowDry finds a plan that was made below dry weight by so much that it is
// said, or that the unit is rung.
func (l startLine) planBelowDry(v *verdict, b *AgreedPlan, e *Event) {
	u := UnderDryOf(l.s, *b, l.at)
	code, args := u.said()
	switch {
	case code == "":
	case u.Level == fluid.DryLook:
		v.look(e, code, args...).against(u.Limit())
	default:
		if u.told != nil && u.told.At.After(e.At) {
			e = u.told // it came to light after the plan was agreed
		}
		v.ring(e, code, args...).against(u.Limit())
	}
}

func shownGoal(m Machine, back ReadBack) string {
	if back.Shown != "" {
		return back.Shown
	}
	return m.goalDigits(back.Goal)
}

// prescription is the version that the session rests on.
func (l startLine) prescription(v *verdict) {
	rx, today := l.rx, unit.DateOf(l.at)
	switch {
	case !l.h.NewRx.IsZero() && !l.h.NewRx.After(l.at):
		v.stop(nil, "rx_newer", l.h.NewRxBy, clock(l.h.NewRx)).since(l.h.NewRx)
	case l.s.Rx == nil:
		v.ring(nil, "rx_none")
	case !rx.ValidFrom.IsZero() && today.Before(rx.ValidFrom):
		v.ring(nil, "rx_not_yet", rx.ValidFrom.Long())
	case rx.How == "phone" && !l.h.PaperCame && !rx.ReadBack:
		v.look(nil, "rx_phoned")
	case rx.How == "phone" && !l.h.PaperCame:
		v.look(nil, "rx_paper", rx.OrderedOn.Long())
	case !rx.ReviewBy.IsZero() && rx.ReviewBy.Before(today):
		v.look(nil, "rx_review", rx.ReviewBy.Long())
	default:
		v.ready("rx_ready", rx.OrderedOn.Long(), rx.OrderedBy)
	}
	if l.s.Rx != nil {
		for _, f := range rx.staleDry(today, l.h.Stay) {
			v.look(nil, f.code, f.args...)
		}
	}
}

// staleDry finds on a day what makes the dry weight an old one: its review is past,
// or it was set before the last day of a hospital stay, zero for none.
func (rx *Prescription) staleDry(day, stay unit.Date) (list []finding) {
	if !rx.DryReview.IsZero() && rx.DryReview.Before(day) {
		list = append(list, finding{code: "rx_dry_review", args: []any{rx.DryWeight, rx.DryReview.Long()}})
	}
	if !stay.IsZero() && rx.DrySetOn.Before(stay) {
		list = append(list, finding{code: "rx_dry_stay", args: []any{rx.DryWeight, stay.Long()}})
	}
	return list
}

// StaleDry says on a day what makes the dry weight an old one, as the start line
// does, given the last day of the latest hospital stay; zero for none.
func (rx *Prescription) StaleDry(day, stay unit.Date) (words []string) {
	for _, f := range rx.staleDry(day, stay) {
		words = append(words, f.words())
	}
	return words
}

// PlanAgain says why the agreed plan no longer stands: the weight was taken
// again or corrected since, or another prescription holds. It is empty while
// the plan stands, and while there is none.
func PlanAgain(s *Session, at time.Time) string {
	b, _ := lastBy[AgreedPlan](s, at)
	if b == nil {
		return ""
	}
	if why, _ := outdated(s, b, at); why != nil {
		return why.words()
	}
	return ""
}

// outdated finds what has changed under a plan, with the weighing if that is it.
func outdated(s *Session, b *AgreedPlan, at time.Time) (why *finding, weighed *Event) {
	weight, weighed := lastBy[WeighIn](s, at)
	switch {
	case weight != nil && (weight.Weight != b.PreWeight || weight.Clothing != b.Clothing):
		return &finding{code: "plan_weight", args: []any{b.PreWeight.Text(), weight.Weight.Text()}}, weighed
	case s.PrescriptionID != "" && b.PrescriptionID != s.PrescriptionID:
		return &finding{code: "plan_rx"}, nil
	}
	return nil, nil
}
