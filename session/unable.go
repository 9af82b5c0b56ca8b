package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// Unable is what a person cannot have measured, said once on the form of the
// vitals and kept from then on.
type Unable struct {
	Stand       time.Time // since when they cannot stand; zero: they can
	Thermometer time.Time // when they last said that they have none; zero: they have one
}

// NoThermometerFor is how long "no thermometer" holds from when it was said;
// then the temperature is asked for again. Ours.
const NoThermometerFor = 30 * 24 * time.Hour

// after is what holds after one more entry. A pressure that was measured
// standing, and a temperature, take back what was said before.
func (u Unable) after(b *VitalsBefore, at time.Time) Unable {
	if b.StandSystolic != nil {
		u.Stand = time.Time{}
	}
	if b.Temperature != nil {
		u.Thermometer = time.Time{}
	}
	if b.CannotStand && u.Stand.IsZero() {
		u.Stand = at
	}
	if b.NoThermometer {
		u.Thermometer = at
	}
	return u
}

// WithoutThermometer reports whether no temperature is asked for at a moment.
func (u Unable) WithoutThermometer(at time.Time) bool {
	return !u.Thermometer.IsZero() && at.Before(u.Thermometer.Add(NoThermometerFor))
}

// UnableAt is what a person said cannot be measured, at a moment of a session:
// in earlier sessions and in this one up to then.
func UnableAt(s *Session, h History, at time.Time) Unable {
	u := h.Unable
	Each(s, func(b *VitalsBefore, e *Event) {
		if !e.At.After(at) {
			u = u.after(b, e.At)
		}
	})
	return u
}

// NotAsked lists the keys that are not asked for with what is ticked: a form
// shows them all the same, and left blank they are no gap.
func (b *VitalsBefore) NotAsked() []string {
	if b.CannotStand {
		return []string{"standing_systolic_mmhg", "standing_diastolic_mmhg"}
	}
	return []string{"lying_systolic_mmhg", "lying_diastolic_mmhg"}
}

// A fall of blood pressure on standing up: 20 mmHg of the upper or 10 of the
// lower and more (Freeman R et al., Clin Auton Res 2011;21:69–72, from memory).
// For somebody who cannot stand the same figures are held from lying to sitting;
// that is ours.
const (
	dropUpper unit.Pressure = 20
	dropLower unit.Pressure = 10
)

// A drop is news until three of the last six sessions that could show one did, unless
// it is as it usually is in them: at least three, and less than dropMore of the upper
// and than dropLower of the lower one beyond the median. One of dropAgain, or of twice
// dropLower, beyond it is news again for somebody who always has one. Ours.
const (
	dropsOver   = 6
	dropsEnough = 3

	dropMore  unit.Pressure = 15
	dropAgain unit.Pressure = 20
)

// fell is by how much the two pressures fell on standing up.
type fell struct {
	upper unit.Pressure
	lower *unit.Pressure
}

func (p posture) by(up posture) fell {
	f := fell{upper: *p.upper - *up.upper}
	if p.lower != nil && up.lower != nil {
		lower := *p.lower - *up.lower
		f.lower = &lower
	}
	return f
}

// unusual reports whether a drop is news; often: three of the last six had one.
func (h *History) unusual(f fell, often bool) bool {
	if len(h.Fell) < dropsEnough {
		return !often
	}
	var uppers, lowers []unit.Pressure
	for _, one := range h.Fell {
		uppers = append(uppers, one.upper)
		if one.lower != nil {
			lowers = append(lowers, *one.lower)
		}
	}
	upper, lower := dropMore, dropLower
	if often {
		upper, lower = dropAgain, 2*dropLower
	}
	return f.upper >= dropUpper && f.upper >= middleOf(uppers)+upper ||
		f.lower != nil && *f.lower >= dropLower && (len(lowers) < dropsEnough && !often || len(lowers) >= dropsEnough && *f.lower >= middleOf(lowers)+lower)
}

// middleOf is the median, of an even number the larger of the middle two.
func middleOf(list []unit.Pressure) unit.Pressure {
	slices.Sort(list)
	return list[len(list)/2]
}

// fellTo reports whether a pressure taken higher up lies a drop under this one.
func (p posture) fellTo(up posture) bool {
	if p.upper == nil || up.upper == nil {
		return false
	}
	return *p.upper-*up.upper >= dropUpper || p.lower != nil && up.lower != nil && *p.lower-*up.lower >= dropLower
}

// upright gives the pressures of the lower and of the higher posture, with their
// names: sitting and standing, or lying and sitting where nobody stood up. ok is
// false where the pair is not whole.
func (m measured) upright() (low, high posture, lowName, highName string, ok bool) {
	low, high, lowName, highName = m.sitting, m.standing, "Sitting", "standing"
	if m.standing.upper == nil {
		low, high, lowName, highName = m.lying, m.sitting, "Lying", "sitting"
	}
	return low, high, lowName, highName, low.upper != nil && high.upper != nil
}

// drop finds a fall of blood pressure on standing up: with a complaint, or when
// it is new for this person.
func (l startLine) drop(v *verdict, m measured) {
	low, high, lowName, highName, ok := m.upright()
	if !ok || !low.fellTo(high) {
		return
	}
	bound := dropUpper.String() + " upper or " + dropLower.String() + " lower, from memory, " + ownDefault
	complaint := false
	Each(l.s, func(b *Fitness, e *Event) {
		complaint = complaint || !e.At.After(l.at) && (b.Faint || b.Fall)
	})
	before := 0
	for _, had := range l.h.Drops {
		if had {
			before++
		}
	}
	switch {
	case complaint:
		v.look(high.e, "vitals_drop_felt", lowName, low.text(), highName, high.text()).against(bound)
	case l.h.unusual(low.by(high), before >= dropsEnough):
		v.look(high.e, "vitals_drop_new", lowName, low.text(), highName, high.text()).against(bound)
	}
}

// vitals takes in what the vitals of one more session say.
func (h *History) vitals(s *Session) {
	m := measured{unable: h.Unable}
	Each(s, m.take)
	Each(s, func(b *VitalsAfter, _ *Event) {
		if b.StandSystolic != nil {
			m.unable.Stand = time.Time{}
		}
	})
	h.Unable = m.unable
	if low, high, _, _, ok := m.upright(); ok {
		// A slice of its own, so that a copied history can be added to apart.
		h.Drops = append(slices.Clone(h.Drops[max(0, len(h.Drops)+1-dropsOver):]), low.fellTo(high))
		h.Fell = append(slices.Clone(h.Fell[max(0, len(h.Fell)+1-dropsOver):]), low.by(high))
	}
}
