package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

func pieces(v float64) *unit.Pieces { p := unit.Pieces(v * float64(unit.Piece)); return &p }

// stocked puts three items on the shelf.
func (h *house) stocked() {
	h.t.Helper()
	day := unit.DateOf(h.now)
	h.keep("",
		&record.StockItem{Item: "dialyser", GTIN: "09501101530003", PerSession: pieces(1), Pack: 12 * unit.Piece, Storage: "room"},
		&record.StockItem{Item: "line set", Also: "lines", PerSession: pieces(1), Pack: 12 * unit.Piece, Storage: "room"},
		&record.StockItem{Item: "needle", PerSession: pieces(2), Pack: 50 * unit.Piece, Storage: "room"},
		&record.StockCount{Item: "dialyser", Lots: []record.CountedLot{
			{Lot: "LATE-2", Expires: day.Add(300), Pieces: 5 * unit.Piece}, {Lot: "SOON-1", Expires: day.Add(20), Pieces: 2 * unit.Piece}, {Lot: "GONE-0", Expires: day.Add(-1), Pieces: 4 * unit.Piece}}},
		&record.StockCount{Item: "needle", Lots: []record.CountedLot{{Lot: "N-1", Expires: day.Add(90), Pieces: 30 * unit.Piece}}},
	)
}

// The supply page offers the lots of the shelf in the order in which they
// expire, never one that is held or past its day; a press writes it down, and
// the pieces are off the shelf when the session closes.
func TestSupplyOffersTheShelf(t *testing.T) {
	h := home(t, 2, false)
	h.stocked()
	h.keep("", &record.Recall{Maker: "Maker N (invented)", Item: "needle", Lots: []string{"N1"}, From: "the unit"})
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	_, text := h.get(base + "/supply")
	soon, late := strings.Index(text, ">SOON-1<"), strings.Index(text, ">LATE-2<")
	if soon < 0 || late < soon {
		t.Errorf("the lot that expires first stands at %d, the other at %d", soon, late)
	}
	if strings.Contains(text, "GONE-0") {
		t.Error("an expired lot is offered")
	}
	if !strings.Contains(text, "✕ N-1") || strings.Contains(text, ` N-1">`) {
		t.Error("a held lot can be pressed, or is not told of")
	}
	at := strings.Index(text, `value="`+h.now.AddDate(0, 0, 20).Format(time.DateOnly)+` SOON-1"`)
	if at < 0 {
		t.Fatal("the first lot has no button")
	}
	h.saved(base+"/supply", "item", "dialyser", "pick", h.now.AddDate(0, 0, 20).Format(time.DateOnly)+" SOON-1")
	if _, text := h.get(base + "/supply"); !strings.Contains(text, "✓ SOON-1") {
		t.Error("what was written down is not ticked")
	}
	h.refused(base+"/supply", "is set aside", "item", "needle", "lot", "n1", "expiry", "2027-01-31")
	h.refused(base+"/supply", "do not open it", "item", "dialyser", "lot", "GONE-0", "expiry", h.now.AddDate(0, 0, -1).Format(time.DateOnly))
	// A lot of no shelf is taken as typed.
	h.saved(base+"/supply", "item", "lines", "lot", "ANY-5", "expiry", "2027-01")
}

// What a scanner reads off a box, typed into the lot field of any form.
func TestScannedLabels(t *testing.T) {
	h := home(t, 2, false)
	h.stocked()
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.saved(base+"/supply", "item", "", "lot", "(01)09501101530003(17)270131(10)AB-12")
	h.saved(base+"/supply", "item", "lines", "lot", "]d2011234567890123117270200\x1d10XY/9")
	h.refused(base+"/supply", "that of dialyser", "item", "needle", "lot", "(01)09501101530003(17)270131(10)AB-12")
	h.refused(base+"/supply", "check digit", "item", "needle", "lot", "(01)09501101530004(17)270131(10)AB-12")
	h.refused(base+"/supply", "the code says 31 January 2027", "item", "dialyser", "lot", "(01)09501101530003(17)270131(10)AB-12", "expiry", "2027-03-31")
	h.refused(base+"/supply", "not in that code", "item", "dialyser", "lot", "(01)09501101530003(17)270131")
	h.refused(base+"/supply", "3 April 2027", "item", "dialyser", "lot", "Q", "expiry", "03/04/2027")
	h.saved(base+"/supply", "item", "dialyser", "lot", "Q", "expiry", "Nov 2027")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "(10)B77", "expiry", "30/11/2027")
	type want struct{ item, lot, expiry string }
	var got []want
	h.desk.View(func(rec *record.Household) {
		for _, p := range record.PickedIn(rec.Session(base[strings.LastIndex(base, "/")+1:])) {
			got = append(got, want{p.Item, p.Lot, p.Expiry.String()})
		}
	})
	for i, w := range []want{{"dialyser", "AB-12", "2027-01-31"}, {"lines", "XY/9", "2027-02-28"}, {"dialyser", "Q", "2027-11-30"}, {"bath", "B77", "2027-11-30"}} {
		if i >= len(got) || got[i] != w {
			t.Errorf("kept %v; want %v at %d", got, w, i)
		}
	}
}

// A plain lot that happens to begin like a code stays what was typed.
func TestReadBoxLeavesPlainLotsAlone(t *testing.T) {
	day := unit.NewDate(2026, 6, 1)
	for _, lot := range []string{"", "A12", "0112", "10AB", "01-2026-000000000000", "012345678901234567", "LOT(10)"} {
		if _, is, bad := readBox(lot, day); is || bad != nil {
			t.Errorf("%q is read as a code: %v", lot, bad)
		}
	}
	if l, is, _ := readBox("0109501101530003172701311 0", day); is {
		t.Errorf("a code with a space in it is read as %+v", l)
	}
	if l, is, bad := readBox("010950110153000317270131"+"10AB12", day); !is || l.Lot != "AB12" || bad != nil {
		t.Errorf("a bare code: %+v, %v, %v", l, is, bad)
	}
}

// In a delivery and a count the number of a scanned box names the item, or is held
// against the one that was named; so is the expiry.
func TestScannedBoxesNameTheirItem(t *testing.T) {
	h := home(t, 2, false)
	h.stocked()
	box := func(rest string) string { return "(01)09501101530003(17)270131(10)" + rest }
	h.refused(vida+"/shelf/delivery", "that of dialyser", "item.0", "needle", "lot.0", box("G1"), "expires.0", "", "pieces.0", "12")
	h.refused(vida+"/shelf/delivery", "the code says 31 January 2027", "item.0", "dialyser", "lot.0", box("G1"), "expires.0", "2027-03-31", "pieces.0", "12")
	h.refused(vida+"/shelf/count/needle", "that of dialyser", "item", "needle", "lot.0", box("G1"), "expires.0", "", "pieces.0", "12")
	h.refused(vida+"/shelf/delivery", "lost on the way", "item.0", "dialyser", "lot.0", "0109501101530003"+"10G117270131", "expires.0", "", "pieces.0", "12")
	// Production date and serial number go with the box, over a form that came back.
	full := box("G2") + "(11)260131(21)SN-7"
	_, _, text := h.post(vida+"/shelf/delivery", formOf("item.0", "dialyser", "lot.0", full, "expires.0", "", "pieces.0", "many"))
	for _, want := range []string{`role="group" aria-label="Row 1, dialyser lot G2"`, `name="coded.0" value="G2"`, `name="made.0" value="2026-01-31"`, `name="serial.0" value="SN-7"`, `name="lot.0" type="text" value="G2"`, "made 31 January 2026, serial SN-7", `value="many" autocomplete="off" aria-invalid="true" aria-describedby="row-0"`, `id="row-0"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the form that came back lacks %s", want)
		}
	}
	h.refused(vida+"/shelf/delivery", "lies after the delivery", "item.0", "dialyser", "lot.0", box("G2")+"(11)261130", "expires.0", "", "pieces.0", "12")
	again := func(lot, made string, more ...string) []string {
		return append([]string{"item.0", "dialyser", "lot.0", lot, "expires.0", "2027-01", "coded.0", "G2", "made.0", made, "serial.0", "SN-7", "pieces.0", "12"}, more...)
	}
	h.refused(vida+"/shelf/delivery", "cannot be read", again("G2", "31/1")...)
	h.refused(vida+"/shelf/delivery", "lies after the delivery", again("G2", "2026-11-30")...)
	for _, sent := range []struct {
		form []string
		want string
	}{
		{again("G2", "2026-01-31"), "made 31 January 2026, serial SN-7"},
		{again("G3", "2026-01-31"), "lot G3, expires 31 January 2027"}, // another lot, typed over that of the code
		{again("G2", "2026-11-30", "uncoded.0", "yes"), "lot G2, expires 31 January 2027"},
	} {
		h.saved(vida+"/shelf/delivery", sent.form...)
		h.desk.View(func(rec *record.Household) {
			if words := rec.Upkeep.Deliveries[len(rec.Upkeep.Deliveries)-1].Value.Lines[0].String(); !strings.HasSuffix(words, sent.want) {
				t.Errorf("the line reads %q, want %q", words, sent.want)
			}
		})
	}
	// A code without its lot is said to lack it, and so is what else a row lacks
	// that was scanned for an order.
	h.refused(vida+"/shelf/delivery", "is not in that code", "item.0", "dialyser", "lot.0", "(01)09501101530003(17)270131", "expires.0", "", "pieces.0", "12")
	// The outbox of a screen does not show the row.
	told := h.postJSON(vida+"/shelf/delivery", formOf("id", newID(), "item.0", "dialyser", "lot.0", "G4", "pieces.0", "many"))
	if len(told.Findings) != 1 || !strings.Contains(told.Findings[0].Words, "the row of dialyser cannot be read. Pieces: “many”") {
		t.Errorf("an outbox is told %+v", told.Findings)
	}
	h.refused(vida+"/shelf/delivery", "see the row of lot G4", "item.0", "", "lot.0", "G4", "pieces.0", "")
	h.refused(vida+"/shelf/delivery", "needs how many there are", "item.0", "dialyser", "book.0", "ordered 12", "lot.0", box("G4"), "expires.0", "", "pieces.0", "")
	h.saved(vida+"/shelf/delivery", "item.0", "", "lot.0", box("G1"), "expires.0", "", "pieces.0", "12", "item.1", "needle", "lot.1", "17270228^10N-7", "expires.1", "", "pieces.1", "50")
	h.desk.View(func(rec *record.Household) {
		d := rec.Upkeep.Deliveries[len(rec.Upkeep.Deliveries)-1].Value
		if l := d.Lines[1]; l.Lot != "N-7" || l.Expires.String() != "2027-02-28" {
			t.Errorf("the second box is %+v", l)
		}
		if l := d.Lines[0]; l.Item != "dialyser" || l.Lot != "G1" || l.Expires.String() != "2027-01-31" {
			t.Errorf("the first box is %+v", l)
		}
	})
}

// Without a shelf each thing that this session opens has a form that names it: no
// name is typed, and the answer comes back to its place, without script. What has
// an entry of its own leads to it.
func TestSupplyNamesWhatIsOpened(t *testing.T) {
	h, _, base := openAfter(t, 2)
	page := base + "/supply"
	text := h.see(page)
	for _, name := range []string{"dialyser", "lines", "needles", "saline"} {
		row := rowText(t, text, name)
		form := fieldsOf(t, row, page)
		if form.Get("item") != name || form.Get("lot") != "" || form.Get("next") != page+"#open-"+name {
			t.Errorf("%s: the form holds %v", name, form)
		}
		form.Set("lot", "LOT-"+name)
		form.Set("expiry.year", "2027")
		form.Set("expiry.month", "1")
		form.Set("expiry.day", "31")
		if status, to, text := h.post(page, form); status != http.StatusSeeOther || to != page+"#open-"+name {
			t.Fatalf("%s: %d to %q\n%s", name, status, to, problems(text))
		}
		text = h.see(page)
		if row := rowText(t, text, name); !strings.Contains(row, "✓ LOT-"+name) {
			t.Errorf("%s is not ticked:\n%s", name, row)
		}
	}
	h.says(base, "Lots in date ready Dialyser, lines, needles, saline: in date.")
	for name, link := range map[string]string{"concentrate": "/bath_label", "flushes": "/flush_drawn"} {
		if row := rowText(t, text, name); !strings.Contains(row, `href="`+base+link+"?next="+page+`"`) {
			t.Errorf("%s does not lead to its own form:\n%s", name, row)
		}
	}
	if strings.Contains(text, `id="open-caps"`) || strings.Contains(text, `id="open-bags"`) {
		t.Error("what this access and this machine do not use is asked for")
	}

	// What is refused comes back first, with all that was typed.
	form := fieldsOf(t, rowText(t, text, "dialyser"), page)
	form.Set("lot", "D9")
	form.Set("expiry.year", "2020")
	form.Set("expiry.month", "1")
	status, _, text := h.post(page, form)
	back := text[:max(strings.Index(text, `id="opened"`), 0)]
	if status != http.StatusUnprocessableEntity || !strings.Contains(back, "Not written yet") {
		t.Fatalf("%d, not said first\n%s", status, problems(text))
	}
	if again := fieldsOf(t, back, page); again.Get("item") != "dialyser" || again.Get("lot") != "D9" || again.Get("expiry.year") != "2020" {
		t.Errorf("came back as %v", again)
	}
}

// rowText cuts the row of one item out of the page.
func rowText(t *testing.T, text, name string) string {
	t.Helper()
	_, row, ok := strings.Cut(text, `id="open-`+name+`"`)
	if !ok {
		t.Fatalf("there is no row for %s", name)
	}
	row, _, _ = strings.Cut(row, "</details>")
	return row
}

// Items whose names differ in a sign only have places of their own on the page, so
// that a press comes back to the right one and labels name one field.
func TestPlacesOfItemsAreTheirOwn(t *testing.T) {
	h, _, base := openAfter(t, 2)
	names := []string{"a b", "a-b", "a.b", "a_2d_b", "aB c", "ab c d", strings.Repeat("w", 60)}
	for _, name := range names {
		h.keep("", &record.StockItem{Item: name, PerSession: pieces(1), Pack: 12 * unit.Piece, Storage: "room"})
	}
	text := h.see(base + "/supply")
	seen := map[string]bool{}
	for _, part := range strings.Split(text, ` id="`)[1:] {
		id, _, _ := strings.Cut(part, `"`)
		if seen[id] {
			t.Errorf("%q is there twice", id)
		}
		seen[id] = true
	}
	places := map[string]bool{}
	for _, name := range append(names, "A B", "A-B", "ab", "a  b", "aB") {
		places[placeOf("item", name)] = true
	}
	if want := len(names) + 5; len(places) != want {
		t.Errorf("%d places for %d names: %v", len(places), want, places)
	}
	if !seen[placeOf("item", "a b")] || !seen[placeOf("item", "a-b")] {
		t.Errorf("not on the page: %v", seen)
	}
}
