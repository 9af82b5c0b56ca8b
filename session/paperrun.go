package session

import (
	"time"

	"ebbline/unit"
)

// How far over the mean of the unit's paper a rate lies that is remarked on where the
// paper names no highest one: more than both. Ours.
const (
	overMean             = 25 // percent
	overMeanBy unit.Rate = 100
)

// againRate is how much higher than the highest one said a rate must lie to be said
// again while it stays over. Ours.
const againRate = 100 // mL/h

// A rateHeld is a rate above which a treatment by the unit's paper is remarked on: an
// amount in mL over so many minutes runs too fast where it is more than most mL/h.
// named says what it is and whose.
type rateHeld struct {
	most  func(amount unit.Volume, length unit.Minutes) bool
	named string
}

// heldByPaper gives what a rate is held against while a session runs by the unit's
// paper, in mL/h:
//
//	the unit's limit · dry weight, or 13 mL/h/kg · dry weight where it wrote none
//	the highest rate that the paper names, or else
//	the larger of goal / length · 1.25 and goal / length + 100
//
// The last is not used of a removal profile, which begins higher than its mean, and the
// paper's own figures no more once the unit gave another goal by its word.
func heldByPaper(s *Session, p *PaperPlan, unitSaid bool) (list []rateHeld) {
	if s.Rx != nil && s.Rx.DryWeight > 0 {
		limit, byUnit := stopsAt(s.Rx)
		dry := s.Rx.DryWeight
		named := stopsHere(s.Rx)
		if byUnit {
			named = unit.Rate(goalAt(limit, 60, dry, 1)).Text() + ", the limit (" + setByUnit(s.Rx) + ")"
		}
		list = append(list, rateHeld{func(amount unit.Volume, length unit.Minutes) bool { return above(limit, amount, length, dry) }, named})
	}
	faster := func(most unit.Rate) func(unit.Volume, unit.Minutes) bool {
		return func(amount unit.Volume, length unit.Minutes) bool {
			return int64(amount)*60 > int64(most)*int64(length)
		}
	}
	switch {
	case unitSaid:
	case p.Rate != nil:
		list = append(list, rateHeld{faster(*p.Rate), p.Rate.Text() + ", the highest on the paper"})
	case p.Length > 0 && (s.Rx == nil || !s.Rx.RemovalProfile):
		mean := rateOf(p.Goal, p.Length)
		list = append(list, rateHeld{faster(max(mean+mean*overMean/100, mean+overMeanBy)), "the paper’s " + mean.Text()})
	}
	return list
}

// stopsHere names 13 mL/h/kg to whom it is not shown as a figure of their own.
func stopsHere(rx *Prescription) string {
	return stopRate.Text() + ", where Ebbline stops; your unit " + noneWritten(rx)
}

// noneWritten says that the unit has no limit of the rate.
func noneWritten(rx *Prescription) string {
	if rx.RateNoneBy != "" {
		return "sets none"
	}
	return "wrote none"
}

// unitSaidGoal reports whether the goal that is set at a moment is one by the unit's
// word.
func unitSaidGoal(s *Session, at time.Time) bool {
	b, _ := lastBy[GoalChanged](s, at)
	return b != nil && b.UnitSaid()
}

// paperRate remarks on a rate read off the machine, in a treatment by the unit's paper.
func (w *watch) paperRate(b *Reading, e *Event) {
	p, _ := PaperPlanOf(w.s, e.At)
	if p == nil || b.Rate == nil {
		return
	}
	named := ""
	for _, h := range heldByPaper(w.s, p, unitSaidGoal(w.s, e.At)) {
		if named == "" && h.most(unit.Volume(*b.Rate), 60) {
			named = h.named
		}
	}
	if w.beyond("paper rate", named != "", int64(*b.Rate), againRate) {
		w.say(LevelLook, "paper_rate_high", e, facts{value: b.Rate.Text(), limit: named})
	}
}

// paperGoal remarks on a goal or length changed on the machine that runs too fast by
// the same rules, or is more than the largest removal of the unit.
func (w *watch) paperGoal(b *GoalChanged, e *Event) {
	if f, over := againstChange(w.s, b, e.At); over {
		w.say(LevelLook, "paper_goal_high", e, f)
	}
	p, _ := PaperPlanOf(w.s, e.At)
	if rx := w.s.Rx; p != nil && rx != nil && rx.MaxRemoval != nil && b.Goal > *rx.MaxRemoval {
		w.say(LevelLook, "paper_goal_most", e, facts{value: w.s.Machine.goalText(b.Goal), limit: rx.MaxRemoval.Text(), whose: setByUnit(rx)})
	}
}

// AgainstChange says what stands against the rate of a goal or length changed on the
// machine while a session runs by the unit's paper; empty where nothing does. The change
// may be an entry of the session or not yet.
func AgainstChange(s *Session, b *GoalChanged, at time.Time) string {
	f, over := againstChange(s, b, at)
	if !over {
		return ""
	}
	return wordsOf("paper_goal_high", f)
}

// againstChange holds a changed goal against [heldByPaper], as the rate of what is left
// to come off over the treated time that is left, by more than a step of the machine's
// field; of a length that is over already, as goal over length.
func againstChange(s *Session, b *GoalChanged, at time.Time) (f facts, over bool) {
	p, _ := PaperPlanOf(s, at)
	if p == nil {
		return facts{}, false
	}
	length, _ := Length(s, at)
	if b.Length != nil {
		length = *b.Length
	}
	treated := TreatedFor(s, at)
	rest, left := b.Goal-paperStood(s, p, at), length-unit.Minutes(treated/time.Minute)
	if left < 1 {
		rest, left = b.Goal, length
	}
	if left < 1 || rest <= 0 {
		return facts{}, false
	}
	for _, h := range heldByPaper(s, p, b.UnitSaid()) {
		if h.most(rest-s.Machine.FieldStep(), left) {
			return facts{value: s.Machine.goalText(b.Goal), was: hoursText(length), since: rateOf(rest, left).Text(), limit: h.named}, true
		}
	}
	return facts{}, false
}

// paperStood estimates what was removed at a moment: the last reading of it, carried on
// along the line, or along the paper's mean where a profile has no line.
func paperStood(s *Session, p *PaperPlan, at time.Time) unit.Volume {
	if l := lineOf(s, at); l != nil {
		return unit.Volume(l.carried(s, at))
	}
	since, stood := TreatedFor(s, at), unit.Volume(0)
	if last, when := removedBy(s, at); last != nil {
		since, stood = since-TreatedFor(s, when), *last
	}
	if p.Length <= 0 {
		return stood
	}
	return stood + unit.Volume(p.Goal.Float()*since.Minutes()/p.Length.Float())
}
