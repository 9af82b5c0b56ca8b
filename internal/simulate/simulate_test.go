package simulate

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

func TestMakeHoldsTheRules(t *testing.T) {
	until := time.Date(2026, 6, 10, 19, 30, 0, 0, Zone())
	life, err := Make(Options{Seed: 7, Months: 6, Until: until, Open: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(life.Truth) < 90 || life.Open == "" {
		t.Errorf("%d sessions, open %q; want six months of four a week and one open", len(life.Truth), life.Open)
	}
	t.Logf("%d entries, %d sessions, %d asked though right, %d slips caught, %d missed", len(life.Entries), len(life.Truth), life.Asked, life.Slips, life.Missed)
	again, err := Make(Options{Seed: 7, Months: 6, Until: until, Open: true})
	if err != nil || len(again.Entries) != len(life.Entries) {
		t.Errorf("the same seed gave %d entries, then %d (%v)", len(life.Entries), len(again.Entries), err)
	}
}

// A life can be made up to any day, whatever weekday it then begins on: the
// demonstration ends at the present, and a wrong weight that went in unasked
// must not bring the next evening below the dry weight.
func TestMakeUpToAnyDay(t *testing.T) {
	first := time.Date(2026, 9, 14, 10, 36, 13, 0, Zone())
	for day := range 14 {
		until := first.AddDate(0, 0, day)
		life, err := Make(Options{Seed: 20, Months: 6, Until: until, Open: true})
		if err != nil {
			t.Errorf("up to %s: %v", until, err)
		} else if life.Open == "" || len(life.Truth) < 90 {
			t.Errorf("up to %s: %d sessions, open %q", until, len(life.Truth), life.Open)
		}
	}
}

// Some evenings begin below the dry weight. Their plans take off what goes beyond
// it, none less than nothing, and the person went on with a written reason.
func TestMakeBelowDryWeight(t *testing.T) {
	life, err := Make(Options{Seed: 3, Months: 14, Until: time.Date(2026, 6, 10, 19, 30, 0, 0, Zone())})
	if err != nil {
		t.Fatal(err)
	}
	under := map[string]unit.Mass{}
	for _, truth := range life.Truth {
		if truth.Under > 0 {
			under[truth.Session] = truth.Under
		}
	}
	if n := len(under); n < 5 || n > len(life.Truth)/10 {
		t.Fatalf("%d of %d evenings begin below the dry weight", n, len(life.Truth))
	}
	plans, least, most := 0, unit.Mass(5000), unit.Mass(0)
	for _, e := range life.Entries {
		plan, ok := e.Body.(*session.AgreedPlan)
		if !ok {
			continue
		}
		if _, below := under[e.Session]; below != plan.BelowDry {
			t.Errorf("%s: %s under, and the plan says %v", e.Session, under[e.Session].Text(), plan.BelowDry)
		}
		if !plan.BelowDry {
			continue
		}
		plans++
		least, most = min(least, plan.Under()), max(most, plan.Under())
		if plan.Under() != under[e.Session] || plan.Goal != max(0, plan.Sum()) {
			t.Errorf("%s: %s under, goal %s of %s", e.Session, plan.Under().Text(), plan.Goal.Text(), plan.Sum().Text())
		}
	}
	if plans != len(under) || least > 300 || most < 700 {
		t.Errorf("%d plans for %d evenings, from %s to %s under", plans, len(under), least.Text(), most.Text())
	}
}
