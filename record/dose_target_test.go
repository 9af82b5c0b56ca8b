package record

import (
	"testing"
	"time"

	"ebbline/unit"
)

func TestDoseTarget(t *testing.T) {
	b := newBook(t)
	day := unit.NewDate(2026, 3, 3)
	before := b.now
	b.must("dose_target", "", &DoseTarget{Measure: "stdktv", Minimum: "2.3", SetBy: "Dr Q (invented)", SetOn: day})
	b.must("dose_target", "", &DoseTarget{Measure: "urr_percent", Minimum: "65", SetBy: "Dr Q (invented)", SetOn: day})
	last := b.must("dose_target", "", &DoseTarget{Measure: "stdktv", Minimum: "2.5", SetBy: "Dr Q (invented)", SetOn: day})
	m := b.h.Member("person-one")
	if got := m.TargetAt("stdktv", b.now.Add(time.Hour)); got == nil || got.Minimum != "2.5" {
		t.Errorf("in force is %+v, want 2.5", got)
	}
	if got := m.TargetAt("stdktv", before); got != nil {
		t.Errorf("before it was written in force is %+v", got)
	}
	if got := m.TargetAt("spktv", b.now.Add(time.Hour)); got != nil {
		t.Errorf("nobody set %+v", got)
	}
	b.must("struck", "", &Struck{Entry: last.ID, Reason: "meant for somebody else"})
	if got := m.TargetAt("stdktv", b.now.Add(time.Hour)); got == nil || got.Minimum != "2.3" {
		t.Errorf("with the last struck out in force is %+v, want 2.3", got)
	}
	for measure, minimum := range map[string]unit.Printed{"stdktv": "23", "urr_percent": "0.65", "spktv": "0.1"} {
		if found := b.try(b.entry("dose_target", "", &DoseTarget{Measure: measure, Minimum: minimum, SetBy: "Dr Q (invented)", SetOn: day})); found.On("minimum") == "" {
			t.Errorf("%s of at least %s was taken: %v", measure, minimum, found)
		}
	}
}
