package session

import (
	"time"

	"ebbline/unit"
)

// weightLatest is how old a weight may be at connecting though the plan was
// made in time. Ours.
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
	if _, agreed := lastBy[AgreedPlan](l.s, l.at); agreed != nil && agreed.At.After(e.At) {
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
}

// Start limits used where the unit set none (from memory; common practice). A
// temperature of 37.8 °C by mouth is the case definition of a pyrogenic reaction
// (Gordon SM et al., JAMA 1988;260:2077–81, from memory).
const (
	startSystolicLow   unit.Pressure    = 100
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

func (l startLine) vitalsBefore(v *verdict, b *VitalsBefore, e *Event) {
	if v.blank(e, "sitting_systolic_mmhg") {
		return
	}
	rx := l.rx
	if b.SitSystolic == nil {
		v.open(e, "vitals_no_sitting")
	}
	if b.Pulse == nil && (rx.PulseLow != nil || rx.PulseHigh != nil) {
		v.open(e, "vitals_no_pulse")
	}
	if b.Temperature == nil && rx.TempHigh != nil {
		v.open(e, "vitals_no_temp")
	}
	below(v, rx, e, "Sitting", b.SitSystolic, rx.SystolicLow, startSystolicLow)
	below(v, rx, e, "Standing", b.StandSystolic, rx.SystolicLow, startSystolicLow)
	reaches(v, rx, e, "Sitting", b.SitSystolic, rx.SystolicHi, startSystolicHigh, Look)
	reaches(v, rx, e, "Lower pressure", b.SitDiastolic, nil, startDiastolicHigh, Look)
	below(v, rx, e, "Pulse", b.Pulse, rx.PulseLow, startPulseLow)
	exceeds(v, rx, e, "Pulse", b.Pulse, rx.PulseHigh, startPulseHigh)
	reaches(v, rx, e, "Temperature", b.Temperature, rx.TempHigh, startTempHigh, StopHere)
	switch {
	case v.any():
	case rx.SystolicLow != nil && rx.SystolicHi != nil:
		v.ready("vitals_inside", capital(insideWords(rx))).against(rx.SystolicLow.String() + " to " + rx.SystolicHi.Text() + ", " + setByUnit(rx))
	default:
		v.ready("vitals_written_down").against(startSystolicLow.String() + " to " + startSystolicHigh.Text() + ", " + ownDefault)
	}
}
