package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// correction makes the entry that puts another body in the place of one.
func (b *book) correction(of Entry, body any) Entry {
	e := b.entry(of.Kind, of.Session, body)
	e.Person, e.Corrects, e.Reason = of.Person, of.ID, "typed wrong"
	return e
}

// A slip put right in an old version does not make it the version in force.
func TestCorrectedOldVersionStaysOld(t *testing.T) {
	b := newBook(t)
	old := b.must("machine", "", &session.Machine{Name: "the old one", GoalUnit: "L", Kind: "single_pass"})
	b.must("machine", "", &session.Machine{Name: "the new one", GoalUnit: "L", Kind: "single_pass"})
	if found := b.try(b.correction(old, &session.Machine{Name: "the older one", GoalUnit: "L", Kind: "single_pass"})); len(found) > 0 {
		t.Fatal(found)
	}
	if now, _ := b.h.Machine.Now(); now.Name != "the new one" {
		t.Errorf("the machine in force is %q", now.Name)
	}
}

// A machine that was described wrongly is put right for the session that is
// being set up on it too.
func TestCorrectedMachineReachesTheSession(t *testing.T) {
	b := newBook(t)
	wrong := b.must("machine", "", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "single_pass"})
	b.open("session-1")
	if found := b.try(b.correction(wrong, &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})); len(found) > 0 {
		t.Fatal(found)
	}
	if got := b.h.Session("session-1").Machine.GoalUnit; got != "L" {
		t.Errorf("the session reads the goal in %s", got)
	}
}

// The last of two papers struck out leaves the first; a change whose reading
// was struck out is to be read.
func TestStruckPaperAndReading(t *testing.T) {
	b := newBook(t)
	rx := aPrescription()
	rx.How, rx.ReadBack = "phone", true
	phoned := b.must("prescription", "", &rx)
	paper := func() Entry {
		return b.must("paper_confirms", "", &PaperConfirms{Prescription: phoned.ID, SignedBy: "Dr Q (invented)", SignedOn: unit.DateOf(b.now)})
	}
	first, second := paper(), paper()
	seen := b.must("change_seen", "", &ChangeSeen{Prescription: phoned.ID})
	of := b.h.Member("person-one").Rx(phoned.ID)
	b.must("struck", "", &Struck{Entry: second.ID, Reason: "tapped twice"})
	if of.Paper == nil || of.Paper.ID != first.ID {
		t.Errorf("with the second of two papers struck out the paper is %+v", of.Paper)
	}
	b.must("struck", "", &Struck{Entry: first.ID, Reason: "of another change"})
	b.must("struck", "", &Struck{Entry: seen.ID, Reason: "not me"})
	if !of.Unconfirmed() || of.Seen != nil {
		t.Errorf("with nothing left the paper is %+v and the reading %+v", of.Paper, of.Seen)
	}
}

// What was struck out stays so: it is neither struck out again nor corrected,
// and a strike is not corrected either. Each is answered with what to do.
func TestAStrikeStands(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	drink := b.must("drink", "session-1", &session.Drink{Volume: 150})
	strike := b.must("struck", "session-1", &Struck{Entry: drink.ID, Reason: "tapped twice"})
	b.refuses(Refuse, "entry_id", "already", b.entry("struck", "session-1", &Struck{Entry: drink.ID, Reason: "once more"}))
	b.refuses(Refuse, "corrects", "write it down again", b.correction(drink, &session.Drink{Volume: 200}))
	b.refuses(Refuse, "corrects", "again", b.correction(strike, &Struck{Entry: drink.ID, Reason: "for another reason"}))
	b.refuses(Refuse, "entry_id", "again", b.entry("struck", "session-1", &Struck{Entry: strike.ID, Reason: "it was right"}))
	b.refuses(Refuse, "session", "is not the one", b.entry("struck", "session-9", &Struck{Entry: b.must("drink", "session-1", &session.Drink{Volume: 10}).ID, Reason: "elsewhere"}))
	// In a record that has it all the same the first strike is the one that stands.
	twice := b.entry("struck", "session-1", &Struck{Entry: drink.ID, Reason: "a second time"})
	if err := b.h.Apply(twice); err != nil {
		t.Fatal(err)
	}
	if got := b.h.Session("session-1").Find(drink.ID).Struck.Reason; got != "tapped twice" {
		t.Errorf("the drink was struck out because %q", got)
	}
}

// A struck opening cannot be corrected back to life beside another session, and
// a correction is held to what an opening is held to.
func TestCorrectedOpening(t *testing.T) {
	b := newBook(t)
	given := b.must("session_opened", "session-1", &session.Opened{Place: "home", Source: "live", Confirmed: true})
	b.must("struck", "session-1", &Struck{Entry: given.ID, Reason: "not tonight"})
	b.open("session-2")
	b.refuses(Refuse, "corrects", "struck out", b.correction(given, &session.Opened{Place: "home", Source: "live", Confirmed: true}))

	typed := b.must("session_opened", "session-3", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.refuses(Refuse, "kind", "still open", b.correction(typed, &session.Opened{Place: "home", Source: "live", Confirmed: true}))
	b.refuses(Refuse, "where", "still blank", b.correction(typed, &session.Opened{Place: "elsewhere", Source: "paper", Confirmed: true}))
	before := b.correction(typed, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	before.At = time.Date(2026, 9, 1, 18, 0, 0, 0, b.zone)
	b.refuses(Refuse, "kind", "no prescription", before)
	// What it was stays right: a live session is corrected the day after.
	own := b.h.Session("session-2")
	_, at := own.Opened()
	b.now = b.now.Add(30 * time.Hour)
	e := b.correction(Entry{ID: own.Log[0].ID, Kind: "session_opened", Session: "session-2", Person: "person-one"}, &session.Opened{Place: "home", Source: "live", Confirmed: true, Carer: "Sam"})
	e.At = at
	if found := b.try(e); len(found) > 0 {
		t.Errorf("the carer of a live session written down a day later: %v", found)
	}
}

// A closed session is not opened again by a strike while another one is open.
func TestStruckClosing(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	b.must("came_off", "session-1", &session.CameOff{Washback: ptr(unit.Volume(300)), Returned: "all"})
	closing := b.must("closed", "session-1", &session.Closed{})
	b.open("session-2")
	strike := func() Entry {
		return b.entry("struck", "session-1", &Struck{Entry: closing.ID, Reason: "it was not over"})
	}
	b.refuses(Refuse, "entry_id", "close that one first", strike())
	b.must("struck", "session-2", &Struck{Entry: b.h.Session("session-2").Log[0].ID, Reason: "not tonight"})
	if found := b.try(strike()); len(found) > 0 || b.h.Session("session-1").Phase() == session.Done {
		t.Errorf("with nothing else open: %v", found)
	}
}

// Corrections reach what others name by the first version: the pieces that went
// back stay gone when the notice is corrected, an order stays answered.
func TestCorrectionIsFollowed(t *testing.T) {
	b := newBook(t)
	b.shelf()
	recall := b.keep("recall", &Recall{Maker: "Maker A (invented)", Item: "dialyser", Lots: []string{"D-2"}, From: "the unit"})
	b.keep("recall_closed", &RecallClosed{Recall: recall.ID, Told: "nurse by telephone", Returned: 10 * one})
	e := b.correction(recall, &Recall{Maker: "Maker A (invented)", Item: "dialyser", Lots: []string{"D-2"}, From: "the supplier"})
	e.At = recall.At
	if found := b.try(e); len(found) > 0 {
		t.Fatal(found)
	}
	if it := b.on("dialyser"); it.lot("D-2") != 0 || b.h.Upkeep.Recall(e.ID).Closed == nil {
		t.Errorf("after a correction of the notice %s of lot D-2 lie there again", it.lot("D-2"))
	}
	b.refuses(Refuse, "recall_id", "closed already", b.house("recall_closed", &RecallClosed{Recall: recall.ID, Told: "nurse by telephone"}))
	day := unit.DateOf(b.now)
	order := b.keep("order_sent", &OrderSent{For: day.Add(3), How: "email", Lines: []OrderLine{{"dialyser", 1, 12 * one}}})
	b.try(b.correction(order, &OrderSent{For: day.Add(4), How: "email", Lines: []OrderLine{{"dialyser", 2, 24 * one}}}))
	b.keep("delivery", &Delivery{Order: order.ID, Lines: []DeliveryLine{{Item: "dialyser", Lot: "Q", Pieces: one}}})
	fault := b.keep("fault", &Fault{Words: "drip"})
	b.try(b.correction(fault, &Fault{Words: "drip under the plant"}))
	b.keep("fault", &Fault{Words: "mended", About: fault.ID, Mended: true})
}

// A limit of the unit typed wrong and put right judges again what it had judged,
// and what was done about a result goes on to count where the verdict is the
// same.
func TestCorrectedLimitJudgesAnew(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	critical := func(high unit.Printed) *BloodRange {
		return &BloodRange{Analyte: "potassium", Unit: "mmol/L", Low: "4", High: "5.5", CriticalHigh: high, SetBy: "Dr Q (invented)", SetOn: day}
	}
	wrong := b.must("blood_range", "", critical("9.2"))
	sample := b.entry("bloods", "", &Bloods{Timing: Other, Laboratory: "Laboratory (invented)", Results: []BloodResult{potassium("6.8")}})
	sample.Again = map[string]string{"results.potassium": "6.8"}
	if found := b.try(sample); len(found) > 0 {
		t.Fatal(found)
	}
	if found := b.try(b.correction(wrong, critical("6.2"))); len(found) > 0 {
		t.Fatal(found)
	}
	m := b.h.Member("person-one")
	if open := m.CriticalOpen(); len(open) != 1 || !strings.Contains(open[0].Judged.CriticalWords, "6.2") {
		t.Errorf("6.8 under a critical limit of 6.2 that was typed as 9.2 at first: %+v", open)
	}
}
