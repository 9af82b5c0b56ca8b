package web

import (
	"context"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

const vida = "/p/p-vida-hribar"

// form makes the values of a form from pairs.
func formOf(pairs ...string) url.Values {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		v.Add(pairs[i], pairs[i+1])
	}
	return v
}

// saved posts a form that must be taken, and returns where it leads.
func (h *house) saved(path string, pairs ...string) string {
	h.t.Helper()
	status, to, text := h.post(path, formOf(pairs...))
	if status != http.StatusSeeOther {
		h.t.Fatalf("POST %s: %d\n%s", path, status, problems(text))
	}
	return to
}

// refused posts a form that must come back with these words.
func (h *house) refused(path, words string, pairs ...string) {
	h.t.Helper()
	status, _, text := h.post(path, formOf(pairs...))
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, words) {
		h.t.Errorf("POST %s: %d, want it back with %q\n%s", path, status, words, problems(text))
	}
}

// problems cuts what a page complains of out of its text.
func problems(text string) string {
	var found []string
	for _, mark := range []string{`class="refused"`, `class="asks"`, `class="unsaved"`, `class="lead"`} {
		rest := text
		for {
			i := strings.Index(rest, mark)
			if i < 0 {
				break
			}
			rest = rest[i:]
			end := strings.Index(rest, "</p>")
			if end < 0 {
				break
			}
			found = append(found, rest[:end])
			rest = rest[end:]
		}
	}
	return strings.Join(found, "\n")
}

// setUp opens a session and writes down everything up to the agreed plan.
func (h *house) setUp() (base string) {
	h.t.Helper()
	base = h.withoutHeparin()
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "H1", "expiry", "2027-01-31")
	return base
}

// withoutHeparin is the same for somebody who is ordered none.
func (h *house) withoutHeparin() (base string) {
	h.t.Helper()
	base = h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.saved(base+"/access_check", "thrill", "present", "bruit", "present", "skin", "clean")
	h.saved(base+"/weigh_in", "weight_kg", "64,6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "78", "pulse_per_min", "70", "temperature_c", "36.5")
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12", "sample_point", "first_carbon")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	h.saved(base+"/fluid_check", "machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.95", "machine_temperature_c", "36", "meter_temperature_c", "36.1")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	h.opened(base)
	return base
}

// opened writes down the lots that the invented household opens each time.
func (h *house) opened(base string) {
	h.t.Helper()
	for _, item := range []string{"dialyser", "lines", "needles", "saline", "bicarbonate cartridge"} {
		h.saved(base+"/supply", "item", item, "lot", "L1", "expiry", "2027-01-31")
	}
	h.saved(base+"/flush_drawn", "count", "2", "each_ml", "10", "lot", "F1", "expiry", "2027-01-31")
}

// later moves the clock on.
func (h *house) later(d time.Duration) { h.now = h.now.Add(d) }

// plan returns the plan that the page would send.
func (h *house) plan(base string) url.Values {
	h.t.Helper()
	values := url.Values{}
	h.desk.View(func(rec *record.Household) {
		m := rec.Member("p-vida-hribar")
		s := rec.Session(base[strings.LastIndex(base, "/")+1:])
		made, err := session.MakePlan(s, session.Choices{}, m.History(s), h.now)
		if err != nil {
			h.t.Fatal(err)
		}
		kind, _ := record.Find("plan")
		for _, f := range kind.Fields {
			values.Set(f.Key, f.Text(&made.AgreedPlan))
		}
	})
	return values
}

// dialled is a goal in the digits of the session's machine.
func (h *house) dialled(base, ml string) (digits string) {
	h.t.Helper()
	goal, err := strconv.Atoi(ml)
	if err != nil {
		h.t.Fatal(err)
	}
	h.desk.View(func(rec *record.Household) {
		shown, err := rec.Session(base[strings.LastIndex(base, "/")+1:]).Machine.ShowGoal(unit.Volume(goal))
		if err != nil {
			h.t.Fatal(err)
		}
		digits, _, _ = strings.Cut(shown, "\u00a0")
	})
	return digits
}

// begin brings a fresh session to treatment.
func (h *house) begin() (base string) {
	h.t.Helper()
	return h.goesOn(h.setUp())
}

// goesOn brings a session that is set up to treatment.
func (h *house) goesOn(base string) string {
	h.t.Helper()
	plan := h.plan(base)
	if status, _, text := h.post(base+"/plan", plan); status != http.StatusSeeOther {
		h.t.Fatalf("the plan was not taken: %s", problems(text))
	}
	h.saved(base+"/read_back", "shown", h.dialled(base, plan.Get("set_goal_ml")), "machine_length_min", plan.Get("length_min"))
	h.saved(base+"/needling", "arterial_site", "A1", "venous_site", "V1", "arterial_gauge", "16", "venous_gauge", "16", "arterial_tries", "1", "venous_tries", "1")
	h.later(time.Minute)
	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	return base
}

// A whole session from setting up to the printed sheet, with plain forms and
// no script at all.
func TestWholeSessionWithoutScript(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	if _, text := h.get(base); !strings.Contains(text, "cannot see the machine") {
		t.Error("the running page does not say that it is blind")
	}
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "pulse_per_min", "71", "blood_flow_ml_min", "310", "arterial_mmhg", "-150", "venous_mmhg", "135", "tmp_mmhg", "60", "removal_rate_ml_h", "600", "removed_ml", "50")
	h.later(time.Hour)
	h.saved(base+"/event/drink", "volume_ml", "150")
	h.saved(base + "/event/lie_back")
	h.saved(base + "/event/pause")
	h.later(10 * time.Minute)
	if text := plainText(h.see(base)); !strings.Contains(text, "Paused") || !strings.Contains(strings.ReplaceAll(text, "\u00a0", " "), "10 min") || strings.Contains(text, "()") {
		t.Errorf("a paused treatment is not said to be paused, and for how long:\n%s", text)
	}
	h.saved(base + "/event/resume")
	h.later(10 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "128", "diastolic_mmhg", "74", "venous_mmhg", "112", "blood_flow_ml_min", "310", "removed_ml", "750")
	if _, text := h.get(base); !strings.Contains(text, "needles and lines first") && !strings.Contains(text, "both needles") {
		t.Error("venous pressure fell by 23 at the same flow and the page says nothing")
	}
	h.later(3 * time.Hour)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "2400", "returned", "all")
	h.later(15 * time.Minute)
	h.saved(base+"/holding", "arterial_min", "10", "venous_min", "12", "thrill", "present")
	h.saved(base+"/vitals_after", "lying_systolic_mmhg", "124", "lying_diastolic_mmhg", "70", "standing_systolic_mmhg", "118", "standing_diastolic_mmhg", "68")
	h.saved(base+"/weigh_out", "weight_kg", "63.4", "clothing_kg", "0", "scale", "bathroom scale")
	h.saved(base+"/circuit", "grade_0_3", "0")
	h.saved(base+"/disinfection", "programme", "heat", "result", "passed")
	h.refused(base+"/closed", "by your entries the treatment lasted 4\u00a0h\u00a015\u00a0min", "machine_treated_min", "265", "feel", "well")
	h.saved(base+"/closed", "machine_treated_min", "265", "again.machine_treated_min", "265", "feel", "well")
	status, text := h.get(base + "/sheet")
	if status != http.StatusOK {
		t.Fatalf("the sheet: %d", status)
	}
	for _, want := range []string{"Vida Hribar", "1969", "64.6", "132/76", "DEMONSTRATION"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not hold %q", want)
		}
	}
}

// What a person typed wrong comes back as typed, with a sentence, and nothing
// is saved.
func TestBadInputComesBackAsTyped(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	for _, tt := range []struct {
		path, words string
		pairs       []string
	}{
		{"/weigh_in", "needs at most 3 decimals", []string{"weight_kg", "65.4321", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}},
		{"/weigh_in", "typed again", []string{"weight_kg", "56.4", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}},
		{"/weigh_in", "needs 20 to 300", []string{"weight_kg", "646", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}},
		{"/weigh_in", "still blank", []string{"weight_kg", "", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}},
		{"/chlorine", "is not a", []string{"total_chlorine_mg_l", "0.02", "method", "strip", "reads_down_to_mg_l", "0.1", "lot", "C1", "expiry", "03/04/27", "sample_point", "first_carbon"}},
		{"/self_test", "whole number", []string{"passed", "yes", "tries", "one"}},
		{"/vitals_before", "10 or more below", []string{"sitting_systolic_mmhg", "120", "sitting_diastolic_mmhg", "115"}},
	} {
		path, words := tt.path, tt.words
		before := entries(h)
		status, _, text := h.post(base+path, formOf(tt.pairs...))
		if status != http.StatusUnprocessableEntity || !strings.Contains(text, words) {
			t.Errorf("%s %v: %d, want it back with %q\n%s", path, tt.pairs, status, words, problems(text))
		}
		if typed := tt.pairs[1]; typed != "" && !strings.Contains(text, `value="`+typed+`"`) {
			t.Errorf("%s: what was typed, %q, is not in the form", path, typed)
		}
		if entries(h) != before {
			t.Errorf("%s %v was saved", path, tt.pairs)
		}
	}
}

func entries(h *house) (n int) {
	h.desk.View(func(r *record.Household) { n = r.Entries() })
	return n
}

// A slip that is typed a second time is taken; one that is not stays asked.
func TestAskedWeightIsTypedAgain(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	slip := []string{"weight_kg", "67.9", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}
	h.refused(base+"/weigh_in", "typed again", slip...)
	h.refused(base+"/weigh_in", "then as 67.8", append(slip, "again.weight_kg", "67.8")...)
	h.saved(base+"/weigh_in", append(slip, "again.weight_kg", "67,90")...)
}

// Read back: 32, 3.02, 2.3 and 3200 for a goal in litres stop with both
// numbers side by side (H-11).
func TestReadBackStops(t *testing.T) {
	h := home(t, 2, false)
	base := h.setUp()
	plan := h.plan(base)
	if status, _, text := h.post(base+"/plan", plan); status != http.StatusSeeOther {
		t.Fatalf("the plan was not taken: %s", problems(text))
	}
	goal := plan.Get("set_goal_ml")
	right := goal[:1] + "." + goal[1:3]
	for _, wrong := range []string{goal[:1] + goal[1:2], goal[:1] + ".0" + goal[1:2], goal[1:2] + "." + goal[:1]} {
		status, to, text := h.post(base+"/read_back", formOf("shown", wrong, "machine_length_min", plan.Get("length_min")))
		switch {
		case status == http.StatusUnprocessableEntity:
			continue // not a goal at all
		case status != http.StatusSeeOther || !strings.HasSuffix(to, "/read_back"):
			t.Errorf("shown %q: %d to %s\n%s", wrong, status, to, problems(text))
			continue
		}
		if _, text := h.get(to); !strings.Contains(text, "Plan and machine differ") {
			t.Errorf("shown %q: the page does not set both numbers side by side", wrong)
		}
		if _, text := h.get(base); !strings.Contains(text, `href="`+base+`/read_back">Write it down`) {
			t.Errorf("shown %q: the step of dialling in counts as done", wrong)
		}
	}
	if status, _, text := h.post(base+"/connected", formOf()); status != http.StatusUnprocessableEntity {
		t.Errorf("treatment began with a machine that shows another goal: %d %s", status, problems(text))
	}
	h.refused(base+"/read_back", "“2..6” is not accepted", "shown", "2..6", "machine_length_min", plan.Get("length_min"))
	h.refused(base+"/read_back", "is still blank", "shown", "", "machine_length_min", plan.Get("length_min"))
	h.saved(base+"/read_back", "shown", right, "machine_length_min", plan.Get("length_min"))
	h.saved(base + "/connected")
}

// The record makes its own plan and takes the page's only when they agree.
func TestPlanOfAnOldPage(t *testing.T) {
	h := home(t, 2, false)
	base := h.setUp()
	old := h.plan(base)
	h.saved(base+"/weigh_in", "weight_kg", "64.3", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	if status, _, _ := h.post(base+"/plan", old); status != http.StatusUnprocessableEntity {
		t.Errorf("a plan made before the new weight: %d", status)
	}
}

// A plan that was agreed and then overtaken by another weight is not offered
// as the plan, nor read back without a word.
func TestPlanOvertakenByAWeight(t *testing.T) {
	h := home(t, 2, false)
	base := h.setUp()
	if status, _, text := h.post(base+"/plan", h.plan(base)); status != http.StatusSeeOther {
		t.Fatalf("the plan was not taken: %s", problems(text))
	}
	for again, want := range map[string]string{base: ">Plan again</a>", base + "/read_back": "Plan again."} {
		if _, text := h.get(again); strings.Contains(text, want) {
			t.Errorf("%s says %q of a plan that stands", again, want)
		}
	}
	h.saved(base+"/weigh_in", "weight_kg", "64.3", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	h.saved(base+"/read_back", "shown", "2.60", "machine_length_min", "240")
	for again, want := range map[string]string{base: ">Plan again</a>", base + "/read_back": "Plan again."} {
		if _, text := h.get(again); !strings.Contains(text, want) {
			t.Errorf("%s does not say %q", again, want)
		}
	}
	if status, _, text := h.post(base+"/plan", h.plan(base)); status != http.StatusSeeOther {
		t.Fatalf("the new plan was not taken: %s", problems(text))
	}
	if text := h.see(base + "/sheet"); !strings.Contains(text, "Plan agreed: ") || strings.Contains(text, "weighing ") {
		t.Error("the first plan has no note on the sheet, or one that names entries by their ids")
	}
}

// A session whose beginning was struck out offers nothing to go on with.
func TestStruckSessionIsOver(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.says(base, "Start line")
	first := regexp.MustCompile(`/entry/(\w+)`).FindStringSubmatch(h.see(base + "/sheet"))
	h.saved(base+"/entry/"+first[1]+"/strike", "reason", "begun by mistake")
	if text := h.see(base); strings.Contains(text, "/weigh_in") || !strings.Contains(text, "begun by mistake") {
		t.Errorf("a struck session is still to be set up:\n%s", plainText(text))
	}
}

// Measured inputs are empty on load and are not completed by the browser (CC4).
func TestMeasuredInputsAreEmpty(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	forms := 0
	for _, k := range record.Kinds() {
		if !k.Session || k.Name == "session_opened" || k.Name == "plan" {
			continue
		}
		status, text := h.get(base + "/" + k.Name)
		if status != http.StatusOK {
			t.Errorf("%s: %d", k.Name, status)
		}
		forms++
		for _, f := range k.Fields {
			tag := inputTag(text, f.Key)
			if !f.Measured || tag == "" || f.Choices != nil {
				continue
			}
			if !strings.Contains(tag, `value=""`) || !strings.Contains(tag, `autocomplete="off"`) {
				t.Errorf("%s.%s is filled in beforehand: %s", k.Name, f.Key, tag)
			}
		}
	}
	if forms < 25 {
		t.Errorf("only %d forms were looked at", forms)
	}
}

func inputTag(text, key string) string {
	i := strings.Index(text, `name="`+key+`"`)
	if i < 0 {
		return ""
	}
	start := strings.LastIndex(text[:i], "<")
	end := strings.Index(text[i:], ">")
	return text[start : i+end+1]
}

// A form that could not be written keeps what was typed and says so (CC18).
func TestNotSavedKeepsTheValue(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	if err := h.desk.Close(); err != nil {
		t.Fatal(err)
	}
	status, _, text := h.post(base+"/drink", formOf("volume_ml", "175"))
	if status != http.StatusServiceUnavailable || !strings.Contains(text, "NOT SAVED") || !strings.Contains(text, `value="175"`) {
		t.Errorf("after the record is gone: %d, want NOT SAVED and the value kept\n%s", status, problems(text))
	}
	_ = context.Background
}
