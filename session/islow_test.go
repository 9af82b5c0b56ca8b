package session

import (
	"testing"
	"time"

	"ebbline/unit"
)

func TestFallTold(t *testing.T) {
	at := func(v int) *unit.Pressure {
		if v == 0 {
			return nil
		}
		return mm(v)
	}
	for _, tt := range []struct {
		name         string
		start        int
		set          func(*Prescription)
		sys, dia     int
		upper, lower bool
	}{
		{"under 90", 118, nil, 89, 0, true, false},
		{"90, begun at 119", 119, nil, 90, 0, false, false},
		{"30 down", 138, nil, 108, 60, true, true},
		{"29 down", 138, nil, 109, 60, false, false},
		{"begun at 97, 96", 97, nil, 96, 60, false, false},
		{"inside the unit's figure, 39 down", 138, actBelow(85), 99, 0, false, false},
		{"inside the unit's figure, 40 down", 138, actBelow(85), 98, 0, true, false},
		{"a rise", 138, nil, 192, 104, false, false},
		{"the lower one alone, 40 down", 138, nil, 0, 38, false, true},
		{"the lower one alone, 39 down", 138, nil, 0, 41, false, false},
		{"no start", 0, nil, 91, 40, false, false},
		{"nothing", 138, nil, 0, 0, false, false},
	} {
		s := pressed(t, tt.start, tt.set)
		if tt.start != 0 {
			edit(s, func(b *VitalsBefore) { b.SitDiastolic = mm(80) })
		}
		if upper, lower := FallTold(s, at(tt.sys), at(tt.dia), on(30)); upper != tt.upper || lower != tt.lower {
			t.Errorf("%s: %v, %v", tt.name, upper, lower)
		}
	}
	s := pressed(t, 138, nil)
	if upper, lower := FallTold(s, mm(60), mm(30), on(0).Add(-time.Hour)); upper || lower {
		t.Error("a fall before the treatment")
	}
	// Without a pressure before the session the first reading is the start.
	s = pressed(t, 0, nil, 150)
	if upper, _ := FallTold(s, mm(115), nil, on(30)); !upper {
		t.Error("35 under the first reading is no fall")
	}
}

func TestNearStart(t *testing.T) {
	for _, tt := range []struct {
		name       string
		start, sys int
		set        func(*Prescription)
		want       bool
	}{
		{"begun at 97, 94", 97, 94, nil, true},
		{"10 under", 104, 94, nil, true},
		{"11 under", 105, 94, nil, false},
		{"10 over", 84, 94, nil, true},
		{"11 over", 83, 94, nil, false},
		{"low", 97, 89, nil, false},
		{"low by the unit's figure", 97, 94, actBelow(95), false},
		{"no start", 0, 94, nil, false},
	} {
		s := pressed(t, tt.start, tt.set)
		if got := NearStart(s, *mm(tt.sys), on(30)); got != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
	if NearStart(pressed(t, 97, nil), 94, on(0).Add(-time.Hour)) {
		t.Error("before the treatment")
	}
}
