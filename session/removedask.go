package session

import (
	"math"
	"time"

	"ebbline/unit"
)

// When a count of what was removed is asked about. Ours.
const (
	// pumpSpare is how many times the highest rate known a machine is taken to run
	// at most, in hundredths, and pumpMore what is added for readings a moment apart.
	pumpSpare             = 150
	pumpMore  unit.Volume = 100
	// pumpUnknown is the rate where none is known: the highest that is not asked about.
	pumpUnknown unit.Rate = 1500
	// aheadBy and aheadShare (in percent) are how far ahead of the line a count may
	// lie, both.
	aheadBy    unit.Volume = 150
	aheadShare unit.Volume = 20
)

// PumpCould gives the most that a machine can have taken off between two moments of
// a run, in mL:
//
//	1.5 · highest rate · elapsed + 100 mL
//
// The highest rate is the greatest of those that the plan and each changed goal
// called for, that were read off the machine up to then, that reads now, and the
// unit's limit; 1,500 mL/h where there is none of them. Pauses are left in: they
// may be written late. Ours.
func PumpCould(s *Session, from, at time.Time, reads *unit.Rate) unit.Volume {
	most := 0.0
	plan, _ := planOrPaper(s, at)
	for _, st := range lineOf(s, at) {
		most = max(most, st.slope())
	}
	if plan != nil && s.Rx != nil && s.Rx.Rate != nil {
		most = max(most, goalAt(*s.Rx.Rate, 60, plan.DryWeight, 1).Float())
	}
	if reads != nil {
		most = max(most, reads.Float())
	}
	Each(s, func(b *Reading, e *Event) {
		if b.Rate != nil && !e.At.After(at) {
			most = max(most, b.Rate.Float())
		}
	})
	if most == 0 {
		most = pumpUnknown.Float()
	}
	return unit.Volume(math.Ceil(pumpSpare*most/100*max(at.Sub(from), 0).Hours())) + pumpMore
}

// FarAhead reports whether a removal at an instant lies far ahead of the planned
// line, and what the line has there: by more than 150 mL and by more than 20 %.
// Pauses and removal that was off are taken out of the line. It is not so while the
// count read before was as far ahead already, so that what was stood by once is not
// asked about each time: from there on by more than another 150 mL. Ours.
func FarAhead(s *Session, at time.Time, removed unit.Volume) (planned unit.Volume, far bool) {
	l := lineOf(s, at)
	if l == nil {
		return 0, false
	}
	planned = unit.Volume(math.Round(l.at(TreatedFor(s, at))))
	ahead := func(removed, planned unit.Volume) bool {
		return removed-planned > aheadBy && 100*(removed-planned) > aheadShare*planned
	}
	if !ahead(removed, planned) {
		return planned, false
	}
	before := Counted(s, at)
	if before.At.IsZero() {
		return planned, true
	}
	then := unit.Volume(math.Round(l.at(TreatedFor(s, before.At))))
	return planned, !ahead(before.Removed, then) || removed-planned > before.Removed-then+aheadBy
}
