package session

import (
	"ebbline/fluid"
	"ebbline/unit"
)

// lowStart is the upper pressure under which a beginning counts as low for asking
// the unit for a figure of its own. Ours.
const lowStart unit.Pressure = 110

// An Asker is whom the unit is asked for.
type Asker struct {
	Pacemaker bool
	Child     bool // as of [Session.Child]
}

// An Ask is one figure that the unit is asked for, and the keys that answer it.
type Ask struct {
	Code, Words string
	Kind        string   // of the entry that the answer is written in
	Keys        []string // any of them that the entry has none of yet, or the name of who said that the unit sets none
}

// The codes of what the unit is asked for.
const (
	AskFall  = "fall"  // the pressure to act at
	AskPulse = "pulse" // the pair for the pulse
	AskStart = "start" // the pressures to start at, sitting
	AskStand = "stand" // that standing
	AskDry   = "dry"   // how far under the dry weight to ring

	AskSubstitution = "substitution" // of haemodiafiltration: how much, and where
	AskRemoved      = "removed"      // what the machine's figure for the fluid removed means
	AskRate         = "rate"         // the limit for the removal rate
)

// The keys that answer what is asked for.
var (
	actKeys   = []string{"act_systolic_below_mmhg", "act_systolic_fall_mmhg", "act_systolic_none_by"}
	startKeys = []string{"start_systolic_low_mmhg", "start_systolic_high_mmhg"}
	pulseKeys = []string{"start_pulse_low_per_min", "start_pulse_high_per_min", "start_pulse_none_by"}
)

// twoOfSix is in how many of the last six sessions a figure of the program's own
// speaks for the unit to be asked, where it speaks in the middle of a treatment or
// week after week on the same day. Ours.
const twoOfSix = 2

// AskedOfUnit lists what the last six sessions give reason to ask the unit for: a
// figure of its own where the program's does not fit this person. Each is one line,
// for the pages between sessions only; it goes once the figure is written, or that
// the unit sets none.
//
//   - the pressure to act at, where the unit set neither of the two figures and
//     three of the six began under 110 mmHg
//   - the same, where a reading was low by the program's own figures in two
//   - the pressures to start at, where a side of the pair is missing and the one
//     sitting was out of the program's own on that side in three
//   - the pressure standing, where it has no figure of its own and was low in three
//   - the weight to ring under, where there is none and three began so far below the
//     dry weight that the program said it
//   - the pair for the pulse, where a side of it is missing and the pulse was out of
//     it in three of the six, or the person has a pacemaker
//   - of a child each of them that is not written, since none of the program's is used
//   - how much substitution fluid, and where, for haemodiafiltration without them
//
// Sessions that did not end, or were struck out, are not looked at.
func AskedOfUnit(rx *Prescription, sessions []*Session, who Asker) []Ask {
	if rx == nil {
		return nil
	}
	looked, low, out, fell, sat, stood, under := 0, 0, 0, 0, 0, 0, 0
	count := func(n *int, is bool) {
		if is {
			*n++
		}
	}
	for i := len(sessions) - 1; i >= 0 && looked < lastSix; i-- {
		s := sessions[i]
		if _, over := s.Ended(); !over || s.Abandoned() {
			continue
		}
		looked++
		start := startSystolic(s)
		count(&low, start != nil && *start < lowStart)
		count(&out, pulseWasOut(s))
		count(&fell, lowByOurs(s))
		count(&sat, sittingWasOut(&rx.Limits, s))
		count(&stood, standingWasLow(&rx.Limits, s))
		count(&under, wasUnder(s))
	}
	var list []Ask
	ask := func(code, words string, keys ...string) {
		list = append(list, Ask{Code: code, Words: words, Kind: "prescription", Keys: keys})
	}
	if rx.ByFiltration() && !rx.Whole() {
		ask(AskSubstitution, AskSubstitutionWords, "substitution_l", "substitution_place")
	}
	child := who.Child
	if child {
		for _, a := range childAsks(&rx.Limits) {
			words := askChildWords(a.what)
			if a.code == AskFall {
				words = askChildFallWords()
			}
			ask(a.code, words, a.keys...)
		}
	}
	switch {
	case child || rx.FallKnown():
	case low >= threeOfSix:
		ask(AskFall, askLowWords(low, looked), actKeys...)
	case fell >= twoOfSix:
		ask(AskFall, askFallWords(fell, looked), actKeys...)
	}
	if !child && sat >= threeOfSix {
		ask(AskStart, askStartWords(sat, looked), startKeys...)
	}
	if !child && rx.StandLow == nil && stood >= threeOfSix {
		ask(AskStand, askStandWords(stood, looked), "start_standing_low_mmhg")
	}
	if rx.DryRing == nil && under >= threeOfSix {
		ask(AskDry, askDryWords(under, looked), "below_dry_ring_kg")
	}
	if !child && !rx.PulseKnown() {
		switch {
		case who.Pacemaker:
			ask(AskPulse, askPacemakerWords, pulseKeys...)
		case out >= threeOfSix:
			ask(AskPulse, askPulseWords(out, looked), pulseKeys...)
		}
	}
	return list
}

// pulseWasOut reports whether a pulse lay out of the pair while a session ran.
func pulseWasOut(s *Session) bool {
	slow, fast := pulseBounds(s)
	out := false
	Each(s, func(b *Reading, _ *Event) {
		out = out || b.Pulse != nil && (slow.under(*b.Pulse) || fast.over(*b.Pulse))
	})
	return out
}

// lowByOurs reports whether a reading of a session was low by the program's own
// figures.
func lowByOurs(s *Session) bool {
	p, low := bloodPressure{start: startSystolic(s), child: s.Child}, false
	Each(s, func(b *Reading, _ *Event) { low = low || b.Systolic != nil && p.isLow(*b.Systolic) })
	return low
}

// eachStart calls f for the vitals that were written before a session began.
func eachStart(s *Session, f func(*VitalsBefore)) {
	began, ok := s.Began()
	Each(s, func(b *VitalsBefore, e *Event) {
		if ok && !e.At.After(began) {
			f(b)
		}
	})
}

// sittingWasOut reports whether a sitting pressure before a session lay out of the
// program's own figures, on a side that the unit has set none for.
func sittingWasOut(l *Limits, s *Session) (out bool) {
	eachStart(s, func(b *VitalsBefore) {
		if v := b.SitSystolic; v != nil {
			out = out || l.SystolicLow == nil && *v < startSystolicLow || l.SystolicHi == nil && *v >= startSystolicHigh
		}
	})
	return out
}

// standingWasLow is the same for the one standing, which the limit of the one sitting
// stands in for.
func standingWasLow(l *Limits, s *Session) (low bool) {
	bound := startStandingLow
	if l.SystolicLow != nil {
		bound = *l.SystolicLow
	}
	eachStart(s, func(b *VitalsBefore) { low = low || b.StandSystolic != nil && *b.StandSystolic < bound })
	return low
}

// wasUnder reports whether a session began so far under the dry weight that the
// program's own figures say it.
func wasUnder(s *Session) bool {
	plan, _ := Last[AgreedPlan](s)
	return plan != nil && fluid.JudgeBelowDry(plan.Under(), nil, false) > fluid.DryQuiet
}

// FallKnown reports whether it is written what the unit says of low pressure: one of
// its figures, or that it sets none.
func (l Limits) FallKnown() bool { return l.FallBelow != nil || l.FallBy != nil || l.FallNoneBy != "" }

// PulseKnown reports whether it is written what the unit says of the pulse: its pair,
// or that it sets none.
func (l Limits) PulseKnown() bool {
	return l.PulseLow != nil && l.PulseHigh != nil || l.PulseNoneBy != ""
}
