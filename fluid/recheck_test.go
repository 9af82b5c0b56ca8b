package fluid

import (
	"errors"
	"testing"

	"ebbline/unit"
)

// Every figure of a plan is held by the second reckoning: change one, and it
// is named with both values.
func TestRecheckNamesWhatDiffers(t *testing.T) {
	in := evening().limited(10)
	in.MaxRemoval = new(ml(3000))
	for _, tt := range []struct {
		field, planned, rechecked string
		spoil                     func(*Plan)
	}{
		{"above_dry_ml", "2500", "2600", func(p *Plan) { p.AboveDryMl = 2500 }},
		{"goal_ml", "3210", "3200", func(p *Plan) { p.GoalMl = 3210 }},
		{"rate_ml_h", "801", "800", func(p *Plan) { p.RateMlH = 801 }},
		{"rate_ml_per_kg_h", "11.1", "11.11111111111111", func(p *Plan) { p.RateMlHKg = 11.1 }},
		{"shortest_session_min", "266", "267", func(p *Plan) { p.ShortestSessionMin = new(266.0) }},
		{"shortest_session_min", "none", "267", func(p *Plan) { p.ShortestSessionMin = nil }},
		{"largest_goal_ml", "2881", "2880", func(p *Plan) { p.LargestGoalMl = new(2881.0) }},
		{"left_over_ml", "0", "320", func(p *Plan) { p.LeftOverMl = 0 }},
		{"expected_post_weight_kg", "72.1", "72", func(p *Plan) { p.ExpectedPostKg = 72.1 }},
		{"below_dry", "true", "false", func(p *Plan) { p.BelowDry = true }},
		{"within_limits", "true", "false", func(p *Plan) { p.WithinLimits = true }},
	} {
		p := plan(t, in)
		tt.spoil(&p)
		var d *Disagreement
		if err := Recheck(in, p); !errors.As(err, &d) || *d != (Disagreement{tt.field, tt.planned, tt.rechecked}) {
			t.Errorf("%s spoilt: %v, want %s against %s", tt.field, err, tt.planned, tt.rechecked)
		}
	}
}

func TestRecheckOfAnotherInput(t *testing.T) {
	p := plan(t, evening())
	typed := evening()
	typed.PreWeight = unit.Mass(76_400).Exact() // two digits swapped on one of the two ways
	err := Recheck(typed, p)
	if err == nil || err.Error() != "above_dry_ml: the two computations differ, 2600 and 4400; use neither" {
		t.Errorf("a plan from another weight: %v", err)
	}
}
