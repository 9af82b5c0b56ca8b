package session

import (
	"time"

	"ebbline/unit"
)

// farBelow is how far under the start a blood pressure lies when it is taken for a
// fall, whatever figure the unit set. Ours: as much as a slip of the finger is asked
// about from one reading to the next.
const farBelow unit.Pressure = 40

// FallTold reports whether a pressure typed at now is a fall for which help comes
// first: an upper pressure that is low by the rule of the session, or either one 40
// mmHg and more under what the session began at. A lower pressure is a fall too
// beside an upper one that is. Either may be nil. Before the treatment, and with
// neither, nothing is.
func FallTold(s *Session, sys, dia *unit.Pressure, now time.Time) (upper, lower bool) {
	p, began, ok := pressureRule(s, now)
	if !ok {
		return false, false
	}
	if sys != nil {
		upper = p.isLow(*sys) || p.start != nil && *p.start-*sys >= farBelow
	}
	if dia != nil {
		start := startDiastolic(s, began)
		lower = upper || start != nil && *start-*dia >= farBelow
	}
	return upper, lower
}

// NearStart reports whether an upper pressure in mmHg, typed while the treatment runs
// at now, is not low by the rule of the session and lies within 10 of what it began
// at, as [FallTold] has it. The 10 is ours: how far from the first a reading still
// counts as inside.
func NearStart(s *Session, sys unit.Pressure, now time.Time) bool {
	p, _, ok := pressureRule(s, now)
	return ok && p.start != nil && !p.isLow(sys) && sys >= *p.start-fallNear && sys <= *p.start+fallNear
}

// pressureRule gives the rule of low pressure of a run for a value that is not in its
// log yet, and when the run began; ok is false before that.
func pressureRule(s *Session, now time.Time) (p bloodPressure, began time.Time, ok bool) {
	if began, ok = s.Began(); !ok || now.Before(began) {
		return p, began, false
	}
	p = pressureOf(s, began)
	p.start = startSystolic(s)
	return p, began, true
}

// startDiastolic gives the lower pressure that goes with [startSystolic].
func startDiastolic(s *Session, began time.Time) *unit.Pressure {
	var before, first *unit.Pressure
	Each(s, func(b *VitalsBefore, e *Event) {
		if !e.At.After(began) && b.SitDiastolic != nil {
			before = b.SitDiastolic
		}
	})
	Each(s, func(b *Reading, _ *Event) {
		if first == nil {
			first = b.Diastolic
		}
	})
	if before != nil {
		return before
	}
	return first
}
