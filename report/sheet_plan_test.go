package report

import (
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// A goal that the machine's step moved still stands under a column that adds up.
func TestSumOfThePlanAddsUp(t *testing.T) {
	for goal, want := range map[unit.Volume]string{2800: "", 2850: "+50", 2750: "−50"} {
		s := evening(t)
		plan, _ := session.Last[session.AgreedPlan](s)
		plan.Goal = goal
		got := ""
		for _, term := range SheetOf(SheetInput{Session: s}).Plan.Sum {
			if term.Label == "Machine's step" {
				got = term.Sign + term.Value.Text
			}
		}
		if got != want {
			t.Errorf("goal %v: the step stands as %q, want %q", goal, got, want)
		}
	}
}
