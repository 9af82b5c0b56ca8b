package web

import (
	"testing"

	"ebbline/record"
)

// Where blood pressure is written down, the page names the arm that must not be
// used, out of the prescription of that very session (H-110).
func TestNotOnTheAccessArm(t *testing.T) {
	h := home(t, 1, false)
	arm, other := "left", "right"
	h.member("p-vida-hribar", func(m *record.Member) {
		if m.Prescriptions[len(m.Prescriptions)-1].Value.AccessSide == "right_arm" {
			arm, other = other, arm
		}
	})
	base := h.begin()
	for _, form := range []string{"/vitals_before", "/vitals_after"} {
		h.says(base+form, "Not on the "+arm+" arm: that is the access arm.")
		h.silent(base+form, "Not on the "+other+" arm")
	}
	for side, want := range map[string]int{"left_arm": 1, "right_arm": 1, "left_leg": 0, "neck_or_chest": 0} {
		if got := notThisArm(side); len(got) != want {
			t.Errorf("%s: %q", side, got)
		}
	}
}
