package record

import (
	"encoding/json"
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// labelledShelf is a book with a shelf of items that have numbers on their labels.
func labelledShelf(t *testing.T) *book {
	b := newBook(t)
	for _, name := range []string{"heparin vial", "heparin lock", "2 K concentrate", "chlorine strip", "dialyser"} {
		b.keep("stock_item", &StockItem{Item: name, PerSession: n(1), Pack: 10 * one, Storage: "room"})
	}
	return b
}

func (b *book) stateOf(h *Household, check string) session.Check {
	b.t.Helper()
	s := h.Session("session-01")
	for _, c := range session.StartLine(s, h.Member("person-one").History(s), b.now) {
		if c.ID == check {
			return c
		}
	}
	b.t.Fatalf("no check %s", check)
	return session.Check{}
}

// What a label said as a lot came is held against what is typed from the vial,
// whatever was counted since; not a lot of another sort of thing with that number, not
// a delivery that was struck out, and not one of after the moment asked about.
func TestNumbersOfALot(t *testing.T) {
	b := labelledShelf(t)
	day := unit.DateOf(b.now)
	strong, other := session.LotNumbers{Strength: ptr(unit.Strength(5000))}, session.LotNumbers{Strength: ptr(unit.Strength(10000))}
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{
		{Item: "heparin lock", Lot: "H-10", Expires: day.Add(300), Pieces: one, LotNumbers: other},
		{Item: "heparin vial", Lot: "H-11", Expires: day.Add(300), Pieces: one, LotNumbers: strong},
		{Item: "heparin vial", Lot: "H-10", Expires: day.Add(300), Pieces: one},
	}})
	b.open("session-01")
	b.must("heparin_drawn", "session-01", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "h 10", Expiry: day.Add(300)})
	wants(t, "no number known of it", b.stateOf(b.h, session.CheckHeparin), session.Ready, "as prescribed")

	before := b.now
	came := b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: "heparin vial", Lot: "H10", Expires: day.Add(300), Pieces: one, LotNumbers: strong}}})
	stop := "Lot h 10: strength typed 1\u00a0000\u00a0IU/mL, shelf has 5\u00a0000\u00a0IU/mL. Read the label."
	wants(t, "written since", b.stateOf(b.h, session.CheckHeparin), session.StopHere, stop)
	b.keep("stock_count", &StockCount{Item: "heparin vial", Lots: []CountedLot{{Lot: "H-10", Expires: day.Add(300), Pieces: one}}})
	wants(t, "counted since", b.stateOf(b.h, session.CheckHeparin), session.StopHere, stop)
	past, err := AsOf(b.life, before)
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "as of before", b.stateOf(past, session.CheckHeparin), session.Ready, "as prescribed")
	lots := lotsLine(t, b.h, "session-01", b.now)
	if strings.Contains(lots.Words, "typed") {
		t.Errorf("said twice: %q", lots.Words)
	}
	b.keep("struck", &Struck{Entry: came.ID, Reason: "misread the label of the box"})
	said := "Lot h 10: strength typed 1\u00a0000\u00a0IU/mL, shelf had 5\u00a0000\u00a0IU/mL until "
	wants(t, "struck out", b.stateOf(b.h, session.CheckHeparin), session.Look, said)
	if words := b.stateOf(b.h, session.CheckHeparin).Words; strings.Contains(words, "as prescribed") {
		t.Errorf("struck out: %q", words)
	}
}

// What the shelf said stays in sight when the lot is corrected to another, and when
// the delivery is corrected; it is said once when it is said again.
func TestWhatTheShelfSaidStaysInSight(t *testing.T) {
	said := "Lot H-10: strength typed 1\u00a0000\u00a0IU/mL, shelf had 5\u00a0000\u00a0IU/mL until "
	for _, how := range []string{"lot", "delivery"} {
		b := labelledShelf(t)
		day := unit.DateOf(b.now)
		box := func(strength unit.Strength) *Delivery {
			return &Delivery{Lines: []DeliveryLine{{
				Item: "heparin vial", Lot: "H-10", Expires: day.Add(300), Pieces: one, LotNumbers: session.LotNumbers{Strength: &strength},
			}}}
		}
		vial := func(lot string) *session.HeparinDrawn {
			return &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: lot, Expiry: day.Add(300)}
		}
		came := b.keep("delivery", box(5000))
		b.open("session-01")
		drawn := b.must("heparin_drawn", "session-01", vial("H-10"))
		fix := b.entry("heparin_drawn", "session-01", vial("H-11"))
		fix.At, fix.Corrects, fix.Reason = drawn.At, drawn.ID, "it is the other box of vials"
		if how == "delivery" {
			fix = b.house("delivery", box(1000))
			fix.At, fix.Corrects, fix.Reason = came.At, came.ID, "misread the label of the box"
		}
		if found := b.try(fix); len(found) > 0 {
			t.Fatal(found)
		}
		wants(t, how, b.stateOf(b.h, session.CheckHeparin), session.Look, said)
		if how == "lot" {
			fix.ID, fix.Corrects, fix.Body = "back-to-the-first", fix.ID, vial("H-10")
			fix.Written = b.now.UTC()
			if found := b.try(fix); len(found) > 0 {
				t.Fatal(found)
			}
			c := b.stateOf(b.h, session.CheckHeparin)
			if c.State != session.StopHere || strings.Contains(c.Words, "shelf had") {
				t.Errorf("the first lot again: %s %q", c.State, c.Words)
			}
		}
	}
}

// A lot that was only counted has the numbers that were read as it was counted, until
// the count is struck out; a later count without them does not undo them.
func TestNumbersOfACountedLot(t *testing.T) {
	b := labelledShelf(t)
	day := unit.DateOf(b.now)
	b.open("session-01")
	b.must("heparin_drawn", "session-01", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "h 10", Expiry: day.Add(300)})
	before := b.now
	counted := func(item string, n unit.Strength) Entry {
		return b.house("stock_count", &StockCount{Item: item, Lots: []CountedLot{{Lot: "H-10", Expires: day.Add(300), Pieces: one, LotNumbers: session.LotNumbers{Strength: &n}}}})
	}
	b.refuses(Refuse, "lots", "needs 10 to 25000", counted("heparin vial", 25001))
	b.refuses(Refuse, "lots", "dialyser: has no strength", counted("dialyser", 1000))
	b.keep("stock_count", &StockCount{Item: "2 K concentrate", Lots: []CountedLot{{Lot: "H-10", Expires: day.Add(300), Pieces: one, LotNumbers: session.LotNumbers{K: ptr(unit.Molar(300))}}}})
	wants(t, "another sort of thing", b.stateOf(b.h, session.CheckHeparin), session.Ready, "as prescribed")
	kept := b.keep("stock_count", counted("heparin vial", 5000).Body)
	stop := "Lot h 10: strength typed 1\u00a0000\u00a0IU/mL, shelf has 5\u00a0000\u00a0IU/mL. Read the label."
	wants(t, "counted", b.stateOf(b.h, session.CheckHeparin), session.StopHere, stop)
	b.keep("stock_count", &StockCount{Item: "heparin vial", Lots: []CountedLot{{Lot: "H-10", Expires: day.Add(300), Pieces: one}}})
	wants(t, "counted again without", b.stateOf(b.h, session.CheckHeparin), session.StopHere, stop)
	past, err := AsOf(b.life, before)
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "as of before", b.stateOf(past, session.CheckHeparin), session.Ready, "as prescribed")
	b.keep("struck", &Struck{Entry: kept.ID, Reason: "misread the label of the box"})
	wants(t, "struck out", b.stateOf(b.h, session.CheckHeparin), session.Look, "shelf had 5\u00a0000\u00a0IU/mL until")

	raw, err := json.Marshal(CountedLot{Lot: "H-10", Pieces: one})
	if err != nil || string(raw) != `{"lot":"H-10","pieces":1}` {
		t.Errorf("without numbers: %s %v", raw, err)
	}
	if said := counted("heparin vial", 5000).Body.(*StockCount).Lots[0].String(); !strings.Contains(said, "strength 5\u00a0000\u00a0IU/mL") {
		t.Errorf("not shown: %s", said)
	}
}

// The concentrate is found by the numbers of its label, whatever it is called.
func TestNumbersByAnyName(t *testing.T) {
	b := labelledShelf(t)
	day := unit.DateOf(b.now)
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{
		{Item: "2 K concentrate", Lot: "B-1", Expires: day.Add(300), Pieces: one, LotNumbers: session.LotNumbers{K: ptr(unit.Molar(300)), Ca: ptr(unit.Molar(150))}},
		{Item: "chlorine strip", Lot: "C-1", Expires: day.Add(300), Pieces: one, LotNumbers: session.LotNumbers{ReadsDown: ptr(unit.Concentration(100))}},
	}})
	b.open("session-01")
	b.must("bath_label", "session-01", &session.BathLabel{K: 200, Ca: 150, Lot: "B-1", Expiry: day.Add(300)})
	b.must("chlorine", "session-01", &session.Chlorine{Result: 20, Below: true, Method: "strip", ReadsDown: 20, Lot: "C-1", Expiry: day.Add(300), Point: "first_carbon"})
	wants(t, "K", b.stateOf(b.h, session.CheckBath), session.StopHere, "K typed 2\u00a0mmol/L, shelf has 3\u00a0mmol/L")
	wants(t, "lowest step", b.stateOf(b.h, session.CheckChlorine), session.StopHere, "lowest step typed 0.02\u00a0mg/L, shelf has 0.1\u00a0mg/L")
}

// A number is taken of the things that have it on their label, within its bounds, to
// the figure; a delivery without any is written as before.
func TestNumbersAtADelivery(t *testing.T) {
	b := labelledShelf(t)
	line := func(item string, of session.LotNumbers) Entry {
		return b.house("delivery", &Delivery{Lines: []DeliveryLine{{Item: item, Lot: "X-1", Pieces: one, LotNumbers: of}}})
	}
	iu := func(n unit.Strength) session.LotNumbers { return session.LotNumbers{Strength: &n} }
	for _, at := range []unit.Strength{10, 25000} {
		if found := Check(b.h, line("heparin vial", iu(at))); len(found) != 0 {
			t.Errorf("%s: %v", at.Text(), found)
		}
	}
	for _, at := range []unit.Strength{9, 25001} {
		b.refuses(Refuse, "lines", "needs 10 to 25000", line("heparin vial", iu(at)))
	}
	b.refuses(Refuse, "lines", "dialyser: has no strength", line("dialyser", iu(1000)))
	b.refuses(Refuse, "lines", "heparin vial: has no K", line("heparin vial", session.LotNumbers{K: ptr(unit.Molar(200))}))
	b.refuses(Refuse, "lines", "heparin vial: has no strength", line("heparin vial", session.LotNumbers{Content: ptr(unit.Content(400))}))
	b.refuses(Refuse, "lines", "has no Ca", line("chlorine strip", session.LotNumbers{Ca: ptr(unit.Molar(150))}))

	raw, err := json.Marshal(DeliveryLine{Item: "heparin vial", Lot: "X-1", Pieces: one})
	if err != nil || string(raw) != `{"item":"heparin vial","lot":"X-1","pieces":1}` {
		t.Errorf("without numbers: %s %v", raw, err)
	}
	raw, err = json.Marshal(DeliveryLine{Item: "heparin vial", Lot: "X-1", Pieces: one, LotNumbers: iu(5000)})
	if err != nil || string(raw) != `{"item":"heparin vial","lot":"X-1","pieces":1,"strength_iu_ml":5000}` {
		t.Errorf("with one: %s %v", raw, err)
	}
	if said := (DeliveryLine{Item: "heparin vial", Pieces: one, LotNumbers: iu(5000)}).String(); !strings.Contains(said, "strength 5\u00a0000\u00a0IU/mL") {
		t.Errorf("not shown: %s", said)
	}
}

// A vial of heparin in the catheter, and a lock in the syringe, are held against the
// number that both have on their labels, unless the lot is one of their own sort too;
// a lock is known by what is in it (H-83).
func TestNumbersOfALotUsedAsAnother(t *testing.T) {
	b := labelledShelf(t)
	day := unit.DateOf(b.now)
	b.byCatheter(session.OrderedLock{LockName: "heparin", LockStrength: ptr(unit.Strength(1000)), LockArterial: ptr(unit.Drawn(160)), LockVenous: ptr(unit.Drawn(160))})
	iu := func(n unit.Strength) session.LotNumbers { return session.LotNumbers{Strength: &n} }
	b.keep("stock_item", &StockItem{Item: "taurolidine", PerSession: n(1), Pack: 10 * one, Storage: "room"})
	b.keep("stock_item", &StockItem{Item: "citrate 4 %", PerSession: n(1), Pack: 10 * one, Storage: "room"})
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{
		{Item: "heparin vial", Lot: "LK-1", Expires: day.Add(300), Pieces: one, LotNumbers: iu(5000)},
		{Item: "citrate 4 %", Lot: "LK-2", Expires: day.Add(300), Pieces: one, LotNumbers: session.LotNumbers{Content: ptr(unit.Content(400))}},
		{Item: "taurolidine", Lot: "LK-3", Expires: day.Add(300), Pieces: one, LotNumbers: iu(500)},
		{Item: "heparin lock", Lot: "H-10", Expires: day.Add(300), Pieces: one, LotNumbers: iu(10000)},
	}})
	b.open("session-01")
	lock := func(lot string) {
		b.must("catheter_lock", "session-01", &session.CatheterLock{Name: "heparin", Strength: ptr(unit.Strength(1000)), Arterial: 160, Venous: 160, Lot: lot, Expiry: day.Add(300)})
	}
	b.must("lock_drawn", "session-01", &session.LockDrawn{Arterial: session.Drawn, Venous: session.Drawn})
	for _, step := range []string{session.MaskStep, session.ClampStep} {
		b.must("step", "session-01", &session.StepDone{Phase: session.SetUp, Step: step, State: session.StepIsDone})
	}
	lock("LK-9")
	wants(t, "of no book", b.stateOf(b.h, session.CheckLock), session.Ready, "")
	lock("LK-1")
	wants(t, "a vial in the catheter", b.stateOf(b.h, session.CheckLock), session.StopHere, "Lot LK-1: strength typed 1\u00a0000\u00a0IU/mL, shelf has 5\u00a0000\u00a0IU/mL.")
	lock("LK-2")
	wants(t, "citrate", b.stateOf(b.h, session.CheckLock), session.StopHere, "Lot LK-2: strength typed none, shelf has 4\u00a0%.")
	lock("LK-3")
	wants(t, "taurolidine", b.stateOf(b.h, session.CheckLock), session.StopHere, "shelf has 500\u00a0IU/mL.")
	b.must("heparin_drawn", "session-01", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "H-10", Expiry: day.Add(300)})
	wants(t, "a lock in the syringe", b.stateOf(b.h, session.CheckHeparin), session.StopHere, "shelf has 10\u00a0000\u00a0IU/mL.")
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: "heparin vial", Lot: "H-10", Expires: day.Add(300), Pieces: one, LotNumbers: iu(1000)}}})
	wants(t, "a vial of that number too", b.stateOf(b.h, session.CheckHeparin), session.Ready, "as prescribed")
}
