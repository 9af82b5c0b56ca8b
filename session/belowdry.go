package session

import (
	"strings"
	"time"

	"ebbline/fluid"
	"ebbline/unit"
)

// Under returns how far the weight of a plan lies under its dry weight:
//
//	under = dry weight − (pre-weight − clothing), not below 0
func (a AgreedPlan) Under() unit.Mass { return max(0, a.DryWeight-(a.PreWeight-a.Clothing)) }

// Sum returns what the terms of a plan add up to, before it is rounded to the
// machine's step (1 kg = 1 L):
//
//	pre-weight − clothing − dry weight + drinks + washback + saline + flushes
//
// It is negative when what comes in does not reach the dry weight.
func (a AgreedPlan) Sum() unit.Volume {
	return unit.Volume(a.PreWeight-a.Clothing-a.DryWeight) + a.Intake + a.Washback + a.Saline + a.Flushes
}

// OlderRule reports whether a plan below the dry weight was agreed when nothing
// was taken off there, whatever was drunk and washed back. Such a plan is shown as
// it was written. step is that of the machine's goal field.
func (a AgreedPlan) OlderRule(step unit.Volume) bool {
	return a.BelowDry && a.Goal == 0 && 2*a.Sum() >= max(step, 1) // which is a goal of a step and more by now
}

// An UnderDry is a weight below the dry weight and what it asks for.
type UnderDry struct {
	Under  unit.Mass // 0 at and above the dry weight
	Level  fluid.DryLevel
	Ring   unit.Mass // from so much under on the unit is rung
	Whose  string    // of Ring: the unit's, or the program's own
	Unwell []string  // what makes any amount under a reason to ring
	told   *Event    // the latest entry of those
}

// UnderDryOf returns how far under the dry weight a plan was made and what that
// asks for, as of an instant: [fluid.JudgeBelowDry] by the unit's figure and by
// what was told and measured in this session until then. A yes to vomiting,
// diarrhoea or not eating, and a sitting, standing or lying pressure under the
// limit for starting, count though a better value came after them.
func UnderDryOf(s *Session, a AgreedPlan, at time.Time) UnderDry {
	u := UnderDry{Under: a.Under(), Ring: fluid.BelowDryStop, Whose: ownDefault}
	var ring *unit.Mass
	if rx := s.Rx; rx != nil {
		if ring = rx.DryRing; ring != nil {
			u.Ring, u.Whose = *ring, setByUnit(rx)
		}
	}
	if u.Under > 0 {
		u.Unwell, u.told = unwell(s, at)
	}
	u.Level = fluid.JudgeBelowDry(u.Under, ring, len(u.Unwell) > 0)
	return u
}

// unwell lists, each once, what was told and measured before a session that makes
// it dangerous to be short of water.
func unwell(s *Session, at time.Time) (list []string, told *Event) {
	var stomach, pressure string
	counts := func(e *Event) {
		if told == nil || e.At.After(told.At) {
			told = e
		}
	}
	Each(s, func(b *Fitness, e *Event) {
		if b.Stomach && !e.At.After(at) {
			stomach = "vomiting, diarrhoea or not eating"
			counts(e)
		}
	})
	low, standing := startSystolicLow, startStandingLow
	if s.Child {
		low, standing = 0, 0 // only the unit's own
	}
	if s.Rx != nil && s.Rx.SystolicLow != nil {
		low = *s.Rx.SystolicLow
	}
	if s.Rx != nil && s.Rx.standingLow() != nil {
		standing = *s.Rx.standingLow()
	}
	Each(s, func(b *VitalsBefore, e *Event) {
		for _, one := range []struct {
			upper *unit.Pressure
			low   unit.Pressure
		}{{b.SitSystolic, low}, {b.StandSystolic, standing}, {b.LieSystolic, low}} {
			if one.upper != nil && *one.upper < one.low && !e.At.After(at) {
				pressure = "a blood pressure of " + one.upper.Text()
				counts(e)
			}
		}
	})
	for _, what := range []string{stomach, pressure} {
		if what != "" {
			list = append(list, what)
		}
	}
	return list, told
}

// Code is that of the plan's caution: far_below_dry from Ring on, below_dry for
// anything else that is said, and empty where the term of the plan says enough.
func (u UnderDry) Code() string {
	switch {
	case u.Under > 0 && u.Under >= u.Ring:
		return "far_below_dry"
	case u.Level > fluid.DryQuiet:
		return "below_dry"
	}
	return ""
}

// said gives the sentence of [says] and its values; empty where the term of the
// plan says enough.
func (u UnderDry) said() (code string, args []any) {
	switch {
	case u.Level == fluid.DryStop && len(u.Unwell) > 0:
		return "under_dry_unwell", []any{u.Under.Text(), strings.Join(u.Unwell, " and ")}
	case u.Level == fluid.DryStop:
		return "under_dry_ring", []any{u.Under.Text()}
	case u.Level == fluid.DryLook:
		return "under_dry_look", []any{u.Under.Text()}
	}
	return "", nil
}

// Words says it in a sentence or two; empty where the term of the plan says enough.
func (u UnderDry) Words() string {
	code, args := u.said()
	if code == "" {
		return ""
	}
	return worded(code, args...)
}

// Limit is the figure it was judged by, and whose it is.
func (u UnderDry) Limit() string { return "ring from " + u.Ring.Text() + " under, " + u.Whose }

// short is how much of what comes in beyond the plan only fills up to the dry
// weight, because the plan's own terms do not reach it.
func (a AgreedPlan) short() unit.Volume { return max(0, -a.Sum()) }

// minus writes a number below 0 with a true minus.
func minus(text string) string { return strings.Replace(text, "-", "−", 1) }
