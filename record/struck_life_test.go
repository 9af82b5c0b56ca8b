package record_test

import (
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
)

// Two invented months: what is struck out or corrected of them leaves no other
// trace than in the history.
func TestStruckAndCorrectedInALife(t *testing.T) {
	until := time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())
	life, err := simulate.Make(simulate.Options{Seed: 9, Months: 2, Until: until, Open: true})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	few := func(i int) bool { // a few of each kind
		kind := life.Entries[i].Kind
		seen[kind]++
		return seen[kind] == 1 || seen[kind] == 15
	}
	struck := record.CheckStrikes(t, life.Entries, few)
	clear(seen)
	corrected := record.CheckCorrections(t, life.Entries, few)
	if len(struck) < 30 || len(corrected) < 30 {
		t.Errorf("only %d and %d kinds were tried", len(struck), len(corrected))
	}
}
