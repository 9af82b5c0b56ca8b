package simulate

import (
	"testing"
	"time"
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
