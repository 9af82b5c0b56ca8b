package record

import (
	"testing"
	"time"

	"ebbline/session"
)

// A first carbon that let chlorine through waits to be seen to, until it is
// changed or put away; what was drawn elsewhere, or struck out, is not among it.
func TestCarbonFailures(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	open := func() int { return len(b.h.CarbonFailures(b.now.Add(time.Minute))) }
	b.must("chlorine", "session-01", b.chlorine(90, "first_carbon"))
	b.over("session-01", "second_carbon")
	if open() != 0 {
		t.Error("a good first carbon, or the second one, waits")
	}
	b.refuses(Refuse, "result_id", "no result in this record", b.house("task_closed", &TaskClosed{Result: "nothing-here", Did: "carbon ordered", Told: "technician"}))
	first := b.over("session-01", "first_carbon")
	list := b.h.CarbonFailures(b.now.Add(time.Minute))
	if len(list) != 1 || list[0].ID != first.ID || list[0].Result != 150 || list[0].Limit != session.ChlorineLimit || list[0].Person != "person-one" {
		t.Fatalf("%+v", list)
	}
	if past := b.h.CarbonFailures(first.At.Add(-time.Second)); len(past) != 0 {
		t.Errorf("before it was drawn: %+v", past)
	}
	put := b.keep("task_closed", &TaskClosed{Result: first.ID, Did: "new carbon ordered", Told: "technician: comes on Friday"})
	if open() != 0 {
		t.Error("put away, it waits")
	}
	b.refuses(Refuse, "result_id", "no result", b.house("task_closed", &TaskClosed{Result: first.ID, Did: "new carbon ordered", Told: "technician"}))
	b.keep("struck", &Struck{Entry: put.ID, Reason: "of another carbon"})
	if open() != 1 {
		t.Error("the following up was struck out, and nothing waits")
	}
	b.over("session-01", "first_carbon")
	if open() != 2 {
		t.Errorf("%d wait, want both", open())
	}
	b.keep("round_done", &RoundDone{Item: "carbon", Outcome: "failed"})
	if open() != 2 {
		t.Error("a change that failed puts it away")
	}
	b.keep("round_done", &RoundDone{Item: "carbon", Outcome: "done", Lot: "F-8"})
	if open() != 0 {
		t.Error("the carbon is changed, and its failing waits")
	}
	last := b.over("session-01", "first_carbon")
	b.must("struck", "session-01", &Struck{Entry: last.ID, Reason: "this was the tap water"})
	if open() != 0 {
		t.Error("a test that was struck out waits")
	}
}
