package main

import (
	"fmt"
	"math"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// An evening is one session as it truly is, before anything of it is written down.
// What goes wrong in it is put in by an [event].
type evening struct {
	n      int // of the life, from 1
	start  time.Time
	fit    session.Fitness
	access session.AccessCheck
	weight float64
	vitals session.VitalsBefore

	bath     session.BathLabel
	selfTest session.SelfTest
	chlorine session.Chlorine
	fluid    session.FluidCheck
	supplies []session.Supply
	strength unit.Strength // on the vial of heparin
	lock     *session.CatheterLock
	drawn    session.LockDrawn // the lock of before
	made     time.Duration     // a batch made so long before the start; 0: the one of before is used
	tested   session.BatchTested
	night    bool // its steps are done

	sugars   []sugar     // the first before the start
	flushes  []float64   // minutes at which one is given
	bare     int         // row that leaves out the substitution fluid, 0 for none
	misread  unit.Volume // by how much the machine shows more than the plan
	unasked  bool        // heparin is drawn though none is ordered
	readings []reading
	post     float64 // scatter of the weight after, kg

	uncleaned bool // the disinfection after the session before was not done
	residue   bool // the machine was disinfected with a chemical, which is still in it
}

// A reading is one row with the minute it is taken at.
type reading struct {
	minute float64
	session.Reading
}

// A sugar is a blood sugar with the minute it is taken at.
type sugar struct {
	minute float64
	session.Glucose
}

func sugarOf(v float64) session.Glucose {
	return session.Glucose{Value: ref(unit.Molar(math.Round(10*v) * 10))}
}

func pressure(v float64) *unit.Pressure { return ref(unit.Pressure(math.Round(v))) }
func warmth(v float64) *unit.Temperature {
	return ref(unit.Temperature(math.Round(v * 10)))
}
func conduct(v float64) unit.Conductivity { return unit.Conductivity(math.Round(v * 100)) }
func kilos(v float64) unit.Mass           { return unit.Mass(math.Round(v*10) * 100) }

// draw makes an evening with nothing wrong in it.
func (l *life) draw(n int, start time.Time) *evening {
	p, c := l.person, l.chance
	day := unit.DateOf(start)
	e := &evening{n: n, start: start, fit: session.Fitness{None: true}, night: true}
	e.access = session.AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"}
	if p.access == "catheter" {
		e.access = session.AccessCheck{Thrill: "not_applicable", Bruit: "not_done", Skin: "clean", Cuff: "hidden", Length: "as_before"}
		e.drawn = session.LockDrawn{Arterial: session.Drawn, Venous: session.Drawn}
		e.lock = &session.CatheterLock{Name: "citrate", Content: ref(unit.Content(40)), Arterial: 180, Venous: 190, Lot: "LK-" + day.String()[:7], Expiry: day.Add(200)}
	}
	gain := p.dry * c.near(p.gain, p.spread) / 100
	if p.gain > 0 {
		gain = max(gain, 0.2)
		e.weight = l.post + gain
	} else {
		e.weight = p.dry + gain
	}
	sys, within := c.near(p.systole, p.systole*pressureBetween()), p.systole*pressureWithin
	rate := c.near(pulseMean, pulseBetween)
	sit := sys + c.near(0, within)
	stand := max(sit-c.near(p.stands, standsSD), leastStanding)
	e.vitals = session.VitalsBefore{
		SitSystolic: pressure(sit), SitDiastolic: pressure(0.57 * sit), StandSystolic: pressure(stand), StandDiastolic: pressure(min(0.57*sit-0.3*(sit-stand), stand-15)),
		Pulse: ref(unit.Pulse(math.Round(c.near(rate, pulseWithin)))), Temperature: warmth(c.near(warm, warmSD)),
	}
	lot := day.String()[:7]
	e.bath = session.BathLabel{K: 200, Ca: 150, Lot: "BA" + lot, Expiry: day.Add(300)}
	e.selfTest = session.SelfTest{Passed: true, Tries: 1}
	e.chlorine = session.Chlorine{Method: "photometer", Result: 20, Below: true, ReadsDown: 20, Point: "first_carbon", Lot: "CL" + lot, Expiry: day.Add(150)}
	if p.fluid == session.FluidBags {
		e.bath.Seal, e.bath.Clear = session.Yes, session.Yes
	}
	made := c.near(13.9, 0.04)
	e.fluid = session.FluidCheck{MachineConduct: conduct(made), MeterConduct: conduct(c.near(made, 0.06)), MachineTemp: warmth(36), MeterTemp: warmth(c.near(36.1, 0.1))}
	if p.fluid == session.FluidBatch && n%2 == 1 { // each is for two days running
		e.made = 5 * time.Hour
		e.tested = session.BatchTested{Method: "photometer", Result: ref(unit.Concentration(20)), Below: true, ReadsDown: ref(unit.Concentration(20)), Point: "first_carbon",
			Lot: e.chlorine.Lot, Expiry: e.chlorine.Expiry, MachineConduct: ref(conduct(made)), MeterConduct: ref(conduct(c.near(made, 0.06))), Temperature: warmth(c.near(24, 1))}
	}
	needles := "needles"
	if p.access == "catheter" {
		needles = "caps"
	}
	items := []string{"dialyser", "lines", needles, "saline"}
	if p.fluid == session.FluidTap {
		items = append(items, "bicarbonate cartridge")
	}
	for _, item := range items {
		e.supplies = append(e.supplies, session.Supply{Item: item, Lot: "L" + lot + item[:1], Expiry: day.Add(400)})
	}
	e.strength = 1000
	venous, arterial, tmp := c.near(venousMean, venousBetween), c.near(arterialMean, arterialBetween), c.near(tmpMean, tmpBetween)
	minutes := float64(p.length)
	for m := 5.0; m < minutes-4; m += c.near(52, 4) {
		now := sys - p.course*m/minutes + c.near(0, within)
		e.readings = append(e.readings, reading{m, session.Reading{
			Systolic: pressure(now), Diastolic: pressure(0.57 * now), Pulse: ref(unit.Pulse(math.Round(c.near(rate, pulseWithin)))),
			Arterial: pressure(c.near(arterial, arterialWithin)), Venous: pressure(c.near(venous, venousWithin)), TMP: pressure(c.near(tmp, tmpWithin)),
			Conduct: ref(conduct(c.near(13.9, 0.03))), DialTemp: warmth(36),
		}})
	}
	if p.sugar {
		for m := 0.0; m < minutes-20; m += 58 {
			e.sugars = append(e.sugars, sugar{m + 2, sugarOf(c.near(sugarMean, sugarSD))})
		}
	}
	e.post = c.near(0, 0.15)
	for m := p.flushes; p.flushes > 0 && m < minutes; m += p.flushes {
		e.flushes = append(e.flushes, m+1.5)
	}
	return e
}

// setUp writes an evening down to the moment before the blood lines are joined. plan
// is nil where none could be made.
func (l *life) setUp(e *evening) (plan *session.AgreedPlan) {
	id := "q-" + e.start.Format("20060102")
	l.session = id
	t := e.start
	step := func(minutes float64) time.Time {
		t = t.Add(time.Duration(minutes * float64(time.Minute)))
		return t
	}
	day := unit.DateOf(e.start)
	if e.residue {
		l.write(t.Add(-3*time.Hour), "round_done", &record.RoundDone{Item: "chemical", Outcome: "done", Who: personName})
		l.write(t.Add(-time.Hour), "residual_test", &record.ResidualTest{For: "peracetic", Value: 3000, Lot: "RT-07", Expiry: day.Add(300)})
	}
	if e.made > 0 {
		l.brew(e, t)
	}
	l.write(t, "session_opened", &session.Opened{Place: "home", Source: "live", Confirmed: true})
	l.write(step(1), "fitness", &e.fit)
	l.write(step(3), "access_check", &e.access)
	l.write(step(1), "weigh_in", &session.WeighIn{Weight: kilos(e.weight), Scale: "bathroom scale", ReadIn: "kg"})
	l.write(step(5), "vitals_before", &e.vitals)
	if l.person.fluid == session.FluidBatch {
		l.write(step(2), "batch_used", &session.BatchUsed{Batch: l.batch})
	} else {
		l.write(step(2), "bath_label", &e.bath)
	}
	l.write(step(6), "self_test", &e.selfTest)
	if l.person.fluid == session.FluidTap {
		l.write(step(2), "chlorine", &e.chlorine)
	}
	for i := range e.supplies {
		l.write(step(0.3), "supply", &e.supplies[i])
	}
	if l.person.fluid != session.FluidBags {
		l.write(step(7), "fluid_check", &e.fluid)
	}
	if l.person.heparin {
		l.heparin(step(3), e, day)
	}
	if e.unasked {
		l.write(step(3), "heparin_drawn", &session.HeparinDrawn{Strength: 1000, LabelRead: ref(unit.Strength(1000)), Bolus: 2000, BolusVol: 200, Lot: "HE-X", Expiry: day.Add(250)})
	}
	if e.lock != nil {
		l.write(step(1), "catheter_lock", e.lock)
		for _, s := range []string{session.MaskStep, session.ClampStep} {
			l.write(step(0.3), "step", &session.StepDone{Phase: session.SetUp, Step: s, State: "done"})
		}
		l.write(step(2), "lock_drawn", &e.drawn)
	}
	if l.person.start > 20 && e.night {
		for _, s := range []string{session.NightSensors, session.NightAlarm, session.NightHouse, session.NightArm} {
			l.write(step(0.3), "step", &session.StepDone{Phase: session.SetUp, Step: s, State: "done", Note: map[bool]string{true: "Matej is in the house"}[s == session.NightHouse]})
		}
	}
	if l.person.sugar {
		l.write(step(1), "glucose", &e.sugars[0].Glucose)
	}
	plan = l.plan(step(1), e.misread)
	if plan != nil {
		step(1.2)
	}
	if l.person.access != "catheter" {
		site := []string{"1", "2", "3", "4", "5", "6"}[e.n%6]
		l.write(step(6), "needling", &session.Needling{SiteA: "A" + site, SiteV: "V" + site, GaugeA: 16, GaugeV: 16, TriesA: 1, TriesV: 1, Pain: ref(2), By: personName})
	}
	if l.person.start > 20 && e.night {
		l.write(step(0.5), "step", &session.StepDone{Phase: session.SetUp, Step: session.NightTape, State: "done"})
	}
	l.now = step(2)
	return plan
}

// brew makes and tests the batch of an evening.
func (l *life) brew(e *evening, start time.Time) {
	session := l.session
	l.session = ""
	made := start.Add(-e.made)
	l.write(made, "batch_made", &batch{Within: ref(unit.Hours(4800)), CondLow: ref(unit.Conductivity(1360)), CondHigh: ref(unit.Conductivity(1420)),
		K: &e.bath.K, Ca: &e.bath.Ca, Lot: e.bath.Lot, Expiry: e.bath.Expiry, Litres: ref(unit.Litres(60_000))})
	l.batch = fmt.Sprintf("quiet-%06d", l.seq)
	e.tested.Batch = l.batch
	l.write(made.Add(30*time.Minute), "batch_tested", &e.tested)
	l.session = session
}

type batch = session.BatchMade

func (l *life) heparin(at time.Time, e *evening, day unit.Date) {
	s := l.house.Session(l.session)
	if l.err != nil || s == nil || s.Rx == nil {
		return
	}
	d, err := session.DrawHeparin(s.Rx, e.strength, &e.strength, l.member().History(s).Strength, *s.Rx.Length)
	if err != nil {
		l.err = err
		return
	}
	l.write(at, "heparin_drawn", &session.HeparinDrawn{Strength: d.Strength, LabelRead: &e.strength, Bolus: d.Bolus, Line: d.Line, BolusVol: d.BolusVol, LineVol: d.LineVol,
		Lot: "HE" + day.String()[:7], Expiry: day.Add(250)})
}

// plan agrees to the plan and reads it back. Where the program makes none, it types
// what the unit's paper says.
func (l *life) plan(at time.Time, misread unit.Volume) *session.AgreedPlan {
	if l.err != nil {
		return nil
	}
	s := l.house.Session(l.session)
	if l.person.paper {
		return l.paper(at, s, misread)
	}
	made, err := session.MakePlan(s, session.Choices{}, l.member().History(s), at)
	if err != nil {
		l.err = err
		return nil
	}
	l.write(at, "plan", &made.AgreedPlan)
	l.write(at.Add(70*time.Second), "read_back", read(made.SetGoal+misread, made.Length))
	return &made.AgreedPlan
}

// paperGoal is what a paper of the unit's has for a weight: what lies above the dry
// weight, and what is drunk and washed back.
func paperGoal(weight unit.Mass, rx *session.Prescription) unit.Volume {
	return (unit.Volume(max(0, weight-rx.DryWeight)) + rx.Intake + rx.Washback) / 10 * 10
}

// read is what the machine shows, which has litres with two places.
func read(goal unit.Volume, length unit.Minutes) *session.ReadBack {
	return &session.ReadBack{Goal: goal, Length: &length, Shown: fmt.Sprintf("%.2f", goal.Float()/1000)}
}

// paper types the plan of the unit's paper and reads it back.
func (l *life) paper(at time.Time, s *session.Session, misread unit.Volume) *session.AgreedPlan {
	if l.member().NoPlan(at) == nil {
		l.err = fmt.Errorf("%s: a plan is made that the unit's paper was to stand for", l.person.code)
		return nil
	}
	weighed, _ := session.Last[session.WeighIn](s)
	paper := session.PaperPlan{Goal: paperGoal(weighed.Weight, s.Rx), Length: *s.Rx.Length, From: "Dr B. Zupan (invented), of this week"}
	l.write(at, "paper_plan", &paper)
	l.write(at.Add(70*time.Second), "read_back", read(paper.Goal+misread, paper.Length))
	rate := unit.Rate(math.Round(paper.Goal.Float() / float64(paper.Length) * 60))
	return &session.AgreedPlan{Goal: paper.Goal, SetGoal: paper.Goal, Length: paper.Length, Rate: rate}
}

// run writes the treatment, from joining the lines to the closed record.
func (l *life) run(e *evening, plan *session.AgreedPlan) {
	began := l.now
	flow := l.house.Session(l.session).Rx.BloodFlow
	l.write(began, "connected", &session.Connected{BloodFlow: &flow})
	minutes := float64(plan.Length)
	perMinute := plan.SetGoal.Float() / minutes
	at := func(m float64) time.Time { return began.Add(time.Duration(m * float64(time.Minute))) }
	var sugars []sugar
	if l.person.sugar {
		sugars = e.sugars[1:]
	}
	flushes := e.flushes
	for i, r := range e.readings {
		row := r.Reading
		row.BloodFlow, row.Rate = &flow, &plan.Rate
		row.Removed = ref(unit.Volume(math.Round(perMinute*r.minute/10) * 10))
		for len(sugars) > 0 && sugars[0].minute < r.minute {
			l.write(at(sugars[0].minute), "glucose", &sugars[0].Glucose)
			sugars = sugars[1:]
		}
		for len(flushes) > 0 && flushes[0] < r.minute {
			l.write(at(flushes[0]), "saline", &session.Saline{Volume: flushML, Flush: true})
			flushes = flushes[1:]
		}
		if l.person.filtered != "" {
			given := math.Round(substitution*r.minute/minutes*10) / 10
			if row.Given == nil && (e.bare == 0 || i != e.bare) {
				row.Given = ref(unit.Litres(1000 * given))
			}
			if l.person.filtered == session.RemovedGross {
				*row.Removed += unit.Volume(1000 * given)
			}
		}
		l.write(at(r.minute), "reading", &row)
	}
	for _, m := range flushes {
		l.write(at(m), "saline", &session.Saline{Volume: flushML, Flush: true})
	}
	t := at(minutes + 0.5)
	wash := unit.Volume(250)
	off := session.CameOff{Washback: &wash, Removed: ref(plan.SetGoal), Returned: "all"}
	if l.person.filtered != "" {
		off.Given, off.WashbackWith = ref(unit.Litres(1000*substitution)), "machine_fluid"
	}
	if l.person.filtered == session.RemovedGross {
		*off.Removed += 1000 * substitution
	}
	l.write(t, "came_off", &off)
	if l.person.access != "catheter" {
		l.write(t.Add(14*time.Minute), "holding", &session.Holding{Arterial: ref(unit.Minutes(10)), Venous: ref(unit.Minutes(10)), Thrill: "present"})
	}
	l.write(t.Add(18*time.Minute), "vitals_after", &session.VitalsAfter{LieSystolic: pressure(l.person.systole - l.person.course), LieDiastolic: pressure(0.57 * (l.person.systole - l.person.course)), Pulse: ref(unit.Pulse(76))})
	l.post = e.weight + (wash.Float()+flushML*float64(len(e.flushes))-plan.SetGoal.Float())/1000 + e.post
	if l.person.gain > 0 {
		l.post = min(l.post, e.weight)
	}
	if l.person.sugar {
		after := sugarOf(sugarMean)
		l.write(t.Add(20*time.Minute), "glucose", &after)
	}
	l.write(t.Add(25*time.Minute), "weigh_out", &session.WeighOut{Weight: kilos(l.post), Scale: "bathroom scale"})
	l.write(t.Add(27*time.Minute), "circuit", &session.Circuit{})
	l.write(t.Add(32*time.Minute), "disinfection", &session.Disinfection{Programme: "heat", Result: "passed"})
	l.write(t.Add(40*time.Minute), "closed", &session.Closed{MachineTreated: &plan.Length, Feel: "well"})
}
