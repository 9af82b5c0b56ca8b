package fluid

import (
	"errors"
	"math"
	"testing"

	"ebbline/unit"

	"pgregory.net/rapid"
)

func untilNext() BetweenInput {
	return BetweenInput{
		LastPost: kg(72.4), DryWeight: kg(72), Gap: hours(48), Session: minutes(240),
		Intake: ml(300), Washback: ml(300), RateLimit: new(perKgHour(10)),
	}
}

func between(t *testing.T, in BetweenInput) Allowance {
	t.Helper()
	a, err := Between(in)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestBetween(t *testing.T) {
	// 10·72·4 = 2880; less 600 for the session itself, less 400 still there.
	a := between(t, untilNext())
	if a.AllowanceMl != 1880 || a.AllowanceMlDay != 940 || a.AlreadyAboveMl != 400 || a.RoomMl != 2280 {
		t.Errorf("two days to go: %+v", a)
	}
	if codes(a.Cautions) != "insensible_assumed " {
		t.Errorf("cautions %q", codes(a.Cautions))
	}

	in := untilNext()
	in.UrinePerDay = ml(500) // a litre in two days may be drunk on top
	if a := between(t, in); a.AllowanceMl != 2880 || a.AllowanceMlDay != 1440 {
		t.Errorf("with urine: %+v", a)
	}

	in = untilNext()
	in.MaxRemoval = new(ml(2500)) // the lesser limit counts
	if a := between(t, in); a.AllowanceMl != 1500 {
		t.Errorf("two limits: %+v", a)
	}
	in.RateLimit = nil
	if a := between(t, in); a.AllowanceMl != 1500 {
		t.Errorf("largest removal alone: %+v", a)
	}

	in = untilNext()
	in.LastPost = kg(71.5) // ended below dry weight: that much more
	if a := between(t, in); a.AllowanceMl != 2780 || a.AlreadyAboveMl != -500 {
		t.Errorf("ended below dry weight: %+v", a)
	}
}

func TestBetweenNothingLeft(t *testing.T) {
	in := untilNext()
	in.LastPost = kg(74.28) // 2280 mL above: exactly what the room holds
	if a := between(t, in); a.AllowanceMl != 0 || codes(a.Cautions) != "insensible_assumed " {
		t.Errorf("exactly full: %+v", a)
	}
	in.LastPost = kg(74.3)
	if a := between(t, in); a.AllowanceMl != 0 || a.AllowanceMlDay != 0 || codes(a.Cautions) != "insensible_assumed no_allowance " {
		t.Errorf("20 mL over: %+v", a)
	}
}

func TestBetweenRefuses(t *testing.T) {
	for _, tt := range []struct {
		field  string
		change func(*BetweenInput)
	}{
		{"last_post_kg", func(in *BetweenInput) { in.LastPost = kg(0) }},
		{"dry_weight_kg", func(in *BetweenInput) { in.DryWeight = kg(301) }},
		{"hours_to_next", func(in *BetweenInput) { in.Gap = hours(0) }},
		{"session_min", func(in *BetweenInput) { in.Session = minutes(0) }},
		{"intake_ml", func(in *BetweenInput) { in.Intake = ml(-1) }},
		{"washback_ml", func(in *BetweenInput) { in.Washback = ml(-1) }},
		{"urine_ml_day", func(in *BetweenInput) { in.UrinePerDay = ml(-1) }},
		{"max_removal_ml", func(in *BetweenInput) { in.MaxRemoval = new(ml(-1)) }},
		{"rate_limit_ml_per_kg_h", func(in *BetweenInput) { in.RateLimit = new(perKgHour(101)) }},
		{"rate_limit_ml_per_kg_h", func(in *BetweenInput) { in.RateLimit = nil }}, // no limit, no allowance
	} {
		in := untilNext()
		tt.change(&in)
		_, err := Between(in)
		if ie := (*unit.InputError)(nil); !errors.As(err, &ie) || ie.Field != tt.field {
			t.Errorf("%s: %v, want a refusal of that field", tt.field, err)
		}
	}
}

// Who gains just the allowance has a plan inside the limits at the next
// weigh-in, and who gains 2 mL more does not.
func TestBetweenMeetsThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := untilNext()
		in.DryWeight = kg(float64(rapid.IntRange(40, 120).Draw(t, "dry")))
		in.LastPost = kg(in.DryWeight.Float() + float64(rapid.IntRange(0, 5).Draw(t, "above"))/10)
		in.Session = minutes(float64(rapid.IntRange(180, 480).Draw(t, "session")))
		if rapid.Bool().Draw(t, "capped") {
			in.MaxRemoval = new(ml(float64(rapid.IntRange(1500, 4000).Draw(t, "most"))))
		}
		a, err := Between(in)
		if err != nil {
			t.Fatal(err)
		}
		if a.AllowanceMl == 0 {
			return
		}
		at := func(gained float64) bool {
			p, err := NewPlan(PlanInput{
				PreWeight: kg(in.LastPost.Float() + math.Floor(gained)/1000), DryWeight: in.DryWeight, Session: in.Session,
				Intake: in.Intake, Washback: in.Washback, RateLimit: in.RateLimit, MaxRemoval: in.MaxRemoval,
			})
			if err != nil {
				t.Fatal(err)
			}
			return p.WithinLimits
		}
		if !at(a.AllowanceMl) || at(a.AllowanceMl+2) {
			t.Fatalf("allowance %v mL: inside %v, with 2 mL more %v", a.AllowanceMl, at(a.AllowanceMl), at(a.AllowanceMl+2))
		}
	})
}
