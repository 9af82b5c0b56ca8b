package session

import "ebbline/unit"

// How far a child's pulse may rise over the start in the run, where the unit wrote no
// figure: by 40 a minute or by 40 %, whichever is less. Ours; an adult's bound is of no use
// for a child, whose heart is faster.
const (
	childPulseRise   unit.Pulse = 40
	childPulseRisePc unit.Pulse = 40
)

// childPulse is the upper side of a child's pulse by the program: over it is a rise from
// the start of so much. There is none where no pulse was written before.
//
//	rise = min(40, start × 40 / 100, upwards)   (per minute)
func childPulse(s *Session) pulseBound {
	start, ok := pulseAtStart(s)
	if !ok {
		return pulseBound{}
	}
	rise := min(childPulseRise, (start*childPulseRisePc+99)/100)
	return pulseBound{at: start + rise - 1, whose: ownDefault, start: start}
}

// pulseAtStart is the pulse written last before the treatment, or the first one read in it.
func pulseAtStart(s *Session) (start unit.Pulse, ok bool) {
	began, running := s.Began()
	Each(s, func(b *VitalsBefore, e *Event) {
		if b.Pulse != nil && (!running || !e.At.After(began)) {
			start, ok = *b.Pulse, true
		}
	})
	if ok {
		return start, true
	}
	Each(s, func(b *Reading, _ *Event) {
		if b.Pulse != nil && !ok {
			start, ok = *b.Pulse, true
		}
	})
	return start, ok
}
