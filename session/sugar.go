package session

import (
	"math"
	"time"

	"ebbline/unit"
)

// A Glucose is a blood sugar as the meter showed it: one of the two numbers, in the
// meter's own unit, or no number at all. Both units are kept as typed; what is held
// against a figure is [Glucose.Molar].
type Glucose struct {
	Value *unit.Molar   `json:"glucose_mmol_l,omitempty"`
	Mg    *unit.MgPerDl `json:"glucose_mg_dl,omitempty"`
	Shows string        `json:"shows,omitempty"` // MeterLow or MeterHigh: what a meter shows that has no number
}

// What a meter shows in the place of a number: its value lies under or over all that it
// can read (about 1.1 to 33.3 mmol/L; from memory).
const (
	MeterLow  = "low"
	MeterHigh = "high"
)

// GlucoseLow is the blood sugar under which it is low where the unit set no figure:
// 4.0 mmol/L is the usual one (from memory). A value at the figure passes.
const GlucoseLow unit.Molar = 400

// GlucoseHigh is the blood sugar from which it is high: 25.0 mmol/L, or a meter that shows
// "Hi". No unit's figure for it is kept. Ours.
const GlucoseHigh unit.Molar = 2500

// GlucoseLatest is how old a blood sugar may be when the treatment begins: an hour
// later a dose of insulin or a meal has moved it. Ours.
const GlucoseLatest = time.Hour

// againGlucose is how much lower a blood sugar must lie than the lowest one said to be
// said again while it stays low, in hundredths of mmol/L. Ours.
const againGlucose = 50

// againSugarHigh is how much higher one must lie to be said again while it stays high, in
// hundredths of mmol/L. Ours.
const againSugarHigh = 300

// MolarOfGlucose gives a blood sugar in mmol/L, to the nearest 0.01:
//
//	mmol/L = mg/dL × 0.0555
//
// A mole of glucose is 180.16 g, which makes it 0.05551. It takes any value that a
// quantity can hold.
func MolarOfGlucose(mg unit.MgPerDl) unit.Molar {
	// Tenths of mg/dL × 555 are 10⁻⁵ mmol/L; halves away from zero.
	const part = 1000
	n := int64(mg) * 555
	if n < 0 {
		return unit.Molar(-((-n + part/2) / part))
	}
	return unit.Molar((n + part/2) / part)
}

// Molar gives the value in mmol/L; false where the meter showed none, or none was
// written.
func (b *Glucose) Molar() (unit.Molar, bool) {
	switch {
	case b.Value != nil:
		return *b.Value, true
	case b.Mg != nil:
		return MolarOfGlucose(*b.Mg), true
	}
	return 0, false
}

// isRead reports whether something was read off a meter.
func (b *Glucose) isRead() bool { return b.Value != nil || b.Mg != nil || b.Shows != "" }

// Text writes it as the meter showed it, with mmol/L beside any other unit.
func (b *Glucose) Text() string {
	switch {
	case b.Shows == MeterLow:
		return "“Lo” on the meter"
	case b.Shows == MeterHigh:
		return "“Hi” on the meter"
	case b.Mg != nil:
		v := MolarOfGlucose(*b.Mg)
		return b.Mg.Text() + " (" + v.Text() + ")"
	case b.Value != nil:
		return b.Value.Text()
	}
	return ""
}

// isLow reports whether it lies under a figure; a meter that shows "Lo" is low by any.
func (b *Glucose) isLow(figure unit.Molar) bool {
	v, ok := b.Molar()
	return b.Shows == MeterLow || ok && v < figure
}

// isHigh reports whether it is at [GlucoseHigh] or over it; "Hi" is high.
func (b *Glucose) isHigh() bool {
	v, ok := b.Molar()
	return b.Shows == MeterHigh || ok && v >= GlucoseHigh
}

// glucoseFigure is the blood sugar under which it is low, and whose figure that is; it
// may be asked with no prescription.
func glucoseFigure(rx *Prescription) (figure unit.Molar, whose string) {
	if rx == nil {
		return GlucoseLow, ownDefault
	}
	return boundBy(rx, rx.GlucoseLow, GlucoseLow)
}

// MarkedGlucose reports whether the unit marked this person's blood sugar to be
// measured; it may be asked with no prescription.
func (rx *Prescription) MarkedGlucose() bool { return rx != nil && rx.GlucoseMarked }

// A Sugar is a blood sugar of a session as it is shown: what was read, when, and
// whether it is low.
type Sugar struct {
	Text string
	At   time.Time
	Low  bool
}

// LastSugar gives the blood sugar of a session read last up to a moment; false where
// none was.
func LastSugar(s *Session, now time.Time) (last Sugar, ok bool) {
	figure, _ := glucoseFigure(s.Rx)
	Each(s, func(b *Glucose, e *Event) {
		if b.isRead() && !e.At.After(now) {
			last, ok = Sugar{b.Text(), e.At, b.isLow(figure)}, true
		}
	})
	return last, ok
}

// A SugarDue says when the blood sugar is to be measured next in a run.
type SugarDue struct {
	At    time.Time // before now when it is overdue
	Every unit.Minutes
	Whose string
	Late  bool // for longer than a reading may come late
}

// NextSugar gives when the blood sugar is due in a run as it stands at now, where the
// unit marked it and set its hours: so long after it was last read in the run, or after
// the beginning. A sleep by plan does not move it. What would fall on the end or behind
// it is not due: the one after the treatment is. ok is false without a mark or hours,
// and while nothing runs.
func NextSugar(s *Session, now time.Time) (due SugarDue, ok bool) {
	run, running := Follow(s, now)
	if !running || !run.Ended.IsZero() || !s.Rx.MarkedGlucose() || s.Rx.GlucoseEvery == nil {
		return SugarDue{}, false
	}
	from := run.Began
	Each(s, func(b *Glucose, e *Event) {
		if b.isRead() && e.At.After(from) && !e.At.After(now) {
			from = e.At
		}
	})
	due = SugarDue{At: from.Add(lasting(*s.Rx.GlucoseEvery)), Every: *s.Rx.GlucoseEvery, Whose: setByUnit(s.Rx)}
	if !run.PlannedEnd.IsZero() && !due.At.Before(run.PlannedEnd) {
		return SugarDue{}, false
	}
	due.Late = now.Sub(due.At) > checkGrace
	return due, true
}

// LateSugars lists the hours of a run that passed with no blood sugar, in order of time,
// each by the rule of [NextSugar]: one that came late by more than a reading may is
// among them, and so is every further hour of a gap.
func LateSugars(s *Session, now time.Time) (late []time.Time) {
	began, ok := s.Began()
	if !ok || !s.Rx.MarkedGlucose() || s.Rx.GlucoseEvery == nil {
		return nil
	}
	until := now
	if ended, over := theEnd(s); over && ended.Before(now) {
		until = ended
	}
	every, from := lasting(*s.Rx.GlucoseEvery), began
	pass := func(at time.Time) {
		for due := from.Add(every); at.Sub(due) > checkGrace; due = due.Add(every) {
			late = append(late, due)
		}
	}
	Each(s, func(b *Glucose, e *Event) {
		if b.isRead() && e.At.After(began) && !e.At.After(until) {
			pass(e.At)
			from = e.At
		}
	})
	pass(until)
	return late
}

// AfterSugar remarks on the blood sugar read last after the treatment, up to a moment,
// where it is low or high. [Remarks] ends with the treatment and has none of it.
func AfterSugar(s *Session, now time.Time) (said Remark, ok bool) {
	ended, over := theEnd(s)
	if !over || !s.Treated() {
		return Remark{}, false
	}
	Each(s, func(b *Glucose, e *Event) {
		if !b.isRead() || e.At.Before(ended) || e.At.After(now) {
			return
		}
		said, ok = Remark{At: e.At, Level: LevelLook, Entry: e.ID}, true
		figure, whose := glucoseFigure(s.Rx)
		switch {
		case b.isLow(figure):
			said.Code, said.Words = "sugar_low", wordsOf("sugar_low", sugarFacts(b, figure, whose))
		case b.isHigh():
			said.Code, said.Words = "sugar_high", wordsOf("sugar_high", sugarFacts(b, GlucoseHigh, ownDefault))
		default:
			said, ok = Remark{}, false
		}
	})
	return said, ok
}

// sugarBefore and sugarAfter report whether a blood sugar was read before the treatment,
// and after it.
func sugarBefore(s *Session) bool {
	began, ok := s.Began()
	return sugarWithin(s, func(at time.Time) bool { return !ok || !at.After(began) })
}

func sugarAfter(s *Session) bool {
	ended, over := theEnd(s)
	return sugarWithin(s, func(at time.Time) bool { return over && !at.Before(ended) })
}

func sugarWithin(s *Session, in func(time.Time) bool) (found bool) {
	Each(s, func(b *Glucose, e *Event) { found = found || b.isRead() && in(e.At) })
	return found
}

// sugarFacts are what a low one is worded from.
func sugarFacts(b *Glucose, figure unit.Molar, whose string) facts {
	return facts{value: b.Text(), limit: figure.Text(), whose: whose}
}

// aboveEveryNumber stands for a meter's "Hi" where it is compared with a number.
const aboveEveryNumber unit.Molar = math.MaxInt32

// sugar is judged by the unit's figure or the program's own, for everybody, marked or
// not, and a high one by the program's own. One with no number is said each time.
func (w *watch) sugar(b *Glucose, e *Event) {
	if !w.connected || !b.isRead() {
		return
	}
	figure, whose := glucoseFigure(w.s.Rx)
	v, _ := b.Molar()
	if b.Shows == MeterHigh {
		v = aboveEveryNumber // a number after it is lower, and no rise
	}
	step := int64(againGlucose)
	if b.Shows == MeterLow {
		step = 0
	}
	if w.beyond("sugar", b.isLow(figure), -int64(v), step) {
		w.say(LevelLook, "sugar_low", e, sugarFacts(b, figure, whose))
	}
	step = againSugarHigh
	if b.Shows == MeterHigh {
		step = 0
	}
	if w.beyond("sugar high", b.isHigh(), int64(v), step) {
		w.say(LevelLook, "sugar_high", e, sugarFacts(b, GlucoseHigh, ownDefault))
	}
}
