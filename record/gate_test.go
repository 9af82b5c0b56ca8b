package record

import (
	"testing"
	"time"

	"ebbline/session"
)

// Starting over wipes nothing out: what stopped in a session that was broken off
// stops the next one too, until it was rung about.
func TestStartingOverWipesNothingOut(t *testing.T) {
	for _, end := range []string{"closed", "struck"} {
		b := newBook(t)
		b.heldNow("session-01")
		b.now = b.now.Add(44 * time.Hour)
		b.open("session-02")
		b.must("fitness", "session-02", &session.Fitness{Fever: true})
		if end == "closed" {
			b.must("closed", "session-02", &session.Closed{})
		} else {
			opening := b.h.Session("session-02").Log[0].ID
			b.must("struck", "session-02", &Struck{Entry: opening, Reason: "opened by mistake"})
		}
		b.now = b.now.Add(20 * time.Minute)
		b.open("session-03")
		b.must("fitness", "session-03", &session.Fitness{})
		if c := b.checkOf("session-03", session.CheckFit); c.State != session.StopHere {
			t.Errorf("%s: %s %q", end, c.State, c.Words)
		}
		b.must("rang", "session-03", &session.Rang{Whom: "the unit by day", Said: "come in if it returns"})
		if c := b.checkOf("session-03", session.CheckFit); c.State != session.Look {
			t.Errorf("%s, rang: %s %q", end, c.State, c.Words)
		}
	}
	b := newBook(t)
	b.heldNow("session-01")
	b.now = b.now.Add(44 * time.Hour)
	b.open("session-02")
	b.must("fitness", "session-02", &session.Fitness{Fever: true})
	b.must("closed", "session-02", &session.Closed{})
	b.now = b.now.Add(20 * time.Hour)
	b.open("session-03")
	b.must("fitness", "session-03", &session.Fitness{})
	if c := b.checkOf("session-03", session.CheckFit); c.State != session.Ready {
		t.Errorf("the next day: %s %q", c.State, c.Words)
	}
}

// A session that was opened live does not become a paper one to get past a stop.
func TestAStopIsNotPassedByChangingTheSession(t *testing.T) {
	b := newBook(t)
	b.heldNow("session-01")
	b.now = b.now.Add(44 * time.Hour)
	b.open("session-02")
	b.must("fitness", "session-02", &session.Fitness{ChestPain: true})
	for _, other := range []*session.Opened{{Place: "home", Source: "paper", Confirmed: true}, {Place: "elsewhere", Source: "live", Where: "a holiday unit", Confirmed: true}} {
		fixed := b.entry("session_opened", "session-02", other)
		fixed.Corrects, fixed.Reason = b.h.Session("session-02").Log[0].ID, "typed from paper in truth"
		if found := b.try(fixed); !found.Refused() {
			t.Errorf("%+v: %v", other, found)
		}
	}
}

// Whom one rang can be read.
func TestWhomOneRangCanBeRead(t *testing.T) {
	b := newBook(t)
	b.heldNow("session-01")
	b.now = b.now.Add(44 * time.Hour)
	b.open("session-02")
	for _, whom := range []string{"", "  ", "\u200b", "\u2060\u2060", "\u3164\u3164", ".", "--", "x"} {
		if found := b.try(b.entry("rang", "session-02", &session.Rang{Whom: whom, Said: "start anyway please"})); !found.Refused() {
			t.Errorf("%q was taken", whom)
		}
	}
	for _, whom := range []string{"112", "Dr K.", "护士", "+000 2"} {
		if found := b.try(b.entry("rang", "session-02", &session.Rang{Whom: whom, Said: "start anyway please"})); len(found) > 0 {
			t.Errorf("%q: %v", whom, found)
		}
	}
}

// A prescription that is written while a session is set up is not passed over.
func TestNewPrescriptionWhileSettingUp(t *testing.T) {
	b := newBook(t)
	b.heldNow("session-01")
	b.now = b.now.Add(44 * time.Hour)
	b.open("session-02")
	b.must("weigh_in", "session-02", &session.WeighIn{Weight: 74000, Scale: "bathroom", ReadIn: "kg"})
	b.plan("session-02")
	if c := b.checkOf("session-02", session.CheckPrescription); c.State == session.StopHere {
		t.Fatalf("before: %s %q", c.State, c.Words)
	}
	rx := b.h.Session("session-02").Rx
	other := *rx
	other.OrderedBy, other.DryWeight = "Dr Q (invented)", rx.DryWeight-500
	b.must("prescription", "", &other)
	if c := b.checkOf("session-02", session.CheckPrescription); c.State != session.StopHere {
		t.Errorf("after: %s %q", c.State, c.Words)
	}
	_, agreed := session.Last[session.AgreedPlan](b.h.Session("session-02"))
	b.must("struck", "", &Struck{Entry: agreed.ID, Reason: "another prescription has come"})
	b.plan("session-02")
	if c := b.checkOf("session-02", session.CheckPrescription); c.State == session.StopHere {
		t.Errorf("planned by it: %s %q", c.State, c.Words)
	}
}
