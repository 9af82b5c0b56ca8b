package web

import (
	"html"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
)

// The groups of the form hold every line of a prescription, each once.
func TestOrderPartsHoldAll(t *testing.T) {
	kind, _ := record.Find("prescription")
	seen := map[string]int{}
	for _, p := range orderParts {
		for _, key := range p.keys {
			seen[key]++
		}
	}
	for _, f := range kind.Fields {
		if seen[f.Key] != 1 {
			t.Errorf("%s stands %d times on the form", f.Key, seen[f.Key])
		}
		delete(seen, f.Key)
	}
	if len(seen) > 0 {
		t.Errorf("the form asks for %v, which a prescription does not hold", seen)
	}
	for _, d := range weekdays {
		if len(d.value) != 3 {
			t.Errorf("day %q", d.value)
		}
	}
}

// paperOrder is a whole order as somebody types it from paper.
func paperOrder() url.Values {
	v := formOf("ordered_by", "Dr Q", "ordered_on", "2026-06-01", "how", "paper", "valid_from", "2026-06-02", "review_by", "2026-12-01",
		"length_min", "240", "dry_weight_kg", "72", "dry_weight_set_by", "Dr Q", "dry_weight_set_on", "2026-06-01", "dry_weight_review_by", "2026-09-01",
		"dialyser", "high-flux", "blood_flow_ml_min", "300", "dialysate_flow_ml_min", "500", "bath_k_mmol_l", "2", "bath_ca_mmol_l", "1.5",
		"heparin", "none", "access", "fistula", "access_side", "left_arm", "technique", "rope_ladder", "arterial_needle_gauge", "16", "venous_needle_gauge", "16",
		"intake_ml", "300", "washback_ml", "300", "limits_set_by", "Dr Q", "limits_set_on", "2026-06-01", "rate_limit_ml_h_kg", "10", "id", newID())
	v["days"] = []string{"mon", "wed", "fri"}
	return v
}

// A first prescription is read once against the paper, then kept: two presses.
func TestOrderIsLookedAtFirst(t *testing.T) {
	h := home(t, 0, false)
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	const form = "/p/person-ida/prescription/new"
	h.says("/p/person-ida/prescription", "line by line", "not set by your unit", "uses 0.1 mg/L", "asks you to look above 10 and stops above 13 mL/h/kg until you rang")

	if text := h.see(form); !strings.Contains(text, `<a class="quiet" href="/p/person-ida/">not now`) {
		t.Error("“not now” leads back to this very form")
	}
	status, _, look := h.post(form, paperOrder())
	if status != http.StatusOK {
		t.Fatalf("%d %s", status, problems(look))
	}
	text := plainText(look)
	for _, words := range []string{"Hold the paper beside it", "Ordered by Dr Q on 1 June 2026, on paper; counts from 2 June 2026", "Monday, Wednesday, Friday", "72 kg", "10 mL/h/kg", "1 June 2026", "not set by your unit uses 100 mmHg"} {
		if !strings.Contains(text, words) {
			t.Errorf("the look does not show %q", words)
		}
	}
	h.member("person-ida", func(m *record.Member) {
		if len(m.Prescriptions) != 0 {
			t.Error("it was kept before it was looked at")
		}
	})

	// Changing something goes back to the form as typed.
	back := fieldsOf(t, look, form)
	back.Set("go", "change")
	if _, _, again := h.post(form, back); !strings.Contains(again, `value="high-flux"`) || strings.Count(again, `name="days" value="`) != 7 || !strings.Contains(again, `name="days" value="wed" checked`) {
		t.Error("the form does not come back as typed")
	}
	// What is kept is what was shown, or it is shown again.
	other := fieldsOf(t, look, form)
	other.Set("go", "keep")
	other.Set("dry_weight_kg", "71")
	if status, _, again := h.post(form, other); status != http.StatusOK || !strings.Contains(plainText(again), "71 kg") {
		t.Errorf("another dry weight than the one shown: %d", status)
	}

	keep := fieldsOf(t, look, form)
	keep.Set("go", "keep")
	for range 2 { // pressed twice
		if status, to, text := h.post(form, keep); status != http.StatusSeeOther {
			t.Fatalf("%d to %s: %s", status, to, problems(text))
		}
	}
	h.member("person-ida", func(m *record.Member) {
		if len(m.Prescriptions) != 1 || m.Prescriptions[0].Value.DryWeight != 72_000 || !slices.Equal(m.Prescriptions[0].Value.Days, []string{"mon", "wed", "fri"}) {
			t.Errorf("kept: %d versions, %+v", len(m.Prescriptions), m.Prescriptions[0].Value)
		}
	})
}

// Bad input comes back as typed with a sentence, and nothing is lost of it.
func TestOrderComesBack(t *testing.T) {
	h, ida := settled(t)
	for _, tt := range []struct {
		name  string
		edit  func(url.Values)
		words string
	}{
		{"letters", func(v url.Values) { v.Set("blood_flow_ml_min", "fast") }, "“fast” is not accepted: needs a whole number"},
		{"a date of two meanings", func(v url.Values) { v.Set("ordered_on", "03/04/26") }, "needs a date as year-month-day"},
		{"out of bounds", func(v url.Values) { v.Set("bath_k_mmol_l", "20") }, "needs 0 to 5 mmol/L"},
		{"no days", func(v url.Values) { v.Del("days") }, "tick the days, or write every how many hours"},
		{"both", func(v url.Values) { v.Set("every_hours", "40") }, "the unit orders the one or the other"},
		{"a limit of nobody", func(v url.Values) { v.Del("limits_set_by") }, "needs the name of the nurse or doctor who set it"},
		{"an order of tomorrow", func(v url.Values) { v.Set("ordered_on", "2026-06-12") }, "has not come yet"},
		{"a call not read back", func(v url.Values) { v.Set("how", "phone") }, "read the change back to the caller"},
		{"rare", func(v url.Values) { v.Set("blood_flow_ml_min", "550") }, "If it is right, type it again"},
		{"far from the last one", func(v url.Values) { v.Set("dry_weight_kg", "72") }, "is 8.5 kg away from the last one"},
		{"under 35 kg", func(v url.Values) {
			v.Set("dry_weight_kg", "34.9")
			v.Del("rate_limit_ml_h_kg")
		}, "no plan is made then, you go by your unit"},
	} {
		v := paperOrder()
		v.Set("dry_weight_kg", "63.5")
		tt.edit(v)
		status, _, text := h.post(ida+"/prescription/new", v)
		if status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), tt.words) {
			t.Errorf("%s: %d, want %q\n%s", tt.name, status, tt.words, problems(text))
		}
		got := fieldsOf(t, text, ida+"/prescription/new")
		for key, values := range v {
			if !slices.Equal(got[key], values) && key != "go" {
				t.Errorf("%s: %s came back as %q, typed was %q", tt.name, key, got[key], values)
			}
		}
	}
	h.member("person-ida", func(m *record.Member) {
		if len(m.Prescriptions) != 1 {
			t.Errorf("%d versions", len(m.Prescriptions))
		}
	})
	// What is wrong far down the page is named at its top.
	bad := paperOrder()
	bad.Set("washback_ml", "a cup")
	_, _, said := h.post(ida+"/prescription/new", bad)
	if !strings.Contains(plainText(said), "Not kept yet. Look again at: Washback “a cup” is not accepted") || !strings.Contains(said, `<a href="#fluid">Washback</a>`) {
		t.Errorf("the top of the page does not say it: %s", plainText(said)[:600])
	}
	// Typed again, the same, it goes on to the look.
	v := paperOrder()
	v.Set("dry_weight_kg", "63.5")
	v.Set("blood_flow_ml_min", "550")
	v.Set("again.blood_flow_ml_min", "550")
	if status, _, text := h.post(ida+"/prescription/new", v); status != http.StatusOK || !strings.Contains(text, `name="again.blood_flow_ml_min" value="550"`) {
		t.Errorf("typed twice: %d %s", status, problems(text))
	}
}

// A change begins with the values of the last version, but not with who
// ordered it; what differs is shown, and what does not go together is asked.
func TestOrderChange(t *testing.T) {
	h, ida := settled(t)
	form := fieldsOf(t, h.see(ida+"/prescription/new"), ida+"/prescription/new")
	for _, key := range anew {
		if got := strings.Join(form[key], ""); got != "" {
			t.Errorf("%s begins as %q", key, got)
		}
	}
	if form.Get("dry_weight_kg") != "63.5" || form.Get("dialyser") != "high-flux, 1.7 m²" || !slices.Equal(form["days"], []string{"mon", "tue", "thu", "sat"}) {
		t.Errorf("begins with %v", form)
	}
	form.Set("ordered_by", "Nurse K")
	form.Set("ordered_on", "2026-06-11")
	form.Set("how", "paper")
	form.Set("valid_from", "2026-06-11")
	form.Set("dry_weight_kg", "63")
	form.Set("rate_limit_ml_h_kg", "12")
	_, _, look := h.post(ida+"/prescription/new", form)
	text := plainText(look)
	for _, words := range []string{"What is different", "Dry weight 63.5 kg 63 kg", "Largest removal rate 11 mL/h/kg 12 mL/h/kg", "The dry weight is another, but it still says “set on 19 May 2026”", "A limit is another, but it still says “set by Dr B. Zupan (invented) on 19 May 2026”"} {
		if !strings.Contains(text, words) {
			t.Errorf("the look does not say %q\n%s", words, text)
		}
	}
	form.Set("dry_weight_set_on", "2026-06-11")
	form.Set("limits_set_on", "2026-06-11")
	if _, _, look := h.post(ida+"/prescription/new", form); strings.Contains(look, "but it still says") {
		t.Error("asked about dates that are new")
	}
}

func TestOddities(t *testing.T) {
	was := session.Prescription{DryWeight: 70_000}
	now := was
	if got := oddities(&was, &now); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
	now.DryWeight = 69_000
	if got := oddities(&was, &now); len(got) != 1 {
		t.Errorf("another dry weight of the same day: %v", got)
	}
}

// The correction of a version keeps the wrong one in sight and needs a reason.
func TestCorrectVersion(t *testing.T) {
	h, ida := settled(t)
	var old string
	h.member("person-ida", func(m *record.Member) { old = m.Prescriptions[0].ID })
	address := ida + "/prescription/" + old + "/correct"
	form := fieldsOf(t, h.see(address), address)
	if form.Get("ordered_by") != "Dr B. Zupan (invented)" {
		t.Errorf("the correction begins with %q", form.Get("ordered_by"))
	}
	form.Set("blood_flow_ml_min", "320")
	if status, _, text := h.post(address, form); status != http.StatusUnprocessableEntity || !strings.Contains(text, "say in a word or two why") {
		t.Errorf("without a reason: %d %s", status, problems(text))
	}
	form.Set("reason", "read 310 for 320")
	_, _, look := h.post(address, form)
	if !strings.Contains(plainText(look), "Blood flow 310 mL/min 320 mL/min") {
		t.Fatalf("the look: %s", plainText(look))
	}
	keep := fieldsOf(t, look, address)
	keep.Set("go", "keep")
	if status, _, text := h.post(address, keep); status != http.StatusSeeOther {
		t.Fatalf("%d %s", status, problems(text))
	}
	h.says(ida+"/prescription", "320 mL/min", "In force since", "struck out: read 310 for 320")
	h.says(ida+"/prescription/"+old, "Struck out: read 310 for 320", "310 mL/min")
}

func TestTypedTextIsEscaped(t *testing.T) {
	h, ida := settled(t)
	v := paperOrder()
	v.Set("dry_weight_kg", "63.5")
	v.Set("dialyser", `<script>alert("x")</script>`)
	_, _, look := h.post(ida+"/prescription/new", v)
	if strings.Contains(look, "<script>alert") || !strings.Contains(look, html.EscapeString("<script>alert(")) {
		t.Error("typed text is not escaped")
	}
}
