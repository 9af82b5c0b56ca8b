package session

import (
	"time"

	"ebbline/unit"
)

// startSystolic gives the pressure that a session began at: the sitting
// pressure before it, or the first reading where that is missing.
func startSystolic(s *Session) *unit.Pressure {
	at, begun := s.Began()
	if !begun && len(s.Log) > 0 {
		at = s.Log[len(s.Log)-1].At
	}
	if sitting := sittingBefore(s, at); sitting != nil {
		return sitting
	}
	var first *unit.Pressure
	Each(s, func(b *Reading, _ *Event) {
		if first == nil {
			first = b.Systolic
		}
	})
	return first
}

// sittingBefore gives the sitting pressure written last before a moment.
func sittingBefore(s *Session, at time.Time) *unit.Pressure {
	var sitting *unit.Pressure
	Each(s, func(b *VitalsBefore, e *Event) {
		if !e.At.After(at) && b.SitSystolic != nil {
			sitting = b.SitSystolic
		}
	})
	return sitting
}

// bloodPressure follows the upper pressure of a run.
type bloodPressure struct {
	start  *unit.Pressure // that the session began at; nil until it is known
	child  bool           // no figure of an adult is used
	below  *unit.Pressure // the unit's figures
	by     *unit.Pressure
	whose  string
	low    bool           // a reading was low, and none since was inside
	lowest *unit.Pressure // said of this fall; nil when no figure was
	near   int            // readings running near the start with no complaint
	nadir  bool           // the last reading only counts as low, and fell
	counts *unit.Pressure // lowest said of the run, however
	falls  []int          // places in the log of what holds the removal: low pressures that were said, and those that only count as one
}

func pressureOf(s *Session, began time.Time) bloodPressure {
	return pressureFrom(s, sittingBefore(s, began))
}

// pressureFrom is the rule of low pressure for a session that began at a pressure in
// mmHg, nil where that is not known.
func pressureFrom(s *Session, start *unit.Pressure) bloodPressure {
	p := bloodPressure{start: start, child: s.Child}
	if rx := s.Rx; rx != nil && (rx.FallBelow != nil || rx.FallBy != nil) {
		p.below, p.by, p.whose = rx.FallBelow, rx.FallBy, setByUnit(rx)
	}
	return p
}

// own reports whether the unit set no rule, so that the program's is used.
func (p *bloodPressure) own() bool { return p.below == nil && p.by == nil }

// isLow reports whether an upper pressure is low. By the unit's figures it is
// below the one, or down by the other from the start. Where the unit set
// neither it is
//
//	under 90, or 30 and more under the start,
//	or under 100 when the session began at 120 or over (mmHg)
//
// A figure of the unit's for the one leaves the other unset. Of a child the 90 and the
// 100 are not used, they are of adults: low is a fall from its own start; see [childFall].
func (p *bloodPressure) isLow(sys unit.Pressure) bool {
	if !p.own() {
		return p.below != nil && sys < *p.below || p.by != nil && p.start != nil && *p.start-sys >= *p.by
	}
	if p.child {
		return childFell(sys, p.start)
	}
	return sys < fallBelow || p.start != nil && (*p.start-sys >= fallBy || *p.start >= fallHighStart && sys < fallBelowHigh)
}

// inside reports whether a reading is inside: not low, or, for a person whose
// start is itself low by the program's rule, near the start two readings
// running with no complaint.
func (p *bloodPressure) inside(sys unit.Pressure) bool {
	return !p.isLow(sys) || p.own() && p.start != nil && p.isLow(*p.start) && p.near >= 2
}

// A pressureTold is an entry that told of a blood pressure while the treatment ran,
// and whether that was inside.
type pressureTold struct {
	e      *Event
	inside bool
}

// fell reports whether a pressure lies 20 mmHg and more under the start: that much is a
// fall by every definition (KDOQI 2005, from memory), and less is how somebody is who
// always runs low. Of a child it is what [childFell] takes for one.
func (p *bloodPressure) fell(sys unit.Pressure) bool {
	if p.child && p.start != nil {
		return childFell(sys, p.start)
	}
	return p.start == nil || *p.start-sys >= nadirFall
}

// complaint breaks a row of readings near the start.
func (p *bloodPressure) complaint() { p.near = 0 }

// pressure takes in an upper pressure; felt when the person said that it was
// low, with or without a figure: that counts as a low reading either way. A
// low pressure is said after a reading that was inside, when it has the first
// figure of the fall, or when it lies 10 mmHg or more below the lowest said;
// one without a figure each time. One that only counts as low pressure of the
// session is said by the same steps, but not beside a low pressure that the same
// reading said. Where the unit set its own figure and it does not call the pressure
// low, that is a note, and a look only from 20 mmHg under the start on. Of somebody
// whose start is itself low by the program's rule it is said once, and again 10 mmHg
// further down, whatever lies between.
func (w *watch) pressure(sys *unit.Pressure, felt bool, e *Event, i int) (said bool) {
	p := &w.bp
	if felt {
		p.complaint()
	}
	told := pressureTold{e: e}
	defer func() { w.pressures = append(w.pressures, told) }()
	if sys == nil {
		w.fall(facts{}, e, i)
		return true
	}
	if p.start == nil && !felt {
		p.start = sys
	}
	if !felt {
		if d := *sys - *p.start; max(d, -d) <= fallNear {
			p.near++
		} else {
			p.near = 0
		}
	}
	f := facts{value: sys.String(), whose: p.whose}
	if p.child && p.own() {
		f.limit = childFallWords
	}
	if p.start != nil {
		f.was = p.start.String()
	}
	switch {
	case !felt && p.inside(*sys):
		p.low, p.lowest = false, nil
		w.felt.inside, told.inside = true, true
		w.check.inside(e.At)
	default:
		if said = p.lowest == nil || *sys <= *p.lowest-againPressure; said {
			p.lowest, p.counts = sys, sys
			f.felt = !p.isLow(*sys)
			w.fall(f, e, i)
		}
		w.check.low(e)
	}
	counts := p.countsAsLow(*sys)
	first := w.beyond("nadir", counts, -int64(*sys), againPressure)
	if further := w.beyond("nadir_fell", counts && p.fell(*sys), -int64(*sys), againPressure); (first || further) && !said {
		w.ease(e.At)
		if p.fell(*sys) { // the unit's figure says nothing of catching up after it
			p.falls = append(p.falls, i)
		}
		w.counts(*sys, f, e)
	}
	if !felt {
		p.nadir = p.countsAsLow(*sys) && p.fell(*sys)
	}
	return said
}

// counts says a pressure that only counts as low.
func (w *watch) counts(sys unit.Pressure, f facts, e *Event) {
	p := &w.bp
	switch {
	case !p.own() && !p.fell(sys):
		w.say(LevelNote, "nadir", e, f)
	case p.own() && p.start != nil && p.isLow(*p.start):
		if p.counts != nil && sys > *p.counts-againPressure {
			w.check.look(e, true)
			return
		}
		p.counts = &sys
		w.say(LevelLook, "nadir", e, f)
	default:
		w.say(LevelLook, "nadir", e, f)
	}
}

// fall says a low pressure and keeps its place.
func (w *watch) fall(f facts, e *Event, i int) {
	w.bp.low = true
	w.bp.falls = append(w.bp.falls, i)
	w.ease(e.At)
	w.check.low(e)
	w.say(LevelLook, "low_pressure", e, f)
}
