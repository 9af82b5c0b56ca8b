package record

import (
	"testing"
)

// The way of needling fits the access: a catheter is not needled, a graft never
// by buttonhole, and who needles has two gauges (H-105).
func TestNeedlingFitsTheAccess(t *testing.T) {
	b := newBook(t)
	for _, tt := range []struct {
		access, technique string
		gauge             int
		field             string // that is refused; empty when it may stand
	}{
		{"fistula", "rope_ladder", 16, ""},
		{"fistula", "buttonhole", 15, ""},
		{"graft", "rope_ladder", 16, ""},
		{"graft", "buttonhole", 16, "technique"},
		{"graft", "none", 0, "technique"},
		{"fistula", "none", 0, "technique"},
		{"fistula", "rope_ladder", 0, "arterial_needle_gauge"},
		{"catheter", "none", 0, ""},
		{"catheter", "rope_ladder", 16, "technique"},
		{"catheter", "buttonhole", 16, "technique"},
	} {
		rx := aPrescription()
		rx.Access, rx.Technique, rx.GaugeA, rx.GaugeV = tt.access, tt.technique, tt.gauge, tt.gauge
		if tt.access == "catheter" {
			rx.AccessSide = "neck_or_chest"
		}
		found := Check(b.h, b.entry("prescription", "", &rx))
		switch {
		case tt.field == "" && found.Refused():
			t.Errorf("%s, %s, %d: %v", tt.access, tt.technique, tt.gauge, found)
		case tt.field != "" && found.On(tt.field) == "":
			t.Errorf("%s, %s, %d: nothing stands against %s: %v", tt.access, tt.technique, tt.gauge, tt.field, found)
		}
	}
}
