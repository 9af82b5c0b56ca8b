package session

import (
	"time"

	"ebbline/unit"
)

// A line is the planned removal against treated time: a run of straight
// stretches, a new one from each change of goal or length on the machine, and a
// flat one while removal was off. Behind a flat one it goes on at the slope of
// before: what did not come off is not on the line any more.
type line []stretchOfLine

type stretchOfLine struct {
	from, to       time.Duration // treated time
	fromMl, toMl   float64
	wantedMl       float64   // at the end, had removal never been off
	changedAt      time.Time // instant of the last change of goal; zero before the first
	by             int       // place of that change in the log
	addedByPlanned float64   // mL beyond the plan that the goal took in
}

// slope is what a stretch takes off in an hour of treated time, in mL.
func (st stretchOfLine) slope() float64 {
	if st.to <= st.from {
		return 0
	}
	return (st.toMl - st.fromMl) / (st.to - st.from).Hours()
}

// lineOf builds the line as known at an instant; nil without a plan,
// agreed or of the paper, and with one that runs by a profile.
// After a change of goal it starts again from where the removal then stood: the
// last reading, carried on along the line that held until then.
func lineOf(s *Session, at time.Time) line {
	plan, agreed := straight(s, at)
	if plan == nil {
		return nil
	}
	goal := plan.SetGoal.Float()
	l := line{{to: time.Duration(plan.Length) * time.Minute, toMl: goal, wantedMl: goal}}
	length := plan.Length
	offs := RemovalOffs(s)
	off := func(until time.Time) { // takes in what of them lies before
		for len(offs) > 0 && offs[0].From.Before(until) {
			end := offs[0].End
			if open := end.IsZero() || end.After(until); open {
				l = l.flat(TreatedFor(s, offs[0].From), TreatedFor(s, until))
				offs[0].From = until
				return
			}
			l = l.flat(TreatedFor(s, offs[0].From), TreatedFor(s, end))
			offs = offs[1:]
		}
	}
	for i := range s.Log {
		e := &s.Log[i]
		b, is := e.Body.(*GoalChanged)
		if !is || e.Struck != nil || e.At.After(at) || e.At.Before(agreed.At) {
			continue
		}
		off(e.At)
		if b.Length != nil {
			length = *b.Length
		}
		from := TreatedFor(s, e.At)
		stood := l.carried(s, e.At)
		own, _ := Agreed(s, e.At)
		l = append(l, stretchOfLine{
			from: from, to: max(time.Duration(length)*time.Minute, from),
			fromMl: stood, toMl: max(b.Goal.Float(), stood), wantedMl: max(b.Goal.Float(), stood),
			changedAt: e.At, by: i, addedByPlanned: takenIn(s, own, i, noSaline).Float(),
		})
	}
	off(at)
	return l
}

// flat adds a stretch in which nothing comes off, and behind it one at the slope
// of before.
func (l line) flat(from, to time.Duration) line {
	last := l[len(l)-1]
	if from = max(from, last.from); to <= from {
		return l
	}
	still, on := last, last
	still.from, still.to, still.fromMl = from, to, l.at(from)
	still.toMl = still.fromMl
	on.from, on.to, on.fromMl = to, max(last.to, to), still.fromMl
	on.toMl = on.fromMl + last.slope()*(on.to-on.from).Hours()
	return append(l, still, on)
}

// last is the stretch that holds until the end.
func (l line) last() stretchOfLine { return l[len(l)-1] }

// lost is what did not come off since the goal was last changed because removal
// was off, in mL.
func (l line) lost() float64 { return max(l.last().wantedMl-l.last().toMl, 0) }

// unchanged reports whether the goal is still the plan's.
func (l line) unchanged() bool { return l.last().changedAt.IsZero() }

// lastRate gives the removal rate along the last stretch of a line, down.
func (l line) lastRate() unit.Rate { return unit.Rate(l.last().slope() + 1e-6) }

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

// gain gives what the line takes off between two moments of treated time, in mL.
// Where a change of goal began from a count that was off the line, the step to it
// is none of it.
func (l line) gain(from, to time.Duration) float64 {
	sum := 0.0
	for i, st := range l {
		a, b := max(from, st.from), min(to, st.to)
		if i+1 < len(l) {
			b = min(b, l[i+1].from)
		}
		if b > a {
			sum += st.slope() * (b - a).Hours()
		}
	}
	return sum
}

// carried gives the removal at an instant: the last reading of it and, since
// then, what the line adds. It is an estimate and never stored.
func (l line) carried(s *Session, at time.Time) float64 {
	now := TreatedFor(s, at)
	last, when := removedBy(s, at)
	if last == nil {
		return l.at(now)
	}
	return last.Float() + l.gain(TreatedFor(s, when), now)
}
