package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// Until the plan is agreed a session rests on the version in force, and never
// on one that was struck out: a change phoned while setting up counts tonight.
func TestPrescriptionChangedWhileSettingUp(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	s := b.h.Session("session-1")
	rx := aPrescription()
	rx.DryWeight = 71500
	rx.ValidFrom = unit.DateOf(b.now)
	changed := b.must("prescription", "", &rx)
	if s.PrescriptionID != changed.ID || s.Rx.DryWeight != 71500 {
		t.Errorf("after a change while setting up the session rests on dry weight %s", s.Rx.DryWeight)
	}
	b.must("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	plan, err := session.MakePlan(s, session.Choices{}, b.h.Member("person-one").History(s), b.now.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	b.must("plan", "session-1", &plan.AgreedPlan)
	b.must("struck", "", &Struck{Entry: changed.ID, Reason: "written for somebody else"})
	if s.PrescriptionID == changed.ID || s.Rx.DryWeight != 72000 {
		t.Errorf("the session still rests on a version that was struck out, dry weight %s", s.Rx.DryWeight)
	}
}

// Two screens that correct the same entry of the household leave one, not two.
func TestHouseholdEntryIsCorrectedOnce(t *testing.T) {
	b := newBook(t)
	stay := HospitalStay{From: unit.NewDate(2026, 10, 2), To: unit.NewDate(2026, 10, 4)}
	first := b.must("hospital_stay", "", &stay)
	for i, want := range []bool{false, true} {
		e := b.entry("hospital_stay", "", &stay)
		e.Corrects, e.Reason = first.ID, "a day out"
		if got := b.try(e).Refused(); got != want {
			t.Errorf("correction %d of the same entry: refused is %v, want %v", i+1, got, want)
		}
	}
	if !b.try(b.entry("struck", "", &Struck{Entry: first.ID, Reason: "never happened"})).Refused() {
		t.Error("an entry that was corrected is struck out; the newer one stays and counts")
	}
}

// A session whose day was typed wrong stands in its right place once corrected.
func TestCorrectedDayMovesTheSession(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	b.now = b.now.AddDate(0, 0, 2)
	b.paperRun("session-2")
	s := b.h.Session("session-2")
	opening := session.Event{}
	for _, e := range s.Log {
		if e.Kind == "session_opened" {
			opening = e
		}
	}
	e := b.entry("session_opened", "session-2", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	e.At, e.Corrects, e.Reason = b.now.AddDate(0, 0, -5), opening.ID, "it was last week"
	if found := b.try(e); len(found) > 0 {
		t.Fatal(found)
	}
	m := b.h.Member("person-one")
	if m.Sessions[0].ID != "session-2" || m.History(m.Sessions[0]).Treated != 0 || m.History(m.Sessions[1]).Treated != 1 {
		t.Errorf("after the correction %s stands first, with %d treatments before it", m.Sessions[0].ID, m.History(m.Sessions[0]).Treated)
	}
}

// A correction may not move the beginning behind the end, nor a reading out of
// the treatment: the treated time would run backwards.
func TestCorrectionKeepsTheOrderOfTime(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	drink := b.must("drink", "session-1", &session.Drink{Volume: 150})
	b.must("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300))})
	_, begun := session.Last[session.Connected](b.h.Session("session-1"))
	for kind, old := range map[string]string{"connected": begun.ID, "drink": drink.ID} {
		body := any(&session.Connected{})
		if kind == "drink" {
			body = &session.Drink{Volume: 150}
		}
		b.now = b.now.Add(time.Hour)
		e := b.entry(kind, "session-1", body)
		e.Corrects, e.Reason = old, "the other clock"
		if !b.try(e).Refused() {
			t.Errorf("%s was moved behind the end of the treatment", kind)
		}
	}
}

// Where the clocks go forward at midnight the day typed is still that day.
func TestClockOnADayWithoutMidnight(t *testing.T) {
	zone, err := LoadZone("America/Santiago")
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 9, 6, 12, 0, 0, 0, zone)
	at, problem := ReadClock("2026-09-06", "08:00", "", now)
	if problem != "" || at.Format("2006-01-02 15:04") != "2026-09-06 08:00" {
		t.Errorf("08:00 on 6 September reads as %s %q", at, problem)
	}
}

// A list that was never given is refused: as null it could be stored and not
// be read again, and the record would not open.
func TestListNeverGivenIsRefused(t *testing.T) {
	b := newBook(t)
	if !Check(b.h, b.entry("stock_count", "", &StockCount{Item: "gauze"})).Refused() {
		t.Error("a count without its lots was taken")
	}
}
