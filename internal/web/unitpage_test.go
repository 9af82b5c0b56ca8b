package web

import (
	"html"
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

func TestUnitPage(t *testing.T) {
	h, ida := settled(t)
	h.says(ida+"/unit", "Unit by the mill (invented)", "Unit, at night", "+000 1 99", "Nothing is waiting to be asked", "No card from your unit yet", "Ida Brook", "In force since 22 May 2026", "1 version", "fluid from tap water, goal in L with 2 digits after the point, does not add the washback")
	if text := html.UnescapeString(h.see(ida + "/unit")); !strings.Contains(text, `href="tel:+000199"`) {
		t.Error("the numbers cannot be rung from the page")
	}
}

func TestUnitPageOfNothing(t *testing.T) {
	h := home(t, 0, false)
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed"})
	h.says("/p/person-ida/unit", "No number is written down", "Not written down yet", "The machine is not described yet", "None written down")
}

func TestQuestions(t *testing.T) {
	h, ida := settled(t)
	h.refused(ida+"/question", "is still blank", "words", "  ")
	if to := h.saved(ida+"/question", "words", "Why is the bath 2.0 and not 3.0?", "next", ida+"/unit#questions"); to != ida+"/unit#questions" {
		t.Errorf("to %s", to)
	}
	h.says(ida+"/unit", "Why is the bath 2.0 and not 3.0?", "Thu 11 Jun")
	var id string
	h.member("person-ida", func(m *record.Member) { id = m.Questions[0].ID })
	strike := ida + "/unit/strike/" + id
	h.says(strike, "Why is the bath 2.0", "It stays in sight")
	h.refused(strike, "say in a word or two why", "reason", "k")
	h.saved(strike, "reason", "asked on Friday: it was too low")
	h.says(ida+"/unit", "Asked and answered (1)", "asked on Friday: it was too low", "Nothing is waiting to be asked")
	for path, want := range map[string]int{strike: http.StatusNotFound, ida + "/unit/strike/nothing-here": http.StatusNotFound} {
		if status, _ := h.get(path); status != want {
			t.Errorf("%s: %d", path, status)
		}
	}
}

// A dry weight from before a stay in hospital is called old everywhere, until
// the stay is struck out or the weight is set again.
func TestStays(t *testing.T) {
	h, ida := settled(t)
	h.refused(ida+"/stay", "is still blank", "from", "2026-06-01")
	h.saved(ida+"/stay", "from", "2026-06-01", "to", "2026-06-04", "why", "a fall")
	for _, page := range []string{"/", "/unit", "/session"} {
		h.says(ida+page, "older than the hospital stay that ended on 4 June 2026")
	}
	h.says(ida+"/unit", "1 June 2026 to 4 June 2026: a fall")
	var id string
	h.member("person-ida", func(m *record.Member) { id = m.Stays[0].ID })
	h.saved(ida+"/unit/strike/"+id, "reason", "that was last year")
	h.silent(ida+"/", "hospital stay")
	h.says(ida+"/unit", "that was last year")
}

func TestNumbersAndMachineAnew(t *testing.T) {
	h, ida := settled(t)
	form := fieldsOf(t, h.see(ida+"/kidney-unit?next="+ida+"/"), ida+"/kidney-unit")
	if form.Get("night_phone") != "+000 1 99" || form.Get("next") != ida+"/" {
		t.Errorf("begins with %v", form)
	}
	form.Set("night_phone", "+000 1 77")
	if status, to, text := h.post(ida+"/kidney-unit", form); status != http.StatusSeeOther || to != ida+"/" {
		t.Errorf("%d to %s %s", status, to, problems(text))
	}
	h.says(ida+"/unit", "+000 1 77")
	h.says(ida+"/card", "+000 1 77")

	machine := fieldsOf(t, h.see("/machine"), "/machine")
	machine.Set("adds_washback", "yes")
	machine.Set("goal_step_ml", "100")
	if status, to, text := h.post("/machine", machine); status != http.StatusSeeOther || to != "/" {
		t.Errorf("%d to %s %s", status, to, problems(text))
	}
	h.says(ida+"/unit", "adds the washback")
	h.desk.View(func(s *record.Household) {
		if len(s.Machine) != 2 || len(s.Unit) != 2 {
			t.Errorf("%d machines, %d units: each change is a version", len(s.Machine), len(s.Unit))
		}
	})
	h.saved(ida+"/person", "name", "Ida Brook", "birth_year", "1971", "colour", "reed", "adult", "yes", "allergies", "iodine")
	h.says(ida+"/card", "Allergies: iodine")
}

func TestOldNumbersAreToBeTried(t *testing.T) {
	h, ida := settled(t)
	const ask = "Ring each number once"
	h.later(183 * 24 * time.Hour)
	h.silent(ida+"/unit", ask)
	h.later(time.Hour)
	h.says(ida+"/unit", ask)
	form := fieldsOf(t, h.see(ida+"/kidney-unit"), ida+"/kidney-unit")
	if status, _, text := h.post(ida+"/kidney-unit", form); status != http.StatusSeeOther {
		t.Fatalf("%d %s", status, problems(text))
	}
	h.silent(ida+"/unit", ask)
}

// Reviews that are due stand on the page.
func TestStaleReviews(t *testing.T) {
	h, ida := settled(t)
	h.silent(ida+"/unit", "Ring each number once")
	h.now = h.now.AddDate(2, 0, 0)
	h.says(ida+"/unit", "More than half a year ago. Ring each number once. Keep them again")
	h.says(ida+"/unit", "was due for review on")
	h.member("person-ida", func(m *record.Member) {
		if n := len(m.Stale(unit.DateOf(h.now))); n != 2 {
			t.Errorf("%d values are stale, want the dry weight and the prescription", n)
		}
	})
}
