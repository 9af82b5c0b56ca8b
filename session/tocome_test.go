package session

import (
	"testing"

	"ebbline/unit"
)

// What still comes off is the goal that is set less what was read; what a limit cut from
// the goal, what was taken from it later and what was drunk beyond the plan stays.
func TestRestOf(t *testing.T) {
	removed := func(ml unit.Volume) *Reading { return &Reading{Removed: ref(ml)} }
	cut := func(s *Session) {
		plan, _ := Last[AgreedPlan](s)
		plan.SetGoal, plan.LeftOver = plan.SetGoal-800, 800
	}
	for _, tt := range []struct {
		name        string
		do          func(*Session)
		left, stays unit.Volume
		read        bool
	}{
		{"as planned", func(*Session) {}, 2600, 0, false},
		{"read", func(s *Session) { put(s, on(60), removed(640)) }, 1960, 0, true},
		{"a limit cut it", cut, 1800, 800, false},
		{"a limit cut it, read", func(s *Session) { cut(s); put(s, on(60), removed(640)) }, 1160, 800, true},
		{"lowered on the machine", func(s *Session) { put(s, on(50), &GoalChanged{Goal: 2000}); put(s, on(60), removed(640)) }, 1360, 600, true},
		{"rounded by the machine", func(s *Session) { plan, _ := Last[AgreedPlan](s); plan.SetGoal, plan.LeftOver = 2501, 99 }, 2501, 0, false},
		{"by its last digit", func(s *Session) { plan, _ := Last[AgreedPlan](s); plan.SetGoal, plan.LeftOver = 2500, 100 }, 2500, 100, false},
		{"more than the goal", func(s *Session) { put(s, on(230), removed(2700)) }, 0, 0, true},
	} {
		s := connected(t) // goal 2.60 L over 4 h
		tt.do(s)
		r, ok := RestOf(s, on(235))
		if !ok || r.Left != tt.left || r.Stays != tt.stays || r.At.IsZero() == tt.read {
			t.Errorf("%s: left %v, stays %v, read at %v, %v", tt.name, r.Left, r.Stays, r.At, ok)
		}
	}
	if r, ok := RestOf(&Session{}, on(0)); ok {
		t.Errorf("no goal: %+v", r)
	}
}
