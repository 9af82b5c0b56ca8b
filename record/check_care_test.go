package record

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// checkOf gives one check of a session's start line as it stands.
func (b *book) checkOf(id, check string) session.Check {
	b.t.Helper()
	s := b.h.Session(id)
	checks := session.StartLine(s, b.h.Member(s.Person).History(s), b.now)
	i := slices.IndexFunc(checks, func(c session.Check) bool { return c.ID == check })
	if i < 0 {
		b.t.Fatalf("%s has no check %s", id, check)
	}
	return checks[i]
}

func (b *book) chlorine(mgL unit.Concentration, point string) *session.Chlorine {
	return &session.Chlorine{Result: mgL, Method: "photometer", ReadsDown: 20, Lot: "C-1", Expiry: unit.DateOf(b.now).Add(90), Point: point}
}

// over writes down a test above the limit, typed twice.
func (b *book) over(id, point string) Entry {
	b.t.Helper()
	e := b.entry("chlorine", id, b.chlorine(150, point))
	e.Again = map[string]string{"total_chlorine_mg_l": "0.15"}
	if found := b.try(e); len(found) > 0 {
		b.t.Fatal(found)
	}
	return e
}

// A call has somebody at the other end, and words.
func TestRangNeedsWords(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	b.refuses(Refuse, "whom", "still blank", b.entry("rang", "session-01", &session.Rang{Whom: "  ", Said: "come in slowly"}))
	b.refuses(Refuse, "said", "too short", b.entry("rang", "session-01", &session.Rang{Whom: "the nurse", Said: "ok"}))
	b.refuses(Refuse, "said", "still blank", b.entry("rang", "session-01", &session.Rang{Whom: "the nurse"}))
	b.must("rang", "session-01", &session.Rang{Whom: "Unit, by day, 1", Said: "come in slowly"})
}

// A call answers what was there when it was made, whenever it was written down.
func TestCallThroughTheRecord(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	b.must("fitness", "session-01", &session.Fitness{Fever: true})
	b.must("fitness", "session-01", &session.Fitness{})
	if c := b.checkOf("session-01", session.CheckFit); c.State != session.StopHere {
		t.Errorf("a fever and none after: %s %q", c.State, c.Words)
	}
	rang := b.entry("rang", "session-01", &session.Rang{Whom: "the nurse", Said: "come in slowly"})
	rang.At = rang.At.Add(-90 * time.Second)
	if found := b.try(rang); len(found) > 0 {
		t.Fatal(found)
	}
	if c := b.checkOf("session-01", session.CheckFit); c.State != session.Look || !strings.Contains(c.Words, "You rang the nurse") {
		t.Errorf("rung about: %s %q", c.State, c.Words)
	}
	b.must("struck", "session-01", &Struck{Entry: rang.ID, Reason: "another evening"})
	if c := b.checkOf("session-01", session.CheckFit); c.State != session.StopHere {
		t.Errorf("the call was struck out: %s %q", c.State, c.Words)
	}
}

// Striking out or correcting what stopped the start takes a typed reason as long
// as one to go on; paper is written down, not guarded.
func TestUndoingAStopWantsAReason(t *testing.T) {
	for source, short := range map[string]bool{"live": false, "paper": true} {
		b := newBook(t)
		b.must("session_opened", "session-01", &session.Opened{Place: "home", Source: source, Confirmed: true})
		over, better := b.over("session-01", "second_carbon"), b.must("chlorine", "session-01", b.chlorine(50, "second_carbon"))
		strike := func(of Entry, why string) Entry {
			return b.entry("struck", "session-01", &Struck{Entry: of.ID, Reason: why})
		}
		fix := func(of Entry, why string) Entry {
			e := b.entry("chlorine", "session-01", b.chlorine(40, "second_carbon"))
			e.At, e.Corrects, e.Reason = of.At, of.ID, why
			return e
		}
		for _, why := range []string{"oops", "aaaaaaaaaaaaaa", "          "} {
			for how, e := range map[string]Entry{"struck": strike(over, why), "corrected": fix(over, why)} {
				refused := Check(b.h, e).On("reason") != ""
				if blank := strings.TrimSpace(why) == ""; refused != (!short || blank) {
					t.Errorf("%s, %s with %q: %v", source, how, why, Check(b.h, e))
				}
			}
		}
		if found := Check(b.h, strike(over, "oops")); !short && !strings.Contains(found.On("reason"), "0.15\u00a0mg/L, limit 0.1") {
			t.Errorf("what it stopped is not said: %v", found)
		}
		for _, e := range []Entry{strike(over, "this was the tap water"), fix(over, "this was the tap water"), strike(better, "oops"), fix(better, "oops")} {
			if found := Check(b.h, e); len(found) > 0 {
				t.Errorf("%s: %v", source, found)
			}
		}
	}
	// What the round says of the machine is undone in the same way.
	b := newBook(t)
	left := b.keep("residual_test", &ResidualTest{For: "chlorine", Value: 500, Lot: "R1", Expiry: unit.DateOf(b.now).Add(90)})
	none := b.keep("residual_test", &ResidualTest{For: "chlorine", Value: 50, Lot: "R1", Expiry: unit.DateOf(b.now).Add(90)})
	failed := b.keep("round_done", &RoundDone{Item: "heat", Outcome: "failed"})
	passed := b.keep("round_done", &RoundDone{Item: "heat", Outcome: "done"})
	for _, of := range []Entry{left, failed} {
		b.refuses(Refuse, "reason", "is too short", b.house("struck", &Struck{Entry: of.ID, Reason: "oops"}))
		b.keep("struck", &Struck{Entry: of.ID, Reason: "of the other machine"})
	}
	for _, of := range []Entry{none, passed} {
		b.keep("struck", &Struck{Entry: of.ID, Reason: "oops"})
	}
}

// With blood lines on the machine no disinfection is taken, neither of the session
// nor of the round, until it is said that they are off again.
func TestNoDisinfectionWithLinesOn(t *testing.T) {
	heat := func() any { return &session.Disinfection{Programme: "heat", Result: "passed"} }
	b := newBook(t)
	b.open("session-01")
	b.must("disinfection", "session-01", heat())
	b.must("supply", "session-01", &session.Supply{Item: "lines", Lot: "L-1", Expiry: unit.DateOf(b.now).Add(90)})
	b.refuses(Refuse, "kind", "The blood lines are on the machine since", b.entry("disinfection", "session-01", heat()))
	b.refuses(Refuse, "kind", "take the lines off first", b.entry("disinfection", "session-01", heat()))
	for _, item := range []string{"heat", "citric", "chemical"} {
		b.refuses(Refuse, "kind", "take the lines off first", b.house("round_done", &RoundDone{Item: item, Outcome: "done"}))
	}
	b.keep("round_done", &RoundDone{Item: "rinse", Outcome: "done"}) // water does not hurt them
	before := b.house("round_done", &RoundDone{Item: "heat", Outcome: "done"})
	before.At = before.At.Add(-9 * time.Hour)
	if found := Check(b.h, before); len(found) > 0 {
		t.Errorf("a cycle of this morning: %v", found)
	}
	b.must("step", "session-01", &session.StepDone{Phase: session.SetUp, Step: session.LinesStep, State: "undone"})
	first := b.must("disinfection", "session-01", heat())
	b.keep("round_done", &RoundDone{Item: "heat", Outcome: "done"})

	// A correction puts right what was written, lines or none.
	b.must("supply", "session-01", &session.Supply{Item: "dialyser", Lot: "D-1", Expiry: unit.DateOf(b.now).Add(90)})
	fix := b.entry("disinfection", "session-01", &session.Disinfection{Programme: "heat_citric", Result: "passed"})
	fix.At, fix.Corrects, fix.Reason = first.At, first.ID, "it was with citric acid"
	if found := Check(b.h, fix); len(found) > 0 {
		t.Errorf("a correction: %v", found)
	}

	// What is typed in from paper happened.
	b = newBook(t)
	b.must("session_opened", "session-01", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("supply", "session-01", &session.Supply{Item: "lines", Lot: "L-1", Expiry: unit.DateOf(b.now).Add(90)})
	b.must("disinfection", "session-01", heat())
}

// A call that reached nobody is no call, on a page, from a file and on paper; a text
// that is not clear is asked about once. What an older record holds is still read.
func TestCallThatReachedNobody(t *testing.T) {
	for _, source := range []string{"live", "paper"} {
		b := newBook(t)
		b.open("session-01")
		if source == "paper" {
			b.must("session_opened", "session-02", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		}
		id := map[string]string{"live": "session-01", "paper": "session-02"}[source]
		for _, text := range []string{"nobody", "no answer at all", "tried at 22:10, engaged", "nobody reached"} {
			b.refuses(Refuse, "rang", "Nobody was reached", b.entry("fitness", id, &session.Fitness{ChestPain: true, Rang: text}))
			b.refuses(Refuse, "said", "Nobody was reached", b.entry("rang", id, &session.Rang{Whom: "the unit", Said: text}))
			b.refuses(Refuse, "whom", "a reason to go past it", b.entry("rang", id, &session.Rang{Whom: text, Said: "come in slowly"}))
		}
		const both = "night number engaged; Sister Berg: come in slowly"
		b.refuses(Ask, "rang", "Was somebody reached?", b.entry("fitness", id, &session.Fitness{Fever: true, Rang: both}))
		b.refuses(Ask, "said", "Was somebody reached?", b.entry("rang", id, &session.Rang{Whom: "the unit", Said: both}))
		e := b.entry("rang", id, &session.Rang{Whom: "the unit", Said: both})
		e.Again = map[string]string{"said": both}
		if found := b.try(e); len(found) > 0 {
			t.Errorf("%s: typed again: %v", source, found)
		}
	}
	b := newBook(t)
	b.open("session-01")
	b.must("fitness", "session-01", &session.Fitness{ChestPain: true})
	old := b.entry("rang", "session-01", &session.Rang{Whom: "nobody", Said: "no answer"})
	if err := b.h.Apply(old); err != nil {
		t.Fatal(err)
	}
	if c := b.checkOf("session-01", session.CheckFit); c.State != session.Look {
		t.Errorf("of an older record: %s %q", c.State, c.Words)
	}
}
