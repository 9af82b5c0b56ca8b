package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A correction takes the place of the entry and keeps what it said (H-47).
func TestCorrectionKeepsTheFirstValue(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	first := b.must("drink", "session-1", &session.Drink{Volume: 150})
	e := b.entry("drink", "session-1", &session.Drink{Volume: 250})
	e.At, e.Corrects, e.Reason = first.At, first.ID, "it was the big glass"
	if found := b.try(e); len(found) != 0 {
		t.Fatal(found)
	}
	s := b.h.Session("session-1")
	ev := s.Find(e.ID)
	if ev == nil || ev.Body.(*session.Drink).Volume != 250 || len(ev.Was) != 1 || ev.Was[0].Body.(*session.Drink).Volume != 150 || ev.Was[0].Reason != "it was the big glass" {
		t.Errorf("after a correction the event is %+v", ev)
	}
	n := 0
	session.Each(s, func(*session.Drink, *session.Event) { n++ })
	if n != 1 {
		t.Errorf("%d drinks count, want the corrected one", n)
	}
	again := b.entry("drink", "session-1", &session.Drink{Volume: 200})
	again.Corrects, again.Reason = first.ID, "once more"
	if found := b.try(again); !found.Refused() {
		t.Error("an entry that was corrected before was corrected again; the newer one must be")
	}
}

// A struck-out entry stays in sight and does not count (H-48).
func TestStruckOutStaysInSight(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	drink := b.must("drink", "session-1", &session.Drink{Volume: 150})
	strike := b.entry("struck", "session-1", &Struck{Entry: drink.ID, Reason: "tapped twice"})
	if found := b.try(strike); len(found) != 0 {
		t.Fatal(found)
	}
	s := b.h.Session("session-1")
	if last, _ := session.Last[session.Drink](s); last != nil {
		t.Error("a struck-out drink still counts")
	}
	if ev := s.Find(drink.ID); ev == nil || ev.Struck == nil || ev.Struck.Reason != "tapped twice" {
		t.Errorf("a struck-out drink is out of sight: %+v", ev)
	}
	if found := b.try(b.entry("struck", "session-1", &Struck{Entry: drink.ID, Reason: ""})); !found.Refused() {
		t.Error("a strike without a reason was taken")
	}
}

// A session keeps the prescription it was planned from (H-21, CC6).
func TestSessionPinsItsPrescription(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	b.must("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	m := b.h.Member("person-one")
	s := b.h.Session("session-1")
	old := s.PrescriptionID
	plan, err := session.MakePlan(s, session.Choices{}, m.History(s), b.now.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	b.must("plan", "session-1", &plan.AgreedPlan)
	rx := aPrescription()
	rx.DryWeight, rx.OrderedOn = 71500, unit.DateOf(b.now)
	rx.ValidFrom, rx.DrySetOn = rx.OrderedOn, rx.OrderedOn
	b.must("prescription", "", &rx)
	if s.PrescriptionID != old || s.Rx.DryWeight != 72000 {
		t.Errorf("the session now rests on %s with dry weight %s", s.PrescriptionID, s.Rx.DryWeight)
	}
	if now := m.Prescription(unit.DateOf(b.now)); now.Value.DryWeight != 71500 {
		t.Errorf("the version in force has dry weight %s", now.Value.DryWeight)
	}
}

// A plan from a page that is older than the record is refused (H-42).
func TestStalePlanIsRefused(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	b.must("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	s, m := b.h.Session("session-1"), b.h.Member("person-one")
	plan, err := session.MakePlan(s, session.Choices{}, m.History(s), b.now)
	if err != nil {
		t.Fatal(err)
	}
	b.must("weigh_in", "session-1", &session.WeighIn{Weight: 73900, Scale: "bathroom", ReadIn: "kg"})
	if found := b.try(b.entry("plan", "session-1", &plan.AgreedPlan)); !found.Refused() {
		t.Error("a plan made from the weight before was taken")
	}
	tampered, err := session.MakePlan(s, session.Choices{}, m.History(s), b.now)
	if err != nil {
		t.Fatal(err)
	}
	tampered.SetGoal += 10
	if found := b.try(b.entry("plan", "session-1", &tampered.AgreedPlan)); !found.Refused() {
		t.Error("a plan whose goal the terms do not give was taken")
	}
}

// The same entries give the same state, and sending one twice changes nothing.
func TestApplyIsIdempotent(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	e := b.must("drink", "session-1", &session.Drink{Volume: 150})
	before := len(b.h.Session("session-1").Log)
	if err := b.h.Apply(e); err != nil || len(b.h.Session("session-1").Log) != before {
		t.Errorf("applied twice: %v, %d events, want %d", err, len(b.h.Session("session-1").Log), before)
	}
}

// Two rows at 01:30 on the night the clocks go back are two rows (H-26).
func TestTheRepeatedHour(t *testing.T) {
	zone, err := LoadZone("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	both := Moments(2026, time.October, 25, 1, 30, zone)
	if len(both) != 2 || both[1].Sub(both[0]) != time.Hour {
		t.Fatalf("01:30 on 25 October 2026 in London came at %v", both)
	}
	if none := Moments(2026, time.March, 29, 1, 30, zone); len(none) != 0 {
		t.Errorf("01:30 on 29 March 2026 in London came at %v, want never", none)
	}
	half, err := LoadZone("Australia/Lord_Howe")
	if err != nil {
		t.Fatal(err)
	}
	if two := Moments(2026, time.April, 5, 1, 45, half); len(two) != 2 || two[1].Sub(two[0]) != 30*time.Minute {
		t.Errorf("01:45 on 5 April 2026 on Lord Howe came at %v, want twice, half an hour apart", two)
	}
	now := time.Date(2026, 10, 25, 7, 0, 0, 0, zone)
	if _, problem := ReadClock("", "01:30", "", now); problem == "" {
		t.Error("01:30 was taken without asking which of the two")
	}
	second, problem := ReadClock("", "01:30", "second", now)
	if problem != "" || !second.Equal(both[1]) {
		t.Errorf("the second 01:30 is %v (%s), want %v", second, problem, both[1])
	}
	if _, problem := ReadClock("2026-03-29", "01:30", "", now); problem == "" {
		t.Error("a time that the clocks skipped was taken")
	}
	yesterday, problem := ReadClock("", "22:30", "", now)
	if problem != "" || yesterday.Day() != 24 {
		t.Errorf("22:30 typed at seven in the morning is %v (%s), want the evening before", yesterday, problem)
	}
}
