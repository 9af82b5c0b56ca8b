package session

import (
	"time"

	"ebbline/unit"
)

// A PressureNow is the blood pressure that was written last, and what was felt
// since.
type PressureNow struct {
	Upper, Lower *unit.Pressure // Upper is nil where none was written; Lower where it has none
	Pulse        *unit.Pulse    // written beside it
	At           time.Time      // of Upper; zero without one
	Before       bool           // it was taken before the treatment
	Low          bool           // a reading of the run was low and none since was inside, as [Settings.Low]
	Felt         time.Time      // a low pressure with no figure, said at or after At; zero when none was
}

// LastPressure gives the blood pressure of a session as it stands at a moment: the
// sitting one before it, a reading, a figure of a low pressure, or the lower of those
// after it, whichever was written last, and whether the run is low by the rules that remarks are made by.
// ok is false where no pressure was written and none was felt to be low.
func LastPressure(s *Session, now time.Time) (p PressureNow, ok bool) {
	began, begun := s.Began()
	take := func(upper, lower *unit.Pressure, pulse *unit.Pulse, e *Event) {
		if upper != nil {
			p = PressureNow{Upper: upper, Lower: lower, Pulse: pulse, At: e.At, Before: !begun || e.At.Before(began)}
		}
	}
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(now) {
			continue
		}
		switch b := e.Body.(type) {
		case *VitalsBefore:
			take(b.SitSystolic, b.SitDiastolic, b.Pulse, e)
		case *Reading:
			take(b.Systolic, b.Diastolic, b.Pulse, e)
		case *VitalsAfter:
			// Of two the lower: who stands up after coming off may fall.
			if up, lie := b.StandSystolic, b.LieSystolic; up != nil && (lie == nil || *up <= *lie) {
				take(up, b.StandDiastolic, b.Pulse, e)
			} else {
				take(lie, b.LieDiastolic, b.Pulse, e)
			}
		case *LowPressure:
			take(b.Systolic, b.Diastolic, nil, e)
			if b.Systolic == nil {
				p.Felt = e.At
			}
		case *Trouble:
			if b.Trouble == TroubleLow && b.State != TroubleOver {
				p.Felt = e.At
			}
		}
	}
	if w, running := watchRun(s, now); running {
		p.Low = w.bp.low
	}
	return p, p.Upper != nil || !p.Felt.IsZero()
}
