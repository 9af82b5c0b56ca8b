package record

import (
	"slices"
	"strings"
	"testing"

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
