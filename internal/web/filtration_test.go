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

// filteredHouse is a household with an order of haemodiafiltration and a machine of which
// it is said, or not, what its figure for the fluid removed means.
func filteredHouse(t *testing.T, shows string) *house {
	t.Helper()
	h := nobodyIn(t, "Europe/London", instant(t, "2026-11-03T17:00Z"))
	h.keep("p-vida-hribar", &record.Person{Name: "Vida Hribar", BirthYear: 1969, Colour: "fern", Adult: true})
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
	litres := unit.Litres(23_000)
	rx.Filtration, rx.Substitution, rx.SubstitutionPlace = true, &litres, session.SubstitutedAfter
	h.keep("p-vida-hribar", &rx)
	if shows != "" {
		h.keep("", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass", RemovedShows: shows})
	}
	h.rinsed()
	return h
}

// filtered is such a household with a session that runs, 3,200 mL planned, and its address.
func filtered(t *testing.T, shows string) (*house, string) {
	t.Helper()
	h := filteredHouse(t, shows)
	base, _ := h.prepared()
	h.later(10 * time.Minute)
	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	return h, base
}

// A whole session of haemodiafiltration by its pages, on a machine that has the
// substitution fluid in its figure for the fluid removed: what the figure means is asked
// before the start, every figure shown is net, the blood goes back with fluid from the
// machine, and the sheet says all of it.
func TestHaemodiafiltrationByPages(t *testing.T) {
	h := filteredHouse(t, "")
	const asks = "Does your machine's figure for the fluid removed hold the substitution fluid too?"
	h.says(vida+"/unit", asks, "Substitution fluid a session", "23 L", "after the dialyser")
	h.says(vida+"/", asks)
	base, _ := h.prepared()
	h.says(base, "does the machine's “removed” hold the substitution fluid?")
	if page := h.see(base); !strings.Contains(page, `href="/machine?next=`+base) {
		t.Error("the start line does not lead to where it is said")
	}
	if status, _, _ := h.post(base+"/connected", formOf("blood_flow_ml_min", "310")); status != http.StatusUnprocessableEntity {
		t.Errorf("begun though it was not said what the figure means: %d", status)
	}
	machine := fieldsOf(t, h.see("/machine"), "/machine")
	machine.Set("removed_shows", session.RemovedGross)
	if status, _, text := h.post("/machine", machine); status != http.StatusSeeOther {
		t.Fatalf("the machine: %s", problems(text))
	}
	h.silent(base, "hold the substitution fluid?")
	h.silent(vida+"/unit", asks)
	h.says(vida+"/unit", "its figure for the fluid removed has the substitution fluid in it")
	h.says(base+"/plan", "The substitution fluid is not in it")
	h.later(10 * time.Minute)
	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	h.says(base, "Substitution", "of 23 L", "Substitution fluid so far", "From the same look.")

	h.later(time.Hour)
	h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "removed_ml", "6520", "substitution_l", "5.7", "removal_rate_ml_h", "800")
	tiles := plainText(h.see(base))
	for _, words := range []string{"0.82 L", "5.7 L"} { // 6,520 − 5,700 mL
		if !strings.Contains(tiles, words) {
			t.Errorf("running: %q is not there", words)
		}
	}
	// The removed without the other is kept, and it is said that the net is not known.
	h.later(time.Hour)
	h.saved(base+"/reading", "systolic_mmhg", "130", "diastolic_mmhg", "74", "removed_ml", "13100")
	h.says(base, "That fluid was not typed beside it, so what came off you is not known")
	h.later(time.Minute)
	h.saved(base+"/reading", "removed_ml", "13150", "substitution_l", "11.5")
	h.says(base, "1.65 L", "11.5 L")
	// A count that goes back is asked about, with a button for a count that began again.
	status, _, text := h.post(base+"/reading", formOf("removed_ml", "13200", "substitution_l", "1.15"))
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "Did the machine&#39;s counts begin again?") || !strings.Contains(text, `name="counter_began_again" value="yes"`) {
		t.Errorf("a count that went back: %d\n%s", status, problems(text))
	}
	h.later(109 * time.Minute)
	h.says(base+"/washback?ticks=1", "Saline or machine fluid is on the arterial line", "With machine fluid: the lines must get clearer.")
	h.lookedFirst(base)
	h.says(base+"/washback", "The blood was given back with", "fluid from the machine", "and of the substitution fluid, from one look", "Watch the lines: they must get clearer.")
	h.saved(base+"/came_off", "washback_ml", "250", "washback_with", "machine_fluid", "removed_ml", "26200", "substitution_l", "23", "returned", "all")
	h.says(base, "3.20 L")
	h.later(20 * time.Minute)
	h.saved(base+"/weigh_out", "weight_kg", "63.2", "again.weight_kg", "63.2", "clothing_kg", "0", "scale", "bathroom scale")
	h.saved(base+"/closed", "machine_treated_min", "230")
	sheet := plainText(h.see(base + "/sheet"))
	for _, words := range []string{
		"substitution 23 L, after the dialyser", "Subst.", "Removed with subst.", "11.5",
		"3200 mL, 26200 mL with the substitution fluid", "Substitution 23 L", "250 mL, fluid from the machine",
	} {
		if !strings.Contains(sheet, words) {
			t.Errorf("the sheet does not say %q", words)
		}
	}
	if strings.Contains(sheet, "over the goal") {
		t.Error("the sheet remarks on a figure that is not net")
	}
}

// The fields of haemodiafiltration are on the forms of such a session alone.
func TestFieldsOfHaemodiafiltration(t *testing.T) {
	h, base := runs(t)
	h.silent(base, "Substitution fluid so far", "Substitution")
	h.silent(base+"/reading", "Substitution fluid so far")
	h.silent(base+"/washback?ticks=1", "machine fluid")
	h.lookedFirst(base)
	h.silent(base+"/washback", "The blood was given back with", "Substitution fluid in all", "they must get clearer")

	h, base = filtered(t, session.RemovedNet)
	h.says(base, "Substitution fluid so far", "Substitution")
	h.silent(base, "From the same look.")
	h.later(time.Hour)
	h.saved(base+"/reading", "removed_ml", "820", "substitution_l", "5.7")
	h.says(base, "0.82 L", "5.7 L")
	h.refused(base+"/reading", "needs 0 to 10000", "removed_ml", "13000", "substitution_l", "11.5")
	h.lookedFirst(base)
	h.says(base+"/washback", "The blood was given back with", "Substitution fluid in all")
}

// A new order of haemodiafiltration that does not say how much, or where, is asked about
// before it is kept; the terms without the tick are refused.
func TestOrderOfHaemodiafiltration(t *testing.T) {
	h := filteredHouse(t, session.RemovedNet)
	path := vida + "/prescription/new"
	form := fieldsOf(t, h.see(path), path)
	for key, value := range map[string]string{"ordered_by": "Dr Q (invented)", "ordered_on": "2026-11-02", "valid_from": "2026-11-03", "how": "paper"} {
		form.Set(key, value)
	}
	form.Del("substitution_l")
	form.Del("substitution_place")
	_, _, text := h.post(path, form)
	for _, words := range []string{"not how much substitution fluid a session has", "not where the fluid is added"} {
		if !strings.Contains(plainText(text), words) {
			t.Errorf("the look does not ask: %q\n%s", words, problems(text))
		}
	}
	form.Set("substitution_l", "21")
	form.Set("substitution_place", "mixed")
	if _, _, text = h.post(path, form); strings.Contains(plainText(text), "not how much substitution fluid") || !strings.Contains(plainText(text), "before and after it") {
		t.Errorf("both are written: %s", problems(text))
	}
	form.Del("haemodiafiltration")
	status, _, text := h.post(path, form)
	if status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), "haemodiafiltration is not ticked. Tick it, or leave this blank") {
		t.Errorf("without the tick: %d\n%s", status, problems(text))
	}
}

// Help does not wait for another figure: what one yes leaves in doubt keeps both counts
// together, or what came off could not be told from either.
func TestOneYesKeepsBothCountsTogether(t *testing.T) {
	h, base := filtered(t, session.RemovedGross)
	h.later(time.Hour)
	h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "removed_ml", "6520", "substitution_l", "5.7")
	h.later(10 * time.Minute)
	status, to, _ := h.post(base+"/reading", formOf("systolic_mmhg", "74", "diastolic_mmhg", "41", "removed_ml", "9000", "substitution_l", "5.9", "yes", "diastolic_mmhg=41&systolic_mmhg=74"))
	if status != http.StatusSeeOther || !strings.Contains(to, "removed_ml=9000") || !strings.Contains(to, "substitution_l=5.9") {
		t.Errorf("%d, left over: %s", status, to)
	}
}
