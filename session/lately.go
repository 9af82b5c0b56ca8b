package session

import (
	"fmt"

	"ebbline/unit"
)

// Lately says what the last sessions show together and no single sheet does:
// weights that end away from dry weight, and trouble that comes back. Each is a
// sentence to ask the unit about. It is empty when there is nothing to say, or
// too little to say it of.
func Lately(sessions []*Session) []string {
	var said []string
	if t := TargetOf(sessions); t.Flagged {
		said = append(said, t.Words)
	}
	if t := OftenLowOf(sessions); t.Flagged {
		said = append(said, t.Words)
	}
	return said
}

// The rule of trouble that comes back: low pressure or cramps in three of the
// last six sessions. That repeated falls of pressure are a reason to look at the
// dry weight again: Flythe JE et al., BMC Nephrol 2017;18:185 (from memory);
// three of six is common practice.
const (
	lastSix    = 6
	threeOfSix = 3
)

// OftenLow is how many of a person's last sessions had low pressure or cramps.
type OftenLow struct {
	Sessions int // looked at, at most six
	Low      int // with low pressure, as the person said or a reading shows
	Cramps   int
	Either   int
	Flagged  bool
	Words    string
}

// OftenLowOf looks for low pressure and cramps in the last six sessions that are
// over. It counts what was written down: a blank is not a session without.
func OftenLowOf(sessions []*Session) OftenLow {
	var t OftenLow
	for i := len(sessions) - 1; i >= 0 && t.Sessions < lastSix; i-- {
		s := sessions[i]
		if _, over := s.Ended(); !over || s.Abandoned() {
			continue
		}
		t.Sessions++
		said, _ := Last[LowPressure](s)
		cramp, _ := Last[Cramp](s)
		low := said != nil || fellLow(s)
		if low {
			t.Low++
		}
		if cramp != nil {
			t.Cramps++
		}
		if low || cramp != nil {
			t.Either++
		}
	}
	if t.Either < threeOfSix {
		return t
	}
	t.Flagged = true
	what := "Low pressure or cramps"
	switch {
	case t.Cramps == 0:
		what = "Low pressure"
	case t.Low == 0:
		what = "Cramps"
	}
	t.Words = fmt.Sprintf("%s in %d of the last %d sessions. Ask your unit, about the dry weight too.", what, t.Either, t.Sessions)
	return t
}

// fellLow reports whether a reading counts as low pressure of the session: the
// program's definition, since a unit's rule for acting lies higher.
func fellLow(s *Session) bool {
	p, low := pressureFrom(s, startSystolic(s)), false
	Each(s, func(b *Reading, _ *Event) { low = low || b.Systolic != nil && p.countsAsLow(*b.Systolic) })
	return low
}

// countsAsLow reports whether a systolic counts as low pressure of a session that
// started at start, nil where that is unknown: below 90 mmHg, or below 100 when the
// session began at 160 or more (Flythe JE et al., J Am Soc Nephrol 2015;26:724–34). Of
// a child, whom those figures are not from, what is low counts.
func (p *bloodPressure) countsAsLow(sys unit.Pressure) bool {
	if p.child {
		return p.isLow(sys)
	}
	return sys < nadir || p.start != nil && *p.start >= nadirStart && sys < nadirHigh
}
