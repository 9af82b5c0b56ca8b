package web

import (
	"encoding/csv"
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// The shelf from nothing: the usual items, a supplier, a count, an order that is
// sent, a delivery that is short, and one more used.
func TestShelfFromNothing(t *testing.T) {
	h, p := settled(t)
	h.says(p+"/shelf", "Put them on the list")
	if status, _, text := h.post(p+"/shelf/start", formOf("id", strings.Repeat("x", 70))); status != http.StatusUnprocessableEntity || !strings.Contains(text, "Nothing was kept: id: ") {
		t.Errorf("with an id that no entry can have: %d\n%s", status, problems(text))
	}
	if status, _, text := h.post(p+"/shelf/start", formOf("id", newID())); status != http.StatusSeeOther {
		t.Fatalf("the usual items: %d %s", status, problems(text))
	}
	h.says(p+"/shelf", "dialyser", "never")
	h.saved(p+"/shelf/supplier", "name", "Supplier (invented)", "phone", "1", "lead_days", "5", "delivery_every_days", "28", "delivery_first_on", "2026-06-20", "reserve_sessions", "6")
	h.refused(p+"/shelf/count/dialyser", "is not accepted: needs", "item", "dialyser", "lot.0", "A1", "expires.0", "03/04/2027", "pieces.0", "9")
	h.saved(p+"/shelf/count/dialyser", "item", "dialyser", "lot.0", "(10)A1(17)270331", "expires.0", "", "pieces.0", "9", "lot.1", "", "expires.1", "", "pieces.1", "")
	h.desk.View(func(s *record.Household) {
		c := s.Upkeep.Counts[0].Value
		if len(c.Lots) != 1 || c.Lots[0].Lot != "A1" || c.Lots[0].Expires != unit.NewDate(2027, 3, 31) {
			t.Errorf("counted %+v", c)
		}
	})
	h.says(p+"/shelf/count/dialyser", "A1, to 31 March 2027")
	if _, page := h.get(p + "/shelf/count/dialyser"); !strings.Contains(page, `role="group" aria-label="Row 1, lot A1"`) {
		t.Error("the row of the lot has no name")
	}
	// What the book has and the count leaves blank is asked for.
	h.refused(p+"/shelf/count/dialyser", "type 0 if none is there", "item", "dialyser", "lot.0", "A1", "expires.0", "2027-03-31", "book.0", "9 pieces", "pieces.0", "")
	h.says(p+"/shelf/order", "dialyser", "20 June 2026", "pack of 12")
	status, text := h.get(p + "/shelf/order.csv")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if status != http.StatusOK || err != nil || len(rows) < 5 || rows[0][0] != "item" || rows[1][5] != "2026-06-20" {
		t.Errorf("the table of the order: %d, %v, %v", status, err, rows)
	}
	h.refused(p+"/shelf/order", "still blank", "for", "2026-06-20", "how", "email", "item.0", "dialyser", "packs.0", "0")
	h.refused(p+"/shelf/order", "cannot be read", "for", "2026-06-20", "how", "email", "item.0", "dialyser", "packs.0", "two")
	h.saved(p+"/shelf/order", "for", "2026-06-20", "how", "email", "item.0", "dialyser", "packs.0", "2")
	h.says(p+"/shelf", "for 20 June 2026. It has come")
	var order string
	h.desk.View(func(s *record.Household) { order = s.Upkeep.Orders[0].ID })
	h.later(10 * 24 * time.Hour)
	h.says(p+"/round", "The delivery of 20 June 2026 has not come")
	h.refused(p+"/shelf/delivery", "cannot be read", "order_id", order, "item.0", "dialyser", "lot.0", "B", "expires.0", "2027-99", "pieces.0", "12")
	h.saved(p+"/shelf/delivery", "order_id", order, "item.0", "dialyser", "lot.0", "B", "expires.0", "2027-09", "pieces.0", "12", "damaged.0", "1", "maker.0", "", "product.0", "", "item.1", "", "pieces.1", "")
	h.says(p+"/shelf", "11 of 24 pieces came fit for use", "1 piece damaged")
	h.silent(p+"/round", "has not come")
	h.saved(p+"/shelf/used", "item", "dialyser", "lot", "B", "pieces", "1", "why", "failed_set_up")
	h.says(p+"/shelf/item/dialyser", "10 pieces", "1.1 times", "Day by day", "1 session", "✕ a session cannot be held")
}

// A recall on the pages: matched at once, told of on the shelf, a letter with the
// sessions, closed with what became of the pieces.
func TestRecallOnThePages(t *testing.T) {
	h := home(t, 2, false)
	p := vida
	var lot, maker string
	h.desk.View(func(s *record.Household) {
		it, _ := s.ShelfOf("dialyser", h.now)
		lot, maker = it.Lots[0].Code, it.Lots[0].Maker
	})
	base := h.saved(p+"/session", "place", "home", "source", "live", "session", newID())
	h.saved(base+"/supply", "item", "dialyser", "lot", lot, "expiry", h.expiryOf("dialyser", lot))
	h.refused(p+"/shelf/recall", "A100 to A199", "maker", maker, "item", "dialyser", "told_by", "supplier", "range_list", "A100-A199")
	h.refused(p+"/shelf/recall", "lots, a range of lots", "maker", maker, "item", "dialyser", "told_by", "supplier")
	to := h.saved(p+"/shelf/recall", "maker", strings.ToUpper(maker), "item", "dialyser", "told_by", "supplier", "number", "N-9", "lot_list", "ZZ-1\n"+strings.ToLower(lot))
	if !strings.Contains(to, "/shelf") {
		t.Errorf("it leads to %s", to)
	}
	h.says(p+"/shelf", "recall of dialyser", "1 lot on the shelf", "set aside")
	h.says(p+"/round", "recall is open")
	var id string
	h.desk.View(func(s *record.Household) { id = s.Upkeep.Recalls[len(s.Upkeep.Recalls)-1].ID })
	h.says(p+"/shelf/recall/"+id, "N-9", lot, "11 June 2026", "recalled", "Please tell me what to do with them")
	h.refused(base+"/supply", "N-9", "item", "dialyser", "lot", lot, "expiry", h.expiryOf("dialyser", lot))
	h.silent(base+"/supply", "Press the lot "+lot)
	// A notice that matches nothing has its letter too.
	h.saved(p+"/shelf/recall", "maker", maker, "item", "dialyser", "told_by", "supplier", "number", "N-10", "lot_list", "QQ-77-41")
	var none string
	h.desk.View(func(s *record.Household) { none = s.Upkeep.Recalls[len(s.Upkeep.Recalls)-1].ID })
	h.says(p+"/shelf", "N-10", "No match, on the shelf or in any session")
	h.says(p+"/shelf/recall/"+none, "No such lot was on the shelf", "Nothing of it was found")
	h.silent(p+"/shelf/recall/"+none, "still set aside")
	h.refused(p+"/shelf/recall/"+id+"/close", "are set aside", "recall_id", id, "returned_pieces", "0", "destroyed_pieces", "0", "told_unit", "nurse by telephone")
	h.saved(p+"/shelf/recall/"+id+"/close", "recall_id", id, "returned_pieces", "0", "again.returned_pieces", "0", "destroyed_pieces", "0", "told_unit", "nurse by telephone")
	h.says(p+"/shelf/recall/"+id, "Closed", "nurse by telephone")
	h.silent(p+"/round", "recall is open")
}

func (h *house) expiryOf(item, lot string) (date string) {
	h.desk.View(func(s *record.Household) {
		it, _ := s.ShelfOf(item, h.now)
		for _, l := range it.Lots {
			if l.Code == lot {
				date = l.Expires.String()
			}
		}
	})
	return date
}

// Another product that was delivered waits; the unit's yes lets it go.
func TestSubstituteOnThePages(t *testing.T) {
	h := home(t, 2, false)
	p := vida
	h.saved(p+"/shelf/delivery", "item.0", "dialyser", "product.0", "low-flux, 1.3 m²", "lot.0", "SUB-1", "expires.0", "2028-01", "pieces.0", "12")
	h.says(p+"/shelf", "SUB-1", "the unit’s yes is missing")
	base := h.saved(p+"/session", "place", "home", "source", "live", "session", newID())
	h.refused(base+"/supply", "the unit’s yes is missing", "item", "dialyser", "lot", "SUB-1", "expiry", "2028-01-31")
	h.says(p+"/shelf/substitute", "KoA of 820 mL/min")
	h.saved(p+"/shelf/substitute", "item", "dialyser", "product", "low-flux, 1.3 m²", "answer", "yes", "answered_by", "Dr B. Zupan (invented)")
	h.saved(base+"/supply", "item", "dialyser", "lot", "SUB-1", "expiry", "2028-01-31")
}

// What to send ahead for sessions elsewhere: by the plan, as a sheet, a table and
// an e-mail whose text cannot break out of its part of the address.
func TestSessionsElsewhere(t *testing.T) {
	h := home(t, 2, false)
	h.stocked()
	h.keep("", &record.StockItem{Item: "gauze & tape = 1, +", PerSession: pieces(1), Pack: 10 * unit.Piece, Storage: "room"})
	h.says(vida+"/shelf", "Sessions elsewhere")
	h.silent(vida+"/shelf/away", "To leave by")
	day := unit.DateOf(h.now)
	for query, want := range map[string]string{
		"?from=2026-13-01&to=" + day.Add(40).String():                                "year, month and day",
		"?from=" + day.Add(40).String() + "&to=" + day.Add(30).String():              "on or after the first",
		"?from=" + day.Add(30).String() + "&to=" + day.Add(40).String() + "&spare=x": "a whole number",
	} {
		if status, text := h.get(vida + "/shelf/away" + query); status != http.StatusUnprocessableEntity || !strings.Contains(text, want) {
			t.Errorf("%s: %d, without %q", query, status, want)
		}
	}
	journey := "?from=" + day.Add(30).String() + "&to=" + day.Add(43).String() + "&spare=2"
	h.says(vida+"/shelf/away"+journey, "and 2 to spare", "dialyser", "To leave by", "Address there")
	_, text := h.get(vida + "/shelf/away" + journey)
	_, mail, ok := strings.Cut(text, `href="mailto:`)
	mail, _, _ = strings.Cut(mail, `"`)
	if !ok || strings.Count(mail, "&amp;") != 1 || !strings.Contains(mail, "gauze%20%26%20tape%20%3D%201%2C%20%2B") {
		t.Errorf("the e-mail is addressed %q", mail)
	}
	status, text := h.get(vida + "/shelf/away.csv" + journey)
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if status != http.StatusOK || err != nil || len(rows) < 4 || rows[0][5] != "send_by" {
		t.Errorf("the table: %d, %v, %v", status, err, rows)
	}
	if status, _ := h.get(vida + "/shelf/away.csv?from=2020-01-01&to=2020-01-09"); status != http.StatusNotFound {
		t.Errorf("a table of nothing: %d", status)
	}
}

// A fridge that was out of bounds is said beside what is kept in it, until it was
// seen inside them again.
func TestWarmFridge(t *testing.T) {
	h := home(t, 2, false)
	h.keep("", &record.StockItem{Item: "pen for the blood count", PerWeek: pieces(1), Pack: unit.Piece, Storage: "fridge"})
	done := vida + "/round/done/fridge"
	h.saved(done, "item", "fridge", "outcome", "done", "shown_c", "5")
	h.silent(vida+"/shelf", "The fridge was outside")
	h.refused(done, "outside 2 to 8", "item", "fridge", "outcome", "done", "shown_c", "12")
	h.saved(done, "item", "fridge", "outcome", "done", "shown_c", "12", "again.shown_c", "12")
	h.says(vida+"/shelf", "The fridge was outside 2 to 8", "set the lots aside: pen for the blood count")
	h.says(vida+"/round", "The fridge was outside")
	h.saved(done, "item", "fridge", "outcome", "done", "shown_c", "4.5")
	h.silent(vida+"/shelf", "The fridge was outside")
}
