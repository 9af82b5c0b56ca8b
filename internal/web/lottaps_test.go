package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A lot is offered by tap only after the figures that can hurt were typed from the
// thing in the hand, and the tap brings none of them: no strength, no K and Ca, no
// expiry, no lowest step. Without script (H-55, H-70, H-83).
func TestLotsAreOfferedAfterWhatCanHurtIsTyped(t *testing.T) {
	h := home(t, 1, false)
	day := unit.DateOf(h.now)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.keep("", &record.StockItem{Item: "citrate, catheter lock", PerSession: pieces(1), Pack: unit.Piece, Storage: "room"})
	for _, item := range []string{"heparin vial", "acid concentrate, L", "chlorine test", "local anaesthetic", "saline flush", "citrate, catheter lock"} {
		h.keep("", &record.StockCount{Item: item, Lots: []record.CountedLot{{Lot: "OLD-1", Expires: day.Add(-1), Pieces: 9 * unit.Piece}, {Lot: "SHELF-7", Expires: day.Add(77), Pieces: 9 * unit.Piece}}})
	}
	expiry := day.Add(77)
	year, month, last := expiry.String()[:4], expiry.String()[5:7], expiry.String()[8:]
	for _, tt := range []struct {
		kind       string
		in         string   // of the address
		rest       []string // typed beside what can hurt
		hurts      []string // typed in order; the last makes the offer come
		atOnce     bool
		afterwards string // a key that must hold what was typed, with its value
	}{
		{"bath_label", "", nil, []string{"label_k_mmol_l", "2", "label_ca_mmol_l", "1.5"}, false, "label_k_mmol_l=2"},
		{"chlorine", "", []string{"total_chlorine_mg_l", "0.02", "method", "strip", "sample_point", "first_carbon"}, []string{"reads_down_to_mg_l", "0.02", "expiry.year", year}, false, "reads_down_to_mg_l=0.02"},
		{"anaesthetic_drawn", "", []string{"volume_ml", "0.4"}, []string{"strength_percent", "1"}, false, "strength_percent=1"},
		{"catheter_lock", "", nil, []string{"name", "citrate", "strength_percent", "4", "arterial_ml", "1.6", "venous_ml", "1.7"}, false, "strength_percent=4"},
		{"flush_drawn", "", []string{"count", "2", "each_ml", "10"}, nil, true, "count=2"},
		{"heparin_drawn", "?strength_iu_ml=1000", []string{"strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05"}, nil, true, "strength_iu_ml=1000"},
	} {
		page := base + "/" + tt.kind
		first := h.see(page + tt.in)
		if strings.Contains(first, "SHELF-7") != tt.atOnce {
			t.Errorf("%s: a lot is offered at once: %v", tt.kind, !tt.atOnce)
		}
		form := fieldsOf(t, first[strings.LastIndex(first, `<form method="post" action="`+page):], page)
		for i := 0; i < len(tt.hurts); i += 2 {
			if got := form.Get(tt.hurts[i]); got != "" {
				t.Errorf("%s: %s begins as %q", tt.kind, tt.hurts[i], got)
			}
		}
		if tt.kind == "heparin_drawn" && strings.Contains(h.see(page), "SHELF-7") {
			t.Error("a lot of heparin is offered before its strength was typed")
		}
		for i := 0; i+1 < len(tt.rest); i += 2 {
			form.Set(tt.rest[i], tt.rest[i+1])
		}
		for i := 0; i < len(tt.hurts); i += 2 {
			if _, _, text := h.post(page, form); strings.Contains(text, "SHELF-7") {
				t.Errorf("%s: a lot is offered without %s", tt.kind, tt.hurts[i])
			}
			form.Set(tt.hurts[i], tt.hurts[i+1])
			if tt.hurts[i] == "expiry.year" {
				form.Set("expiry.month", month)
				form.Set("expiry.day", last)
			}
		}
		status, _, text := h.post(page, form)
		if status != http.StatusUnprocessableEntity || !strings.Contains(text, `name="pick_lot" value="SHELF-7"`) || strings.Contains(text, "OLD-1") || !strings.Contains(text, "lot is still blank") {
			t.Errorf("%s: the lots are not offered: %d\n%s", tt.kind, status, problems(text))
		}
		if offer := text[strings.Index(text, `class="field lot-taps"`):]; strings.Contains(offer[:strings.Index(offer, "</fieldset>")], year) {
			t.Errorf("%s: the offer shows the expiry", tt.kind)
		}
		// Enter in a field presses the first button of a form: it must not be a lot.
		if save, lot := strings.Index(text, `<button class="main">`), strings.Index(text, `name="pick_lot"`); save < 0 || lot < save {
			t.Errorf("%s: a lot comes before the button of the form", tt.kind)
		}
		form.Set("pick_lot", "SHELF-7")
		if tt.kind != "chlorine" {
			if status, _, text := h.post(page, form); status != http.StatusUnprocessableEntity || !strings.Contains(text, "still blank") {
				t.Errorf("%s: the tap brought an expiry: %d", tt.kind, status)
			}
			form.Set("expiry.year", year)
			form.Set("expiry.month", month)
			form.Set("expiry.day", last)
		}
		if status, _, text := h.post(page, form); status != http.StatusSeeOther {
			t.Errorf("%s: not taken: %d\n%s", tt.kind, status, problems(text))
		}
		h.desk.View(func(r *record.Household) {
			e := r.Session(base[strings.LastIndex(base, "/")+1:]).Log
			kind, _ := record.Find(tt.kind)
			lot, _ := kind.Field("lot")
			key, value, _ := strings.Cut(tt.afterwards, "=")
			held, _ := kind.Field(key)
			if body := e[len(e)-1].Body; e[len(e)-1].Kind != tt.kind || lot.Text(body) != "SHELF-7" || held.Text(body) != value {
				t.Errorf("%s: kept %s of %+v", tt.kind, e[len(e)-1].Kind, body)
			}
		})
		h.later(time.Minute)
	}
	h.desk.View(func(r *record.Household) {
		one := r.Session(base[strings.LastIndex(base, "/")+1:])
		for _, c := range session.StartLine(one, r.Member("p-vida-hribar").History(one), h.now) {
			if c.ID == session.CheckLots && c.State == session.StopHere {
				t.Errorf("what the shelf offered stops the start: %s", c.Words)
			}
		}
	})
	// The same lot typed with another expiry is a stop.
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "SHELF-7", "expiry", day.Add(78).String())
	h.says(base, "lot SHELF-7 typed to "+day.Add(78).Long())
}

// Nothing of the test before stands in the form for total chlorine but how and
// where: the lowest step is read off this box.
func TestTheLowestStepIsReadOffTheBox(t *testing.T) {
	h := home(t, 1, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	page := base + "/chlorine"
	form := fieldsOf(t, h.see(page), page)
	if form.Get("method") != "photometer" || form.Get("sample_point") != "first_carbon" || form.Get("reads_down_to_mg_l") != "" || form.Get("lot") != "" {
		t.Errorf("the form begins as %v", form)
	}
}

// A test that the household calls "chlorine strips" is offered like any other, also
// where an empty "chlorine test" is on the list; and the form says what has to be
// typed before: with a blank expiry it went on saying that the lots were offered.
func TestStripsAreOfferedByWhatTheyAre(t *testing.T) {
	for _, empty := range []bool{false, true} {
		h, ida := settled(t)
		day := unit.DateOf(h.now)
		if empty {
			h.keep("", &record.StockItem{Item: "chlorine test", PerSession: pieces(1), Pack: unit.Piece, Storage: "room"})
		}
		h.keep("", &record.StockItem{Item: "chlorine strips", PerSession: pieces(1), Pack: unit.Piece, Storage: "room"})
		h.keep("", &record.StockCount{Item: "chlorine strips", Lots: []record.CountedLot{{Lot: "SHELF-7", Expires: day.Add(77), Pieces: 9 * unit.Piece}}})
		page := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID(), "person_confirmed", "yes") + "/chlorine"
		form := fieldsOf(t, h.see(page), page)
		for key, value := range map[string]string{"total_chlorine_mg_l": "0.02", "method": "strip", "sample_point": "first_carbon", "reads_down_to_mg_l": "0.02"} {
			form.Set(key, value)
		}
		const hint = "Left blank, the lots on your shelf are offered once smallest step and expiry are typed."
		for _, text := range []string{h.see(page), third(h.post(page, form))} {
			if !strings.Contains(plainText(text), hint) || strings.Contains(text, "SHELF-7") {
				t.Errorf("empty %v: what has to be typed first is not said", empty)
			}
		}
		form.Set("expiry.year", "2027")
		form.Set("expiry.month", "8")
		if text := third(h.post(page, form)); !strings.Contains(text, `name="pick_lot" value="SHELF-7"`) || strings.Contains(text, "are offered once") {
			t.Errorf("empty %v: not offered", empty)
		}
	}
}

func third(_ int, _, text string) string { return text }
