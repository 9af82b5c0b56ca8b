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
