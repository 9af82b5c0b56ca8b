package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// A session typed in from paper the morning after: nothing is put down as
// happening now. A value that the arithmetic rests on asks for its time, one
// past midnight is the next day's, and what no paper times stands with what
// was typed before it.
func TestPaperSessionWantsItsTimes(t *testing.T) {
	h := home(t, 1, false)
	h.now = time.Date(2026, 6, 14, 10, 0, 0, 0, h.now.Location())
	evening := "2026-06-13"
	h.refused(vida+"/session", "The time is still blank", "place", "home", "source", "paper", "session", newID())
	base := h.saved(vida+"/session", "place", "home", "source", "paper", "session", newID(), "day", evening, "clock", "20:10")
	id := base[strings.LastIndex(base, "/")+1:]
	at := func(kind string) string {
		t.Helper()
		var when string
		h.desk.View(func(r *record.Household) {
			for _, e := range r.Session(id).Log {
				if e.Kind == kind && e.Struck == nil {
					when = e.At.In(h.now.Location()).Format("2 15:04")
				}
			}
		})
		return when
	}
	want := func(kind, when string) {
		t.Helper()
		if got := at(kind); got != when {
			t.Errorf("%s stands at %q, want %q", kind, got, when)
		}
	}

	weigh := []string{"weight_kg", "64.6", "again.weight_kg", "64.6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}
	h.refused(base+"/weigh_in", "The time is still blank: type when it happened", weigh...)
	h.saved(base+"/weigh_in", append(weigh, "clock", "20:25")...)
	want("weigh_in", "13 20:25")
	if _, text := h.get(base + "/weigh_in"); !strings.Contains(text, `name="clock" value=""`) {
		t.Error("the time of a weight is filled in beforehand")
	}
	if _, text := h.get(base + "/supply"); !strings.Contains(text, `name="clock" value="20:25"`) {
		t.Error("the time of a lot does not begin with the last one typed")
	}
	h.saved(base+"/supply", "item", "dialyser", "lot", "L1", "expiry", "2027-01-31")
	want("supply", "13 20:25")

	plan := h.plan(base)
	plan.Set("clock", "20:40")
	if status, _, text := h.post(base+"/plan", plan); status != http.StatusSeeOther {
		t.Fatalf("the plan was not taken: %s", problems(text))
	}
	want("plan", "13 20:40")
	h.refused(base+"/connected", "The time is still blank")
	h.saved(base+"/connected", "clock", "21:05")
	h.silent(base, "Next check", "What to set now", "This page cannot see")
	h.refused(base+"/reading", "The time is still blank", "removed_ml", "600")
	h.saved(base+"/reading", "removed_ml", "1500", "clock", "00:30")
	want("reading", "14 00:30")
	h.saved(base+"/came_off", "returned", "all", "washback_ml", "250", "removed_ml", "2100", "clock", "1.15")
	h.saved(base+"/holding", "arterial_min", "10", "venous_min", "12")
	want("holding", "14 01:15")
	h.saved(base+"/weigh_out", "weight_kg", "63", "again.weight_kg", "63", "clothing_kg", "0", "scale", "bathroom scale", "clock", "01:40")
	want("weigh_out", "14 01:40")
	h.says(base, "The rest of the paper", "✓ Weight before", "Access")
	h.saved(base+"/closed", "feel", "well")
	h.says(base+"/sheet", "on paper, typed in", "4 h 10")

	h.desk.View(func(r *record.Household) {
		if b, e := session.Last[session.AgreedPlan](r.Session(id)); b == nil || !e.At.Before(h.now.Add(-10*time.Hour)) {
			t.Error("the plan does not stand before the treatment")
		}
	})
}

// A session that runs now keeps the clock of the server for what is not timed.
func TestLiveSessionTakesTheMoment(t *testing.T) {
	h := home(t, 1, true)
	base := vida + "/session/" + h.life.Open
	h.saved(base+"/event/drink", "volume_ml", "100")
	h.silent(base, "The rest of the paper")
	h.desk.View(func(r *record.Household) {
		if b, e := session.Last[session.Drink](r.Session(h.life.Open)); b == nil || !e.At.Equal(h.now.Truncate(time.Second)) {
			t.Error("the drink does not stand at the moment")
		}
	})
}
