package main

import (
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// figure is the figure that counts as low for this person: the unit's where it
// answers, and the program's own at the same height or above it until then.
func (p person) figure() unit.Pressure {
	if p.systole < 110 {
		return 70
	}
	return 90
}

// mild are events whose value lies just over a bound: by the smallest step of what is
// read, or a little more where two figures meet.
func mild() []event {
	row := func(change func(*life, *reading)) func(*life, *evening, *session.AgreedPlan) int {
		return func(l *life, e *evening, _ *session.AgreedPlan) int {
			i := e.middle()
			change(l, &e.readings[i])
			return i
		}
	}
	return []event{
		{code: "m-fall", title: "pressure 1 mmHg under the figure to act at", remarks: []string{"low_pressure"},
			row: row(func(l *life, r *reading) {
				v := l.person.figure() - 1
				r.Systolic, r.Diastolic = &v, ref(v*6/10)
			})},
		{code: "m-rate", title: "removal of 13.5 mL/h/kg (or the plan is cut to the unit’s limit)", checks: []string{session.CheckPlan}, codes: []string{"plan_rate_limit", "plan_rate_stop", "paper_rate_limit", "paper_rate_stop"}, stay: true,
			skip: func(p person) bool { return p.length > 300 }, // nobody gains so much that a night takes it off so fast
			make: func(l *life, e *evening) {
				p := l.person
				goal := 13.5 * p.dry * float64(p.length) / 60
				e.weight = p.dry + goal/1000 - 0.55 // with what is drunk and washed back
			},
			// A limit of the unit's cuts the goal, and what stays on is shown.
			kept: func(plan *session.AgreedPlan) bool { return plan.LeftOver > 0 && plan.RatePerKg <= 1300 }},
		{code: "m-hot", title: "fluid of 38.6 °C before the start", checks: []string{session.CheckConduct}, codes: []string{"fluid_hot"}, skip: noFluidCheck, stay: true,
			make: func(_ *life, e *evening) { e.fluid.MeterTemp = warmth(38.6) }},
		{code: "m-hotrun", title: "fluid of 38.6 °C while running", remarks: []string{"temperature_out"},
			row: row(func(_ *life, r *reading) { r.DialTemp = warmth(38.6) })},
		{code: "m-carbon", title: "total chlorine 0.11 mg/L", checks: []string{session.CheckChlorine}, codes: []string{"chlorine_first_over", "chlorine_over"}, skip: tap, stay: true,
			make: func(_ *life, e *evening) { e.chlorine.Result, e.chlorine.Below = 110, false }},
		{code: "m-brew", title: "0.11 mg/L in the water of a batch", checks: []string{session.CheckChlorine}, codes: []string{"chlorine_first_over", "chlorine_over"}, skip: batches, stay: true,
			make: func(l *life, e *evening) {
				l.ownBatch(e, 5*time.Hour)
				e.tested.Result, e.tested.Below = ref(unit.Concentration(110)), false
			}},
		{code: "m-fever0", title: "37.8 °C before the start", checks: []string{session.CheckVitals}, codes: []string{"vitals_temperature_out"}, stay: true,
			make: func(_ *life, e *evening) { e.vitals.Temperature = warmth(37.8) }},
		{code: "m-fever", title: "38.0 °C while running", remarks: []string{"fever"},
			row: row(func(_ *life, r *reading) { r.BodyTemp = warmth(38) })},
		{code: "m-pulse", title: "pulse 1 a minute over the bound", remarks: []string{"pulse_out"},
			row: row(func(_ *life, r *reading) { r.Pulse = ref(unit.Pulse(121)) })},
		{code: "m-under", title: "just at the weight under dry to ring at", checks: []string{session.CheckPlan}, codes: []string{"under_dry_ring", "under_dry_unwell"}, stay: true,
			make: func(l *life, e *evening) {
				if e.weight = l.person.dry - 0.5; l.person.gain < 0 {
					e.weight = l.person.dry - 1.2
				}
			}},
		{code: "m-sugar", title: "blood sugar 3.9 mmol/L before the start", checks: []string{session.CheckGlucose}, codes: []string{"glucose_low"}, skip: unmarked, stay: true,
			make: func(_ *life, e *evening) { e.sugars[0].Glucose = sugarOf(3.9) }},
		{code: "m-lot", title: "a lot that expired yesterday", checks: []string{session.CheckLots}, codes: []string{"lots_expired"}, stay: true,
			make: func(_ *life, e *evening) { e.supplies[1].Expiry = unit.DateOf(e.start).Add(-1) }},
		{code: "m-venous", title: "venous pressure down by 22 mmHg", remarks: []string{"venous_fall"},
			row: func(_ *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				for j := range i { // it ran still before
					e.readings[j].Venous = ref(unit.Pressure(130))
				}
				e.readings[i].Venous = ref(unit.Pressure(108))
				return i
			}},
		{code: "m-low0", title: "sitting 1 mmHg under the figure to start at", checks: []string{session.CheckVitals}, codes: []string{"vitals_sitting_out"}, stay: true,
			make: func(l *life, e *evening) {
				v := unit.Pressure(99)
				if l.person.systole < 110 {
					v = 69
				}
				e.vitals.SitSystolic, e.vitals.SitDiastolic, e.vitals.StandSystolic, e.vitals.StandDiastolic = &v, ref(v*6/10), ref(v-4), ref(v*6/10-2)
			}},
		{code: "m-drop", title: "a standing drop 30 mmHg beyond the usual one", checks: []string{session.CheckVitals}, stay: true,
			codes: []string{"vitals_drop_new", "vitals_drop_felt"},
			make: func(l *life, e *evening) {
				e.vitals.SitSystolic, e.vitals.SitDiastolic = pressure(l.person.systole), pressure(0.57*l.person.systole)
				stand := l.person.systole - l.person.stands - 30
				e.vitals.StandSystolic, e.vitals.StandDiastolic = pressure(stand), pressure(0.57*stand)
			}},
	}
}
