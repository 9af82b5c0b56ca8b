package record

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

func TestDiff(t *testing.T) {
	was := aPrescription()
	now := was
	if got := Diff(&was, &now); len(got) != 0 {
		t.Errorf("of the same: %v", got)
	}
	pulse := unit.Pulse(50)
	now.DryWeight, now.Heparin, now.Days, now.PulseLow = 71_500, "none", []string{"mon"}, &pulse
	want := []Change{
		{"Ask before starting below, pulse", "nothing", "50\u00a0/min"}, // a limit comes before all else
		{"Days", "mon wed fri", "mon"}, {"Dry weight", "72\u00a0kg", "71.5\u00a0kg"}, {"Heparin", "unfractionated", "none"},
	}
	if got := Diff(&was, &now); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// What changed since the last treatment is told until it was read or dialysed by.
func TestChanges(t *testing.T) {
	b := newBook(t)
	m := b.h.Member("person-one")
	rx := aPrescription()
	if got := m.Changes(m.Prescriptions[0]); got != nil {
		t.Errorf("before the first session: %v", got)
	}
	if got := m.Changes(nil); got != nil {
		t.Errorf("of nothing: %v", got)
	}
	b.paperRun("session-1")
	rx.DryWeight = 71_500
	e := b.must("prescription", "", &rx)
	newer := m.Rx(e.ID)
	if got := m.Changes(newer); len(got) != 1 || got[0].Label != "Dry weight" {
		t.Errorf("after a change: %v", got)
	}
	if got := m.Changes(m.Prescriptions[0]); got != nil {
		t.Errorf("of the version that was dialysed by: %v", got)
	}
	b.must("change_seen", "", &ChangeSeen{Prescription: e.ID})
	if got := m.Changes(newer); got != nil {
		t.Errorf("after it was read: %v", got)
	}
}

// Each stale value is said in one sentence with its date, the day after it and
// not on it.
func TestStale(t *testing.T) {
	b := newBook(t)
	m := b.h.Member("person-one")
	rx := m.Prescriptions[0].Value
	for day, want := range map[unit.Date]int{rx.DryReview: 0, rx.DryReview.Add(1): 1, rx.ReviewBy: 1, rx.ReviewBy.Add(1): 2, rx.ValidFrom.Add(-1): 0} {
		if got := m.Stale(day); len(got) != want {
			t.Errorf("on %s: %q", day, got)
		}
	}
	today := unit.DateOf(b.now)
	stay := func(from, to int) {
		b.must("hospital_stay", "", &HospitalStay{From: today.Add(from), To: today.Add(to)})
	}
	stay(-60, -50) // before the dry weight was set
	if got := m.Stale(today); len(got) != 0 {
		t.Errorf("after a stay that the dry weight is younger than: %q", got)
	}
	stay(-5, -3)
	stay(-12, -10)
	if got := m.Stale(today); len(got) != 1 || !strings.Contains(got[0], "ended on "+today.Add(-3).Long()) {
		t.Errorf("after two stays: %q", got)
	}
	rx.How, rx.ReadBack = "phone", true
	rx.DrySetOn = today
	b.must("prescription", "", &rx)
	if got := m.Stale(today); len(got) != 1 || !strings.Contains(got[0], "by telephone") {
		t.Errorf("set anew by telephone: %q", got)
	}
}

// The start line says the same of an old dry weight as Today, in the same words, and
// holds nothing up. A stay that is written down for later leaves a session that was
// held as it stood.
func TestOldDryWeightStandsOnTheStartLine(t *testing.T) {
	b := newBook(t)
	m := b.h.Member("person-one")
	today := unit.DateOf(b.now)
	says := func(id string) (session.CheckState, string) {
		for _, c := range session.StartLine(b.h.Session(id), m.History(b.h.Session(id)), b.now) {
			if c.ID == session.CheckPrescription {
				return c.State, c.Words
			}
		}
		t.Fatal("no check of the prescription")
		return "", ""
	}
	b.paperRun("session-01")
	quiet, words := says("session-01")
	if quiet != session.Ready {
		t.Fatalf("before the stay: %s %q", quiet, words)
	}
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("closed", "session-01", &session.Closed{})
	b.now = b.now.Add(6 * 24 * time.Hour)
	b.must("hospital_stay", "", &HospitalStay{From: today.Add(1), To: today.Add(4)})
	b.open("session-02")
	if state, got := says("session-02"); state != session.Look || got != strings.Join(m.Stale(unit.DateOf(b.now)), " ") || !strings.Contains(got, "older than the hospital stay that ended on "+today.Add(4).Long()) {
		t.Errorf("after it: %s %q; Today says %q", state, got, m.Stale(unit.DateOf(b.now)))
	}
	if state, got := says("session-01"); state != quiet || got != words {
		t.Errorf("the session before the stay: %s %q", state, got)
	}
	rx := m.Prescriptions[0].Value
	rx.DrySetOn, rx.DryReview = unit.DateOf(b.now), unit.DateOf(b.now)
	b.must("prescription", "", &rx)
	b.must("session_opened", "session-03", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	if state, got := says("session-03"); state != session.Ready {
		t.Errorf("set again: %s %q", state, got)
	}
	b.must("closed", "session-03", &session.Closed{})
	b.now = b.now.Add(24 * time.Hour)
	b.must("session_opened", "session-04", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	if state, got := says("session-04"); state != session.Look || got != strings.Join(m.Stale(unit.DateOf(b.now)), " ") || !strings.Contains(got, "was due for review on") {
		t.Errorf("past its review: %s %q", state, got)
	}
}
