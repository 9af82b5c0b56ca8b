package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// While the task of a first carbon is open, a sample drawn after it alone is a look
// at each session, of whichever person; one behind the second carbon is enough, and
// so is a new carbon.
func TestCarbonTaskAtTheNextSession(t *testing.T) {
	want := func(b *book, name string, state session.CheckState, words string) {
		t.Helper()
		if c := b.checkOf("session-02", session.CheckChlorine); c.State != state || !strings.Contains(c.Words, words) {
			t.Errorf("%s: %s %q", name, c.State, c.Words)
		}
	}
	begin := func() *book {
		b := newBook(t)
		b.must("session_opened", "session-01", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		b.over("session-01", "first_carbon")
		b.must("chlorine", "session-01", b.chlorine(20, "second_carbon"))
		b.must("connected", "session-01", &session.Connected{})
		b.offNow("session-01", true)
		b.now = b.now.Add(24 * time.Hour)
		return b
	}
	b := begin()
	b.open("session-02")
	b.must("chlorine", "session-02", b.chlorine(20, "first_carbon"))
	want(b, "after the first alone", session.Look, "; the task of the first carbon, 20\u00a0October, is open. Test after the second.")
	b.must("chlorine", "session-02", b.chlorine(20, "second_carbon"))
	want(b, "after both", session.Ready, "0.02")

	b = begin()
	b.keep("round_done", &RoundDone{Item: "carbon", Outcome: "done", Lot: "F-8"})
	b.open("session-02")
	b.must("chlorine", "session-02", b.chlorine(20, "first_carbon"))
	want(b, "a new carbon", session.Ready, "0.02")

	b = begin()
	who := b.entry("person", "", &Person{Name: "Sam Finch", BirthYear: 1960, Colour: "fern", Adult: true})
	who.Person = "person-two"
	rx := aPrescription()
	order := b.entry("prescription", "", &rx)
	order.Person = "person-two"
	open := b.entry("session_opened", "session-02", &session.Opened{Place: "home", Source: "live", Confirmed: true})
	open.Person = "person-two"
	sample := b.entry("chlorine", "session-02", b.chlorine(20, "first_carbon"))
	sample.Person = "person-two"
	for _, e := range []Entry{who, order, open, sample} {
		if found := b.try(e); len(found) > 0 {
			t.Fatal(found)
		}
	}
	want(b, "another person", session.Look, "the task of the first carbon")
}

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
