package session

import (
	"math"
	"time"

	"ebbline/unit"
)

// A Run is a treatment under way as it stands at an instant.
type Run struct {
	Began   time.Time
	Ended   time.Time // zero while it runs
	Elapsed time.Duration
	Treated time.Duration // elapsed without the pauses
	Left    time.Duration // treated time still to come
	Paused  bool
	Since   time.Time // when the pause began

	Length      unit.Minutes // treated time wanted
	PlannedEnd  time.Time    // moves on while paused; zero when no length is known
	HeparinStop time.Time    // moves with the end; zero when none is prescribed or the end is not known
	HeparinOff  time.Time    // when the pump was stopped; zero while it runs

	Blood        float64       // litres of blood processed
	BloodAssumed time.Duration // part of it for which only the prescribed flow is known
	BloodFlow    *unit.Flow    // as last told

	Goal      unit.Volume  // set on the machine
	Removed   *unit.Volume // as last typed from the machine
	RemovedAt time.Time
	Expected  *unit.Volume // should be removed by now along the plan's line; nil without a plan
	Drunk     unit.Volume
	Saline    unit.Volume
	Beyond    unit.Volume // drinks and saline above what the plan allowed for; negative where flushes were left out

	NextCheck  time.Time
	CheckEvery unit.Minutes
	CheckFrom  string // whose interval that is
	CheckUnit  bool   // it is one that the unit set
	CheckWhy   string // why it is due then, as [NextCheck] has it; empty after the end
}

// Follow gives a run as it stands at now. ok is false before connecting.
// Entries after now do not count.
func Follow(s *Session, now time.Time) (r Run, ok bool) {
	began, ok := s.Began()
	if !ok || now.Before(began) {
		return Run{}, false
	}
	r = Run{Began: began}
	at := now
	if ended, over := theEnd(s); over && !now.Before(ended) {
		r.Ended, at = ended, ended
	}
	r.Elapsed, r.Treated = at.Sub(began), TreatedFor(s, at)
	if r.Ended.IsZero() {
		r.Since, r.Paused = Paused(s, now)
	}
	if length, known := Length(s, now); known {
		r.Length = length
		r.end(s, at)
	}
	r.blood(s, at)
	r.fluid(s, at)
	r.nextCheck(s, at)
	return r, true
}

// end works out what hangs on the length.
func (r *Run) end(s *Session, at time.Time) {
	whole := time.Duration(r.Length) * time.Minute
	r.Left = max(whole-r.Treated, 0)
	r.PlannedEnd = instantOf(s, whole, at)
	r.HeparinStop = heparinStop(s.Rx, r.PlannedEnd)
	if _, e := Last[HeparinOff](s); e != nil && !e.At.After(at) {
		r.HeparinOff = e.At
	}
}

// heparinStop gives when the heparin pump is to stop: so many minutes before the
// end as the unit prescribed, so that it moves with the end. It is zero when no
// stop is prescribed.
func heparinStop(rx *Prescription, end time.Time) time.Time {
	if rx == nil || rx.HepStop == nil || rx.HepHourly == nil || *rx.HepHourly <= 0 {
		return time.Time{}
	}
	return end.Add(-time.Duration(*rx.HepStop) * time.Minute)
}

// whenTreated gives the instant at which the treated time reached d.
func whenTreated(s *Session, d time.Duration) time.Time {
	began, _ := s.Began()
	at := began.Add(d)
	for _, p := range Pauses(s) {
		if p.From.After(at) || p.End.IsZero() {
			break
		}
		at = at.Add(p.End.Sub(p.From))
	}
	return at
}

// blood adds up flow by treated minutes. A flow counts from the moment it was
// told; before the first one the prescribed flow stands in, and for how long is
// said.
//
//	litres = Σ flow · treated minutes / 1000
func (r *Run) blood(s *Session, at time.Time) {
	last := r.Began
	var flow *unit.Flow
	count := func(until time.Time) {
		span := TreatedFor(s, until) - TreatedFor(s, last)
		last = until
		switch {
		case flow != nil:
			r.Blood += flow.Float() * span.Minutes() / 1000
		case s.Rx != nil:
			r.Blood += s.Rx.BloodFlow.Float() * span.Minutes() / 1000
			r.BloodAssumed += span
		}
	}
	for i := range s.Log {
		e := &s.Log[i]
		if told := flowOf(e); told != nil && !e.At.Before(r.Began) && !e.At.After(at) {
			count(e.At)
			flow = told
		}
	}
	count(at)
	r.BloodFlow = flow
}

// flowOf gives the blood flow an event tells of, if any.
func flowOf(e *Event) *unit.Flow {
	if e.Struck != nil {
		return nil
	}
	switch b := e.Body.(type) {
	case *Connected:
		return b.BloodFlow
	case *Reading:
		return b.BloodFlow
	case *FlowChanged:
		return &b.BloodFlow
	}
	return nil
}

// fluid works out what was removed, what should have been, and what was added.
func (r *Run) fluid(s *Session, at time.Time) {
	r.Goal, _ = Goal(s, at)
	r.Removed, r.RemovedAt = removedBy(s, at)
	r.Drunk, r.Saline = addedBy(s, at)
	r.Beyond = beyondPlan(s, at)
	if line := lineOf(s, at); line != nil {
		expected := unit.Volume(math.Round(line.at(r.Treated)))
		r.Expected = &expected
	}
}

// addedBy sums what was drunk and what saline was given during treatment.
func addedBy(s *Session, at time.Time) (drunk, saline unit.Volume) {
	Each(s, func(b *Drink, e *Event) {
		if !e.At.After(at) {
			drunk += b.Volume
		}
	})
	Each(s, func(b *Saline, e *Event) {
		if !e.At.After(at) {
			saline += b.Volume
		}
	})
	return drunk, saline
}

// beyondPlan is what was drunk and given above what the plan allowed for, the
// two taken together: saline in place of a drink that was planned is no
// addition. Flushes that are ordered are counted by themselves ([takenBeyond]).
func beyondPlan(s *Session, at time.Time) unit.Volume {
	plan, _ := agreed(s, at)
	return takenBeyond(s, plan, at, noSaline)
}

// noSaline leaves no saline out.
func noSaline(*Saline, *Event) bool { return false }

// beyond is what was drunk and given above what a plan allowed for, not below 0;
// all of it where there is none.
func (a *AgreedPlan) beyond(taken unit.Volume) unit.Volume {
	if a == nil {
		return taken
	}
	return max(taken-a.Intake-a.Saline, 0)
}

// Asleep reports whether no reading is expected at present, by plan.
func (r Run) Asleep() bool { return r.CheckWhy == DueAsleep }

// nextCheck gives when the next reading is due, by [NextCheck].
func (r *Run) nextCheck(s *Session, at time.Time) {
	in := checkEvery(s)
	r.CheckEvery, r.CheckFrom, r.CheckUnit = in.every, in.whose, in.unit
	if r.Ended.IsZero() {
		r.due(NextCheck(s, at))
	}
}

func (r *Run) due(due CheckDue, ok bool) {
	if ok {
		r.NextCheck, r.CheckEvery, r.CheckFrom, r.CheckUnit, r.CheckWhy = due.At, due.Every, due.Whose, due.Unit, due.Why
	}
}
