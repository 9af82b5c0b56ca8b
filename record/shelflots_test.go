package record

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// lotsLine is the check of the lots of a session, by a record as it stands.
func lotsLine(t *testing.T, h *Household, id string, now time.Time) session.Check {
	t.Helper()
	s := h.Session(id)
	for _, c := range session.StartLine(s, h.Member("person-one").History(s), now) {
		if c.ID == session.CheckLots {
			return c
		}
	}
	t.Fatal("there is no check of the lots")
	return session.Check{}
}

func wants(t *testing.T, what string, c session.Check, state session.CheckState, words string) {
	t.Helper()
	if c.State != state || !strings.Contains(c.Words, words) {
		t.Errorf("%s: %s %q, want %s %q", what, c.State, c.Words, state, words)
	}
}

// What the book of the shelf says of a lot stops the start where the label typed
// in says otherwise, and where the lot is set aside: for what is opened and what
// is drawn up alike. It holds whatever was used of the lot since, and nothing that
// was written down after the lines were joined changes it (H-83, H-55).
func TestTheShelfSaysOtherwise(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.keep("stock_item", &StockItem{Item: "heparin vial", Also: "heparin", PerSession: n(1), Pack: 10 * one, Storage: "room"})
	b.keep("stock_item", &StockItem{Item: "acid concentrate, L", Also: "bath", PerSession: n(5), Pack: 10 * one, Storage: "room"})
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{
		{Item: "heparin vial", Lot: "H-10", Expires: day.Add(300), Pieces: one},
		{Item: "acid concentrate, L", Lot: "B-1", Expires: day.Add(300), Pieces: 5 * one}, {Item: "acid concentrate, L", Lot: "B-2", Pieces: 5 * one},
	}})
	b.open("session-01")
	for _, one := range []session.Supply{{Item: "dialyser", Lot: "d 2", Expiry: day.Add(200)}, {Item: "lines", Lot: "L-1", Expiry: day.Add(90)}, {Item: "needles", Lot: "N-1", Expiry: day.Add(100)}} {
		b.must("supply", "session-01", &one)
	}
	bath := b.must("bath_label", "session-01", &session.BathLabel{K: 200, Ca: 150, Lot: "B1", Expiry: day.Add(300)})
	wants(t, "as on the shelf", lotsLine(t, b.h, "session-01", b.now), session.Ready, "Dialyser, lines, needles, concentrate: in date.")

	drawn := session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "h10", Expiry: day.Add(301)}
	vial := b.must("heparin_drawn", "session-01", &drawn)
	wants(t, "heparin of another expiry", lotsLine(t, b.h, "session-01", b.now), session.StopHere, "Heparin: lot h10 typed to "+day.Add(301).Long()+", shelf has "+day.Add(300).Long())
	drawn.Expiry = day.Add(300)
	fixed := b.entry("heparin_drawn", "session-01", &drawn)
	fixed.Corrects, fixed.Reason = vial.ID, "misread the date on the box"
	if found := b.try(fixed); len(found) > 0 {
		t.Fatal(found)
	}
	wants(t, "corrected", lotsLine(t, b.h, "session-01", b.now), session.Look, "heparin")
	fixed = b.entry("bath_label", "session-01", &session.BathLabel{K: 200, Ca: 150, Lot: "B2", Expiry: day.Add(8)})
	fixed.Corrects, fixed.Reason = bath.ID, "the other canister"
	if found := b.try(fixed); len(found) > 0 {
		t.Fatal(found)
	}
	wants(t, "a lot whose expiry the shelf does not have", lotsLine(t, b.h, "session-01", b.now), session.Look, "concentrate")

	before := b.now
	b.keep("quarantine", &Quarantine{Item: "dialyser", Lot: "D2", State: "held", Why: "a torn box"})
	wants(t, "set aside since", lotsLine(t, b.h, "session-01", b.now), session.StopHere, "Dialyser: lot d 2 is set aside, a torn box. Take another.")
	past, err := AsOf(b.life, before)
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "as of before it was set aside", lotsLine(t, past, "session-01", before), session.Look, "Dialyser")
	b.keep("quarantine", &Quarantine{Item: "dialyser", Lot: "D2", State: "released", Why: "the seal is whole"})
	wants(t, "let go", lotsLine(t, b.h, "session-01", b.now), session.Look, "Dialyser")

	b.keep("recall", &Recall{Maker: "Maker L (invented)", Item: "lines", Lots: []string{"L1"}, From: "the unit"})
	wants(t, "a recall that may mean a lot of no book", lotsLine(t, b.h, "session-01", b.now), session.Look, "Lines: lot L-1 may be meant by the recall of lines by Maker L (invented)")
	b.keep("stock_item", &StockItem{Item: "line set", Also: "lines", Maker: "Maker L (invented)", PerSession: n(1), Pack: one, Storage: "room"})
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: "line set", Maker: "Maker L (invented)", Lot: "L1", Expires: day.Add(90), Pieces: one}}})
	wants(t, "one that means it", lotsLine(t, b.h, "session-01", b.now), session.StopHere, "Lines: lot L-1 is set aside, recall of lines")
}

// Once the lines are joined a later word about the shelf changes nothing, and the
// use of the session itself does not hide its lots.
func TestTheShelfAsItStoodAtTheStart(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-9", Expires: day.Add(50), Pieces: one}}})
	b.held("session-01", session.Supply{Item: "dialyser", Lot: "D-9", Expiry: day.Add(60)})
	stop := "Dialyser: lot D-9 typed to " + day.Add(60).Long()
	wants(t, "first", lotsLine(t, b.h, "session-01", b.now), session.OpenYet, "No lots written") // written after it was joined

	b.must("session_opened", "session-02", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("supply", "session-02", &session.Supply{Item: "dialyser", Lot: "D-9", Expiry: day.Add(60)})
	wants(t, "of a paper session", lotsLine(t, b.h, "session-02", b.now), session.StopHere, stop)
	b.must("weigh_in", "session-02", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	b.must("connected", "session-02", &session.Connected{})
	b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-9", Expires: day.Add(60), Pieces: one}}})
	wants(t, "counted again since", lotsLine(t, b.h, "session-02", b.now), session.StopHere, stop)
	b.must("came_off", "session-02", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("closed", "session-02", &session.Closed{})
	wants(t, "used up since", lotsLine(t, b.h, "session-02", b.now), session.StopHere, stop)
}

// The household's list says what a session needs, as it stood then: an item with
// its other names, one that was taken off the list, one listed since.
func TestHistoryHoldsTheShelf(t *testing.T) {
	b := newBook(t)
	b.shelf()
	b.open("session-01")
	listed := func(h *Household) (each, off []string) {
		s := h.Session("session-01")
		for _, it := range h.Member("person-one").History(s).Shelf {
			if it.Each {
				each = append(each, strings.Join(it.Names, "+"))
			}
			if it.Off {
				off = append(off, it.Names[0])
			}
		}
		return each, off
	}
	each, off := listed(b.h)
	if want := []string{"dialyser", "needle+arterial needle+venous needle"}; !slices.Equal(each, want) || off != nil {
		t.Errorf("each session uses %v, none any more %v; want %v", each, off, want)
	}
	before := b.now
	b.keep("stock_item", &StockItem{Item: "Needle", Off: true, PerSession: n(2), Pack: one, Storage: "room"})
	b.keep("stock_item", &StockItem{Item: "saline 1 L", PerSession: n(2), Pack: one, Storage: "room"})
	if each, off = listed(b.h); !slices.Equal(each, []string{"dialyser", "saline 1 L"}) || !slices.Equal(off, []string{"Needle"}) {
		t.Errorf("afterwards %v, %v", each, off)
	}
	past, err := AsOf(b.life, before)
	if err != nil {
		t.Fatal(err)
	}
	if each, off = listed(past); len(each) != 2 || each[1] != "needle+arterial needle+venous needle" || off != nil {
		t.Errorf("as of before %v, %v", each, off)
	}
}

// A household whose sessions wrote the lot of the dialyser alone, with a shelf that
// lists more, starts the next one as it always did: it is told, and not held up.
func TestAHouseholdOfBeforeStartsAsBefore(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.keep("stock_item", &StockItem{Item: "saline 1 L", PerSession: n(2), Pack: one, Storage: "room"})
	for _, id := range []string{"session-01", "session-02", "session-03"} {
		b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		b.must("supply", id, &session.Supply{Item: "dialyser", Lot: "D-2", Expiry: day.Add(200)})
		b.must("weigh_in", id, &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
		b.must("connected", id, &session.Connected{})
		b.now = b.now.Add(4 * time.Hour)
		b.must("came_off", id, &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
		b.must("closed", id, &session.Closed{})
	}
	b.open("session-04")
	b.must("supply", "session-04", &session.Supply{Item: "dialyser", Lot: "D-2", Expiry: day.Add(200)})
	c := lotsLine(t, b.h, "session-04", b.now)
	wants(t, "as before", c, session.Look, "Lines, needle, saline 1 L: lot not written.")
	if !c.Passed() {
		t.Error("it is held up")
	}
	// Without the lot that is the habit it waits.
	b.must("session_opened", "session-05", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("supply", "session-05", &session.Supply{Item: "lines", Lot: "L-2", Expiry: day.Add(200)})
	wants(t, "without the habit", lotsLine(t, b.h, "session-05", b.now), session.OpenYet, "Dialyser: lot not written.")
}

// For each lot that lies on the shelf of an invented household, with lots set
// aside, let go and recalled, the start line is told what the shelf shows.
func TestLotOnShelfIsWhatTheShelfShows(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{
		{Item: "dialyser", Maker: "Maker A (invented)", Lot: "D-3", Expires: day.Add(40), Pieces: 12 * one},
		{Item: "dialyser", Maker: "Maker A (invented)", Lot: "D-3", Expires: day.Add(41), Pieces: 12 * one},
		{Item: "dialyser", Maker: "Maker B (invented)", Lot: "D-4", Expires: day.Add(42), Pieces: 12 * one},
		{Item: "dialyser", Maker: "Maker A (invented)", Product: "another", Lot: "D-5", Expires: day.Add(43), Pieces: 12 * one},
		{Item: "needle", Lot: "N-2", Expires: day.Add(44), Pieces: 50 * one}, {Item: "needle", Lot: "N-3", Pieces: 50 * one},
	}})
	b.keep("recall", &Recall{Maker: "Maker A (invented)", Item: "dialyser", Lots: []string{"D3"}, From: "the unit"})
	b.keep("recall", &Recall{Maker: "Maker N (invented)", Item: "needle", Lots: []string{"N2", "N3"}, From: "the unit"})
	b.keep("quarantine", &Quarantine{Item: "needle", Lot: "N2", State: "released", Why: "the box says maker B"})
	b.keep("quarantine", &Quarantine{Item: "dialyser", Lot: "D4", State: "held", Why: "wet"})
	held, seen := 0, 0
	compare := func(when string) {
		t.Helper()
		items := b.h.Upkeep.itemsAt(b.now)
		for _, it := range b.h.Shelf(b.now) {
			for _, l := range it.Lots {
				if l.Code == "" {
					continue
				}
				seen++
				on, known := b.h.lotOnShelf(items, session.Lot{Item: it.Item, Lot: " " + strings.ToLower(l.Code)}, b.now)
				if !known || on.Held != l.Why || on.Sure != l.Held || !slices.Contains(on.Expires, l.Expires) {
					t.Errorf("%s: %s %s is held %v (%s) to %v; the start line is told %+v", when, it.Item, l.Code, l.Held, l.Why, l.Expires, on)
				}
				if l.Held {
					held++
				}
			}
		}
	}
	compare("after the notices")
	b.keep("substitute", &Substitute{Item: "dialyser", Product: "Another", Answer: "yes", By: "Nurse"})
	b.keep("quarantine", &Quarantine{Item: "dialyser", Lot: "D4", State: "released", Why: "dry again"})
	compare("after the answers")
	b.keep("stock_count", &StockCount{Item: "dialyser", Lots: []CountedLot{{Lot: "D-4", Expires: day.Add(50), Pieces: one}, {Lot: "D-5", Pieces: one}}})
	b.keep("recall", &Recall{Maker: "Maker Q (invented)", Item: "needle", Lots: []string{"N2"}, From: "the unit"})
	compare("after a count, and a new notice")
	if seen < 15 || held < 5 {
		t.Errorf("%d lots, %d of them held", seen, held)
	}
}

// Whatever the household calls a thing: its expiry, what set it aside and a recall
// count for what a session wrote of that lot, as the numbers of its label do (H-83,
// H-55). A lot of another thing with that number, and a thing whose name says nothing
// to the program, change nothing.
func TestTheShelfByAnyName(t *testing.T) {
	for _, item := range []string{"strips", "chlorine strips", "heparin vials", "heparin sodium", "bags", "2 K concentrate", "lock", "saline bags"} {
		for _, what := range []string{"expiry", "held", "recall", "unlisted recall", "as typed"} {
			t.Run(item+" "+what, func(t *testing.T) {
				b := newBook(t)
				b.shelf()
				day := unit.DateOf(b.now)
				expiry := day.Add(300)
				if what == "expiry" {
					expiry = day.Add(-20)
				}
				if what != "unlisted recall" {
					b.keep("stock_item", &StockItem{Item: item, PerSession: n(1), Pack: 10 * one, Storage: "room"})
					b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: item, Maker: "Maker L (invented)", Lot: "C-417", Expires: expiry, Pieces: one}}})
				}
				b.keep("stock_item", &StockItem{Item: "wipes", Also: "swabs", Pack: 10 * one, Storage: "room", PerSession: n(1)})
				b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: "wipes", Maker: "Maker L (invented)", Lot: "C-417", Expires: day.Add(-30), Pieces: one}}})
				state, words := session.StopHere, "is set aside"
				switch what {
				case "expiry":
					words = "lot C-417 typed to"
				case "held":
					b.keep("quarantine", &Quarantine{Item: item, Lot: "C-417", State: "held", Why: "wet"})
				case "recall":
					b.keep("recall", &Recall{Maker: "Maker L (invented)", Item: item, Lots: []string{"C-417"}, From: "the unit"})
				case "unlisted recall":
					recall := b.house("recall", &Recall{Maker: "Maker L (invented)", Item: item, Lots: []string{"C-417"}, From: "the unit"})
					recall.Again = map[string]string{"item": item}
					if found := b.try(recall); len(found) > 0 {
						t.Fatal(found)
					}
					state, words = session.Look, "may be meant by the recall"
				default:
					state, words = session.Ready, "in date"
				}
				b.open("session-01")
				for _, one := range []session.Supply{{Item: "dialyser", Lot: "d 2", Expiry: day.Add(200)}, {Item: "lines", Lot: "L-1", Expiry: day.Add(90)}, {Item: "needles", Lot: "N-1", Expiry: day.Add(100)}} {
					b.must("supply", "session-01", &one)
				}
				lot, typed := "C-417", day.Add(300)
				switch item {
				case "strips", "chlorine strips":
					b.must("chlorine", "session-01", &session.Chlorine{Result: 20, Below: true, Method: "strip", ReadsDown: 20, Lot: lot, Expiry: typed, Point: "first_carbon"})
				case "heparin vials", "heparin sodium":
					b.must("heparin_drawn", "session-01", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: lot, Expiry: typed})
				case "bags", "2 K concentrate":
					b.must("bath_label", "session-01", &session.BathLabel{K: 200, Ca: 150, Lot: lot, Expiry: typed})
				case "lock":
					b.must("catheter_lock", "session-01", &session.CatheterLock{Name: "heparin", Strength: ptr(unit.Strength(1000)), Arterial: 160, Venous: 160, Lot: lot, Expiry: typed})
				default:
					b.must("supply", "session-01", &session.Supply{Item: "saline", Lot: lot, Expiry: typed})
				}
				if c := lotsLine(t, b.h, "session-01", b.now); c.State != state && !(state == session.Ready && !strings.Contains(c.Words, "C-417")) || state != session.Ready && !strings.Contains(c.Words, words) {
					t.Errorf("%s %q, want %s %q", c.State, c.Words, state, words)
				}
			})
		}
	}
}
