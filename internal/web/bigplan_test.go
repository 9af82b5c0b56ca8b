package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A goal of more than four litres is asked about on the plan page, typed a
// second time there, and only then agreed.
func TestLargeGoalIsTypedAgain(t *testing.T) {
	h := home(t, 0, false)
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	h.keep("", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
	rx.DryWeight, rx.Limits = 90_000, session.Limits{}
	h.keep("person-ida", &rx)
	base := h.saved("/p/person-ida/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/weigh_in", "weight_kg", "94.5", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	form := fieldsOf(t, h.see(base+"/plan"), base+"/plan")
	if form.Get("set_goal_ml") != "5050" {
		t.Fatalf("the plan sets %q mL", form.Get("set_goal_ml"))
	}
	status, _, text := h.post(base+"/plan", form)
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, `name="again.set_goal_ml"`) || strings.Contains(text, `name="again.goal_ml"`) {
		t.Fatalf("5.05 L sent once: %d, want one field to type it again\n%s", status, problems(text))
	}
	again := fieldsOf(t, text, base+"/plan")
	again.Set("again.set_goal_ml", "5500")
	if status, _, text = h.post(base+"/plan", again); status != http.StatusUnprocessableEntity || !strings.Contains(text, "then as 5500") {
		t.Errorf("typed again as 5500: %d\n%s", status, problems(text))
	}
	again.Set("again.set_goal_ml", "5050")
	if status, to, text := h.post(base+"/plan", again); status != http.StatusSeeOther || !strings.HasSuffix(to, "/read_back") {
		t.Errorf("typed again as 5050: %d to %s\n%s", status, to, problems(text))
	}
}

// A goal that the unit's limits cut below four litres is not asked about for
// what it would have been.
func TestCutGoalIsNotAskedAbout(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/weigh_in", "weight_kg", "67.6", "again.weight_kg", "67.6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	form := fieldsOf(t, h.see(base+"/plan"), base+"/plan")
	if status, _, text := h.post(base+"/plan", form); status != http.StatusSeeOther || form.Get("goal_ml") <= "4000" {
		t.Errorf("a goal of %s mL, dialled in %s: %d\n%s", form.Get("goal_ml"), form.Get("set_goal_ml"), status, problems(text))
	}
}
