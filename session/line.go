package session

import "time"

// A line is the planned removal against treated time: a run of straight
// stretches, a new one from each change of goal or length on the machine.
type line []stretchOfLine

type stretchOfLine struct {
	from, to       time.Duration // treated time
	fromMl, toMl   float64
	changedAt      time.Time // instant of the change; zero for the first
	addedByPlanned float64   // mL beyond the plan that the new goal took in
}

// lineOf builds the line as known at an instant; nil without an agreed plan.
// After a change of goal it starts again from where the removal then stood: the
// last reading, carried on along the line that held until then.
func lineOf(s *Session, at time.Time) line {
	plan, agreed := lastBy[AgreedPlan](s, at)
	if plan == nil {
		return nil
	}
	l := line{{to: time.Duration(plan.Length) * time.Minute, toMl: plan.SetGoal.Float()}}
	length := plan.Length
	Each(s, func(b *GoalChanged, e *Event) {
		if e.At.After(at) || e.At.Before(agreed.At) {
			return
		}
		if b.Length != nil {
			length = *b.Length
		}
		from := TreatedFor(s, e.At)
		stood := l.carried(s, e.At)
		l = append(l, stretchOfLine{
			from: from, to: max(time.Duration(length)*time.Minute, from),
			fromMl: stood, toMl: max(b.Goal.Float(), stood),
			changedAt: e.At, addedByPlanned: beyondPlan(s, e.At).Float(),
		})
	})
	return l
}

// at gives the planned removal in mL after so much treated time.
func (l line) at(treated time.Duration) float64 {
	cur := l[0]
	for _, st := range l[1:] {
		if treated >= st.from {
			cur = st
		}
	}
	switch {
	case treated <= cur.from:
		return cur.fromMl
	case treated >= cur.to:
		return cur.toMl
	}
	return cur.fromMl + (cur.toMl-cur.fromMl)*float64(treated-cur.from)/float64(cur.to-cur.from)
}

// carried gives the removal at an instant: the last reading of it and, since
// then, what the line adds. It is an estimate and never stored.
func (l line) carried(s *Session, at time.Time) float64 {
	now := TreatedFor(s, at)
	last, when := removedBy(s, at)
	if last == nil {
		return l.at(now)
	}
	return last.Float() + max(l.at(now)-l.at(TreatedFor(s, when)), 0)
}
