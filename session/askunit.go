package session

import "ebbline/unit"

// lowStart is the upper pressure under which a beginning counts as low for asking
// the unit for a figure of its own. Ours.
const lowStart unit.Pressure = 110

// AsksUnit lists what the last six sessions give reason to ask the unit for: a
// figure of its own where the program's does not fit this person. Each is one line,
// for the pages between sessions only; it goes once the figure is written, or that
// the unit sets none.
//
//   - the pressure to act at, where the unit set neither of the two figures and
//     three of the six began under 110 mmHg
//   - the pair for the pulse, where a side of it is missing and the pulse was out of
//     it in three of the six, or the person has a pacemaker
//   - how much substitution fluid, and where, for haemodiafiltration without them
//
// Sessions that did not end, or were struck out, are not looked at.
func AsksUnit(rx *Prescription, sessions []*Session, pacemaker bool) []string {
	if rx == nil {
		return nil
	}
	looked, low, out := 0, 0, 0
	for i := len(sessions) - 1; i >= 0 && looked < lastSix; i-- {
		s := sessions[i]
		if _, over := s.Ended(); !over || s.Abandoned() {
			continue
		}
		looked++
		if start := startSystolic(s); start != nil && *start < lowStart {
			low++
		}
		if pulseWasOut(s) {
			out++
		}
	}
	var list []string
	if rx.ByFiltration() && !rx.Whole() {
		list = append(list, AskSubstitutionWords)
	}
	if !rx.FallKnown() && low >= threeOfSix {
		list = append(list, askLowWords(low, looked))
	}
	if !rx.PulseKnown() {
		switch {
		case pacemaker:
			list = append(list, askPacemakerWords)
		case out >= threeOfSix:
			list = append(list, askPulseWords(out, looked))
		}
	}
	return list
}

// pulseWasOut reports whether a pulse lay out of the pair while a session ran.
func pulseWasOut(s *Session) bool {
	slow, fast := pulseBounds(s.Rx)
	out := false
	Each(s, func(b *Reading, _ *Event) {
		out = out || b.Pulse != nil && (*b.Pulse < slow.at || *b.Pulse > fast.at)
	})
	return out
}

// FallKnown reports whether it is written what the unit says of low pressure: one of
// its figures, or that it sets none.
func (l Limits) FallKnown() bool { return l.FallBelow != nil || l.FallBy != nil || l.FallNoneBy != "" }

// PulseKnown reports whether it is written what the unit says of the pulse: its pair,
// or that it sets none.
func (l Limits) PulseKnown() bool {
	return l.PulseLow != nil && l.PulseHigh != nil || l.PulseNoneBy != ""
}
