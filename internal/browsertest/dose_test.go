//go:build browser

package browsertest

import (
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
)

// The pages of the dose have no fault that axe knows, with a critical result
// open, a form that came back with questions, and two weeks side by side.
func TestAxeOfTheDose(t *testing.T) {
	t.Parallel()
	h := home(t, 4, false)
	e := record.Entry{
		ID: "critical-potassium", Kind: "bloods", Person: "p-vida-hribar", At: time.Date(2026, 6, 11, 9, 0, 0, 0, simulate.Zone()), Zone: simulate.Zone().String(),
		Again: map[string]string{"results.potassium": "6.8"},
		Body:  &record.Bloods{Timing: record.Other, Laboratory: "Laboratory by the weir (invented)", Haemolysed: true, Results: []record.BloodResult{{Analyte: "potassium", Value: "6.8", Unit: "mmol/L"}}},
	}
	if out, err := h.desk.Record(t.Context(), e); err != nil || !out.Clear() {
		t.Fatal(err, out)
	}
	s := newScreen(t, h, "dose", phoneW, phoneH)
	for name, path := range map[string]string{
		"dose": "", "bloods": "/bloods", "sample-form": "/bloods/new", "sample": "/bloods/critical-potassium", "correct": "/bloods/critical-potassium/correct",
		"analyte": "/analyte/potassium", "range": "/range/potassium", "call": "/call/critical-potassium/potassium", "import": "/import", "target": "/target",
		"body": "/body", "residual": "/residual", "week": "/week", "two-weeks": "/week?day=mon&day=wed&day=fri&length_min=180", "weeks": "/weeks?no_gap=yes",
	} {
		s.open(vida + "/dose" + path)
		s.sees("dose-" + name)
	}
	if s.looked != 15 {
		t.Errorf("%d pages were looked at", s.looked)
	}
}

// A sample is typed and kept with script as without, and comes back with a
// second field for what is strange.
func TestSampleWithScript(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "sample", deskW, deskH)
	s.open(vida + "/dose/bloods/new")
	fill := func(name, value string) {
		if !eval[bool](s, `(() => { const f = document.getElementsByName(`+quoted(name)+`)[0]; if (!f) return false; f.value = `+quoted(value)+`; return true; })()`) {
			t.Fatalf("there is no field %s", name)
		}
	}
	eval[bool](s, `document.querySelector('input[name="timing"][value="other"]').checked = true`)
	fill("day", "2026-06-11")
	fill("clock", "09:00")
	fill("results.potassium", "6.1")
	fill("unit.potassium", "mmol/L")
	send := `document.querySelector("form.bloods-form button.main").click(), true`
	eval[bool](s, send)
	s.until("the question", `document.getElementsByName("again.results.potassium").length === 1`)
	if text := s.words(); !strings.Contains(text, "6.1") || !strings.Contains(text, "typed again") {
		t.Errorf("it does not ask: %s", text)
	}
	fill("again.results.potassium", "6.1")
	eval[bool](s, send)
	s.until("the page Dose", `location.pathname.endsWith("/dose")`)
	if text := s.words(); !strings.Contains(text, "6.1") {
		t.Error("the dose does not show it")
	}
}
