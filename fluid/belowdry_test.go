package fluid

import (
	"testing"

	"ebbline/unit"
)

// Each bound, the gram before it, the unit's own figure on either side of ours,
// and a person who is unwell.
func TestJudgeBelowDry(t *testing.T) {
	ring := func(m unit.Mass) *unit.Mass { return &m }
	for _, tt := range []struct {
		under  unit.Mass
		ring   *unit.Mass
		unwell bool
		want   DryLevel
	}{
		{-2600, nil, false, DryQuiet}, {0, nil, false, DryQuiet}, {1, nil, false, DryQuiet}, {299, nil, false, DryQuiet},
		{300, nil, false, DryLook}, {499, nil, false, DryLook}, {500, nil, false, DryStop}, {9000, nil, false, DryStop},

		{300, ring(1000), false, DryQuiet}, {500, ring(1000), false, DryQuiet}, {799, ring(1000), false, DryQuiet}, {800, ring(1000), false, DryLook},
		{299, ring(500), false, DryQuiet}, {300, ring(500), false, DryLook}, {300, ring(501), false, DryQuiet}, {301, ring(501), false, DryLook},
		{999, ring(1000), false, DryLook}, {1000, ring(1000), false, DryStop},
		{199, ring(200), false, DryQuiet}, {200, ring(200), false, DryStop}, {400, ring(400), false, DryStop}, {399, ring(400), false, DryLook},

		{0, nil, true, DryQuiet}, {-1, nil, true, DryQuiet}, {1, nil, true, DryStop}, {299, nil, true, DryStop}, {1, ring(1000), true, DryStop},
	} {
		if got := JudgeBelowDry(tt.under, tt.ring, tt.unwell); got != tt.want {
			t.Errorf("%v under, ring %v, unwell %v: %v, want %v", tt.under.Text(), tt.ring, tt.unwell, got, tt.want)
		}
	}
	if BelowDryLook != 300 || BelowDryStop != 500 {
		t.Errorf("look from %s, stop from %s", BelowDryLook.Text(), BelowDryStop.Text())
	}
}
