package record

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

const one = unit.Piece

func n(v float64) *unit.Pieces { p := unit.Pieces(v * float64(one)); return &p }

// shelf writes down three items and counts them.
func (b *book) shelf() {
	b.t.Helper()
	b.keep("stock_item", &StockItem{Item: "dialyser", Maker: "Maker A (invented)", PerSession: n(1), Pack: 12 * one, Storage: "room"})
	b.keep("stock_item", &StockItem{Item: "needle", Also: "arterial needle, venous needle", PerSession: n(2), Pack: 50 * one, Storage: "room"})
	b.keep("stock_item", &StockItem{Item: "bleach, L", PerSession: n(0), PerCycle: n(0.25), PerWeek: n(0.7), Pack: 5 * one, Storage: "room"})
	day := unit.DateOf(b.now)
	b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-1", Expires: day.Add(20), Pieces: 3 * one}, {Lot: "D-2", Expires: day.Add(200), Pieces: 10 * one}}})
	b.keep("stock_count", &StockCount{Item: "needle", Lots: []CountedLot{{Lot: "N-1", Expires: day.Add(100), Pieces: 20 * one}}})
	b.keep("stock_count", &StockCount{Item: "bleach, L", Lots: []CountedLot{{Pieces: 5 * one}}})
}

func (b *book) on(item string) ShelfItem {
	b.t.Helper()
	it, ok := b.h.ShelfOf(item, b.now)
	if !ok {
		b.t.Fatalf("%s is not on the shelf", item)
	}
	return it
}

func (it ShelfItem) lot(code string) unit.Pieces {
	for _, l := range it.Lots {
		if l.Code == code {
			return l.Count
		}
	}
	return 0
}

// session holds one at home that opened these lots, and closes it.
func (b *book) held(id string, supplies ...session.Supply) {
	b.t.Helper()
	b.paperRun(id)
	for _, s := range supplies {
		b.must("supply", id, &s)
	}
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", id, &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("disinfection", id, &session.Disinfection{Programme: "heat", Result: "passed"})
	b.must("closed", id, &session.Closed{})
}

// A closed session takes the lots that were picked, the rest from those that
// expire first; an open one takes nothing yet.
func TestSessionTakesFromTheShelf(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.paperRun("session-01")
	b.must("supply", "session-01", &session.Supply{Item: "Dialyser", Lot: "d2", Expiry: day.Add(200)})
	if got := b.on("dialyser").lot("D-2"); got != 10*one {
		t.Errorf("an open session has taken already: %s", got)
	}
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("disinfection", "session-01", &session.Disinfection{Programme: "heat", Result: "passed"})
	b.must("closed", "session-01", &session.Closed{})
	it := b.on("dialyser")
	if it.lot("D-1") != 3*one || it.lot("D-2") != 9*one {
		t.Errorf("after picking D-2: %+v", it.Lots)
	}
	if got := b.on("needles").lot("N-1"); got != 18*one {
		t.Errorf("two needles by the usual use: %s left of 20", got)
	}
	if got := b.on("bleach, L").lot(""); got != 5*one-one/4 {
		t.Errorf("a quarter of a litre for the cycle: %s left of 5", got)
	}
	// Without a picked lot the first to expire goes first.
	b.held("session-02")
	if it := b.on("dialyser"); it.lot("D-1") != 2*one || it.lot("D-2") != 9*one {
		t.Errorf("first expired first out: %+v", it.Lots)
	}
	// A second dialyser opened in one session is a second one used; two lots of
	// needles share what a session uses.
	b.held("session-03", session.Supply{Item: "dialyser", Lot: "D-1", Expiry: day.Add(20)}, session.Supply{Item: "dialyser", Lot: "D-2", Expiry: day.Add(200)},
		session.Supply{Item: "arterial needle", Lot: "N-1", Expiry: day.Add(100)}, session.Supply{Item: "venous needle", Lot: "N-9", Expiry: day.Add(100)})
	if it := b.on("dialyser"); it.lot("D-1") != one || it.lot("D-2") != 8*one {
		t.Errorf("two opened in one session: %+v", it.Lots)
	}
	if it := b.on("needle"); it.lot("N-1") != 15*one || it.Unbooked != one {
		t.Errorf("one needle of a lot that the book does not have: %+v, unbooked %s", it.Lots, it.Unbooked)
	}
	// A week later the weekly use is off too.
	before := b.on("bleach, L").lot("")
	b.now = b.now.Add(7 * 24 * time.Hour)
	if got := before - b.on("bleach, L").lot(""); got != *n(0.7) {
		t.Errorf("%s went in a week, want 0.7", got)
	}
	// A session held elsewhere takes nothing here.
	whole := b.on("dialyser")
	b.must("session_opened", "session-04", &session.Opened{Place: "elsewhere", Source: "paper", Where: "the unit", Confirmed: true})
	b.must("closed", "session-04", &session.Closed{})
	if got := b.on("dialyser"); got.lot("D-2") != whole.lot("D-2") || got.lot("D-1") != whole.lot("D-1") {
		t.Errorf("a session elsewhere took %+v of %+v", got.Lots, whole.Lots)
	}
}

// A session that is put right after it was closed takes what it now says: another
// lot when the lot is corrected, the first to expire when it is struck out, and
// nothing while its closing is struck out. A count made since stands.
func TestClosedSessionPutRightLater(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.held("session-01", session.Supply{Item: "dialyser", Lot: "D-2", Expiry: day.Add(200)})
	lots := func(want1, want2 unit.Pieces, when string) {
		t.Helper()
		if it := b.on("dialyser"); it.lot("D-1") != want1 || it.lot("D-2") != want2 {
			t.Errorf("%s: %s of D-1 and %s of D-2, want %s and %s", when, it.lot("D-1"), it.lot("D-2"), want1, want2)
		}
	}
	lots(3*one, 9*one, "as it was closed")
	var picked, closed string
	for _, e := range b.h.Session("session-01").Log {
		switch e.Kind {
		case "supply":
			picked = e.ID
		case "closed":
			closed = e.ID
		}
	}
	fixed := b.entry("supply", "session-01", &session.Supply{Item: "dialyser", Lot: "D-1", Expiry: day.Add(20)})
	fixed.Corrects, fixed.Reason = picked, "the other box"
	b.must2(fixed)
	lots(2*one, 10*one, "the lot corrected")
	b.must("struck", "", &Struck{Entry: fixed.ID, Reason: "no lot was written on the paper"})
	lots(2*one, 10*one, "the lot struck out, so the first to expire")
	b.must("struck", "", &Struck{Entry: closed, Reason: "not closed yet"})
	lots(3*one, 10*one, "open again")
	b.must("closed", "session-01", &session.Closed{})
	lots(2*one, 10*one, "closed again")

	// Counted since: what the session is said to have used belongs to the time before.
	b.now = b.now.Add(time.Hour)
	b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-1", Expires: day.Add(20), Pieces: one}, {Lot: "D-2", Expires: day.Add(200), Pieces: 7 * one}}})
	b.must("supply", "session-01", &session.Supply{Item: "dialyser", Lot: "D-2", Expiry: day.Add(200)})
	lots(one, 7*one, "after a count")
}

// What is struck out comes back; what is counted is the truth from then on; the
// difference is learned from.
func TestCountsAreTheTruth(t *testing.T) {
	b := newBook(t)
	b.shelf()
	b.held("session-01")
	used := b.keep("stock_used", &StockUsed{Item: "dialyser", Lot: "D-2", Pieces: 2 * one, Why: "failed_set_up"})
	if got := b.on("dialyser").lot("D-2"); got != 8*one {
		t.Errorf("two more off the shelf: %s left of 10", got)
	}
	b.keep("struck", &Struck{Entry: used.ID, Reason: "was another item"})
	if got := b.on("dialyser").lot("D-2"); got != 10*one {
		t.Errorf("struck out, and %s left of 10", got)
	}
	for i := range 12 {
		b.held(fmt.Sprintf("session-1%d", i))
	}
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: "dialyser", Lot: "D-3", Expires: unit.DateOf(b.now).Add(300), Pieces: 24 * one, Damaged: 2 * one}}})
	if got := b.on("dialyser").lot("D-3"); got != 22*one {
		t.Errorf("24 came, 2 damaged: %s on the shelf", got)
	}
	// A spare that somebody wrote down is off the book: no drift, but learned from.
	b.keep("stock_used", &StockUsed{Item: "dialyser", Lot: "D-3", Pieces: one, Why: "used"})
	// The book has 13 − 13 + 22 − 1 = 21; counted are 20: one went unseen.
	b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-3", Expires: unit.DateOf(b.now).Add(300), Pieces: 20 * one}}})
	it := b.on("dialyser")
	if len(it.Counts) != 1 || it.Counts[0].Drift() != one || it.lot("D-3") != 20*one {
		t.Fatalf("after the count: %+v, %+v", it.Counts, it.Lots)
	}
	// (1.1·10 + 15) / (10 + 13) = 1.130
	if !it.Learned || it.Spare < 1.13 || it.Spare > 1.131 {
		t.Errorf("learned a factor of %.4f (%v), want 26/23", it.Spare, it.Learned)
	}
}

// Whatever is picked, used, delivered and counted, pieces are neither lost nor
// made: what lies there and what went adds up to what came.
func TestPiecesAreConserved(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := itemBook{ShelfItem: ShelfItem{StockItem: StockItem{Item: "needle", PerSession: n(2), PerCycle: n(0.5)}}, names: []string{"needle"}, house: NewHousehold()}
		b.released, b.held = map[string]bool{}, map[string]string{}
		day := unit.NewDate(2026, 3, 1)
		lots := []string{"A1", "B2", "C3", ""}
		var came, went unit.Pieces
		for range rapid.IntRange(1, 40).Draw(rt, "events") {
			have, short := sum(b.Lots), b.Unbooked
			switch rapid.IntRange(0, 3).Draw(rt, "what") {
			case 0:
				p := unit.Pieces(rapid.Int64Range(1, 30_000_000).Draw(rt, "came"))
				b.arrive(DeliveryLine{Lot: rapid.SampledFrom(lots).Draw(rt, "lot"), Expires: day.Add(rapid.IntRange(-3, 30).Draw(rt, "expires")), Pieces: p}, time.Time{})
				came += p
				continue
			case 1:
				s := sessionUse{day: day, treated: true, cycles: rapid.IntRange(0, 2).Draw(rt, "cycles")}
				for range rapid.IntRange(0, 3).Draw(rt, "picked") {
					s.picked = append(s.picked, Picked{key: "needle", Lot: rapid.SampledFrom(lots).Draw(rt, "pick")})
				}
				need := max(2*one, unit.Pieces(len(s.picked))*one) + unit.Pieces(s.cycles)*one/2
				b.session(s)
				went += need
				if took := have - sum(b.Lots) + b.Unbooked - short; took != need {
					rt.Fatalf("a session that uses %s took %s", need, took)
				}
			case 2:
				p := unit.Pieces(rapid.Int64Range(1, 9_000_000).Draw(rt, "off"))
				b.off(StockUsed{Lot: rapid.SampledFrom(lots).Draw(rt, "from"), Pieces: p, Why: "used"}, day.Time(time.UTC))
				went += p
			case 3:
				b.aside(Quarantine{Lot: rapid.SampledFrom(lots[:3]).Draw(rt, "aside"), State: rapid.SampledFrom([]string{"held", "released"}).Draw(rt, "state"), Why: "doubt"})
			}
			day = day.Add(rapid.IntRange(0, 2).Draw(rt, "days"))
		}
		if sum(b.Lots)+went-b.Unbooked != came {
			rt.Fatalf("%s came, %s went of which %s were never booked, and %s lie there", came, went, b.Unbooked, sum(b.Lots))
		}
		for _, l := range stock.Offer(b.Stock(), day) {
			if _, held := b.held[lotKey(l.Code)]; held || l.ExpiredOn(day) {
				rt.Fatalf("lot %s is offered though set aside or expired", l.Code)
			}
		}
	})
}

func sum(lots []ShelfLot) unit.Pieces {
	var s unit.Pieces
	for _, l := range lots {
		s += l.Count
	}
	return s
}

// A year of monthly counts is gone back to and no further, with the same
// result.
func TestOldCountsAreNotGoneThrough(t *testing.T) {
	b := newBook(t)
	b.shelf()
	for i := range countsKept + 4 {
		b.held(fmt.Sprintf("session-%03d", i))
		b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-9", Pieces: unit.Pieces(100-i) * one}}})
		b.now = b.now.Add(24 * time.Hour)
	}
	it := b.on("dialyser")
	if len(it.Counts) != countsKept-1 || it.lot("D-9") != unit.Pieces(100-countsKept-3)*one {
		t.Errorf("%d stretches and %s pieces", len(it.Counts), it.lot("D-9"))
	}
}

// A recall is matched with shelf and past sessions at once; its lots cannot be
// picked until they are gone, or somebody has looked at a doubtful box.
func TestRecallHoldsWhatItNames(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{
		{Item: "dialyser", Maker: "Maker A (invented)", Lot: "AO-10I", Expires: day.Add(10), Pieces: 12 * one},
		{Item: "dialyser", Maker: "Maker B (invented)", Lot: "A010", Expires: day.Add(400), Pieces: 12 * one},
	}})
	b.held("session-01", session.Supply{Item: "dialyser", Lot: "A0-101", Expiry: day.Add(10)})
	b.refuses(Refuse, "maker", "still blank", b.house("recall", &Recall{Item: "dialyser", Lots: []string{"A0101"}, From: "the supplier"}))
	notice := b.keep("recall", &Recall{Number: "FSN 12", Maker: "maker a (Invented)", Item: "Dialysers", Lots: []string{"a0101"}, From: "the supplier by e-mail"})
	r := b.h.Upkeep.Recall(notice.ID)
	if found := b.h.FoundBy(r); len(found.Shelf) != 1 || len(found.Past) != 1 || found.Past[0].Past.Session != "session-01" || found.Past[0].Match != stock.Recalled {
		t.Fatalf("found %+v", found)
	}
	offered := stock.Offer(b.on("dialyser").Stock(), unit.DateOf(b.now))
	for _, l := range offered {
		if lotKey(l.Code) == "A0101" {
			t.Error("the recalled lot is offered")
		}
	}
	if len(offered) != 3 {
		t.Errorf("%d lots offered, want the other three", len(offered))
	}
	b.open("session-02")
	b.refuses(Refuse, "lot", "FSN 12", b.entry("supply", "session-02", &session.Supply{Item: "dialyser", Lot: "AO 101", Expiry: day.Add(10)}))
	b.refuses(Refuse, "state", "names this very lot", b.house("quarantine", &Quarantine{Item: "dialyser", Lot: "A0101", State: "released", Why: "looks fine to me"}))
	b.must("supply", "session-02", &session.Supply{Item: "dialyser", Lot: "D-2", Expiry: day.Add(200)})

	b.refuses(Ask, "returned_pieces", "11", b.house("recall_closed", &RecallClosed{Recall: notice.ID, Returned: 5 * one, Told: "nurse by telephone"}))
	b.keep("recall_closed", &RecallClosed{Recall: notice.ID, Returned: 9 * one, Destroyed: 2 * one, To: "the supplier", Told: "nurse by telephone"})
	if left := b.on("dialyser").lot("AO-10I"); left != 0 {
		t.Errorf("%s of the recalled lot are still on the book", left)
	}
	if hold, held := b.h.Held("dialyser", "a0101", b.now); !held || !hold.Sure {
		t.Error("a closed recall lets the lot be picked")
	}

	// A lot without a maker is doubtful: held, and let go after a look.
	b.keep("stock_count", &StockCount{Item: "needle", Lots: []CountedLot{{Lot: "N-7", Pieces: 40 * one}, {Lot: "N-8", Pieces: 40 * one}}})
	b.keep("recall", &Recall{Maker: "Maker C (invented)", Item: "needle", Ranges: []stock.LotRange{{From: "N5", To: "N7"}}, From: "the unit"})
	b.refuses(Refuse, "lot", "look at the box", b.entry("supply", "session-02", &session.Supply{Item: "needles", Lot: "N7", Expiry: day.Add(200)}))
	b.keep("quarantine", &Quarantine{Item: "needle", Lot: "N7", State: "released", Why: "box says maker D"})
	b.must("supply", "session-02", &session.Supply{Item: "needles", Lot: "N7", Expiry: day.Add(200)})
	b.must("supply", "session-02", &session.Supply{Item: "needles", Lot: "N8", Expiry: day.Add(200)})
	// One that the book does not have is asked about.
	b.refuses(Ask, "lot", "Look at the box", b.entry("supply", "session-02", &session.Supply{Item: "needles", Lot: "N6", Expiry: day.Add(200)}))

	// A new notice that names the lot holds it in spite of the old look.
	b.keep("recall", &Recall{Maker: "Maker C (invented)", Item: "needle", Lots: []string{"N-7"}, From: "the unit"})
	if _, held := b.h.Held("needle", "N7", b.now); !held {
		t.Error("an old look covers a new notice")
	}
	// What the shelf does not know under that name matches nothing: it may be misspelt.
	tape := b.house("recall", &Recall{Maker: "Maker Z (invented)", Item: "tape", All: true, From: "the unit"})
	b.refuses(Ask, "item", "nothing that is on your shelf", tape)
	tape.Again = map[string]string{"item": "tape"}
	if found := b.try(tape); len(found) > 0 {
		t.Fatal(found)
	}
	if !b.h.FoundBy(b.h.Upkeep.Recall(tape.ID)).None() {
		t.Error("a recall of something never used is said to match")
	}
	b.keep("struck", &Struck{Entry: notice.ID, Reason: "wrong maker"})
	if _, held := b.h.Held("dialyser", "a0101", b.now); held {
		t.Error("a recall that was struck out still holds")
	}
}

// A maker whose name is written longer, or with other stops, is looked at; another
// maker’s lot of the same code is not meant.
func TestRecallNamesTheMakerOtherwise(t *testing.T) {
	for _, tt := range []struct {
		kept, noticed string
		want          stock.Match
	}{
		{"Maker A (invented)", "maker a (invented)", stock.Recalled},
		{"Maker A (invented)", "Maker A", stock.Look},
		{"M. A. Works", "MA Works Ltd", stock.Look},
		{"", "Maker A", stock.Look},
		{"Maker A", "Maker B", stock.NoMatch},
	} {
		b := newBook(t)
		b.keep("stock_item", &StockItem{Item: "dialyser", PerSession: n(1), Pack: 12 * one, Storage: "room"})
		b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-2", Maker: tt.kept, Pieces: 5 * one}}})
		b.held("session-01", session.Supply{Item: "dialyser", Lot: "D-2", Expiry: unit.DateOf(b.now).Add(40)})
		notice := b.keep("recall", &Recall{Maker: tt.noticed, Item: "dialyser", Lots: []string{"d2"}, From: "the unit"})
		found := b.h.FoundBy(b.h.Upkeep.Recall(notice.ID))
		if tt.want == stock.NoMatch {
			if !found.None() {
				t.Errorf("%q noticed as %q: found %+v", tt.kept, tt.noticed, found)
			}
			continue
		}
		if len(found.Shelf) != 1 || len(found.Past) != 1 || found.Shelf[0].Match != tt.want || found.Past[0].Match != tt.want || found.Shelf[0].Lot.Maker != tt.kept {
			t.Errorf("%q noticed as %q: found %+v, want %s", tt.kept, tt.noticed, found, tt.want)
		}
		if hold, held := b.h.Held("dialyser", "D2", b.now); !held || hold.Recall == nil {
			t.Errorf("%q noticed as %q: the lot may be picked", tt.kept, tt.noticed)
		}
	}
}

// In a session typed in afterwards the recalled lot is written down as it was:
// that is what the search is for.
func TestPaperSessionKeepsWhatWasUsed(t *testing.T) {
	b := newBook(t)
	b.shelf()
	b.keep("recall", &Recall{Maker: "Maker A (invented)", Item: "dialyser", Lots: []string{"D-2"}, From: "the unit"})
	b.held("session-01", session.Supply{Item: "dialyser", Lot: "D-2", Expiry: unit.DateOf(b.now).Add(-4)})
	if got := b.on("dialyser").lot("D-2"); got != 9*one {
		t.Errorf("%s left of 10", got)
	}
	found := b.h.Search(&Recall{Maker: "Maker A (invented)", Item: "dialyser", Lots: []string{"D-2"}}, b.now)
	if len(found.Past) != 1 {
		t.Errorf("found %+v", found)
	}
}

// An expired lot is asked about when it is opened; 2026-11 is good to the end of
// November.
func TestExpiredSupplyIsAskedAbout(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.open("session-01")
	b.refuses(Ask, "expiry", "do not open it", b.entry("supply", "session-01", &session.Supply{Item: "dialyser", Lot: "D-7", Expiry: day.Add(-1)}))
	b.must("supply", "session-01", &session.Supply{Item: "dialyser", Lot: "D-7", Expiry: day})
	b.refuses(Ask, "expiry", "on the shelf this lot expires", b.entry("supply", "session-01", &session.Supply{Item: "dialyser", Lot: "D-2", Expiry: day.Add(365)}))
}

// Another product than usual waits for the unit's yes.
func TestSubstituteWaitsForTheUnit(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: "dialyser", Product: "low-flux, 1.3 m²", Lot: "S-1", Expires: day.Add(100), Pieces: 12 * one}}})
	b.open("session-01")
	supply := func() Entry {
		return b.entry("supply", "session-01", &session.Supply{Item: "dialyser", Lot: "S-1", Expiry: day.Add(100)})
	}
	b.refuses(Refuse, "lot", "the unit’s yes is missing", supply())
	b.refuses(Refuse, "state", "an entry of its own", b.house("quarantine", &Quarantine{Item: "dialyser", Lot: "S-1", State: "released", Why: "we need it"}))
	b.keep("substitute", &Substitute{Item: "dialyser", Product: "Low-flux, 1.3 m²", Answer: "asked"})
	b.refuses(Refuse, "lot", "the unit’s yes is missing", supply())
	b.refuses(Refuse, "answered_by", "too short", b.house("substitute", &Substitute{Item: "dialyser", Product: "Low-flux, 1.3 m²", Answer: "yes"}))
	b.keep("substitute", &Substitute{Item: "dialyser", Product: "Low-flux, 1.3 m²", Answer: "yes", By: "Dr Q (invented)"})
	if found := b.try(supply()); len(found) > 0 {
		t.Errorf("after the unit's yes: %v", found)
	}
	b.keep("substitute", &Substitute{Item: "dialyser", Product: "Low-flux, 1.3 m²", Answer: "no", By: "Dr Q (invented)"})
	b.refuses(Refuse, "lot", "the unit’s yes is missing", supply())
}

func TestShelfEntriesAreChecked(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	for _, tt := range []struct {
		kind, field, words string
		body               any
	}{
		{"stock_item", "per_session_pieces", "blank", &StockItem{Item: "tape", Pack: one, Storage: "room"}},
		{"stock_item", "also", "a name of needle", &StockItem{Item: "tape", Also: "venous needles", PerSession: n(1), Pack: one, Storage: "room"}},
		{"stock_item", "gtin", "digits", &StockItem{Item: "tape", GTIN: "12AB", PerSession: n(1), Pack: one, Storage: "room"}},
		{"stock_item", "gtin", "the last fits the others", &StockItem{Item: "tape", GTIN: "09506000134353", PerSession: n(1), Pack: one, Storage: "room"}},
		{"order_sent", "lines", "blank", &OrderSent{For: day.Add(3), How: "email"}},
		{"order_sent", "for", "before the day", &OrderSent{For: day.Add(-1), How: "email", Lines: []OrderLine{{"dialyser", 1, 12 * one}}}},
		{"order_sent", "lines", "not on the list", &OrderSent{For: day.Add(3), How: "email", Lines: []OrderLine{{"tape", 1, one}}}},
		{"delivery", "order_id", "no order", &Delivery{Order: "entry-99999", Lines: []DeliveryLine{{Item: "dialyser", Pieces: one}}}},
		{"delivery", "lines", "more are damaged", &Delivery{Lines: []DeliveryLine{{Item: "dialyser", Pieces: one, Damaged: 2 * one}}}},
		{"delivery", "lines", "no expiry of a label", &Delivery{Lines: []DeliveryLine{{Item: "dialyser", Pieces: one, Expires: unit.NewDate(1926, 1, 1)}}}},
		{"delivery", "lines", "control character", &Delivery{Lines: []DeliveryLine{{Item: "dialyser", Pieces: one, Lot: "A\x1dB"}}}},
		{"stock_count", "lots", "twice", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-1", Pieces: one}, {Lot: "d1", Pieces: one}}}},
		{"stock_count", "item", "not on the list", &StockCount{Item: "tape", Lots: []CountedLot{}}},
		{"quarantine", "lot", "not on the shelf", &Quarantine{Item: "dialyser", Lot: "Z", State: "held", Why: "wet box"}},
		{"quarantine", "state", "not set aside", &Quarantine{Item: "dialyser", Lot: "D1", State: "released", Why: "why not"}},
		{"recall", "lots", "lots, a range", &Recall{Maker: "M", Item: "dialyser", From: "x"}},
		{"recall", "ranges", "built alike", &Recall{Maker: "M", Item: "dialyser", From: "x", Ranges: []stock.LotRange{{From: "B9", To: "A1"}}}},
		{"recall_closed", "recall_id", "no recall", &RecallClosed{Recall: "entry-99999", Told: "nurse"}},
	} {
		b.refuses(Refuse, tt.field, tt.words, b.house(tt.kind, tt.body))
	}
}
