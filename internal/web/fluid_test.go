package web

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// described makes the machine of the house one of another kind, rinsed and tested.
func (h *house) described(kind string) {
	h.t.Helper()
	h.saved(vida+"/machine", "name", "the machine", "goal_unit", "L", "goal_decimals", "2", "kind", kind)
	h.later(time.Minute)
	h.rinsed()
	h.later(time.Minute)
}

// upTo opens a session and writes down everything but what is of the fluid.
func (h *house) upTo() (base string) {
	h.t.Helper()
	base = h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.saved(base+"/access_check", "thrill", "present", "bruit", "present", "skin", "clean")
	h.saved(base+"/weigh_in", "weight_kg", "64,6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "78", "pulse_per_min", "70", "temperature_c", "36.5")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	h.opened(base)
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "H1", "expiry", "2027-01-31")
	return base
}

// fluidLine gives the checks of the fluid of a session.
func (h *house) fluidLine(base string) (words map[string]string, ready bool) {
	h.t.Helper()
	words, ready = map[string]string{}, true
	h.desk.View(func(rec *record.Household) {
		s := rec.Session(base[strings.LastIndex(base, "/")+1:])
		for _, c := range session.StartLine(s, rec.Member(s.Person).History(s), h.now) {
			if slices.Contains([]string{session.CheckChlorine, session.CheckConduct, session.CheckBath}, c.ID) {
				words[c.ID] = string(c.State) + ": " + c.Words
				ready = ready && c.State == session.Ready
			}
		}
	})
	return words, ready
}

// treated agrees the plan of a session that is set up, and begins its treatment.
func (h *house) treated(base string) {
	h.t.Helper()
	plan := h.plan(base)
	for _, key := range []string{"set_goal_ml", "intake_ml", "goal_ml"} {
		plan.Set("again."+key, plan.Get(key))
	}
	if status, _, text := h.post(base+"/plan", plan); status != http.StatusSeeOther {
		h.t.Fatalf("the plan was not taken: %s", problems(text))
	}
	h.saved(base+"/read_back", "shown", h.dialled(base, plan.Get("set_goal_ml")), "machine_length_min", plan.Get("length_min"))
	h.saved(base+"/needling", "arterial_site", "A1", "venous_site", "V1", "arterial_gauge", "16", "venous_gauge", "16", "arterial_tries", "1", "venous_tries", "1")
	h.later(time.Minute)
	h.saved(base+"/connected", "blood_flow_ml_min", "310")
}

// ended ends the treatment, closes the session, and gives its sheet as it is read.
func (h *house) ended(base string) (sheet string) {
	h.t.Helper()
	h.later(4 * time.Hour)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "2400", "returned", "all")
	h.later(15 * time.Minute)
	h.saved(base+"/holding", "arterial_min", "10", "venous_min", "12", "thrill", "present")
	h.saved(base+"/vitals_after", "lying_systolic_mmhg", "124", "lying_diastolic_mmhg", "70", "standing_systolic_mmhg", "118", "standing_diastolic_mmhg", "68")
	h.saved(base+"/weigh_out", "weight_kg", "63.4", "clothing_kg", "0", "scale", "bathroom scale")
	h.saved(base+"/circuit", "grade_0_3", "0")
	h.saved(base+"/disinfection", "programme", "heat", "result", "passed")
	h.saved(base+"/closed", "feel", "well")
	return plainText(h.see(base + "/sheet"))
}

// Two whole sessions from one batch, with plain forms and no script: it is made and
// tested once, named with one tap each time, and past its use-by it is not offered.
func TestTwoSessionsFromOneBatch(t *testing.T) {
	h := home(t, 2, false)
	h.described("batch")
	h.says(vida+"/round/water", "Batches", "None is written down.")
	h.saved(vida+"/round/batch", "name", "7", "use_within_h", "60", "conductivity_low_ms_cm", "13.6", "conductivity_high_ms_cm", "14.2",
		"label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "A-31", "expiry", "2026-12-31")
	made, id := h.now, ""
	h.desk.View(func(rec *record.Household) { id = rec.Batches(h.now)[0].ID })
	name := "“7” of " + made.Format("Mon 15:04")
	h.says(vida+"/round/water", "Batch "+name, "use by "+made.Add(60*time.Hour).Format("Mon 15:04"), "Not tested yet.")
	h.later(10 * time.Minute)

	first := h.upTo()
	h.says(first, "Which batch?", "From the batch "+name, "Not said from which batch")
	h.silent(first, "Water plant rinses", "Water on")
	h.saved(first+"/batch_used", "batch_id", id)
	h.silent(first, "Which batch?")
	if words, _ := h.fluidLine(first); !strings.HasPrefix(words[session.CheckChlorine], "open: Batch "+name+": not tested") || !strings.HasPrefix(words[session.CheckConduct], "open") {
		t.Errorf("not tested: %v", words)
	}
	h.refused(vida+"/round/batch/"+id+"/test", "still blank: type what was measured", "method", "reagent")
	h.saved(vida+"/round/batch/"+id+"/test", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12-31",
		"machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.95")
	h.says(vida+"/round/water", "total chlorine less than 0.02", "machine 13.90 mS/cm, own meter 13.95 mS/cm", "In use.")
	if words, ready := h.fluidLine(first); !ready {
		t.Errorf("tested: %v", words)
	}
	h.treated(first)
	if sheet := h.ended(first); !strings.Contains(sheet, "batch "+name) || !strings.Contains(sheet, "see the batch") || !strings.Contains(sheet, "lot A-31") {
		t.Errorf("the first sheet does not say which batch, with its tests:\n%s", sheet)
	}

	h.later(30 * time.Hour)
	second := h.upTo()
	h.says(second, "From the batch "+name)
	h.saved(second+"/batch_used", "batch_id", id)
	if words, ready := h.fluidLine(second); !ready || !strings.Contains(words[session.CheckBath], "Batch "+name+", use by") {
		t.Errorf("the second session from it: %v", words)
	}
	h.treated(second)
	if sheet := h.ended(second); !strings.Contains(sheet, "batch "+name) || !strings.Contains(sheet, "see the batch") {
		t.Errorf("the second sheet does not say which batch:\n%s", sheet)
	}

	h.later(40 * time.Hour)
	third := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.silent(third, "From the batch "+name)
	h.says(vida+"/round/water", "past its use-by")
	h.saved(third+"/batch_used", "batch_id", id)
	h.says(third, "past its use-by")
	if words, _ := h.fluidLine(third); !strings.HasPrefix(words[session.CheckBath], "stop") {
		t.Errorf("past its use-by: %v", words)
	}
	h.saved(vida+"/kept/"+id, "reason", "the tank was emptied and cleaned")
	if words, _ := h.fluidLine(third); !strings.HasPrefix(words[session.CheckBath], "open") || !strings.Contains(words[session.CheckBath], "struck out") {
		t.Errorf("struck out: %v", words)
	}
	h.silent(vida+"/round/water", "Batch "+name)
}

// When a batch was made is said, and others are one tap each; its range and hours are
// those of the last one only once that is asked for.
func TestWritingABatchDown(t *testing.T) {
	h := home(t, 2, false)
	h.described("batch")
	page := vida + "/round/batch"
	now := func(ago time.Duration) string { return h.now.Add(-ago).Format("Mon 15:04") }
	first := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.says(first, "Which batch?", "None is written down that may still be used", "Which batch is it? None is written down", "Write down a batch")
	h.says(page, "Made now, "+now(0), "30 min ago")
	h.silent(page, "As last time")
	h.saved(page, "use_within_h", "60", "conductivity_low_ms_cm", "13.6", "conductivity_high_ms_cm", "14.2")
	h.later(time.Hour)
	values := func(address string) (range_, clock string) {
		form := fieldsOf(t, h.see(address), page)
		return form.Get("use_within_h") + " " + form.Get("conductivity_low_ms_cm") + " " + form.Get("conductivity_high_ms_cm"), form.Get("clock")
	}
	h.says(page, "As last time: use within 60 h, conductivity 13.60 to 14.20 mS/cm")
	if is, clock := values(page); is != "  " || clock != "" {
		t.Errorf("an empty form holds %q, made at %q", is, clock)
	}
	h.says(page+"?last=yes", "Hold both against this label", "As last time: hold it against the label.")
	if is, _ := values(page + "?last=yes"); is != "60 13.6 14.2" && is != "60 13.60 14.20" {
		t.Errorf("as last time: %q", is)
	}
	h.says(page+"?ago=60&last=yes", "Made 60 min ago, "+now(time.Hour))
	if !strings.Contains(h.see(page+"?ago=60&last=yes"), `href="`+page+`?ago=120&amp;last=yes"`) {
		t.Error("another time drops what was asked for before")
	}
	if _, clock := values(page + "?ago=60"); clock != h.now.Add(-time.Hour).Format("15:04") {
		t.Errorf("an hour ago is %q", clock)
	}
	h.says(page+"?ago=61", "Made now, ")
}

// A whole session with ready bags: no step and no check asks for the water, each bag is
// looked at, one hung in the run too.
func TestWholeSessionWithBags(t *testing.T) {
	h := home(t, 2, false)
	h.described("bags")
	base := h.upTo()
	h.silent(base, "Water plant rinses", "Sample the water", "Which batch?")
	h.says(base, "Does not apply: ready bags.", "seal whole, fluid clear")
	h.says(base+"/bath_label", "Seal whole, no leak", "Fluid clear", "One entry for each lot")
	bag := []string{"label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "expiry", "2027-01-31"}
	h.saved(base+"/bath_label", append(bag, "lot", "S-1")...)
	if words, _ := h.fluidLine(base); !strings.HasPrefix(words[session.CheckBath], "open") {
		t.Errorf("not looked at: %v", words)
	}
	h.saved(base+"/bath_label", append(bag, "lot", "S-1", "seal_whole", "yes", "clear", "yes")...)
	if words, ready := h.fluidLine(base); !ready {
		t.Errorf("bags: %v", words)
	}
	h.silent(base+"/bath_label", "In place of")
	h.saved(base+"/bath_label", append(bag, "lot", "S-9", "seal_whole", "yes", "clear", "no")...)
	h.saved(base+"/bath_label", append(bag, "lot", "S-1", "seal_whole", "yes", "clear", "yes")...)
	if words, ready := h.fluidLine(base); ready || !strings.Contains(words[session.CheckBath], "Bag S-9 is not said to be off") {
		t.Errorf("a cloudy bag before good ones: %v", words)
	}
	h.says(base+"/bath_label", "In place of a bag that is not right", "Bag S-9: it is off")
	h.refused(base+"/bath_label", "no bag of this session that is not right", append(bag, "lot", "S-3", "seal_whole", "yes", "clear", "yes", "replaces", "S-1")...)
	h.saved(base+"/bath_label", append(bag, "lot", "S-3", "seal_whole", "yes", "clear", "yes", "replaces", "S-9")...)
	if words, _ := h.fluidLine(base); !strings.HasPrefix(words[session.CheckBath], "look") {
		t.Errorf("its place taken: %v", words)
	}
	h.treated(base)
	h.says(base, "Another bag")
	h.later(time.Hour)
	h.saved(base+"/bath_label", append(bag, "lot", "S-2", "seal_whole", "no", "clear", "yes")...)
	h.says(base, "This bag: The seal of a bag is not whole.")
	sheet := h.ended(base)
	for _, want := range []string{"does not apply, ready bags", "lot S-1", "SEAL NOT WHOLE", "lot S-2", "NOT CLEAR", "in place of bag S-9"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet does not hold %q", want)
		}
	}
}

// A record that says "bags or a made batch" is asked which, until it is said; it is the
// same machine then, and the choice is not offered again.
func TestWhichFluidIsAskedOnce(t *testing.T) {
	h := home(t, 2, false)
	h.described("low_volume")
	h.says(vida+"/unit", "bags or a made batch", "Which is it?", "Ready bags")
	h.says(vida+"/", "It is not said whether your fluid is ready bags or a batch you make.")
	h.says(vida+"/machine", "uses bags or a made batch")
	base := h.upTo()
	if words, _ := h.fluidLine(base); !strings.HasPrefix(words[session.CheckChlorine], "open") {
		t.Errorf("until it is said: %v", words)
	}
	h.says(base, "Bags? Say so")
	forms := fieldsOf(t, h.see(vida+"/unit"), vida+"/machine")
	if forms.Get("kind") != "bags" {
		t.Fatalf("the first answer is %q", forms.Get("kind"))
	}
	if status, _, text := h.post(vida+"/machine", forms); status != http.StatusSeeOther {
		t.Fatalf("the answer was not taken: %s", problems(text))
	}
	if words, _ := h.fluidLine(base); !strings.HasPrefix(words[session.CheckChlorine], "ready") {
		t.Errorf("in the session that is set up: %v", words)
	}
	h.silent(vida+"/unit", "Which is it?")
	h.says(vida+"/unit", "ready bags")
	h.silent(vida+"/", "It is not said whether your fluid")
	h.silent(vida+"/machine", "uses bags or a made batch")
	h.desk.View(func(rec *record.Household) {
		s := rec.Session(base[strings.LastIndex(base, "/")+1:])
		for _, c := range session.StartLine(s, rec.Member(s.Person).History(s), h.now) {
			if c.ID == session.CheckCleaned && c.State == session.StopHere {
				t.Errorf("it counts as another machine: %s", c.Words)
			}
		}
	})
}
