package simulate

import (
	"math"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// gainPerHour is the true gain between sessions, kg an hour: more at weekends.
func (l *life) gainPerHour(at time.Time) float64 {
	base := 0.036
	if d := at.Weekday(); d == time.Monday || d == time.Saturday {
		base = 0.040
	}
	return base * math.Exp(l.rng.NormFloat64()*0.16)
}

// session writes one session from start. open leaves it running.
func (l *life) session(start time.Time, progress float64, open bool) {
	id := "s-" + start.Format("20060102")
	m := l.house.Member(personID)
	rx := m.Prescription(unit.DateOf(start))
	hours := 47.0
	if !l.last.IsZero() {
		hours = start.Sub(l.last).Hours()
	}
	pre := l.post + math.Max(0.3, l.gainPerHour(start)*hours)
	dry := rx.Value.DryWeight
	if l.under.Float64() < underDays && !open {
		pre = dry.Float() - 0.1 - 0.9*l.under.Float64()
	}
	t := start
	step := func(minutes float64) time.Time {
		t = t.Add(time.Duration(minutes * math.Exp(l.rng.NormFloat64()*0.25) * float64(time.Minute)))
		return t
	}
	truth := Truth{Session: id, At: start, DryWeight: rx.Value.DryWeight, Venous: l.venous(progress)}

	l.write(t, "session_opened", id, &session.Opened{Place: "home", Source: "live", Confirmed: true, Carer: "Matej"}, nil)
	sheet := m.Sheet(session.SetUp)
	done := func(step string) {
		l.write(t, "step", id, &session.StepDone{Phase: session.SetUp, Step: step, State: "done"}, nil)
	}
	l.write(step(1), "fitness", id, &session.Fitness{}, nil)
	step(1)
	done("hands_clean")
	step(1)
	done("water_on")
	step(1)
	done("machine_on")
	l.write(step(1), "access_check", id, &session.AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"}, nil)
	truth.PreWeight = kg(pre)
	truth.Under = max(0, dry-truth.PreWeight)
	l.weigh(step(1), id, &truth, dry)
	sys := 138 + l.rng.NormFloat64()*7
	l.write(step(5), "vitals_before", id, &session.VitalsBefore{
		SitSystolic: p(sys), SitDiastolic: p(sys*0.57 + 1), StandSystolic: p(sys - 8), StandDiastolic: p(sys*0.57 - 1),
		Pulse: pulse(72 + l.rng.NormFloat64()*4), Temperature: temp(36.4 + l.rng.NormFloat64()*0.15),
	}, nil)
	l.ringAboutGap(t, id, m)
	day := unit.DateOf(start)
	lots := day.String()[:7]
	bath := &session.BathLabel{K: 200, Ca: 150}
	bath.Lot, bath.Expiry = l.lot("bath", "BA"+lots, day, 300)
	l.write(step(2), "bath_label", id, bath, nil)
	step(6)
	l.write(t, "self_test", id, &session.SelfTest{Passed: true, Tries: 1 + l.times(0.04)}, nil)
	test := &session.Chlorine{Method: "photometer", ReadsDown: 20, Point: "first_carbon"}
	test.Result, test.Below = l.keep.chlorine(t)
	test.Lot, test.Expiry = l.lot("chlorine test", "CL"+lots, day, 150)
	l.write(step(2), "chlorine", id, test, nil)
	for _, item := range []string{"dialyser", "lines", "needles"} {
		opened := &session.Supply{Item: item}
		opened.Lot, opened.Expiry = l.lot(item, "L"+lots+item[:1], day, 400)
		l.write(t, "supply", id, opened, nil)
	}
	for _, item := range []string{"saline", "bicarbonate cartridge"} {
		opened := &session.Supply{Item: item}
		opened.Lot, opened.Expiry = l.lot(item, "L"+lots+item[:1], day, 400)
		l.entry(personID, t, 20*time.Second, "supply", id, opened, nil)
	}
	step(9)
	c := 13.9 + l.rng.NormFloat64()*0.04
	l.write(t, "fluid_check", id, &session.FluidCheck{MachineConduct: cond(c), MeterConduct: cond(c + l.rng.NormFloat64()*0.06), MachineTemp: ptr(temp2(36)), MeterTemp: ptr(temp2(36.1))}, nil)
	l.heparin(step(3), id, m, day)
	numb := &session.AnaestheticDrawn{Strength: 10, Volume: 40}
	numb.Lot, numb.Expiry = l.lot("local anaesthetic", "AN"+lots, day, 200)
	l.write(t, "anaesthetic_drawn", id, numb, nil)
	flush := &session.FlushDrawn{Count: 2, Each: 1000}
	flush.Lot, flush.Expiry = l.lot("saline flush", "NS"+lots, day, 200)
	l.write(t, "flush_drawn", id, flush, nil)
	plan := l.plan(step(1), id, m)
	if plan == nil {
		return
	}
	for _, st := range session.Progress(sheet, l.house.Session(id), t).Steps {
		if st.Tick != session.TickValue && !st.Over() {
			l.write(step(0.6), "step", id, &session.StepDone{Phase: session.SetUp, Step: st.ID, State: "done"}, nil)
		}
	}
	site := []string{"1", "2", "3", "4", "5", "6"}[int(start.Unix()/86400)%6]
	l.write(step(3), "needling", id, &session.Needling{SiteA: "A" + site, SiteV: "V" + site, GaugeA: 16, GaugeV: 16, TriesA: 1 + l.times(0.05), TriesV: 1, Pain: ptr(2 + l.times(0.3)), By: personName}, nil)
	flow := rx.Value.BloodFlow
	l.rang(t, id, m)
	l.write(step(2), "connected", id, &session.Connected{BloodFlow: &flow}, nil)
	began := t
	l.run(began, id, plan, sys, truth.Venous, open)
	l.Truth = append(l.Truth, truth)
	if open {
		l.Open = id
		return
	}
	l.off(began, id, pre, plan)
}

// rang writes down why she goes on where the plan stops below the dry weight.
func (l *life) rang(at time.Time, id string, m *record.Member) {
	if l.err != nil {
		return
	}
	s := l.house.Session(id)
	for _, held := range session.HoldingUp(session.StartLine(s, m.History(s), at)) {
		if held.ID == session.CheckPlan {
			// Written without a draw, so that the rest of the life stays as it is.
			reason := "rang the unit: weighed twice, little eaten, they said to go on as planned"
			l.entry(personID, at, 20*time.Second, "override", id, &session.Override{Check: held.ID, Reason: reason}, nil)
		}
	}
}

// ringAboutGap rings the unit when the time without treatment stops the start: now and
// then two sessions in a row were not held.
func (l *life) ringAboutGap(at time.Time, id string, m *record.Member) {
	s := l.house.Session(id)
	if s == nil || l.err != nil {
		return
	}
	for _, c := range session.StartLine(s, m.History(s), at) {
		if c.ID == session.CheckGap && c.State == session.StopHere {
			l.write(at, "rang", id, &session.Rang{Whom: "kidney unit, by day", Said: "no signs of potassium: go on, and ring again if any come"}, nil)
		}
	}
}

// weigh types the weight, now and then with a slip. A slip that leads below the
// dry weight shows at the plan, which says so: she looks again.
func (l *life) weigh(at time.Time, id string, truth *Truth, dry unit.Mass) {
	w := &session.WeighIn{Weight: truth.PreWeight, Scale: scaleName, ReadIn: "kg"}
	if l.rng.Float64() < 0.03 {
		w.Weight, truth.Slip = slip(truth.PreWeight, l.rng.IntN(4))
	}
	truth.Typed = w.Weight
	before := l.Slips
	l.write(at, "weigh_in", id, w, func() bool {
		wrong := w.Weight != truth.PreWeight
		w.Weight = truth.PreWeight
		return wrong
	})
	if w.Weight < dry && w.Weight != truth.PreWeight {
		l.write(at.Add(time.Minute), "weigh_in", id, &session.WeighIn{Weight: truth.PreWeight, Scale: scaleName, ReadIn: "kg"}, nil)
		l.Slips++
	}
	if truth.Slip != "" && l.Slips == before {
		l.Missed++
	}
}

// slip makes a wrong weight of a true one.
func slip(true unit.Mass, kind int) (unit.Mass, string) {
	tenths := int64(true) / 100
	a, b, c := tenths/100, tenths/10%10, tenths%10
	switch kind {
	case 0: // the two digits before the point
		if a/1 != b {
			return unit.Mass((b*100 + a*10 + c) * 100), "digits swapped"
		}
	case 1: // the digits around the point
		if b != c {
			return unit.Mass((a*100 + c*10 + b) * 100), "digits swapped"
		}
	case 2:
		return unit.Mass((tenths + 20) * 100), "one digit off"
	}
	return unit.Mass(math.Round(float64(true)/0.45359237/100) * 100), "pounds"
}

func (l *life) heparin(at time.Time, id string, m *record.Member, day unit.Date) {
	s := l.house.Session(id)
	if s == nil || s.Rx == nil {
		return
	}
	h := m.History(s)
	strength := *s.Rx.HepStrength
	d, err := session.DrawHeparin(s.Rx, strength, &strength, h.Strength, *s.Rx.Length)
	if err != nil {
		l.err = err
		return
	}
	drawn := &session.HeparinDrawn{Strength: d.Strength, Bolus: d.Bolus, Line: d.Line, BolusVol: d.BolusVol, LineVol: d.LineVol}
	drawn.Lot, drawn.Expiry = l.lot("heparin", "HE"+day.String()[:7], day, 250)
	l.write(at, "heparin_drawn", id, drawn, nil)
}

// plan agrees to the plan and reads it back.
func (l *life) plan(at time.Time, id string, m *record.Member) *session.AgreedPlan {
	if l.err != nil {
		return nil
	}
	s := l.house.Session(id)
	made, err := session.MakePlan(s, session.Choices{}, m.History(s), at)
	if err != nil {
		l.err = err
		return nil
	}
	l.write(at, "plan", id, &made.AgreedPlan, nil)
	l.write(at.Add(70*time.Second), "read_back", id, &session.ReadBack{Goal: made.SetGoal, Length: &made.Length, Shown: made.GoalDigits}, nil)
	return &made.AgreedPlan
}

// venous is the running venous pressure: an outflow that narrows slowly over
// the last third of the record.
func (l *life) venous(progress float64) float64 {
	v := 128 + l.rng.NormFloat64()*4
	if progress > 0.66 {
		v += (progress - 0.66) * 110
	}
	return v
}

func (l *life) times(chance float64) int {
	if l.rng.Float64() < chance {
		return 1
	}
	return 0
}

// run writes the readings and events of a treatment.
func (l *life) run(began time.Time, id string, plan *session.AgreedPlan, sys, venous float64, open bool) {
	minutes := float64(plan.Length)
	until := minutes
	if open {
		until = 84
	}
	flow := l.house.Session(id).Rx.BloodFlow
	lowAt := -1.0
	if l.rng.Float64() < 0.07 && !open {
		lowAt = 120 + l.rng.Float64()*80
	}
	rate := plan.SetGoal.Float() / minutes
	for m := 5.0; m < until; m += 55 + l.rng.Float64()*8 {
		at := began.Add(time.Duration(m * float64(time.Minute)))
		now := sys - 14*m/minutes + l.rng.NormFloat64()*4
		removed := unit.Volume(math.Round(rate*m/10) * 10)
		r := &session.Reading{
			Systolic: p(now), Diastolic: p(now * 0.56), Pulse: pulse(72 + l.rng.NormFloat64()*4), BloodFlow: &flow,
			Arterial: p(-148 + l.rng.NormFloat64()*5), Venous: p(venous + l.rng.NormFloat64()*3), TMP: p(62 + l.rng.NormFloat64()*5),
			Rate: ptr(plan.Rate), Removed: &removed, Conduct: ptr(cond(13.9 + l.rng.NormFloat64()*0.03)), DialTemp: ptr(temp2(36)),
		}
		l.write(at, "reading", id, r, nil)
		if m > 60 && l.rng.Float64() < 0.4 {
			l.write(at.Add(12*time.Minute), "drink", id, &session.Drink{Volume: 100}, nil)
		}
		if lowAt > 0 && m+60 > lowAt {
			low := at.Add(25 * time.Minute)
			lowAt = -1
			l.write(low, "low_pressure", id, &session.LowPressure{Systolic: p(93), Diastolic: p(54), Felt: "dizzy, yawning", Did: "lay back"}, nil)
			l.write(low.Add(time.Minute), "lie_back", id, &session.LieBack{}, nil)
			l.write(low.Add(2*time.Minute), "saline", id, &session.Saline{Volume: 100, Why: "by the unit’s plan"}, nil)
			l.write(low.Add(9*time.Minute), "reading", id, &session.Reading{Systolic: p(108), Diastolic: p(60), Pulse: pulse(78)}, nil)
		}
	}
	if !open && l.rng.Float64() < 0.08 {
		at := began.Add(time.Duration(minutes*0.7) * time.Minute)
		l.write(at, "cramp", id, &session.Cramp{Where: "left calf", Did: "stretched"}, nil)
	}
}

// off writes the end of a session, from washback to the closed record.
func (l *life) off(began time.Time, id string, pre float64, plan *session.AgreedPlan) {
	s := l.house.Session(id)
	if l.err != nil {
		return
	}
	t := began.Add(time.Duration(plan.Length)*time.Minute + time.Duration(l.rng.IntN(90))*time.Second)
	removed, wash := plan.SetGoal, unit.Volume(250)
	l.write(t, "came_off", id, &session.CameOff{Washback: &wash, Removed: &removed, Returned: "all"}, nil)
	l.write(t.Add(14*time.Minute), "holding", id, &session.Holding{Arterial: ptr(unit.Minutes(9 + l.rng.IntN(4))), Venous: ptr(unit.Minutes(10 + l.rng.IntN(4))), Thrill: "present"}, nil)
	l.write(t.Add(18*time.Minute), "vitals_after", id, &session.VitalsAfter{LieSystolic: p(124 + l.rng.NormFloat64()*5), LieDiastolic: p(70), StandSystolic: p(117 + l.rng.NormFloat64()*5), StandDiastolic: p(68), Pulse: pulse(76)}, nil)
	drunk := 0.0
	session.Each(s, func(d *session.Drink, _ *session.Event) { drunk += d.Volume.Float() })
	session.Each(s, func(d *session.Saline, _ *session.Event) { drunk += d.Volume.Float() })
	l.post = pre + (drunk+wash.Float()-removed.Float())/1000 + l.rng.NormFloat64()*0.08
	l.last = t.Add(25 * time.Minute)
	l.write(l.last, "weigh_out", id, &session.WeighOut{Weight: kg(l.post), Scale: scaleName}, nil)
	l.write(t.Add(27*time.Minute), "circuit", id, &session.Circuit{Grade: l.times(0.15)}, nil)
	l.write(t.Add(32*time.Minute), "disinfection", id, &session.Disinfection{Programme: "heat", Result: "passed"}, nil)
	l.write(t.Add(40*time.Minute), "closed", id, &session.Closed{MachineTreated: &plan.Length, Feel: "well"}, nil)
}

func ptr[T any](v T) *T                { return &v }
func kg(v float64) unit.Mass           { return unit.Mass(math.Round(v*10) * 100) }
func p(v float64) *unit.Pressure       { return ptr(unit.Pressure(math.Round(v))) }
func pulse(v float64) *unit.Pulse      { return ptr(unit.Pulse(math.Round(v))) }
func temp2(v float64) unit.Temperature { return unit.Temperature(math.Round(v * 10)) }
func temp(v float64) *unit.Temperature { return ptr(temp2(v)) }
func cond(v float64) unit.Conductivity { return unit.Conductivity(math.Round(v * 100)) }
