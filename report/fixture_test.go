package report

import (
	"fmt"
	"reflect"
	"testing"
	"time"
	_ "time/tzdata"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The people and evenings of these tests are invented.

func ptr[T any](v T) *T { return &v }

var ilsabet = Head{
	Name: "Ilsabet Varmdal", BirthYear: 1971, Colour: "fern", Number: "40 118 7", Allergies: "plasters with latex",
	Unit: "Kidney unit, Hestvik hospital", Telephone: "55 01 02 03", Prescription: "of 12 January 2026 by Dr Aune, on paper",
}

func prescription() *session.Prescription {
	return &session.Prescription{
		OrderedBy: "Dr Aune", OrderedOn: unit.NewDate(2026, 1, 12), How: "paper", ValidFrom: unit.NewDate(2026, 1, 12), ReviewBy: unit.NewDate(2026, 7, 12),
		Days: []string{"tue", "thu", "sat", "sun"}, Length: ptr(unit.Minutes(255)),
		DryWeight: 58_500, DrySetBy: "Dr Aune", DrySetOn: unit.NewDate(2026, 2, 10), DryReview: unit.NewDate(2026, 5, 10),
		Dialyser: "1.7 m² high flux", BloodFlow: 300, DialFlow: ptr(unit.Flow(500)), BathK: 200, BathCa: 150, DialTemp: ptr(unit.Temperature(360)),
		SetConduct: ptr(unit.Conductivity(1400)), Heparin: "unfractionated", HepStrength: ptr(unit.Strength(1000)), HepBolus: ptr(unit.Dose(1500)),
		HepHourly: ptr(unit.DoseRate(800)), HepStop: ptr(unit.Minutes(45)), Access: "fistula", AccessSide: "left_arm", Technique: "rope_ladder", GaugeA: 16, GaugeV: 16,
		Intake: 300, Washback: 200, Limits: session.Limits{SetBy: "Dr Aune", SetOn: unit.NewDate(2026, 1, 12), Rate: ptr(unit.RatePerKg(1000)), MaxRemoval: ptr(unit.Volume(3000)), CheckEvery: ptr(unit.Minutes(30))},
	}
}

var machine = session.Machine{Name: "the machine in the back room", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"}

// diary builds a session entry by entry, each written at the moment it
// happened unless it says otherwise.
type diary struct {
	t    testing.TB
	s    *session.Session
	zone *time.Location
	day  time.Time
	n    int
}

func newDiary(t testing.TB, zone, day string) *diary {
	t.Helper()
	z, err := time.LoadLocation(zone)
	if err != nil {
		t.Fatal(err)
	}
	d, err := time.ParseInLocation("2006-01-02", day, z)
	if err != nil {
		t.Fatal(err)
	}
	return &diary{t: t, zone: z, day: d, s: &session.Session{ID: "s-" + day, Person: "p1", PrescriptionID: "rx1", Rx: prescription(), Machine: machine}}
}

// at is a clock time of the evening; hours past 24 are the next day.
func (d *diary) at(h, m int) time.Time {
	y, mo, da := d.day.Date()
	return time.Date(y, mo, da, h, m, 0, 0, d.zone)
}

func kindOf(t testing.TB, body any) string {
	t.Helper()
	for _, k := range record.Kinds() {
		if k.Session && reflect.TypeOf(k.New()) == reflect.TypeOf(body) {
			return k.Name
		}
	}
	t.Fatalf("no kind of entry for %T", body)
	return ""
}

func (d *diary) add(at time.Time, body any) *session.Event {
	d.n++
	id := fmt.Sprintf("e%03d", d.n)
	d.s.Add(session.Event{ID: id, Kind: kindOf(d.t, body), At: at, Written: at, By: "Ilsabet", Body: body})
	return d.s.Find(id)
}

// evening is an ordinary session with a poor middle: nine readings, a pause,
// a low pressure, a corrected weight, a struck reading, a late note and a
// reason for going on.
func evening(t testing.TB) *session.Session {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	d.add(d.at(17, 40), &session.Opened{Place: "home", Source: "live", Confirmed: true, Carer: "Torleiv"})
	d.add(d.at(17, 44), &session.Fitness{Medicine: true, Rang: "unit, 17:30: go on, new tablets noted", Note: "slept badly"})
	d.add(d.at(17, 46), &session.AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"})
	weighed := d.add(d.at(17, 50), &session.WeighIn{Weight: 61_400, Clothing: 600, Scale: "bathroom", ReadIn: "kg"})
	weighed.Was = []session.Version{{ID: "old", At: weighed.At, Written: weighed.At, By: "Ilsabet", Body: &session.WeighIn{Weight: 64_100, Clothing: 600, Scale: "bathroom", ReadIn: "kg"}, Reason: "digits swapped, weighed again"}}
	weighed.Written = d.at(17, 53)
	d.add(d.at(17, 56), &session.VitalsBefore{SitSystolic: ptr(unit.Pressure(142)), SitDiastolic: ptr(unit.Pressure(78)), StandSystolic: ptr(unit.Pressure(131)), StandDiastolic: ptr(unit.Pressure(76)), Pulse: ptr(unit.Pulse(72)), Temperature: ptr(unit.Temperature(366))})
	first := d.add(d.at(17, 58), &session.Chlorine{Result: 150, Method: "strip, comparator", ReadsDown: 50, Lot: "TC-2231", Expiry: unit.NewDate(2027, 5, 31), Point: "first_carbon"})
	first.Missing = nil
	d.add(d.at(18, 12), &session.Chlorine{Result: 50, Below: true, Method: "strip, comparator", ReadsDown: 50, Lot: "TC-2231", Expiry: unit.NewDate(2027, 5, 31), Point: "second_carbon"})
	d.add(d.at(18, 14), &session.SelfTest{Passed: true, Tries: 2, Note: "clamp not shut the first time"})
	d.add(d.at(18, 20), &session.FluidCheck{MachineConduct: 1400, MeterConduct: 1390, MachineTemp: ptr(unit.Temperature(360)), MeterTemp: ptr(unit.Temperature(359)), PH: ptr(unit.PH(730))})
	d.add(d.at(18, 16), &session.BathLabel{K: 200, Ca: 150, Lot: "B-7731", Expiry: unit.NewDate(2027, 1, 31)})
	for _, s := range []session.Supply{{Item: "Dialyser", Lot: "D 44-180", Expiry: unit.NewDate(2028, 2, 28)}, {Item: "Lines", Lot: "L9920", Expiry: unit.NewDate(2027, 9, 30)}, {Item: "Needles", Lot: "N-118/3", Expiry: unit.NewDate(2028, 8, 31)}, {Item: "Saline", Lot: "S60231", Expiry: unit.NewDate(2027, 3, 31)}} {
		d.add(d.at(18, 10), &s)
	}
	d.add(d.at(18, 22), &session.HeparinDrawn{Strength: 1000, Bolus: 1500, Line: 2800, BolusVol: 150, LineVol: 280, Lot: "H3321", Expiry: unit.NewDate(2026, 12, 31)})
	d.add(d.at(18, 23), &session.AnaestheticDrawn{Strength: 10, Volume: 50, Lot: "A-51", Expiry: unit.NewDate(2026, 10, 31)})
	d.add(d.at(18, 24), &session.FlushDrawn{Count: 2, Each: 1000, Lot: "S60231", Expiry: unit.NewDate(2027, 3, 31)})
	d.add(d.at(18, 28), &session.AgreedPlan{PrescriptionID: "rx1", WeighInID: weighed.ID, PreWeight: 61_400, Clothing: 600, DryWeight: 58_500, AboveDry: 2300, Intake: 300, Washback: 200, Goal: 2800, SetGoal: 2480, Length: 255, Rate: 584, RatePerKg: 998, LeftOver: 320, Cautions: []string{"0.32 L stays on: ask your unit how to take it."}})
	d.add(d.at(18, 31), &session.ReadBack{Goal: 2480, Length: ptr(unit.Minutes(255)), Shown: "2.48"})
	d.add(d.at(18, 33), &session.Override{Check: session.CheckLots, Reason: "heparin vial opened yesterday, unit says usable for 24 h"})
	d.add(d.at(18, 36), &session.Needling{SiteA: "A4", SiteV: "V7", GaugeA: 16, GaugeV: 16, TriesA: 1, TriesV: 2, Pain: ptr(3), By: "self"})
	for i := range 6 {
		d.add(d.at(17, 45+7*i), &session.StepDone{Phase: "set_up", Step: fmt.Sprintf("step_%d", i), State: "done"})
	}
	d.add(d.at(18, 42), &session.Connected{BloodFlow: ptr(unit.Flow(150))})
	type v struct{ h, m, sys, dia, pulse, art, ven, tmp, removed int }
	for i, r := range []v{{18, 50, 138, 76, 74, -120, 128, 52, 60}, {19, 15, 134, 75, 73, -142, 139, 54, 330}, {19, 45, 128, 74, 75, -145, 141, 55, 620}, {20, 30, 118, 70, 78, -148, 144, 57, 880}, {21, 0, 96, 58, 88, -150, 139, 58, 1180}, {21, 15, 121, 70, 80, -146, 141, 58, 1240}, {21, 45, 126, 71, 78, -147, 143, 60, 1580}, {22, 20, 124, 70, 77, -149, 146, 62, 1990}, {22, 50, 128, 72, 76, -150, 147, 63, 2330}} {
		b := &session.Reading{Systolic: ptr(unit.Pressure(r.sys)), Diastolic: ptr(unit.Pressure(r.dia)), Pulse: ptr(unit.Pulse(r.pulse)), BloodFlow: ptr(unit.Flow(300)), Arterial: ptr(unit.Pressure(r.art)), Venous: ptr(unit.Pressure(r.ven)), TMP: ptr(unit.Pressure(r.tmp)), Rate: ptr(unit.Rate(584)), Removed: ptr(unit.Volume(r.removed)), Conduct: ptr(unit.Conductivity(1400)), DialTemp: ptr(unit.Temperature(360)), Heparin: ptr(unit.Dose(1500 + 400*i))}
		if i == 5 {
			b.TMP, b.Conduct = nil, nil
		}
		e := d.add(d.at(r.h, r.m), b)
		if i == 4 {
			b.Note = "yawned, then dizzy"
		}
		if i == 7 {
			b.Heparin = nil
			e.Missing = map[string]session.Missing{"heparin_so_far_iu": session.NotRecorded}
		}
	}
	wrong := d.add(d.at(20, 31), &session.Reading{Removed: ptr(unit.Volume(8800))})
	wrong.Struck = &session.Strike{At: d.at(20, 33), By: "Torleiv", Reason: "one nought too many"}
	d.add(d.at(19, 5), &session.FlowChanged{BloodFlow: 300})
	d.add(d.at(19, 30), &session.Drink{Volume: 150})
	d.add(d.at(20, 10), &session.Pause{Why: "bathroom"})
	d.add(d.at(20, 26), &session.Resume{})
	d.add(d.at(21, 0), &session.LowPressure{Systolic: ptr(unit.Pressure(96)), Diastolic: ptr(unit.Pressure(58)), Felt: "dizzy, yawning", Did: "lay back, removal to the least for 10 min"})
	d.add(d.at(21, 1), &session.LieBack{})
	d.add(d.at(21, 3), &session.Saline{Volume: 100, Why: "by the unit's card"})
	alarm := d.add(d.at(21, 20), &session.Alarm{Words: "venous pressure low, needle had turned", Looked: true, Did: "turned it back, taped"})
	alarm.Written = d.at(23, 40)
	d.add(d.at(21, 21), &session.NeedleAdjusted{Which: "venous", Did: "turned back, taped"})
	d.add(d.at(22, 30), &session.HeparinOff{})
	d.add(d.at(22, 40), &session.Note{Words: "Ærlig talt: tired – “½ day” of work was too much; temp ≥ 36.5 °C all along, café au lait 2 × 75 mL counted above."})
	d.add(d.at(23, 14), &session.CameOff{Washback: ptr(unit.Volume(200)), Removed: ptr(unit.Volume(2480)), Returned: "all"})
	d.add(d.at(23, 28), &session.Holding{Arterial: ptr(unit.Minutes(12)), Venous: ptr(unit.Minutes(14)), Thrill: "present"})
	d.add(d.at(23, 20), &session.VitalsAfter{LieSystolic: ptr(unit.Pressure(129)), LieDiastolic: ptr(unit.Pressure(72)), StandSystolic: ptr(unit.Pressure(117)), StandDiastolic: ptr(unit.Pressure(70)), Pulse: ptr(unit.Pulse(78))})
	d.add(d.at(23, 36), &session.WeighOut{Weight: 59_500, Clothing: 600, Scale: "bathroom"})
	d.add(d.at(23, 38), &session.Circuit{Grade: 1})
	d.add(d.at(23, 52), &session.Disinfection{Programme: "heat_citric", Result: "passed"})
	d.add(d.at(24, 5), &session.Closed{MachineTreated: ptr(unit.Minutes(255)), Recovery: ptr(unit.Minutes(90)), Feel: "tired, otherwise well", Ask: "Is 58.5 kg still right? Two low pressures in eight sessions."})
	return d.s
}

func history() session.History {
	return session.History{
		LastPost: &session.WeighOut{Weight: 59_400, Clothing: 600, Scale: "bathroom"}, LastPostAt: time.Date(2026, 3, 1, 22, 30, 0, 0, time.UTC), Scale: "bathroom",
		Cleaned: &session.Disinfection{Programme: "heat_citric", Result: "passed"}, CleanedAt: time.Date(2026, 3, 1, 23, 30, 0, 0, time.UTC), Treated: 40,
	}
}

var printing = Printing{At: "4 March 2026 at 07:12", Hash: "9f2c51d0a47be8e3"}

var made = time.Date(2026, 3, 4, 6, 12, 0, 0, time.UTC)
