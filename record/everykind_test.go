package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// everyKind is a household in which an entry of every kind was written, most
// often two that lean on one another. All of it is invented.
func everyKind(t *testing.T) *book {
	b := &book{t: t, h: NewHousehold()}
	zone, err := LoadZone("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	b.zone, b.now = zone, time.Date(2026, 10, 12, 9, 0, 0, 0, zone)
	b.must("demonstration", "", &Demonstration{Note: "all of this is invented"})
	b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 1958, Colour: "reed", Adult: true})
	b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 1958, Colour: "fern", Adult: true, Carer: "Sam Finch"})
	for _, phone := range []string{"1", "11"} {
		b.must("kidney_unit", "", &KidneyUnit{Name: "Unit by the mill (invented)", Day: phone, Night: "2", Ambulance: "3"})
	}
	for _, step := range []*unit.Volume{nil, ptr(unit.Volume(50))} {
		b.must("machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, GoalStep: step, Kind: "batch"})
	}
	for _, name := range []string{"1", "2"} {
		made := b.keep("batch_made", &session.BatchMade{Name: name, Within: ptr(unit.Hours(9600)), CondLow: ptr(unit.Conductivity(1360)), CondHigh: ptr(unit.Conductivity(1420))})
		b.keep("batch_tested", &session.BatchTested{Batch: made.ID, Result: ptr(unit.Concentration(20)), ReadsDown: ptr(unit.Concentration(20)), Lot: "C-1"})
		b.batch = made.ID
	}
	everyPaper(b)
	everyLimit(b)
	b.shelf()
	everySession(b)
	everyRefusal(b)
	everyBlood(b)
	everyRound(b)
	everyDelivery(b)
	b.open("session-05")
	b.must("weigh_in", "session-05", &session.WeighIn{Weight: 74000, Scale: "bathroom", ReadIn: "kg"})
	b.plan("session-05")
	b.must("plan", "session-05", b.planOf("session-05"))
	return b
}

func (b *book) planOf(id string) *session.AgreedPlan {
	b.t.Helper()
	plan, err := session.MakePlan(b.h.Session(id), session.Choices{}, b.h.Member("person-one").History(b.h.Session(id)), b.now.Add(time.Minute))
	if err != nil {
		b.t.Fatal(err)
	}
	return &plan.AgreedPlan
}

func (b *book) plan(id string) { b.t.Helper(); b.must("plan", id, b.planOf(id)) }

// everyPaper writes what the unit ordered, and what is kept of a person.
func everyPaper(b *book) {
	rx := aPrescription()
	b.must("prescription", "", &rx)
	rx.How, rx.ReadBack, rx.DryWeight = "phone", true, 71500
	phoned := b.must("prescription", "", &rx)
	day := unit.DateOf(b.now)
	for _, name := range []string{"Dr Q (invented)", "Nurse R (invented)"} {
		b.must("paper_confirms", "", &PaperConfirms{Prescription: phoned.ID, SignedBy: name, SignedOn: day})
		b.must("change_seen", "", &ChangeSeen{Prescription: phoned.ID})
	}
	for i := range 2 {
		b.must("hospital_stay", "", &HospitalStay{From: day.Add(-5 - i), To: day.Add(-3 + i), Why: "a graft"})
		b.must("card", "", &Card{Words: "clamp, stop the pump", From: "the unit", GivenOn: day, ReviewBy: day.Add(90 + i)})
		b.must("trouble_steps", "", &TroubleSteps{Trouble: session.TroubleAir, Words: "clamp\npump off", Ring: session.RingAmbulance, From: "the unit", GivenOn: day, ReviewBy: day.Add(90 + i)})
		b.must("question", "", &Question{Words: "may I swim"})
		set, off := session.DefaultSetUp(), session.DefaultTakeOff()
		set.Steps, off.Steps = set.Steps[:3+i], off.Steps[:2+i]
		for j := range set.Steps {
			set.Steps[j].After = nil
		}
		for j := range off.Steps {
			off.Steps[j].After = nil
		}
		b.must("run_sheet", "", &SheetEdited{set})
		b.must("run_sheet", "", &SheetEdited{off})
		b.must("body", "", &Body{Sex: "female", Height: unit.Length(1650 + 10*i)})
		b.must("clock_moved", "", &ClockMoved{Seconds: 40})
		b.must("calendar_secret", "", &CalendarSecret{Secret: "abcdefghijklmnopqrstuvwxyz2" + string(rune('2'+i)), Titles: "busy"})
		b.keep("needlestick_card", &NeedlestickCard{Card{Words: "wash", From: "nurse", GivenOn: day, ReviewBy: day.Add(300 + i)}})
	}
}

// everyLimit writes what the unit set.
func everyLimit(b *book) {
	day := unit.DateOf(b.now)
	for i, most := range []unit.Printed{"5.5", "5.8"} {
		b.must("blood_range", "", &BloodRange{Analyte: "potassium", Unit: "mmol/L", Low: "4.0", High: most, CriticalHigh: "6.2", SetBy: "Dr Q (invented)", SetOn: day})
		b.must("dose_target", "", &DoseTarget{Measure: "stdktv", Minimum: unit.Printed([]string{"2.1", "2.3"}[i]), SetBy: "Dr Q (invented)", SetOn: day})
		b.keep("water_rules", &WaterRules{Edition: water.ISO2019, Use: "standard", SetBy: "Dr Q (invented)", SetOn: day.Add(-i)})
		b.keep("water_limit", &WaterLimit{What: "sodium", Use: "standard", Max: unit.Printed([]string{"50", "65"}[i]), Unit: "mg/L", SetBy: "Dr Q (invented)", SetOn: day})
		b.keep("round_item", &RoundItem{Item: "seal", Name: "Door seal", Days: 30 + i, SetBy: "me", SetOn: day})
	}
}

// everySession writes sessions with all that can be in one.
func everySession(b *book) {
	exp := unit.DateOf(b.now).Add(300)
	for _, id := range []string{"session-01", "session-02"} {
		b.now = b.now.Add(40 * time.Hour)
		b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		b.must("weigh_in", id, &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
		b.plan(id)
		for _, one := range []struct {
			kind string
			body any
		}{
			{"fitness", &session.Fitness{Stomach: true, Rang: "the nurse: come in"}},
			{"access_check", &session.AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"}},
			{"vitals_before", &session.VitalsBefore{SitSystolic: ptr(unit.Pressure(130)), SitDiastolic: ptr(unit.Pressure(70))}},
			{"batch_used", &session.BatchUsed{Batch: b.batch}},
			{"chlorine", &session.Chlorine{Result: 20, Method: "strip", ReadsDown: 20, Lot: "C-1", Expiry: exp, Point: "first_carbon"}},
			{"self_test", &session.SelfTest{Passed: true, Tries: 1}},
			{"fluid_check", &session.FluidCheck{MachineConduct: 1400, MeterConduct: 1405}},
			{"bath_label", &session.BathLabel{K: 200, Ca: 150, Lot: "B-1", Expiry: exp}},
			{"supply", &session.Supply{Item: "dialyser", Lot: "D-2", Expiry: exp}},
			{"supply", &session.Supply{Item: "arterial needle", Lot: "N-1", Expiry: exp}},
			{"heparin_drawn", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "H-1", Expiry: exp}},
			{"catheter_lock", &session.CatheterLock{Name: "citrate", Content: ptr(unit.Content(400)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: exp}},
			{"lock_drawn", &session.LockDrawn{Arterial: session.Drawn, Venous: session.CouldNot, Clots: true}},
			{"anaesthetic_drawn", &session.AnaestheticDrawn{Strength: 10, Volume: 50, Lot: "A-1", Expiry: exp}},
			{"flush_drawn", &session.FlushDrawn{Count: 2, Each: 1000, Lot: "F-1", Expiry: exp}},
			{"read_back", &session.ReadBack{Goal: 2700, Shown: "2.70", Length: ptr(unit.Minutes(240))}},
			{"override", &session.Override{Check: session.CheckChlorine, Reason: "tested again by hand"}},
			{"rang", &session.Rang{Whom: "the unit by day", Said: "come in slowly"}},
			{"step", &session.StepDone{Phase: session.SetUp, Step: "weigh", State: "done"}},
			{"needling", &session.Needling{SiteA: "1", SiteV: "4", GaugeA: 16, GaugeV: 16, TriesA: 1, TriesV: 1}},
			{"connected", &session.Connected{BloodFlow: ptr(unit.Flow(300))}},
			{"reading", &session.Reading{Systolic: ptr(unit.Pressure(125)), Diastolic: ptr(unit.Pressure(70)), Removed: ptr(unit.Volume(30))}},
			{"asleep", &session.Asleep{For: 60}},
			{"drink", &session.Drink{Volume: 150}},
			{"saline", &session.Saline{Volume: 100}},
			{"low_pressure", &session.LowPressure{Felt: "dizzy"}},
			{"cramp", &session.Cramp{Where: "left foot"}},
			{"unwell", &session.Unwell{Words: "cold"}},
			{"alarm", &session.Alarm{Words: "air"}},
			{"pause", &session.Pause{}},
			{"resume", &session.Resume{}},
			{"blood_flow_changed", &session.FlowChanged{BloodFlow: 280}},
			{"goal_changed", &session.GoalChanged{Goal: 2500}},
			{"lie_back", &session.LieBack{}},
			{"removal_off", &session.RemovalOff{}},
			{"removal_on", &session.RemovalOn{}},
			{"trouble", &session.Trouble{Trouble: session.TroubleAir, State: session.TroubleOpen}},
			{"trouble", &session.Trouble{Trouble: session.TroubleAir, State: session.TroubleOver, Said: "the nurse: the bubble was mine, go on"}},
			{"washback_checked", &session.WashbackChecked{Saline: true, Clamp: true, Venous: true}},
			{"needle_adjusted", &session.NeedleAdjusted{Which: "venous"}},
			{"medicine", &session.Medicine{Name: "iron", Amount: "100 mg"}},
			{"glucose", &session.Glucose{Mg: ptr(unit.MgPerDl(950))}},
			{"heparin_off", &session.HeparinOff{}},
			{"flush_left_out", &session.FlushLeftOut{Number: 1}},
			{"note", &session.Note{Words: "rain"}},
		} {
			b.must(one.kind, id, one.body)
			if one.kind == "drink" {
				b.now = b.now.Add(-time.Minute) // and the next one within the same minute
			}
		}
		b.now = b.now.Add(4 * time.Hour)
		for _, one := range []struct {
			kind string
			body any
		}{
			{"came_off", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2500))}},
			{"holding", &session.Holding{Arterial: ptr(unit.Minutes(10)), Thrill: "present"}},
			{"vitals_after", &session.VitalsAfter{LieSystolic: ptr(unit.Pressure(120)), LieDiastolic: ptr(unit.Pressure(65))}},
			{"weigh_out", &session.WeighOut{Weight: 71700, Scale: "bathroom"}},
			{"circuit", &session.Circuit{}},
			{"disinfection", &session.Disinfection{Programme: "chemical", Result: "passed"}},
			{"closed", &session.Closed{}},
		} {
			b.must(one.kind, id, one.body)
		}
	}
	b.held("session-03", session.Supply{Item: "dialyser", Lot: "D-1", Expiry: unit.DateOf(b.now).Add(5)})
	b.must("session_opened", "session-04", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("closed", "session-04", &session.Closed{}) // and never begun
}

// everyRefusal writes a session for which no plan is made, and the person again, so
// that the next one has its plan.
func everyRefusal(b *book) {
	b.now = b.now.Add(24 * time.Hour)
	id := "session-06"
	b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true, RemovalOnly: true})
	b.must("fitness", id, &session.Fitness{Pregnant: true, Rang: "the nurse: by the paper"})
	for _, goal := range []unit.Volume{2000, 2200} {
		b.must("paper_plan", id, &session.PaperPlan{Goal: goal, Length: 180, From: "Dr Q (invented)"})
	}
	b.must("closed", id, &session.Closed{})
	e := b.entry("person", "", &Person{Name: "Orla Finch", BirthYear: 1958, Colour: "fern", Adult: true})
	e.Again = map[string]string{"pregnant": "no"} // it is over
	if found := b.try(e); len(found) > 0 {
		b.t.Fatal(found)
	}
}

// everyBlood writes bloods, with one about which the unit was rung.
func everyBlood(b *book) {
	b.now = b.now.Add(72 * time.Hour)
	end, _ := b.h.Session("session-02").Ended()
	drawn := func(timing, id, potassium string) Entry {
		e := b.entry("bloods", "", &Bloods{Timing: timing, Session: id, Laboratory: "Laboratory (invented)", Results: []BloodResult{{Analyte: "potassium", Value: unit.Printed(potassium), Unit: "mmol/L"}}})
		e.At, e.Again = end.Add(-5*time.Hour), map[string]string{"results.potassium": potassium}
		if timing == Other {
			e.At = end.Add(30 * time.Hour)
		}
		if found := b.try(e); len(found) > 0 {
			b.t.Fatal(found)
		}
		return e
	}
	high := drawn(Pre, "session-02", "6.4")
	drawn(Other, "", "6.6")
	b.must("blood_call", "", &BloodCall{Bloods: high.ID, Analyte: "potassium", Rang: "the nurse", Said: "come in at once"})
	for _, ml := range []unit.Volume{900, 700} {
		b.must("residual", "", &Residual{Volume: ml, Length: 1440, UrineUrea: "90", UrineUnit: unit.UreaMmolPerL, MeanUrea: "18", MeanUnit: unit.UreaMmolPerL})
	}
}

// everyRound writes water, machine and what recurs.
func everyRound(b *book) {
	day := unit.DateOf(b.now)
	b.waterSample("sample-01", water.PointProduct, "viable_count", "sodium")
	body := aResult("sample-01", count(130), water.Result{What: water.Sodium, Op: water.Equal, Value: 60, Unit: water.MgPerL})
	body.Owner = "Orla"
	over := b.keep("water_result", body)
	b.keep("water_limit", &WaterLimit{What: "sodium", Use: "standard", Max: "55", Unit: "mg/L", SetBy: "Dr Q (invented)", SetOn: day})
	b.keep("task_closed", &TaskClosed{Result: over.ID, Did: "disinfected, drawn again", Told: "the nurse by telephone"})
	b.waterSample("sample-02", water.PointProduct, "viable_count")
	again := aResult("sample-02", count(4))
	b.keep("water_result", again)
	b.keep("water_sample", &WaterSample{Sample: "sample-03", State: "planned", Point: water.PointProduct, For: []string{"endotoxin"}, PlannedOn: day})
	for i := range 2 {
		b.keep("water_reading", &WaterReading{Salt: "enough", MachineHours: ptr(unit.Hours(241000 + 100*i))})
		b.keep("utility_notice", &UtilityNotice{From: day, Words: "works in the street"})
		b.keep("residual_test", &ResidualTest{For: "chlorine", Value: unit.Concentration(50 + 300*i), Lot: "R-1", Expiry: day.Add(90)})
		b.keep("round_done", &RoundDone{Item: []string{"heat", "seal"}[i], Outcome: "done", MachineHours: ptr(unit.Hours(241000 + 500*i))})
	}
	first := b.keep("fault", &Fault{Words: "a drip under the plant"})
	b.keep("fault", &Fault{Words: "technician changed a seal", About: first.ID, Mended: true})
	b.keep("sharps_bin", &SharpsBin{Did: "opened"})
	b.keep("sharps_bin", &SharpsBin{Did: "three_quarters"})
}

// everyDelivery writes what comes, goes, and must not be used.
func everyDelivery(b *book) {
	day := unit.DateOf(b.now)
	b.keep("supplier", &Supplier{Name: "Supplier (invented)", Phone: "1", LeadDays: 5, EveryDays: 28, FirstOn: day, Reserve: 6})
	b.keep("supplier", &Supplier{Name: "Supplier (invented)", Phone: "12", LeadDays: 6, EveryDays: 28, FirstOn: day, Reserve: 6})
	b.keep("delivery_planned", &DeliveryPlanned{On: day.Add(3)})
	order := b.keep("order_sent", &OrderSent{For: day.Add(3), How: "email", Lines: []OrderLine{{"dialyser", 1, 12 * one}}})
	b.keep("delivery", &Delivery{Order: order.ID, Lines: []DeliveryLine{{Item: "dialyser", Maker: "Maker B (invented)", Lot: "D-3", Expires: day.Add(300), Pieces: 12 * one}, {Item: "dialyser", Product: "another kind", Lot: "D-4", Pieces: 2 * one}}})
	b.keep("substitute", &Substitute{Item: "dialyser", Product: "another kind", Answer: "yes", By: "nurse by telephone"})
	b.keep("substitute", &Substitute{Item: "dialyser", Product: "another kind", Answer: "no", By: "Dr Q (invented)"})
	b.keep("stock_used", &StockUsed{Item: "dialyser", Lot: "D-3", Pieces: one, Why: "thrown_away"})
	b.keep("quarantine", &Quarantine{Item: "dialyser", Lot: "D-3", State: "held", Why: "wet box"})
	b.keep("quarantine", &Quarantine{Item: "dialyser", Lot: "D-3", State: "released", Why: "dry inside"})
	recall := b.keep("recall", &Recall{Maker: "Maker B (invented)", Item: "dialyser", Lots: []string{"D-3"}, From: "the unit"})
	b.keep("recall_closed", &RecallClosed{Recall: recall.ID, Told: "nurse by telephone", Returned: 11 * one})
	for _, n := range []unit.Pieces{9, 7} {
		b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-2", Expires: day.Add(200), Pieces: n * one}, {Lot: "D-4", Pieces: 2 * one}}})
	}
	b.keep("stock_item", &StockItem{Item: "dialyser", Maker: "Maker A (invented)", PerSession: n(1), Pack: 24 * one, Storage: "room"})
}

// What is struck out of an entry of any kind leaves what there would have been
// without it, and what is corrected leaves what the correction in its place
// would have: papers, seen changes, closed tasks and recalls, judgements,
// sheets, counts and lots included.
func TestStruckAndCorrectedOfEveryKind(t *testing.T) {
	b := everyKind(t)
	all := func(int) bool { return true }
	struck, corrected := CheckStrikes(t, b.life, all), CheckCorrections(t, b.life, all)
	for _, k := range Kinds() {
		switch k.Name {
		case "struck", "demonstration":
			continue
		case "person":
		default:
			if struck[k.Name] == 0 {
				t.Errorf("no %s was struck out", k.Name)
			}
		}
		if corrected[k.Name] == 0 {
			t.Errorf("no %s was corrected", k.Name)
		}
	}
}
