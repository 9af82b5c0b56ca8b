package household

import (
	"math"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A goal that is looked ahead to counts the washback as the plan does: not where the
// machine adds it by itself.
func TestWashbackAheadAsInThePlan(t *testing.T) {
	h, m, _ := invented(t, 4, 2, func(e *record.Entry) bool {
		if w, ok := e.Body.(*session.WeighOut); ok && e.Session == "s-20260608" {
			w.Weight += 2500
		}
		return e.Session < "s-20260609"
	})
	now := time.Date(2026, 6, 9, 9, 0, 0, 0, present.Location())
	goals := func() (next, week float64) {
		b, err := WeekBookOf(h, m, now)
		if err != nil {
			t.Fatal(err)
		}
		return nextSessions(m, now)[0].Goal, b.Washback.Float() / 1000
	}
	next, week := goals()
	wash := m.Prescription(unit.NewDate(2026, 6, 9)).Value.Washback.Float() / 1000
	if wash == 0 || week != wash {
		t.Fatalf("washback %v, in a week %v", wash, week)
	}
	h.Machine[len(h.Machine)-1].Value.AddsWashback = true
	if without, none := goals(); math.Abs(next-without-wash) > 1e-9 || none != 0 {
		t.Errorf("goal %v, where the machine adds the washback %v; in a week %v", next, without, none)
	}
}
