package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// adultsFigures are words that nobody is shown of whom no figure of an adult, or no
// guideline's target, is used.
var adultsFigures = []string{"guideline", "mL/h/kg", "brings it to", "13 mL", "10 mL/h", "longer, or less", "100 mmHg", "90 mmHg", "120 beats"}

// A whole session on the pages of a child, of somebody light and in a pregnancy, with
// nothing that the unit wrote: no page and no sheet shows a figure of adults.
func TestNoFigureOfAdultsOnThePages(t *testing.T) {
	bare := func(rx *session.Prescription) { rx.Limits = session.Limits{} }
	for _, tt := range []struct {
		name  string
		who   func(*record.Person)
		rx    func(*session.Prescription)
		start []string // said on the start line
		low   string   // an upper pressure of the run that is low
	}{
		{"a child", func(p *record.Person) { p.Adult, p.BirthYear = false, 2014 }, func(rx *session.Prescription) { bare(rx); rx.DryWeight = 32_000 },
			[]string{"No limit of your unit is written", "your unit’s own figures for blood pressure before the start, pulse, low pressure while running are not written"}, "62"},
		{"34 kg", nil, func(rx *session.Prescription) { bare(rx); rx.DryWeight = 34_000 }, []string{"No limit of your unit is written"}, ""},
		{"a pregnancy", func(p *record.Person) { p.Pregnant = true }, bare, nil, ""},
	} {
		h, ida, weight := noPlanHouse(t, tt.who, tt.rx)
		if tt.name == "a child" { // before any session
			h.says(ida+"/unit", "A child: only your unit’s own figures judge pulse, and they are not written.")
		}
		base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID())
		h.later(time.Minute)
		pages := []string{base, base + "/plan"}
		look := func() {
			t.Helper()
			for _, page := range pages {
				text := plainText(h.see(page))
				for _, words := range adultsFigures {
					may := strings.HasSuffix(words, "mmHg") || strings.HasSuffix(words, "beats")
					if may && tt.name != "a child" {
						continue // an adult's pressures and pulse
					}
					if i := strings.Index(text, words); i >= 0 {
						t.Errorf("%s: %s shows %q: …%s…", tt.name, page, words, text[max(0, i-120):min(len(text), i+80)])
					}
				}
			}
		}
		h.saved(base+"/fitness", "none_of_these", "yes")
		h.saved(base+"/weigh_in", "weight_kg", weight, "again.weight_kg", weight, "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
		h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "78", "again.sitting_systolic_mmhg", "78", "sitting_diastolic_mmhg", "45",
			"standing_systolic_mmhg", "76", "again.standing_systolic_mmhg", "76", "standing_diastolic_mmhg", "45", "pulse_per_min", "140", "again.pulse_per_min", "140", "temperature_c", "36.5")
		h.saved(base+"/paper_plan", "goal_ml", "1200", "length_min", "240", "rate_ml_h", "300", "from", "Dr Zupan, 1 June")
		h.saved(base+"/read_back", "shown", "1.20", "machine_length_min", "240")
		h.says(base, tt.start...)
		look()
		h.goPastAll(base)
		h.saved(base+"/connected", "blood_flow_ml_min", "310")
		h.later(time.Hour)
		h.saved(base+"/reading", "systolic_mmhg", "77", "again.systolic_mmhg", "77", "diastolic_mmhg", "44", "pulse_per_min", "141", "again.pulse_per_min", "141", "blood_flow_ml_min", "310", "removed_ml", "240")
		if tt.name == "a child" {
			h.silent(base, "Low by", "counts as low pressure")
		}
		look()
		if tt.low != "" {
			h.later(10 * time.Minute)
			h.saved(base+"/reading", "systolic_mmhg", tt.low, "again.systolic_mmhg", tt.low, "diastolic_mmhg", "40", "removed_ml", "300")
			h.says(base, "Upper pressure "+tt.low+"; you started at 78. Low by a fall of 20 % or 30 mmHg")
			look()
		}
		h.later(3 * time.Hour)
		h.lookedFirst(base)
		h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1200", "returned", "all")
		look()
		h.saved(base+"/vitals_after", "lying_systolic_mmhg", "76", "lying_diastolic_mmhg", "44", "standing_systolic_mmhg", "74", "standing_diastolic_mmhg", "44", "pulse_per_min", "138", "again.pulse_per_min", "138", "again.lying_systolic_mmhg", "76", "again.standing_systolic_mmhg", "74", "temperature_c", "36.5")
		h.saved(base+"/weigh_out", "weight_kg", weight, "clothing_kg", "0", "scale", "bathroom scale")
		h.saved(base+"/disinfection", "programme", "heat", "result", "passed")
		h.saved(base+"/closed", "feel", "well")
		pages = append(pages, base+"/sheet", ida+"/unit", ida+"/prescription", ida+"/sessions", ida+"/")
		look()
	}
}

// goPastAll writes a reason on every check that holds up the start.
func (h *house) goPastAll(base string) {
	h.t.Helper()
	var left []string
	h.desk.View(func(rec *record.Household) {
		s := rec.Session(base[strings.LastIndex(base, "/")+1:])
		for _, c := range session.HoldingUp(session.StartLine(s, rec.Member("person-ida").History(s), h.now)) {
			left = append(left, c.ID)
		}
	})
	for _, id := range left {
		h.saved(base+"/override", "check", id, "reason", "an invented evening of a test")
	}
}

// Who is written again for another reason does not lose a pregnancy: the form has it
// ticked, and unticking it is asked about.
func TestAPregnancyIsTickedAndAskedAbout(t *testing.T) {
	h, ida := settled(t)
	base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/fitness", "pregnant", "yes", "rang", "the nurse: by the paper")
	h.later(time.Minute)
	form := fieldsOf(t, h.see(ida+"/person"), ida+"/person")
	if form.Get("pregnant") != "yes" {
		t.Fatal("what was told before the session is not ticked")
	}
	form.Set("allergies", "latex")
	form.Del("pregnant")
	_, _, text := h.post(ida+"/person", form)
	for _, want := range []string{"Is it over?", `name="again.pregnant" value="no"`, "No, it is over"} {
		if !strings.Contains(text, want) {
			t.Errorf("the question lacks %q:\n%s", want, problems(text))
		}
	}
	pregnant := func() (so bool) {
		h.desk.View(func(rec *record.Household) { so = rec.Member("person-ida").Pregnant(h.now) })
		return so
	}
	if !pregnant() {
		t.Fatal("over before it was said")
	}
	form.Set("again.pregnant", "no")
	if status, to, text := h.post(ida+"/person", form); status != 303 || pregnant() {
		t.Errorf("said to be over: %d to %s, pregnant %v\n%s", status, to, pregnant(), problems(text))
	}
}

// What a blank limit means is said by the form of the prescription for whom it is.
func TestHintsOfTheFormForAChild(t *testing.T) {
	h, ida, _ := noPlanHouse(t, func(p *record.Person) { p.Adult, p.BirthYear = false, 2014 }, nil)
	h.says(ida+"/prescription/new", "the program has none of its own for a child", "a fall of 20 % or 30 mmHg")
	h.silent(ida+"/prescription/new", "stops above 13", "uses 100 mmHg")
}
