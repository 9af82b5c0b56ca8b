package session

import (
	"fmt"
	"slices"
	"time"

	"ebbline/unit"
)

// A Remark is something the readings show that a person may have read over. It
// is said on the page in words; the program watches nothing.
type Remark struct {
	Code  string
	Words string
	At    time.Time
	Level string // "look": needles, lines or pressure now; "note": when there is time
	Entry string // id of the entry it was seen in; empty when an entry is lacking
}

// The two levels of a remark.
const (
	LevelLook = "look"
	LevelNote = "note"
)

// When the readings are remarked on.
const (
	// venousFall and venousRise are against the running value at the same
	// blood flow. A fall of 20 to 30 mmHg is when to look (common practice).
	// That pressure monitoring often misses a fallen needle, and that access,
	// needles and lines are looked at before anything is reset: EDTNA/ERCA
	// recommendations on venous needle dislodgement (Van Waeleghem JP et al.,
	// J Ren Care 2008;34:163–8, from memory). The rise is ours.
	venousFall unit.Pressure = 20
	venousRise unit.Pressure = 30
	// arterialFall: ours, between 30 and 50 mmHg more negative.
	arterialFall unit.Pressure = 40
	// sameFlow is how far two blood flows may lie apart to be compared. Ours.
	sameFlow unit.Flow = 10
	// fallBelow and fallBy are when to follow the unit's plan for low pressure
	// while the unit has set neither (from memory; common practice).
	fallBelow unit.Pressure = 100
	fallBy    unit.Pressure = 30
	// nadir is the lowest systolic that does not count as low pressure of the
	// session, nadirHigh that of people who start at nadirStart or more: the
	// definition tied to death (Flythe JE et al., J Am Soc Nephrol
	// 2015;26:724–34).
	nadir      unit.Pressure = 90
	nadirHigh  unit.Pressure = 100
	nadirStart unit.Pressure = 160
	// offLine is how far from the planned line a removal may lie, in percent,
	// and offLineMl at least: early on a tenth of little is nothing. Ours.
	offLine                = 10
	offLineMl  unit.Volume = 100
	offLineMin             = 30 * time.Minute
	// overGoal is how far over the goal a removal may read. Ours.
	overGoal unit.Volume = 50
	// lowFlow is how far below the prescribed one a blood flow may lie, in
	// percent, and settled is when the flow should have been raised. Ours.
	lowFlow = 10
	settled = 15 * time.Minute
	// tmpRise over at least tmpRun readings, each above the one before. Ours.
	tmpRise unit.Pressure = 50
	tmpRun  int           = 3
	// alike is how many readings running are remarked on when a body and a
	// needle are said to have given the same five figures each time. Ours.
	alike = 3
	// checkGrace is how late a reading may come. Ours.
	checkGrace = 15 * time.Minute
)

// Remarks gives what there is to remark on in a session up to now, in order of
// time. Each is said once: the pressures speak again only from a new running
// value, everything else once a session.
func Remarks(s *Session, now time.Time) []Remark {
	began, ok := s.Began()
	if !ok {
		return nil
	}
	w := watch{s: s, said: map[string]bool{}, start: startSystolic(s)}
	until := now
	if ended, over := theEnd(s); over && ended.Before(now) {
		until = ended
	}
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.Before(began) || e.At.After(now) {
			continue
		}
		if told := flowOf(e); told != nil {
			w.flow = told
		}
		switch b := e.Body.(type) {
		case *Reading:
			w.late(e.At)
			w.reading(b, e)
		case *LowPressure:
			if b.Systolic != nil {
				w.pressure(*b.Systolic, e)
			}
		case *NeedleAdjusted:
			w.venous, w.arterial = running{}, running{}
		case *CameOff:
			w.removal(b.Removed, e)
		}
	}
	w.late(until)
	slices.SortStableFunc(w.out, func(a, b Remark) int { return a.At.Compare(b.At) })
	return w.out
}

func startSystolic(s *Session) *unit.Pressure {
	if b, _ := Last[VitalsBefore](s); b != nil && b.SitSystolic != nil {
		return b.SitSystolic
	}
	var first *unit.Pressure
	Each(s, func(b *Reading, _ *Event) {
		if first == nil {
			first = b.Systolic
		}
	})
	return first
}

// watch goes through a session's entries and collects remarks.
type watch struct {
	s        *Session
	out      []Remark
	said     map[string]bool
	start    *unit.Pressure
	flow     *unit.Flow
	venous   running
	arterial running
	tmp      []unit.Pressure
	row      lively // of the last reading that had all of it
	rows     int    // how many of those were the same
}

func (w *watch) say(level, code string, e *Event, format string, args ...any) {
	w.out = append(w.out, Remark{Code: code, Words: fmt.Sprintf(format, args...), At: e.At, Level: level, Entry: e.ID})
}

func (w *watch) once(level, code string, e *Event, format string, args ...any) {
	if !w.said[code] {
		w.said[code] = true
		w.say(level, code, e, format, args...)
	}
}

func (w *watch) reading(b *Reading, e *Event) {
	if b.Venous != nil && w.flow != nil {
		switch was, d := w.venous.put(*b.Venous, *w.flow, -venousFall, venousRise); {
		case d < 0:
			w.say(LevelLook, "venous_fall", e, "Venous %s, was %s at the same flow. Look at both needles and lines first.", b.Venous, was)
		case d > 0:
			w.say(LevelLook, "venous_rise", e, "Venous %s, was %s at the same flow. Look at needle, line and chamber.", b.Venous, was)
		}
	}
	if b.Arterial != nil && w.flow != nil {
		if was, d := w.arterial.put(*b.Arterial, *w.flow, -arterialFall, 0); d < 0 {
			w.say(LevelLook, "arterial_fall", e, "Arterial %s, was %s at the same flow. Look at needle and line.", b.Arterial, was)
		}
	}
	if b.Systolic != nil {
		w.pressure(*b.Systolic, e)
	}
	w.removal(b.Removed, e)
	w.bloodFlow(b, e)
	w.membrane(b, e)
	w.copied(b, e)
}

// copied remarks on readings that are the same in everything that never stays:
// a row that was copied, not read.
func (w *watch) copied(b *Reading, e *Event) {
	now, whole := livelyOf(b)
	if !whole {
		return
	}
	if w.rows == 0 || now != w.row {
		w.row, w.rows = now, 0
	}
	w.rows++
	if w.rows >= alike {
		w.once(LevelNote, "copied", e, "The last %d readings are the same in every figure. Were they read?", w.rows)
	}
}

// lively are the figures of a reading that a body and a needle move.
type lively struct {
	systolic, diastolic, arterial, venous unit.Pressure
	pulse                                 unit.Pulse
}

// livelyOf gives them, and whether the reading has all five.
func livelyOf(b *Reading) (lively, bool) {
	if b.Systolic == nil || b.Diastolic == nil || b.Pulse == nil || b.Arterial == nil || b.Venous == nil {
		return lively{}, false
	}
	return lively{*b.Systolic, *b.Diastolic, *b.Arterial, *b.Venous, *b.Pulse}, true
}

// pressure remarks on a systolic by the unit's rule, or by the program's own
// where the unit set none.
func (w *watch) pressure(sys unit.Pressure, e *Event) {
	below, by, whose := unit.Pressure(0), unit.Pressure(0), ownDefault
	if rx := w.s.Rx; rx != nil && (rx.FallBelow != nil || rx.FallBy != nil) {
		whose = setByUnit(rx)
		if rx.FallBelow != nil {
			below = *rx.FallBelow
		}
		if rx.FallBy != nil {
			by = *rx.FallBy
		}
	} else {
		below, by = fallBelow, fallBy
	}
	counts := countsAsLow(sys, w.start)
	was := ""
	if w.start != nil {
		was = ", started at " + w.start.String()
	}
	low := sys < below || (w.start != nil && by > 0 && *w.start-sys > by)
	switch {
	case low && !w.said["low_pressure"]:
		w.said["nadir"] = w.said["nadir"] || counts
		w.once(LevelLook, "low_pressure", e, "Upper pressure %s%s. Your unit's plan for low pressure (%s).", sys, was, whose)
	case counts:
		w.once(LevelLook, "nadir", e, "Upper pressure %s%s: counts as low pressure of the session. Your unit's plan.", sys, was)
	}
}

func (w *watch) removal(removed *unit.Volume, e *Event) {
	l := lineOf(w.s, e.At)
	if removed == nil || l == nil {
		return
	}
	treated := TreatedFor(w.s, e.At)
	expected := unit.Volume(l.at(treated))
	off := *removed - expected
	if far := max(off, -off); treated >= offLineMin && far >= offLineMl && 100*far > offLine*expected {
		if off < 0 {
			w.once(LevelNote, "removal_behind", e, "Removed %s, planned by now %s: behind. Why?", removed.Text(), expected.Text())
		} else {
			w.once(LevelNote, "removal_ahead", e, "Removed %s, planned by now %s: ahead. Look at rate and goal.", removed.Text(), expected.Text())
		}
	}
	if goal, ok := Goal(w.s, e.At); ok && *removed > goal+overGoal {
		w.once(LevelLook, "goal_exceeded", e, "Removed %s, goal %s: over the goal. Look at the machine.", removed.Text(), goal.Text())
	}
}

func (w *watch) bloodFlow(b *Reading, e *Event) {
	if b.BloodFlow == nil || w.s.Rx == nil || TreatedFor(w.s, e.At) < settled {
		return
	}
	if want := w.s.Rx.BloodFlow; 100**b.BloodFlow < (100-lowFlow)*want {
		w.once(LevelNote, "blood_flow_low", e, "Blood flow %s, prescribed %s. Is that meant?", b.BloodFlow, want.Text())
	}
}

// membrane remarks on a TMP that creeps up, which a clotting dialyser shows.
func (w *watch) membrane(b *Reading, e *Event) {
	if b.TMP == nil {
		return
	}
	if n := len(w.tmp); n > 0 && *b.TMP <= w.tmp[n-1] {
		w.tmp = nil
	}
	w.tmp = append(w.tmp, *b.TMP)
	if first := w.tmp[0]; len(w.tmp) > tmpRun && *b.TMP-first >= tmpRise {
		w.once(LevelNote, "tmp_creeps", e, "TMP %s, was %s: creeping up. Look at the dialyser.", b.TMP, first)
	}
}

// late remarks on a reading that had not come by at.
func (w *watch) late(at time.Time) {
	due, _ := dueAfter(w.s, at.Add(-1))
	if !due.IsZero() && at.Sub(due) > checkGrace && !w.said["check_late"] {
		w.said["check_late"] = true
		w.out = append(w.out, Remark{Code: "check_late", At: due.Add(checkGrace), Level: LevelNote,
			Words: "No reading since the one due at " + clock(due) + "."})
	}
}

// running is the value that a pressure runs at: the middle of the last three
// readings at one blood flow.
type running struct {
	flow   unit.Flow
	values []unit.Pressure
	left   *unit.Pressure // the running value before the last leap
}

// put takes in a reading and tells by which side it leaves the running value:
// −1 when it lies by fall (negative) or more under it, +1 when by rise or more
// over it (0 for never). Having left it, or at another flow, it begins anew.
func (r *running) put(v unit.Pressure, flow unit.Flow, fall, rise unit.Pressure) (was unit.Pressure, side int) {
	if d := flow - r.flow; len(r.values) == 0 || max(d, -d) > sameFlow {
		*r = running{flow: flow, values: []unit.Pressure{v}}
		return v, 0
	}
	last := slices.Sorted(slices.Values(r.values[max(0, len(r.values)-3):]))
	was = last[len(last)/2]
	if len(last) == 2 {
		was = (last[0] + last[1]) / 2
	}
	switch {
	case v-was <= fall:
		side = -1
	case rise > 0 && v-was >= rise:
		side = 1
	}
	if side != 0 {
		back := r.left != nil && v-*r.left > fall && *r.left-v > fall
		r.values, r.left = []unit.Pressure{v}, &was
		if back { // to where it ran before: what was remarked on has been put right
			r.left = nil
			return was, 0
		}
		return was, side
	}
	r.values = append(r.values, v)
	return was, 0
}
