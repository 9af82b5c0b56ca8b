package simulate

import (
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// The demonstration shows the unit's steps for most of what can go wrong, and what
// a page says where there are none.
func TestSomeTroublesHaveSteps(t *testing.T) {
	life, err := Make(Options{Seed: 5, Months: 1, Until: time.Date(2026, 6, 10, 19, 30, 0, 0, Zone())})
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHousehold()
	for _, e := range life.Entries {
		if err := h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	with, without := 0, 0
	for _, kind := range session.Troubles() {
		if h.Member(life.Person).StepsFor(kind.Code) != nil {
			with++
		} else {
			without++
		}
	}
	if with < 8 || without < 4 {
		t.Errorf("%d troubles with steps, %d without", with, without)
	}
}
