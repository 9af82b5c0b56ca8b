package web

import (
	"net/http"
	"strings"
	"testing"

	"ebbline/record"
)

// The first steps, from an empty file to a household that can begin a session.
func TestFirstSteps(t *testing.T) {
	h := home(t, 0, false)
	h.says("/", "Who dialyses", "Why it is asked", "ebbline demo")
	h.silent("/", "Later") // there is nothing to skip to before there is somebody

	h.refused("/first/who", "is still blank", "person", "person-new-1", "birth_year", "1971", "colour", "reed")
	status, _, text := h.post("/first/who", formOf("person", "person-new-1", "name", "Ida Brook", "birth_year", "2971", "colour", "reed"))
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, `value="Ida Brook"`) || !strings.Contains(text, `value="2971"`) || !strings.Contains(text, `value="person-new-1"`) {
		t.Errorf("%d: what was typed did not come back\n%s", status, problems(text))
	}
	form := formOf("id", "entry-of-ida", "person", "person-new-1", "name", "Ida Brook", "birth_year", "1971", "colour", "reed", "adult", "yes", "next", "/first?step=unit")
	for range 2 { // pressed twice, one person
		if status, to, text := h.post("/first/who", form); status != http.StatusSeeOther || to != "/first?step=unit" {
			t.Fatalf("%d to %s: %s", status, to, problems(text))
		}
	}
	h.desk.View(func(s *record.Household) {
		if len(s.People) != 1 || len(s.People[0].Person) != 1 {
			t.Errorf("%d people", len(s.People))
		}
	})

	h.says("/first?step=unit", "Why it is asked", "Later", "Telephone at night")
	h.saved("/first/unit", "name", "Unit by the mill", "day_phone", "1", "night_phone", "2", "ambulance_phone", "112")
	h.says("/first", "Your machine", "digits")
	h.refused("/first/machine", "0 to 3", "name", "it", "goal_unit", "L", "goal_decimals", "4", "kind", "single_pass")
	_, _, text = h.post("/first/machine", formOf("name", "it", "goal_unit", "L"))
	if want := `Look again at: <a href="#at-machine-goal_decimals">Digits after the point</a>, <a href="#at-machine-kind">Kind</a>.`; !strings.Contains(text, want) || !strings.Contains(text, `id="at-machine-kind"`) {
		t.Errorf("what lies further down is not pointed out above: %s", problems(text))
	}
	if to := h.saved("/first/machine", "name", "it", "goal_unit", "L", "goal_decimals", "2", "kind", "single_pass", "next", "/first?step=prescription"); to != "/first?step=prescription" {
		t.Errorf("after the machine: %s", to)
	}
	h.says("/first", "Write down the prescription", "Later")
	h.says("/", "Your prescription is not written down yet", "Not known yet")
	h.silent("/", "The machine is not described", "No telephone number of your unit")
}

// Steps left out are said on Today, with where to go.
func TestFirstStepsSkipped(t *testing.T) {
	h := home(t, 0, false)
	h.saved("/first/who", "person", "person-new-1", "name", "Ida Brook", "birth_year", "1971", "colour", "reed")
	text := h.see("/p/person-new-1/")
	for _, link := range []string{"/p/person-new-1/machine?next=/p/person-new-1/", "/p/person-new-1/kidney-unit?next=/p/person-new-1/", "/p/person-new-1/prescription/new"} {
		if !strings.Contains(text, `href="`+link+`"`) {
			t.Errorf("Today does not lead to %s", link)
		}
	}
	if status, _ := h.get("/first?step=who"); status != http.StatusOK {
		t.Errorf("a step that is done: %d", status)
	}
	if status, _, _ := h.post("/first/nothing", formOf()); status != http.StatusNotFound {
		t.Errorf("a step that there is not: %d", status)
	}
}
