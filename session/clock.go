package session

import (
	"time"

	"ebbline/unit"
)

// Times of a session are instants and differences of instants. A clock change
// in the night moves the faces of clocks, not the time between two moments, so
// nothing here subtracts a clock face from another.

// A Stretch is a span of time; End is zero while it lasts.
type Stretch struct {
	From, End time.Time
	Why       string
}

// Pauses lists when the treatment stood still, in order. Two pauses without a
// resume between them are one; the end of the treatment ends a pause.
func Pauses(s *Session) []Stretch {
	began, ok := s.Began()
	if !ok {
		return nil
	}
	ended, _ := theEnd(s)
	var out []Stretch
	open := false
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.Before(began) || (!ended.IsZero() && e.At.After(ended)) {
			continue
		}
		switch b := e.Body.(type) {
		case *Pause:
			if !open {
				out, open = append(out, Stretch{From: e.At, Why: b.Why}), true
			}
		case *Resume:
			if open {
				out[len(out)-1].End, open = e.At, false
			}
		}
	}
	if open && !ended.IsZero() {
		out[len(out)-1].End = ended
	}
	return out
}

// theEnd gives the moment the treatment ended. An end that was written for a
// moment before the beginning is a slip and ends nothing.
func theEnd(s *Session) (time.Time, bool) {
	ended, ok := s.Ended()
	if began, treated := s.Began(); !ok || !treated || ended.Before(began) {
		return time.Time{}, false
	}
	return ended, true
}

// TreatedFor gives how long the person had been treated at an instant: from
// connecting to then, or to the end if that came first, less the pauses. It is
// 0 before connecting.
//
//	treated = min(at, end) − connected − Σ pauses
func TreatedFor(s *Session, at time.Time) time.Duration {
	began, ok := s.Began()
	if !ok || !at.After(began) {
		return 0
	}
	if ended, over := theEnd(s); over && at.After(ended) {
		at = ended
	}
	treated := at.Sub(began)
	for _, p := range Pauses(s) {
		end := p.End
		if end.IsZero() || end.After(at) {
			end = at
		}
		if end.After(p.From) {
			treated -= end.Sub(p.From)
		}
	}
	return max(treated, 0)
}

// TreatedMinutes is [TreatedFor] as pages, lists and sheets write it: of a
// treatment that runs the minutes that are full, as on a clock; of one that is
// over the nearest minute.
func TreatedMinutes(s *Session, at time.Time) unit.Minutes {
	treated := TreatedFor(s, at)
	if ended, over := s.Ended(); over && !at.Before(ended) {
		treated = treated.Round(time.Minute)
	}
	return unit.Minutes(treated / time.Minute)
}

// Paused reports whether the treatment stands still at an instant, and since when.
func Paused(s *Session, at time.Time) (since time.Time, paused bool) {
	for _, p := range Pauses(s) {
		if !at.Before(p.From) && (p.End.IsZero() || at.Before(p.End)) {
			return p.From, true
		}
	}
	return time.Time{}, false
}

// Length gives the treated time that is wanted at an instant: as last changed
// on the machine, else as planned, else as prescribed. ok is false when nobody
// has said.
func Length(s *Session, at time.Time) (length unit.Minutes, ok bool) {
	for i := len(s.Log) - 1; i >= 0; i-- {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(at) {
			continue
		}
		if b, is := e.Body.(*GoalChanged); is && b.Length != nil {
			return *b.Length, true
		}
		switch b := e.Body.(type) {
		case *AgreedPlan:
			return b.Length, true
		case *PaperPlan:
			return b.Length, true
		}
	}
	if s.Rx == nil {
		return 0, false
	}
	length, _, err := s.Rx.SessionLength()
	return length, err == nil
}

// Goal gives the fluid goal set on the machine at an instant: as last changed
// there, else as agreed in the plan.
func Goal(s *Session, at time.Time) (goal unit.Volume, ok bool) {
	for i := len(s.Log) - 1; i >= 0; i-- {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(at) {
			continue
		}
		switch b := e.Body.(type) {
		case *GoalChanged:
			return b.Goal, true
		case *AgreedPlan:
			return b.SetGoal, true
		case *PaperPlan:
			return b.Goal, true
		}
	}
	return 0, false
}

// SessionLength gives the prescribed length of a session, and in words where
// it comes from. A session by litres of dialysate lasts
//
//	litres / dialysate flow, up to the whole minute
//
// It refuses a prescription that says neither.
func (rx *Prescription) SessionLength() (unit.Minutes, string, error) {
	switch {
	case rx.Length != nil && *rx.Length > 0:
		return *rx.Length, "prescribed", nil
	case rx.Dialysate == nil || *rx.Dialysate <= 0:
		return 0, "", unit.Refuse("length_min", "no length", "a length, or litres of dialysate with their flow")
	case rx.DialFlow == nil || *rx.DialFlow <= 0:
		return 0, "", unit.Refuse("dialysate_flow_ml_min", "no flow", "a dialysate flow, since the session is prescribed by litres")
	}
	ml, flow := int64(*rx.Dialysate), int64(*rx.DialFlow) // litres are recorded to the mL
	return unit.Minutes((ml + flow - 1) / flow), rx.Dialysate.Text() + " of dialysate at " + rx.DialFlow.Text(), nil
}

// Night gives the date a session belongs to: the local date of the moment it
// was opened, so that a session across midnight counts for the evening it
// began.
func Night(s *Session) unit.Date {
	_, at := s.Opened()
	if at.IsZero() {
		return unit.Date{}
	}
	return unit.DateOf(at)
}
