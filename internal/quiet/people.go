package main

import (
	"ebbline/session"
	"ebbline/unit"
)

// A person is one kind of people that the table has a row for: how they are treated,
// and how their body usually is. Everybody is invented.
type person struct {
	code, title string

	days   []string
	start  int // hour by the clock
	length unit.Minutes

	dry     float64 // kg
	gain    float64 // mean gain from one session to the next, % of dry weight
	spread  float64 // and its scatter
	systole float64 // usual upper pressure, sitting, mmHg
	stands  float64 // how far it falls on standing up as a rule, mmHg
	course  float64 // how far it falls over a session, mmHg

	access    string
	technique string
	fluid     session.Fluid
	heparin   bool
	sugar     bool // marked: it is measured before, in and after

	filtered string  // what the machine's figure means, in haemodiafiltration; empty in haemodialysis
	flushes  float64 // minutes from one flush of saline to the next, without heparin; 0 for none
	paper    bool    // no plan is made: the unit's paper is typed
}

// substitution is what is given in haemodiafiltration in a session, L. Ours.
const substitution = 20.0

// flushML is one flush. Ours.
const flushML = 100.0

// thrice are the days of most people.
var thrice = []string{"mon", "wed", "fri"}

// of makes a person out of the usual one.
func of(code, title string, change func(*person)) person {
	p := person{
		code: code, title: title,
		days: thrice, start: 14, length: 270, dry: 72, gain: gainMean, spread: gainSD, systole: 138, stands: 6, course: 14,
		access: "fistula", technique: "rope_ladder", fluid: session.FluidTap, heparin: true,
	}
	change(&p)
	return p
}

// people are the ten kinds of people of the table, in its order.
func people() []person {
	return []person{
		of("day", "three a week by day", func(*person) {}),
		of("night", "8 h nights", func(p *person) { p.start, p.length, p.course = 22, 480, 8 }),
		of("short", "six short a week", func(p *person) {
			p.days, p.length = []string{"mon", "tue", "wed", "thu", "fri", "sat"}, 150
			p.gain, p.spread, p.course = gainDailyMean, gainDailySD, 8
		}),
		of("bags", "bags", func(p *person) {
			p.days, p.length, p.fluid = []string{"mon", "tue", "thu", "fri", "sat"}, 180, session.FluidBags
			p.gain, p.spread, p.course = gainDailyMean, gainDailySD, 8
		}),
		of("batch", "batch", func(p *person) {
			p.days, p.length, p.fluid = []string{"mon", "tue", "thu", "fri"}, 210, session.FluidBatch
		}),
		of("catheter", "catheter", func(p *person) { p.access, p.technique = "catheter", "none" }),
		of("graft", "graft, blood sugar marked", func(p *person) { p.access, p.sugar = "graft", true }),
		of("urine", "urine, beginning 0.4 kg under", func(p *person) { p.gain, p.spread = -100*0.4/72, 100*underSpread/72 }),
		of("low", "usual pressure 95, standing drop", func(p *person) { p.systole, p.stands, p.course = 95, 20, 6 }),
		of("light", "45 kg, no limits of the unit", func(p *person) { p.dry, p.length = 45, 240 }),
	}
}

// more are people whose treatment has rules of its own; their rows stand under the ten.
func more() []person {
	return []person{
		of("hdf", "haemodiafiltration, the machine shows net", func(p *person) { p.filtered = session.RemovedNet }),
		of("gross", "haemodiafiltration, substitution fluid in the figure", func(p *person) { p.filtered = session.RemovedGross }),
		of("flush", "no heparin, a flush every 30 min", func(p *person) { p.heparin, p.flushes = false, 30 }),
		of("paper", "pregnant, by the unit’s paper", func(p *person) { p.paper, p.systole, p.course = true, 118, 6 }),
	}
}

// everybody are the ten and the others.
func everybody() []person { return append(people(), more()...) }

// How a unit meets what is asked of it.
const (
	unitAnswers = "answers"   // after the sixth session, with figures of its own
	unitSilent  = "silent"    // never
	unitNone    = "sets none" // says that it sets none, where that can be written
)

// asked is what *Unit* asks of this prescription.
type asked struct{ rate, fall, pulse, start, stand, dry, idle bool }

// answer writes the unit's figures into a prescription: sensible ones for this
// person, and of what was asked only. It reports whether anything was.
func (p person) answer(rx *session.Prescription, day unit.Date, how string, a asked) bool {
	who := "Dr B. Zupan (invented)"
	any := false
	set := func(ask bool, known bool, figure, none func()) {
		switch {
		case !ask || known:
		case how == unitAnswers:
			figure()
			any = true
			rx.SetBy, rx.SetOn = who, day
		case how == unitNone && none != nil:
			none()
			any = true
		}
	}
	below, low, stand := unit.Pressure(90), unit.Pressure(100), unit.Pressure(90)
	if p.systole < 110 {
		below, low, stand = 70, 70, 50
	}
	set(a.rate, rx.RateKnown(), func() { rx.Rate = ref(unit.RatePerKg(1300)) }, func() { rx.RateNoneBy, rx.RateNoneOn = who, day })
	set(a.fall, rx.FallKnown(), func() { rx.FallBelow = ref(below) }, func() { rx.FallNoneBy, rx.FallNoneOn = who, day })
	set(a.pulse, rx.PulseKnown(), func() { rx.PulseLow, rx.PulseHigh = ref(unit.Pulse(45)), ref(unit.Pulse(120)) }, func() { rx.PulseNoneBy, rx.PulseNoneOn = who, day })
	set(a.start, rx.SystolicLow != nil, func() { rx.SystolicLow, rx.SystolicHi = ref(low), ref(unit.Pressure(185)) }, nil)
	set(a.stand, rx.StandLow != nil, func() { rx.StandLow = ref(stand) }, nil)
	set(a.dry, rx.DryRing != nil, func() { rx.DryRing = ref(unit.Mass(1200)) }, nil)
	return any
}

func ref[T any](v T) *T { return &v }
