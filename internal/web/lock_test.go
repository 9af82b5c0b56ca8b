package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// byCatheter gives Vida a catheter with a lock that is ordered, and opens a session.
func (h *house) byCatheter(order session.OrderedLock) (base string) {
	h.t.Helper()
	var rx session.Prescription
	h.desk.View(func(r *record.Household) { rx = r.Member("p-vida-hribar").Prescription(unit.DateOf(h.now)).Value })
	rx.Access, rx.AccessSide, rx.Technique, rx.GaugeA, rx.GaugeV = "catheter", "neck_or_chest", "none", 0, 0
	rx.OrderedLock, rx.OrderedOn, rx.ValidFrom = order, unit.DateOf(h.now), unit.DateOf(h.now)
	h.keep("p-vida-hribar", &rx)
	h.later(time.Minute)
	return h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
}

func citrate() session.OrderedLock {
	percent, a, v := unit.Content(400), unit.Drawn(160), unit.Drawn(170)
	return session.OrderedLock{LockName: "citrate", LockContent: &percent, LockArterial: &a, LockVenous: &v}
}

// The lock by its page, without script: asked for by the start line, nothing filled
// in beforehand, typed a second time where it is not as ordered, a stop until the
// unit was rung, and on the sheet (H-141).
func TestCatheterLockOnThePages(t *testing.T) {
	h := home(t, 1, false)
	base := h.byCatheter(citrate())
	page := base + "/catheter_lock"
	h.says(base, "Catheter lock", "Not read yet. Type what vial and lumens say.")
	if ways := waysOf(h.see(base)); !strings.Contains(ways, `href="`+page+`"`) || strings.Contains(ways, "/needling") {
		t.Errorf("no way to the lock among the small ones: %s", ways)
	}
	first := h.see(page)
	form := fieldsOf(t, first, page)
	for _, key := range []string{"name", "strength_iu_ml", "strength_percent", "arterial_ml", "venous_ml", "lot"} {
		if form.Get(key) != "" {
			t.Errorf("%s begins as %q", key, form.Get(key))
		}
	}
	if text := plainText(first); strings.Contains(text, "1.6") || strings.Contains(text, "1.7") {
		t.Errorf("a volume that was ordered stands beside the form: %s", text)
	}
	h.refused(page, "type the strength on the vial", "name", "citrate", "arterial_ml", "1.6", "venous_ml", "1.7", "lot", "K1", "expiry", "2027-01-31")

	swapped := []string{"name", "citrate", "strength_percent", "4", "arterial_ml", "1.7", "venous_ml", "1.6", "lot", "K1", "expiry", "2027-01-31"}
	_, _, text := h.post(page, formOf(swapped...))
	for _, want := range []string{`name="again.arterial_ml"`, `name="again.venous_ml"`, "ordered is 1.6"} {
		if !strings.Contains(text, want) {
			t.Errorf("swapped, typed once: no %q\n%s", want, problems(text))
		}
	}
	h.refused(page, "typed again", append(swapped, "again.arterial_ml", "1.6", "again.venous_ml", "1.7")...)
	h.silent(base, "as ordered")
	h.saved(page, append(swapped, "again.arterial_ml", "1.7", "again.venous_ml", "1.6")...)
	h.says(base, "Arterial lumen 1.7 mL, ordered 1.6 mL. Do not lock; ring.")
	h.silent(base, "as ordered")
	h.later(time.Minute)
	h.saved(base+"/rang", "whom", "the unit by day", "said", "the lumens were changed")
	h.says(base, "Arterial lumen 1.7 mL, ordered 1.6 mL. Do not lock; ring.") // no call alone answers it
	h.later(time.Minute)
	h.saved(page, "name", "citrate", "strength_percent", "4", "arterial_ml", "1.6", "venous_ml", "1.7", "lot", "K1", "expiry", "2027-01-31")
	h.says(base, "arterial 1.6 mL, venous 1.7 mL")
	h.says(base+"/sheet", "Catheter lock", "citrate 4 %", "arterial 1.6 mL, venous 1.7 mL")
}

// The prescription takes the lock as it was ordered, asks about a strength that is
// far off, and wants its name.
func TestLockOnThePrescription(t *testing.T) {
	h := home(t, 0, false)
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	const form = "/p/person-ida/prescription/new"
	v := paperOrder()
	for key, value := range map[string]string{"access": "catheter", "access_side": "neck_or_chest", "technique": "none", "arterial_needle_gauge": "", "venous_needle_gauge": ""} {
		v.Set(key, value)
	}
	v.Set("lock_arterial_ml", "1.6")
	if _, _, text := h.post(form, v); !strings.Contains(text, "a strength or a volume of it is written") {
		t.Errorf("a volume without a name: %s", problems(text))
	}
	v.Set("lock", "taurolidine with citrate")
	v.Set("lock_strength_percent", "1.35")
	v.Set("lock_venous_ml", "17")
	if _, _, text := h.post(form, v); !strings.Contains(text, "needs 0.3 to 5") {
		t.Errorf("a lumen of 17 mL: %s", problems(text))
	}
	v.Set("lock_venous_ml", "1.7")
	if _, _, text := h.post(form, v); !strings.Contains(plainText(text), "1.35") || !strings.Contains(plainText(text), "1.7") {
		t.Errorf("not read before it is kept: %s", problems(text))
	}
}

// A delivery asks for the numbers of a label only where its item has some: at once
// for what was ordered, else after the item was typed; left blank the shelf knows
// none. A session that types another one stops, in the check of that number.
func TestNumbersOfADelivery(t *testing.T) {
	h := home(t, 1, false)
	for _, item := range []string{"heparin vial", "my 2 K concentrate", "dialyser"} {
		h.keep("", &record.StockItem{Item: item, PerSession: pieces(1), Pack: unit.Piece, Storage: "room"})
	}
	page := vida + "/shelf/delivery"
	if text := h.see(page); strings.Contains(text, `name="strength_iu_ml.`) || strings.Contains(text, `name="k_mmol_l.`) {
		t.Error("asked for before the item is known")
	}
	form := fieldsOf(t, h.see(page), page)
	for key, value := range map[string]string{
		"item.0": "heparin vial", "lot.0": "H-70", "expires.0.year": "2027", "expires.0.month": "8", "pieces.0": "10",
		"item.1": "my 2 K concentrate", "lot.1": "B-70", "expires.1.year": "2027", "expires.1.month": "8", "pieces.1": "10",
		"item.2": "dialyser", "lot.2": "D-70", "expires.2.year": "2027", "expires.2.month": "8", "pieces.2": "10",
	} {
		form.Set(key, value)
	}
	status, _, text := h.post(page, form)
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "the label of heparin vial, my 2 K concentrate") {
		t.Fatalf("not asked for: %d %s", status, problems(text))
	}
	for name, want := range map[string]bool{"strength_iu_ml.0": true, "strength_percent.0": false, "k_mmol_l.0": false, "k_mmol_l.1": true, "ca_mmol_l.1": true, "strength_iu_ml.2": false, "k_mmol_l.2": false} {
		if strings.Contains(text, `name="`+name+`"`) != want {
			t.Errorf("%s is on the form: %v", name, !want)
		}
	}
	form = fieldsOf(t, text, page)
	form.Set("strength_iu_ml.0", "many")
	if _, _, text := h.post(page, form); !strings.Contains(text, "“many” is not accepted") {
		t.Errorf("taken: %s", problems(text))
	}
	form.Set("strength_iu_ml.0", "50000")
	if _, _, text := h.post(page, form); !strings.Contains(text, "needs 10 to 25000") {
		t.Errorf("taken: %s", problems(text))
	}
	form.Set("strength_iu_ml.0", "5000")
	form.Set("k_mmol_l.1", "3")
	if status, _, text = h.post(page, form); status != http.StatusSeeOther {
		t.Fatalf("not taken: %d %s", status, problems(text))
	}
	h.desk.View(func(r *record.Household) {
		d := r.Upkeep.Deliveries[len(r.Upkeep.Deliveries)-1].Value
		if len(d.Lines) != 3 || d.Lines[0].Strength == nil || *d.Lines[0].Strength != 5000 || d.Lines[1].K == nil || *d.Lines[1].K != 300 || d.Lines[1].Ca != nil || d.Lines[2].LotNumbers != (session.LotNumbers{}) {
			t.Errorf("kept %+v", d.Lines)
		}
	})

	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.silent(base+"/supply", "H-70", "B-70") // typed with their numbers, never tapped before
	if text := h.see(base + "/supply"); !strings.Contains(text, "D-70") {
		t.Error("the dialyser is not offered")
	}
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "h70", "expiry", "2027-08-31")
	h.says(base, "Lot h70: strength typed 1 000 IU/mL, shelf has 5 000 IU/mL. Read the label.")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B-70", "expiry", "2027-08-31")
	h.says(base, "Lot B-70: K typed 2 mmol/L, shelf has 3 mmol/L. Read the label.")
}

// A count takes the numbers of a label as a delivery does, of what has some, on lots
// that the book knows too; a number that was typed is never dropped with its row.
func TestNumbersOfACount(t *testing.T) {
	h := home(t, 1, false)
	for _, item := range []string{"spare heparin", "dialyser"} {
		h.keep("", &record.StockItem{Item: item, PerSession: pieces(1), Pack: unit.Piece, Storage: "room"})
	}
	if text := h.see(vida + "/shelf/count/dialyser"); strings.Contains(text, `name="strength_iu_ml.`) || strings.Contains(text, "numbers on the label") {
		t.Error("a dialyser has no such number")
	}
	page := vida + "/shelf/count/" + escape("spare heparin")
	form := fieldsOf(t, h.see(page), page)
	for key, value := range map[string]string{"lot.0": "H-80", "expires.0.year": "2027", "expires.0.month": "8", "strength_iu_ml.0": "5000"} {
		form.Set(key, value)
	}
	if _, _, text := h.post(page, form); !strings.Contains(text, "needs how many there are") || !strings.Contains(text, `value="5000"`) {
		t.Errorf("without pieces: %s", problems(text))
	}
	form.Set("pieces.0", "4")
	form.Set("strength_iu_ml.0", "many")
	if _, _, text := h.post(page, form); !strings.Contains(text, "“many” is not accepted") {
		t.Errorf("taken: %s", problems(text))
	}
	form.Set("strength_iu_ml.0", "5000")
	form.Set("strength_iu_ml.1", "1000")
	if status, _, text := h.post(page, form); status != http.StatusUnprocessableEntity || !strings.Contains(text, "needs how many there are") {
		t.Errorf("a row with a number only: %d %s", status, problems(text))
	}
	form.Set("strength_iu_ml.1", "")
	if status, _, text := h.post(page, form); status != http.StatusSeeOther {
		t.Fatalf("not taken: %d %s", status, problems(text))
	}
	h.desk.View(func(r *record.Household) {
		c := r.Upkeep.Counts[len(r.Upkeep.Counts)-1].Value
		if len(c.Lots) != 1 || c.Lots[0].Strength == nil || *c.Lots[0].Strength != 5000 {
			t.Errorf("kept %+v", c.Lots)
		}
	})
	if form := fieldsOf(t, h.see(page), page); form.Get("lot.0") != "H-80" || form["strength_iu_ml.0"] == nil {
		t.Errorf("a lot of the book has no field: %v", form)
	}
	if _, _, text := h.post(page, url.Values{"id": {newID()}, "item": {"spare heparin"}, "clock": {"25:99"}}); !strings.Contains(text, "That is all there is") {
		t.Errorf("a form without rows is not answered with the form: %s", problems(text))
	}
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "h80", "expiry", "2027-08-31")
	h.says(base, "Lot h80: strength typed 1 000 IU/mL, shelf has 5 000 IU/mL. Read the label.")
}

// What was ordered has its fields at once, without a press in between.
func TestNumbersOfWhatWasOrdered(t *testing.T) {
	h := home(t, 1, false)
	h.keep("", &record.StockItem{Item: "heparin vial", PerSession: pieces(1), Pack: unit.Piece, Storage: "room"})
	order := newID()
	h.saved(vida+"/shelf/order", "id", order, "for", unit.DateOf(h.now).Add(3).String(), "how", "phone", "item.0", "heparin vial", "packs.0", "1")
	page := vida + "/shelf/delivery"
	form := fieldsOf(t, h.see(page+"?order="+order), page)
	if _, there := form["strength_iu_ml.0"]; !there {
		t.Fatal("no field for the strength of what was ordered")
	}
	form.Set("lot.0", "H-71")
	form.Set("pieces.0", "1")
	if status, _, text := h.post(page, form); status != http.StatusSeeOther {
		t.Errorf("blank numbers hold it up: %d %s", status, problems(text))
	}
}

// waysOf are the small links of setting up.
func waysOf(text string) string {
	_, text, _ = strings.Cut(text, `<p class="ways">`)
	text, _, _ = strings.Cut(text, "</p>")
	return text
}

// Without a catheter there is no way to its lock.
func TestNoWayToALockWithoutACatheter(t *testing.T) {
	h := home(t, 1, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	if ways := waysOf(h.see(base)); strings.Contains(ways, "catheter_lock") || !strings.Contains(ways, "/needling") {
		t.Errorf("%s", ways)
	}
}
