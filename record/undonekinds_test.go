package record

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// Whatever entry stopped the start: struck out or corrected, it is named on its line
// with the reason, and among what the sheet prints as undone (hazard H-140).
func TestWhatStoppedAndIsUndoneIsNamed(t *testing.T) {
	const id, why = "session-02", "I read the wrong line of it"
	s := func(kind string, body any) func(*book) Entry {
		return func(b *book) Entry {
			e := b.entry(kind, id, body)
			b.insist(e)
			return e
		}
	}
	on := unit.NewDate(2027, 6, 1)
	opened := func(b *book) { b.open(id) }
	rx := func(change func(*session.Prescription)) func(*book) {
		return func(b *book) { b.order(change); b.open(id) }
	}
	catheter := func(b *book) { b.byCatheter(citrateLock()); b.open(id) }
	planned := func(b *book) {
		b.open(id)
		b.must("weigh_in", id, &session.WeighIn{Weight: 73800, Scale: "bathroom", ReadIn: "kg"})
	}
	var batches [2]string
	fromBatch := func(b *book) {
		b.keep("machine", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "batch"})
		b.now = b.now.Add(-50 * time.Hour)
		old := b.keep("batch_made", &session.BatchMade{Name: "1", Within: ptr(unit.Hours(1000))})
		b.now = b.now.Add(50 * time.Hour)
		fresh := b.keep("batch_made", &session.BatchMade{Name: "2", Within: ptr(unit.Hours(4800))})
		batches = [2]string{old.ID, fresh.ID}
		b.open(id)
	}
	vitals := func(upper unit.Pressure) *session.VitalsBefore {
		return &session.VitalsBefore{
			SitSystolic: &upper, SitDiastolic: ptr(unit.Pressure(60)), StandSystolic: ptr(unit.Pressure(112)), StandDiastolic: ptr(unit.Pressure(62)),
			Pulse: ptr(unit.Pulse(70)), Temperature: ptr(unit.Temperature(366)),
		}
	}
	goal := func(b *book) unit.Volume { return b.planOf(id).SetGoal }
	for _, tt := range []struct {
		name, check string
		before      func(*book)
		bad         func(*book) Entry
		better      func(*book) any // nil: it can only be struck out
	}{
		{"fitness", session.CheckFit, opened, s("fitness", &session.Fitness{ChestPain: true}), func(*book) any { return &session.Fitness{} }},
		{"access_check", session.CheckAccess, opened, s("access_check", &session.AccessCheck{Thrill: "absent", Bruit: "present", Skin: "clean"}),
			func(*book) any { return &session.AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"} }},
		{"vitals_before", session.CheckVitals, rx(func(p *session.Prescription) { p.SystolicLow = ptr(unit.Pressure(100)) }), s("vitals_before", vitals(92)),
			func(*book) any { return vitals(122) }},
		{"chlorine", session.CheckChlorine, opened, func(b *book) Entry { return b.over(id, "first_carbon") },
			func(b *book) any { return b.chlorine(20, "first_carbon") }},
		{"self_test", session.CheckSelfTest, opened, s("self_test", &session.SelfTest{Tries: 1}), func(*book) any { return &session.SelfTest{Passed: true, Tries: 2} }},
		{"fluid_check", session.CheckConduct, opened, s("fluid_check", &session.FluidCheck{MachineConduct: 1700, MeterConduct: 1700}),
			func(*book) any { return &session.FluidCheck{MachineConduct: 1400, MeterConduct: 1400} }},
		{"bath_label", session.CheckBath, opened, s("bath_label", &session.BathLabel{K: 300, Ca: 150, Lot: "B1", Expiry: on}),
			func(*book) any { return &session.BathLabel{K: 200, Ca: 150, Lot: "B1", Expiry: on} }},
		{"bath_label of a bag", session.CheckBath, func(b *book) {
			b.keep("machine", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "bags"})
			b.open(id)
		}, s("bath_label", &session.BathLabel{K: 200, Ca: 150, Lot: "B1", Expiry: on, Seal: "no", Clear: "yes"}),
			func(*book) any {
				return &session.BathLabel{K: 200, Ca: 150, Lot: "B1", Expiry: on, Seal: "yes", Clear: "yes"}
			}},
		{"supply", session.CheckLots, opened, s("supply", &session.Supply{Item: "dialyser", Lot: "D1", Expiry: unit.NewDate(2026, 1, 1)}),
			func(*book) any { return &session.Supply{Item: "dialyser", Lot: "D1", Expiry: on} }},
		{"heparin_drawn", session.CheckHeparin, opened, s("heparin_drawn", &session.HeparinDrawn{Strength: 1000, Bolus: 5000, BolusVol: 500, Lot: "H-2", Expiry: on}),
			func(*book) any {
				return &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "H-2", Expiry: on}
			}},
		{"catheter_lock", session.CheckLock, catheter, s("catheter_lock", &session.CatheterLock{Name: "citrate", Content: ptr(unit.Content(4000)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: on}),
			func(*book) any {
				return &session.CatheterLock{Name: "citrate", Content: ptr(unit.Content(400)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: on}
			}},
		{"lock_drawn", session.CheckLock, catheter, s("lock_drawn", &session.LockDrawn{Arterial: session.CouldNot, Venous: session.Drawn}),
			func(*book) any { return &session.LockDrawn{Arterial: session.Drawn, Venous: session.Drawn} }},
		{"glucose", session.CheckGlucose, rx(func(p *session.Prescription) { p.GlucoseMarked = true }), s("glucose", &session.Glucose{Value: ptr(unit.Molar(320))}),
			func(*book) any { return &session.Glucose{Value: ptr(unit.Molar(620))} }},
		{"read_back", session.CheckPlan, func(b *book) { planned(b); b.plan(id) }, func(b *book) Entry {
			return s("read_back", &session.ReadBack{Goal: goal(b) + 500, Shown: unit.Litres(goal(b) + 500).String()})(b)
		}, func(b *book) any { return &session.ReadBack{Goal: goal(b), Shown: unit.Litres(goal(b)).String()} }},
		{"disinfection", session.CheckCleaned, opened, s("disinfection", &session.Disinfection{Programme: "chemical", Result: "passed"}),
			func(*book) any { return &session.Disinfection{Programme: "heat", Result: "passed"} }},
		{"batch_used", session.CheckBath, fromBatch, func(b *book) Entry { return s("batch_used", &session.BatchUsed{Batch: batches[0]})(b) },
			func(*book) any { return &session.BatchUsed{Batch: batches[1]} }},
	} {
		for _, how := range []string{"struck", "corrected"} {
			b := newBook(t)
			b.heldNow("session-01")
			b.now = b.now.Add(44 * time.Hour)
			tt.before(b)
			of := tt.bad(b)
			stopped := b.checkOf(id, tt.check)
			if stopped.State != session.StopHere {
				t.Errorf("%s: %s %q", tt.name, stopped.State, stopped.Words)
				break
			}
			e := b.entry("struck", id, &Struck{Entry: of.ID, Reason: why})
			if how == "corrected" {
				e = b.entry(of.Kind, id, tt.better(b))
				e.At, e.Corrects, e.Reason = of.At, of.ID, why
			}
			b.insist(e)
			c := b.checkOf(id, tt.check)
			mark := map[string]string{"struck": "Struck out at ", "corrected": "Corrected at "}[how]
			if c.State == session.StopHere || !strings.Contains(c.Words, mark) || !strings.Contains(c.Words, why) {
				t.Errorf("%s, %s: %s %q", tt.name, how, c.State, c.Words)
			}
			sheet := session.UndoneStops(b.h.Session(id), b.h.Member("person-one").History(b.h.Session(id)))
			if !slices.ContainsFunc(sheet, func(u session.Undone) bool {
				return u.Check == tt.check && u.Struck == (how == "struck") && u.Reason == why
			}) {
				t.Errorf("%s, %s: not for the sheet: %+v", tt.name, how, sheet)
			}
		}
	}
}

// An item of the round that held up the start and is written again so that it does not is
// named on the line, and for the sheet.
func TestARoundThatIsWrittenAgainIsNamed(t *testing.T) {
	b := newBook(t)
	b.heldNow("session-01")
	item := RoundItem{Item: "carbon", Name: "Carbon, both", Months: 1, StartLine: true, SetBy: "Dr Q (invented)", SetOn: unit.DateOf(b.now)}
	b.keep("round_item", &item)
	b.keep("round_done", &RoundDone{Item: "carbon", Outcome: "done"})
	b.now = b.now.Add(60 * 24 * time.Hour)
	b.open("session-02")
	if c := b.checkOf("session-02", session.CheckWaiting); c.State != session.StopHere {
		t.Fatalf("%s %q", c.State, c.Words)
	}
	item.StartLine = false
	b.keep("round_item", &item)
	c := b.checkOf("session-02", session.CheckWaiting)
	if c.State != session.Look || !strings.Contains(c.Words, "Carbon, both") || !strings.Contains(c.Words, "So it was until ") {
		t.Errorf("%s %q", c.State, c.Words)
	}
	list := session.UndoneStops(b.h.Session("session-02"), b.h.Member("person-one").History(b.h.Session("session-02")))
	if len(list) != 1 || !list[0].Again || list[0].What == "" {
		t.Errorf("%+v", list)
	}
	// Done again, it is what was asked for, and leaves no trace.
	b = newBook(t)
	b.heldNow("session-01")
	item.StartLine = true
	b.keep("round_item", &item)
	b.keep("round_done", &RoundDone{Item: "carbon", Outcome: "done"})
	b.now = b.now.Add(60 * 24 * time.Hour)
	b.open("session-02")
	b.keep("round_done", &RoundDone{Item: "carbon", Outcome: "done"})
	s := b.h.Session("session-02")
	if list := session.UndoneStops(s, b.h.Member("person-one").History(s)); len(list) != 0 {
		t.Errorf("done: %+v", list)
	}
}
