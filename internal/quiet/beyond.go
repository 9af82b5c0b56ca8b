package main

import (
	"slices"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A beyond is a value that the scatter of an evening put beyond a figure that the
// unit wrote: a true event by chance. It is found from the values that are drawn and
// the figures in force, never from what the program says of them.
type beyond struct {
	rule string // by which it is said: id of a check at the start, code of a remark in the run
	row  int    // of the readings; -1 before the start
	said bool
}

// before is the row of a value from before the start.
const before = -1

// beyondOf lists the values of an evening that lie beyond what the unit wrote. These
// count, each only where the unit wrote it:
//
//	sitting pressure under the lower limit for starting, or at the upper one and over
//	standing pressure under the limit for standing
//	pulse out of the unit's pair, before the start and in a reading
//	weight so far under the dry weight as is to be rung about
//	pressure of a reading under the figure to act at
//
//	rate of the paper's plan over the unit's limit
//
// Of readings that follow each other the first is listed. A plan that the program makes
// is cut to the limit of the rate, so it never lies beyond.
func (e *evening) beyondOf(rx *session.Prescription, paper bool) (list []beyond) {
	add := func(is bool, row int, rule string) {
		if is {
			list = append(list, beyond{rule: rule, row: row})
		}
	}
	v := e.vitals
	add(below(v.SitSystolic, rx.SystolicLow) || rx.SystolicHi != nil && *v.SitSystolic >= *rx.SystolicHi, before, session.CheckVitals)
	add(below(v.StandSystolic, rx.StandLow), before, session.CheckVitals)
	pulse := func(v *unit.Pulse) bool { return below(v, rx.PulseLow) || below(rx.PulseHigh, v) }
	add(pulse(v.Pulse), before, session.CheckVitals)
	add(rx.DryRing != nil && rx.DryWeight-kilos(e.weight) >= *rx.DryRing, before, session.CheckPlan)
	if paper && rx.Rate != nil {
		goal := paperGoal(kilos(e.weight), rx)
		add(goal.Float() > rx.Rate.Float()*float64(*rx.Length)/60*rx.DryWeight.Float(), before, session.CheckPlan) // mL, mL/h/kg, h, kg
	}
	low, fast := false, false
	for i, r := range e.readings {
		isLow, isOut := below(r.Systolic, rx.FallBelow), pulse(r.Pulse)
		add(isLow && !low, i, "low_pressure")
		add(isOut && !fast, i, "pulse_out")
		low, fast = isLow, isOut
	}
	return list
}

// below reports whether a value lies under a figure; neither does where one is missing.
func below[M unit.Measure](v, figure *unit.Quantity[M]) bool {
	return v != nil && figure != nil && *v < *figure
}

// startBeyond takes in whether the start line says what lies beyond before it.
func (s *said) startBeyond(line []session.Check) {
	for i := range s.beyond {
		if b := &s.beyond[i]; b.row == before {
			b.said = slices.ContainsFunc(line, func(c session.Check) bool {
				return b.rule == c.ID && (c.State == session.Look || c.State == session.StopHere)
			})
		}
	}
}

// runBeyond takes in whether the remarks say what lies beyond in the row that an
// entry holds, on that very entry.
func (s *said) runBeyond(row int, entry record.Entry, list []session.Remark) {
	for i := range s.beyond {
		if b := &s.beyond[i]; b.row == row {
			b.said = slices.ContainsFunc(list, func(r session.Remark) bool {
				return b.rule == r.Code && r.Level == session.LevelLook && r.Entry == entry.ID
			})
		}
	}
}

// saidAll reports whether everything beyond a figure was said.
func (s *said) saidAll() bool {
	return !slices.ContainsFunc(s.beyond, func(b beyond) bool { return !b.said })
}

// mustSay lists the rules that have something beyond a figure to say.
func (s *said) mustSay() (list []string) {
	for _, b := range s.beyond {
		if !slices.Contains(list, b.rule) {
			list = append(list, b.rule)
		}
	}
	return list
}
