package session

import (
	"strings"
	"time"

	"ebbline/unit"
)

// weightLatest is how old a weight may be at connecting although the plan was made
// from it within [WeightAge]; that age itself passes. Ours.
const weightLatest = 2 * time.Hour

func (l startLine) weighed(v *verdict) {
	b, e := lastBy[WeighIn](l.s, l.at)
	if b == nil {
		v.open(nil, "weight_open")
		return
	}
	if v.blank(e, "weight_kg") {
		return
	}
	used := l.at // the weight must be fresh when the plan is made from it
	if _, agreed := planOrPaper(l.s, l.at); agreed != nil && agreed.At.After(e.At) {
		used = agreed.At
	}
	switch {
	case used.Sub(e.At) > WeightAge:
		v.stop(e, "weight_was_old", hoursText(unit.Minutes(used.Sub(e.At)/time.Minute)))
	case l.at.Sub(e.At) > weightLatest:
		v.stop(e, "weight_is_old", ago(e.At, l.at))
	case l.h.Scale != "" && !SameScale(b.Scale, l.h.Scale):
		v.look(e, "weight_scale", b.Scale, l.h.Scale)
	default:
		v.ready("weight_ready", b.Weight.Text(), ago(e.At, l.at))
	}
	l.weightsApart(v, b, e)
}

// Start limits used where the unit set none (from memory; common practice). A
// temperature of 37.8 °C by mouth is the case definition of a pyrogenic reaction
// (Gordon SM et al., JAMA 1988;260:2077–81, from memory).
const (
	startSystolicLow   unit.Pressure    = 100
	startStandingLow   unit.Pressure    = 90 // standing; ours
	startSystolicHigh  unit.Pressure    = 180
	startDiastolicHigh unit.Pressure    = 110
	startPulseLow      unit.Pulse       = 50
	startPulseHigh     unit.Pulse       = 120
	startTempHigh      unit.Temperature = 378
)

// vitals are blood pressure, pulse and temperature before the start.
func (l startLine) vitals(v *verdict) {
	if judged(l, v, startLine.vitalsBefore) == nil {
		v.open(nil, "vitals_open")
	}
}

// vitalsBefore judges what was measured up to one entry. What an entry leaves
// out counts from the ones before it: who forgot to stand up writes that alone.
func (l startLine) vitalsBefore(v *verdict, _ *VitalsBefore, e *Event) {
	rx, m := l.rx, l.measured(e)
	m.notMeasured(l, v, e)

	sitting := about("vitals_sitting_out", m.sitting.e)
	standing := about("vitals_standing_out", m.standing.e)
	lying := about("vitals_lying_out", m.lying.e)
	lower := about("vitals_lower_out", m.sitting.e)
	pulse := about("vitals_pulse_out", m.pulseIn)
	warm := about("vitals_temperature_out", m.temperatureIn)
	// Of a child only the unit's own figures count: each is nil where it has none.
	ours := func(set bool) bool { return set || !l.s.Child }
	if ours(rx.SystolicLow != nil) {
		below(v, rx, sitting, m.sitting.upper, rx.SystolicLow, startSystolicLow)
		below(v, rx, lying, m.lying.upper, rx.SystolicLow, startSystolicLow)
	}
	if ours(rx.standingLow() != nil) {
		below(v, rx, standing, m.standing.upper, rx.standingLow(), startStandingLow)
	}
	if ours(rx.SystolicHi != nil) {
		reaches(v, rx, sitting, m.sitting.upper, rx.SystolicHi, startSystolicHigh, Look)
	}
	if high := rx.SystolicHi; high != nil { // the program has no bound of its own for these
		overUnits(v, rx, standing, m.standing.upper, *high)
		overUnits(v, rx, lying, m.lying.upper, *high)
	}
	if ours(false) {
		reaches(v, rx, lower, m.sitting.lower, nil, startDiastolicHigh, Look)
	}
	if ours(rx.PulseLow != nil) {
		below(v, rx, pulse, m.pulse, rx.PulseLow, startPulseLow)
	}
	if ours(rx.PulseHigh != nil) {
		exceeds(v, rx, pulse, m.pulse, rx.PulseHigh, startPulseHigh)
	}
	fever := reaches(v, rx, warm, m.temperature, rx.TempHigh, startTempHigh, StopHere)
	if fever != nil && *m.temperature >= startTempHigh {
		fever.stays(keptAsStop) // a fever that a tablet took away was a fever
	}
	l.drop(v, m)
	l.unheld(v)
	switch {
	case v.any():
	case rx.SystolicLow != nil && rx.SystolicHi != nil:
		v.ready("vitals_inside", capital(insideWords(rx))).against(rx.SystolicLow.String() + " to " + rx.SystolicHi.Text() + ", " + setByUnit(rx))
	default:
		v.ready("vitals_written_down").against(l.systolicBounds())
	}
	if values := m.text(); values != "" {
		v.ready("vitals_values", values).always = l.s.Child // of whom they are not judged where the unit wrote no figure
	}
	if since := m.unable.Stand; !since.IsZero() && m.standing.upper == nil && m.lying.upper != nil {
		v.ready("vitals_lying", dayText(since))
	}
	if said := m.unable.Thermometer; m.temperature == nil && m.unable.WithoutThermometer(l.at) {
		v.ready("vitals_no_thermometer", dayText(said), dayText(said.Add(NoThermometerFor)))
	}
}

// standingLow is the unit's lower limit of the upper pressure standing: its own, or
// else that of the one sitting; nil where it set neither.
func (l Limits) standingLow() *unit.Pressure {
	if l.StandLow != nil {
		return l.StandLow
	}
	return l.SystolicLow
}

// overUnits finds an upper pressure, standing or lying, at or over the limit that
// the unit set: a look, since the limit was written for the one sitting.
func overUnits(v *verdict, rx *Prescription, as finding, got *unit.Pressure, high unit.Pressure) {
	if got != nil && *got >= high {
		as.state, as.args, as.limit = Look, []any{got.Text(), "at or over", high}, high.Text()+", "+setByUnit(rx)
		v.add(as)
	}
}

// measured are the vitals of a session up to one entry: of each value the last
// that was written, and in which entry.
type measured struct {
	sitting, standing, lying posture
	pulse                    *unit.Pulse
	temperature              *unit.Temperature
	pulseIn, temperatureIn   *Event
	unable                   Unable
}

// posture is a blood pressure as it was taken.
type posture struct {
	upper, lower *unit.Pressure
	e            *Event
}

// take takes in a blood pressure, where one was written; a lower one alone belongs
// to the upper one of before.
func (p *posture) take(upper, lower *unit.Pressure, e *Event) {
	switch {
	case upper != nil:
		*p = posture{upper, lower, e}
	case lower != nil && p.upper != nil && p.lower == nil:
		p.lower, p.e = lower, e
	}
}

// text writes it as people say it: 138/80.
func (p posture) text() string {
	if p.lower == nil {
		return p.upper.String()
	}
	return p.upper.String() + "/" + p.lower.String()
}

// text lists what was measured.
func (m measured) text() string {
	var parts []string
	for _, p := range []struct {
		name string
		posture
	}{{"sitting", m.sitting}, {"standing", m.standing}, {"lying", m.lying}} {
		if p.upper != nil {
			parts = append(parts, p.name+" "+p.posture.text())
		}
	}
	if m.pulse != nil {
		parts = append(parts, "pulse "+m.pulse.String())
	}
	if m.temperature != nil {
		parts = append(parts, m.temperature.Text())
	}
	return capital(strings.Join(parts, ", "))
}

func (m *measured) take(b *VitalsBefore, e *Event) {
	m.sitting.take(b.SitSystolic, b.SitDiastolic, e)
	m.standing.take(b.StandSystolic, b.StandDiastolic, e)
	m.lying.take(b.LieSystolic, b.LieDiastolic, e)
	if b.Pulse != nil {
		m.pulse, m.pulseIn = b.Pulse, e
	}
	if b.Temperature != nil {
		m.temperature, m.temperatureIn = b.Temperature, e
	}
	m.unable = m.unable.after(b, e.At)
}

// measured gathers the vitals up to an entry and with it.
func (l startLine) measured(e *Event) measured {
	m := measured{unable: l.h.Unable}
	for i := range l.s.Log {
		one := &l.s.Log[i]
		if b, ok := one.Body.(*VitalsBefore); ok && one.Struck == nil {
			m.take(b, one)
		}
		if one.ID == e.ID {
			break
		}
	}
	return m
}

// notMeasured finds what is not there. A value written as not done is not there
// either: not measured is not ready.
func (m measured) notMeasured(l startLine, v *verdict, e *Event) {
	why := func(key string) string {
		if words := missingWords[e.Missing[key]]; words != "" {
			return words
		}
		return "not written"
	}
	if m.sitting.upper == nil {
		v.open(e, "vitals_no_sitting", why("sitting_systolic_mmhg"))
	}
	switch {
	case m.standing.upper != nil:
	case m.unable.Stand.IsZero():
		v.open(e, "vitals_no_standing", why("standing_systolic_mmhg"))
	case m.lying.upper == nil:
		v.open(e, "vitals_no_lying", why("lying_systolic_mmhg"))
	}
	for _, one := range []struct {
		as, key string
		posture
	}{
		{"sitting", "sitting_diastolic_mmhg", m.sitting}, {"standing", "standing_diastolic_mmhg", m.standing}, {"lying", "lying_diastolic_mmhg", m.lying},
	} {
		instead := one.as != "lying" || m.standing.upper == nil // lying counts in place of standing
		if one.upper != nil && one.lower == nil && instead {
			v.open(e, "vitals_no_lower", one.as, why(one.key))
		}
	}
	if m.pulse == nil {
		v.open(e, "vitals_no_pulse", why("pulse_per_min"))
	}
	switch said := m.unable.Thermometer; {
	case m.temperature != nil:
	case said.IsZero():
		v.open(e, "vitals_no_temperature", why("temperature_c"))
	case !m.unable.WithoutThermometer(l.at):
		v.open(e, "vitals_ask_thermometer", dayText(said))
	}
}
