package session

import (
	"slices"
	"strings"
	"testing"
)

// Of a child, of somebody light and in a pregnancy nothing is said of 10 and 13 mL/h per
// kg, nor of a child of an adult's pressures, and what is said instead is used.
func TestOwnFor(t *testing.T) {
	light := &Prescription{DryWeight: LightWeight - 1}
	grown := &Prescription{DryWeight: LightWeight}
	for _, tt := range []struct {
		name string
		who  OwnFor
		rx   *Prescription
		rate string // empty: as for every adult
		keys int
	}{
		{"an adult", OwnFor{}, grown, "", 0},
		{"an adult with nothing ordered", OwnFor{}, nil, "", 0},
		{"light", OwnFor{}, light, "makes no plan", 2},
		{"pregnant", OwnFor{Pregnant: true}, grown, "makes no plan", 1},
		{"a child", OwnFor{Child: true}, grown, "held against no figure of its own", 9},
		{"a child, pregnant", OwnFor{Child: true, Pregnant: true}, grown, "held against no figure of its own", 9},
	} {
		words := tt.who.Words(tt.rx)
		if len(words) != tt.keys || !strings.Contains(words["rate_limit_ml_h_kg"], tt.rate) {
			t.Errorf("%s: %v", tt.name, words)
		}
		for key, said := range words {
			for _, figure := range []string{"10 ", "13 ", "100", "90", "120", "180"} {
				if strings.Contains(strings.ReplaceAll(said, "\u00a0", " "), figure) {
					t.Errorf("%s, %s: a figure of adults: %q", tt.name, key, said)
				}
			}
			if own := OwnLimitWords(); slices.Contains([]string{own[key]}, said) {
				t.Errorf("%s, %s: as for everybody: %q", tt.name, key, said)
			}
		}
	}
}
