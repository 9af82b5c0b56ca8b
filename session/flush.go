package session

import (
	"time"

	"ebbline/unit"
)

// flushGrace is how late a flush may come before it is said. Ours.
const flushGrace = 5 * time.Minute

// Flushes reports whether flushes are ordered, without heparin or beside it.
func (rx *Prescription) Flushes() bool {
	return rx != nil && rx.FlushML != nil && rx.FlushEvery != nil && *rx.FlushML > 0 && *rx.FlushEvery > 0
}

// NoHeparin reports whether a prescription orders no heparin; false without one.
func (rx *Prescription) NoHeparin() bool {
	return rx != nil && (rx.Heparin == "" || rx.Heparin == "none")
}

// FlushCount gives how many flushes fall into a session of a length: one at every full
// interval of treated time before its end. One at the very end would only go in with the
// blood that is given back; the washback is a term of its own.
//
//	n = floor((length − 1 min) / every)
//
// The length is in whole minutes from 1 on; it is 0 without an order. Common practice: a
// flush every 15 to 30 minutes where no heparin is given (from memory); the volume and
// the interval are the unit's.
func (rx *Prescription) FlushCount(length unit.Minutes) int {
	if !rx.Flushes() || length < 1 {
		return 0
	}
	return int((length - 1) / *rx.FlushEvery)
}

// FlushesPlanned gives what the flushes of a session bring in: n × the volume of one.
func (rx *Prescription) FlushesPlanned(length unit.Minutes) unit.Volume {
	if !rx.Flushes() {
		return 0
	}
	return unit.Volume(rx.FlushCount(length)) * *rx.FlushML
}

// A slot is the time of one flush: it belongs to it from half an interval before to half
// an interval after. The first begins with the treatment.
type slot struct {
	given unit.Volume
	times int
	left  bool // said to be left out
}

// flushSlots puts the flushes given up to a moment into their slots, by treated time. The
// slot of number k is list[k-1]; there are as many as the last one given needs, and
// planned at least.
func flushSlots(s *Session, planned int, at time.Time) []slot {
	list := make([]slot, planned)
	every := lasting(*s.Rx.FlushEvery)
	Each(s, func(b *Saline, e *Event) {
		if !b.Flush || e.At.After(at) {
			return
		}
		k := max(int((TreatedFor(s, e.At)+every/2)/every), 1)
		for len(list) < k {
			list = append(list, slot{})
		}
		list[k-1].given += b.Volume
		list[k-1].times++
	})
	Each(s, func(b *FlushLeftOut, e *Event) {
		if !e.At.After(at) && b.Number >= 1 && b.Number <= len(list) {
			list[b.Number-1].left = true
		}
	})
	return list
}

// slotIsOver reports whether the time of a flush is over at so much treated time, so that one
// that was not given counts as left out.
func slotIsOver(k int, every, treated time.Duration) bool {
	return 2*treated >= time.Duration(2*k+1)*every
}

// flushesBeyond gives what flushes brought in beyond the plan in a session of a length, up
// to a moment: each slot that has one, that was said to be left out, or whose time is over, against what the
// plan had for it. It is negative where planned ones were left out. One that is not due yet changes
// nothing, nor does one that is a little late; one that the length has no time for counts
// as left out at once.
func flushesBeyond(s *Session, plan *AgreedPlan, at time.Time, length unit.Minutes) (sum unit.Volume) {
	every, treated := lasting(*s.Rx.FlushEvery), TreatedFor(s, at)
	planned, fit := int(plan.Flushes / *s.Rx.FlushML), s.Rx.FlushCount(length)
	for i, one := range flushSlots(s, planned, at) {
		expected := *s.Rx.FlushML
		if i >= planned {
			expected = 0
		}
		if one.times > 0 || one.left || i >= fit || slotIsOver(i+1, every, treated) {
			sum += one.given - expected
		}
	}
	return sum
}

// A FlushDue says which flush is next in a run, and when.
type FlushDue struct {
	At     time.Time // before now when it is overdue; zero while the treatment stands still
	Volume unit.Volume
	Every  unit.Minutes
	Number int // of this one
	Of     int // in all, as long as the session is to run
	Late   bool
}

// NextFlush gives the next flush of a run as it stands at now: the first that was not
// given and whose time is not over. It is counted in treated time, so that a pause moves
// it. ok is false where none is ordered, when none is left, and while nothing runs.
func NextFlush(s *Session, now time.Time) (due FlushDue, ok bool) {
	run, running := Follow(s, now)
	if !running || !run.Ended.IsZero() || !s.Rx.Flushes() {
		return FlushDue{}, false
	}
	every := lasting(*s.Rx.FlushEvery)
	due = FlushDue{Volume: *s.Rx.FlushML, Every: *s.Rx.FlushEvery, Of: s.Rx.FlushCount(run.Length)}
	slots := flushSlots(s, due.Of, now)
	for i, one := range slots[:due.Of] {
		if one.times > 0 || one.left || slotIsOver(i+1, every, run.Treated) {
			continue
		}
		due.Number = i + 1
		if !run.Paused {
			due.At = instantOf(s, time.Duration(due.Number)*every, now)
			due.Late = now.Sub(due.At) > flushGrace
		}
		return due, true
	}
	return FlushDue{}, false
}

// FlushesGiven counts the flushes given in a session, and those left out up to a moment:
// said so, whose time was over with none, or for which a shorter session has no time.
func FlushesGiven(s *Session, now time.Time) (given, leftOut int) {
	run, ok := Follow(s, now)
	if !ok || !s.Rx.Flushes() {
		return 0, 0
	}
	fit, planned := s.Rx.FlushCount(run.Length), 0
	if plan, _ := agreed(s, now); plan != nil {
		planned = int(plan.Flushes / *s.Rx.FlushML)
	}
	of := max(fit, planned)
	for i, one := range flushSlots(s, of, now) {
		given += one.times
		if i < of && one.times == 0 && (one.left || i >= fit || slotIsOver(i+1, lasting(*s.Rx.FlushEvery), run.Treated)) {
			leftOut++
		}
	}
	return given, leftOut
}

// WithoutHeparin takes the steps that ask for heparin out of a sheet of setting up, for
// somebody who is ordered none. What waited for them waits for what they waited for.
func (r RunSheet) WithoutHeparin() RunSheet {
	return r.withoutEntries("heparin_drawn")
}
