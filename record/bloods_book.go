package record

import (
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A LabBook is what is kept of a person's bloods and of what it takes to read
// them.
type LabBook struct {
	Bloods    []*Blood // in the order they were drawn
	Calls     []Dated[BloodCall]
	Ranges    []Dated[BloodRange] // in the order they were written
	Bodies    Versions[Body]
	Residuals []Dated[Residual]   // in the order the collections ended
	Targets   []Dated[DoseTarget] // in the order they were written
}

// A Blood is a sample with what became of it.
type Blood struct {
	Dated[Bloods]
	Corrects string // the entry whose place it takes
}

// Counts reports whether the sample is not struck out or replaced.
func (b *Blood) Counts() bool { return b.Struck == nil }

// Blood returns the sample with this id, or nil.
func (l *LabBook) Blood(id string) *Blood { return among(l.Bloods, id) }

// SampleOf returns the sample drawn before or after a session that holds an
// analyte, or nil.
func (l *LabBook) SampleOf(sessionID, timing, analyte string) *Blood {
	for _, b := range l.Bloods {
		if b.Counts() && b.Value.Session == sessionID && b.Value.Timing == timing && b.Value.Find(analyte) != nil {
			return b
		}
	}
	return nil
}

// Body returns what is known of the person's body, and false when nothing is.
func (l *LabBook) Body() (Body, bool) { return l.Bodies.Now() }

// residualDays is how long a residual clearance counts: after that nobody
// knows whether it is still there.
//
// Source: KDOQI 2015 (from memory).
const residualDays = 90

// Residual returns the last collection of urine that may still be counted at a
// moment. old is the last one that may not: its age is then to be said, and the
// residual clearance is taken as none.
func (l *LabBook) Residual(at time.Time) (counted, old *Dated[Residual]) {
	for i := len(l.Residuals) - 1; i >= 0; i-- {
		r := &l.Residuals[i]
		if r.Struck != nil || r.At.After(at) {
			continue
		}
		if unit.DateOf(at).Sub(unit.DateOf(r.At)) > residualDays {
			return nil, r
		}
		return r, nil
	}
	return nil, nil
}

// apply folds an entry of the book; it gives false for one of another kind.
func (l *LabBook) apply(e placed) bool {
	switch e.Body.(type) {
	case *Bloods:
		l.Bloods = putByTime(l.Bloods, &Blood{Dated: dated[Bloods](e), Corrects: e.Corrects})
	case *BloodCall:
		l.Calls = put(l.Calls, dated[BloodCall](e))
	case *BloodRange:
		l.Ranges = put(l.Ranges, dated[BloodRange](e))
	case *DoseTarget:
		l.Targets = put(l.Targets, dated[DoseTarget](e))
	case *Body:
		l.Bodies = put(l.Bodies, dated[Body](e))
	case *Residual:
		l.Residuals = putByTime(l.Residuals, dated[Residual](e))
	default:
		return false
	}
	return true
}

func (l *LabBook) strike(id string, s *session.Strike) {
	strikeAmong(l.Bloods, id, s)
	strikeIn(l.Calls, id, s)
	strikeIn(l.Ranges, id, s)
	strikeIn(l.Bodies, id, s)
	strikeIn(l.Targets, id, s)
	strikeIn(l.Residuals, id, s)
}

// near is how far from a session a sample before or after it may be drawn.
const near = 12 * time.Hour

// SessionNear returns the treated session that a sample drawn at a moment
// belongs to: the one whose beginning, for a sample before it, or end, for one
// after it, lies nearest, within twelve hours. It is nil when there is none.
func (m *Member) SessionNear(at time.Time, timing string) *session.Session {
	var found *session.Session
	least := near + 1
	for _, s := range m.Sessions {
		from, to, ok := around(s)
		if !ok {
			continue
		}
		d := at.Sub(from).Abs()
		if timing == Post {
			d = at.Sub(to).Abs()
		}
		if d < least {
			found, least = s, d
		}
	}
	return found
}

// around gives the beginning and the end of a treatment; one without an end is
// taken to have had the length that was wanted.
func around(s *session.Session) (from, to time.Time, ok bool) {
	if s.Abandoned() {
		return from, to, false
	}
	if from, ok = s.Began(); !ok {
		return from, to, false
	}
	if to, ok = s.Ended(); !ok {
		length, _ := session.Length(s, from)
		to = from.Add(time.Duration(length) * time.Minute)
	}
	return from, to, true
}
