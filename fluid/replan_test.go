package fluid

import (
	"errors"
	"math"
	"testing"
	"time"

	"ebbline/unit"

	"pgregory.net/rapid"
)

// An hour and forty into the evening of the worked check.
func underway() ReplanInput {
	return ReplanInput{
		Goal: ml(3200), Removed: ml(1250), Treated: minutes(100), Planned: minutes(240), DryWeight: kg(72),
	}
}

func replan(t *testing.T, in ReplanInput) Remainder {
	t.Helper()
	r, err := Replan(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestReplan(t *testing.T) {
	in := underway()
	in.Added = ml(200)
	r := replan(t, in)
	// 3200 + 200 − 1250 = 2150 mL in 140 min = 921.43 mL/h = 12.798 mL/h/kg.
	if r.RemainingMl != 2150 || r.RemainingMin != 140 || math.Abs(r.RateMlH-921.4286) > 5e-5 || math.Abs(r.RateMlHKg-12.7976) > 5e-5 {
		t.Errorf("after a drink of 200 mL: %+v", r)
	}
	if !r.WithinLimits || r.MinutesNeeded != nil || r.RemovableMl != nil || r.LeftOverMl != 0 || codes(r.Cautions) != "rate_above_10 " {
		t.Errorf("without a limit: %+v", r)
	}

	in.RateLimit = new(perKgHour(10))
	r = replan(t, in)
	// 720 mL/h: 2150 mL need 179.17 min; 140 min let 1680 mL through.
	if r.WithinLimits || *r.MinutesNeeded != 180 || *r.RemovableMl != 1680 || r.LeftOverMl != 470 {
		t.Errorf("against 10 mL/h/kg: %+v", r)
	}

	in.StopIn = new(minutes(180))
	r = replan(t, in)
	if !r.WithinLimits || r.RemainingMin != 180 || *r.RemovableMl != 2160 || r.LeftOverMl != 0 {
		t.Errorf("with another end: %+v", r)
	}
	in.StopIn = new(minutes(30)) // off early
	r = replan(t, in)
	if r.WithinLimits || r.LeftOverMl != 2150-360 || codes(r.Cautions) != "rate_above_10 rate_above_13 " {
		t.Errorf("half an hour left: %+v", r)
	}
}

func TestReplanAtTheLimit(t *testing.T) {
	in := ReplanInput{Goal: ml(3000), Treated: minutes(0), Planned: minutes(300), DryWeight: kg(60), RateLimit: new(perKgHour(10))}
	if r := replan(t, in); !r.WithinLimits || *r.MinutesNeeded != 300 || r.LeftOverMl != 0 || len(r.Cautions) != 0 {
		t.Errorf("exactly at the limit: %+v", r)
	}
	in.Added = ml(0.5)
	if r := replan(t, in); r.WithinLimits || *r.MinutesNeeded != 301 || r.LeftOverMl != 0.5 || codes(r.Cautions) != "rate_above_10 " {
		t.Errorf("half a mL above it: %+v", r)
	}
}

func TestReplanGoalPassed(t *testing.T) {
	in := underway()
	in.Removed = ml(3300)
	r := replan(t, in)
	if r.RemainingMl != 0 || r.RateMlH != 0 || codes(r.Cautions) != "removed_over_goal " {
		t.Errorf("100 mL over the goal: %+v", r)
	}
	in.Removed = ml(3200)
	if r := replan(t, in); r.RemainingMl != 0 || len(r.Cautions) != 0 {
		t.Errorf("the goal just reached: %+v", r)
	}
}

func TestReplanRefuses(t *testing.T) {
	for _, tt := range []struct {
		field  string
		change func(*ReplanInput)
	}{
		{"goal_ml", func(in *ReplanInput) { in.Goal = ml(-1) }},
		{"removed_ml", func(in *ReplanInput) { in.Removed = ml(-1) }},
		{"added_ml", func(in *ReplanInput) { in.Added = ml(-1) }},
		{"treated_min", func(in *ReplanInput) { in.Treated = minutes(-1) }},
		{"planned_min", func(in *ReplanInput) { in.Planned = minutes(0) }},
		{"stop_in_min", func(in *ReplanInput) { in.StopIn = new(minutes(0)) }},
		{"dry_weight_kg", func(in *ReplanInput) { in.DryWeight = kg(0) }},
		{"rate_limit_ml_per_kg_h", func(in *ReplanInput) { in.RateLimit = new(perKgHour(0)) }},
		// At the planned end and past it there is no time to spread the rest over.
		{"treated_min", func(in *ReplanInput) { in.Treated = minutes(240) }},
		{"treated_min", func(in *ReplanInput) { in.Treated = minutes(250) }},
	} {
		in := underway()
		tt.change(&in)
		r, err := Replan(in)
		if ie := (*unit.InputError)(nil); !errors.As(err, &ie) || ie.Field != tt.field || r.RemainingMin != 0 {
			t.Errorf("%s: %v, want a refusal of that field and no answer", tt.field, err)
		}
	}
	in := underway()
	in.Treated, in.StopIn = minutes(250), new(minutes(15)) // past the end, with a new one
	if r := replan(t, in); r.RemainingMin != 15 {
		t.Errorf("a new end after the planned one: %+v", r)
	}
}

// At the start, with nothing removed, the rest is the plan.
func TestReplanAtTheStartIsThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawPlanInput(t)
		p, err := NewPlan(in)
		if err != nil {
			t.Fatal(err)
		}
		if p.GoalMl != math.Trunc(p.GoalMl) {
			return // the plan's goal in tenths of a mL is not exact as a float
		}
		r, err := Replan(ReplanInput{Goal: ml(p.GoalMl), Planned: in.Session, DryWeight: in.DryWeight, RateLimit: in.RateLimit})
		if p.GoalMl > VolumeMl().High {
			return // a gain of hundreds of kilograms; refused here
		}
		if err != nil || r.RateMlH != p.RateMlH || r.RateMlHKg != p.RateMlHKg {
			t.Fatalf("rate %v, %v; the plan has %v", r.RateMlH, err, p.RateMlH)
		}
		if in.RateLimit != nil && *r.MinutesNeeded != *p.ShortestSessionMin {
			t.Fatalf("needs %v min, the plan says %v", *r.MinutesNeeded, *p.ShortestSessionMin)
		}
		if in.MaxRemoval == nil && r.WithinLimits != p.WithinLimits {
			t.Fatalf("within %v, the plan says %v", r.WithinLimits, p.WithinLimits)
		}
	})
}

// Stopping the removal for a while and going on removes the same in all.
func TestReplanKeepsTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := underway()
		in.Removed = ml(float64(rapid.IntRange(0, 3200).Draw(t, "removed")))
		in.Added = ml(float64(rapid.IntRange(0, 1000).Draw(t, "added")))
		in.RateLimit = new(perKgHour(float64(rapid.IntRange(1, 20).Draw(t, "limit"))))
		r, err := Replan(in)
		if err != nil {
			t.Fatal(err)
		}
		if got := in.Removed.Float() + r.RateMlH*r.RemainingMin/60; math.Abs(got-3200-in.Added.Float()) > 1e-9 {
			t.Fatalf("in all %v mL come off", got)
		}
		if r.WithinLimits != (r.LeftOverMl == 0) {
			t.Fatalf("within %v with %v mL left over", r.WithinLimits, r.LeftOverMl)
		}
	})
}

func TestHeparinOff(t *testing.T) {
	for _, tt := range []struct {
		left, before, in time.Duration
		due              bool
	}{
		{4 * time.Hour, time.Hour, 3 * time.Hour, false},
		{140 * time.Minute, 30 * time.Minute, 110 * time.Minute, false},
		{31 * time.Minute, 30 * time.Minute, time.Minute, false},
		{30 * time.Minute, 30 * time.Minute, 0, true},
		{10 * time.Minute, 30 * time.Minute, 0, true}, // the end was drawn forward
		{time.Hour, 0, time.Hour, false},              // runs to the end
	} {
		if in, due := HeparinOff(tt.left, tt.before); in != tt.in || due != tt.due {
			t.Errorf("%v left, off %v before the end: in %v, due %v", tt.left, tt.before, in, due)
		}
	}
	// The end moves by 27 minutes, so does the stop.
	before, _ := HeparinOff(140*time.Minute, time.Hour)
	after, _ := HeparinOff(167*time.Minute, time.Hour)
	if after-before != 27*time.Minute {
		t.Errorf("the stop moved by %v", after-before)
	}
}
