package web

import (
	"net/http"
	"slices"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// finish takes a running session to its closed record.
func (h *house) finish(base string) {
	h.t.Helper()
	h.later(265 * time.Minute)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1100", "returned", "all", "again.removed_ml", "1100")
	h.later(20 * time.Minute)
	h.saved(base+"/weigh_out", "weight_kg", "63.6", "clothing_kg", "0", "scale", "bathroom scale")
	h.saved(base+"/closed", "machine_treated_min", "265")
}

// The page of yesterday's session, left open on a tablet, saves nothing of
// today's: neither the weight and the checks before, nor a plan, nor what
// happens while running (H-42).
func TestPageOfYesterdaySavesNothing(t *testing.T) {
	h := home(t, 2, false)
	old := h.begin()
	plan := h.plan(old)
	h.finish(old)
	h.later(42 * time.Hour)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	before := entries(h)
	expiry := h.now.AddDate(0, 3, 0).Format("2006-01")
	for path, pairs := range map[string][]string{
		"/weigh_in":          {"weight_kg", "64.9", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"},
		"/vitals_before":     {"sitting_systolic_mmhg", "131", "sitting_diastolic_mmhg", "78"},
		"/fitness":           {"none_of_these", "yes"},
		"/access_check":      {"thrill", "present", "bruit", "present", "skin", "clean"},
		"/chlorine":          {"total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", expiry, "sample_point", "first_carbon"},
		"/self_test":         {"passed", "yes", "tries", "1"},
		"/bath_label":        {"label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", expiry},
		"/heparin_drawn":     {"strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "H1", "expiry", expiry},
		"/anaesthetic_drawn": {"strength_percent", "1", "volume_ml", "0.4", "lot", "A1", "expiry", expiry},
		"/needling":          {"arterial_site", "A1", "venous_site", "V1", "arterial_gauge", "16", "venous_gauge", "16", "arterial_tries", "1", "venous_tries", "1"},
		"/override":          {"check", session.CheckChlorine, "reason", "it was tested an hour ago"},
		"/read_back":         {"shown", "2.00", "machine_length_min", "250"},
		"/connected":         {"blood_flow_ml_min", "310"},
		"/reading":           {"systolic_mmhg", "128", "diastolic_mmhg", "74"},
		"/event/drink":       {"volume_ml", "150"},
		"/event/saline":      {"volume_ml", "100"},
		"/event/pause":       {},
		"/goal_changed":      {"goal_ml", "1500"},
		"/step":              {"phase", "set_up", "step", "weigh", "state", "done"},
	} {
		if status, to, text := h.post(old+path, formOf(pairs...)); status != http.StatusUnprocessableEntity {
			t.Errorf("%s into the session of two days ago: %d to %s\n%s", path, status, to, problems(text))
		}
	}
	if status, _, text := h.post(old+"/plan", plan); status != http.StatusUnprocessableEntity {
		t.Errorf("the plan of two days ago agreed again: %d\n%s", status, problems(text))
	}
	if after := entries(h); after != before {
		t.Errorf("%d entries went into a session that is over", after-before)
	}
	// What is found out later, or typed with the time it happened, still goes in.
	h.saved(old+"/note", "words", "the site bled again in the night")
	h.saved(old+"/vitals_before", "sitting_systolic_mmhg", "131", "sitting_diastolic_mmhg", "78", "day", h.now.Add(-47*time.Hour).Format(time.DateOnly), "clock", startOf(h, old).Add(3*time.Minute).Format("15:04"))
	h.saved(base+"/fitness", "none_of_these", "yes")
}

func startOf(h *house, base string) (at time.Time) {
	h.desk.View(func(r *record.Household) { _, at = r.Session(base[len(vida+"/session/"):]).Opened() })
	return at
}

// Two people correct one entry at the same time: the second is told, and no
// correction is lost (H-41).
func TestTwoCorrectTheSame(t *testing.T) {
	h := home(t, 1, true)
	base := vida + "/session/" + h.life.Open
	h.saved(base+"/drink", "volume_ml", "100")
	id := lastOf(h, "drink").ID
	h.saved(base+"/entry/"+id, "volume_ml", "150", "reason", "the big glass", "day", h.now.Format(time.DateOnly), "clock", h.now.Format("15:04"))
	if status, _, _ := h.post(base+"/entry/"+id, formOf("volume_ml", "200", "reason", "the jug")); status != http.StatusNotFound {
		t.Errorf("the second correction of the same entry: %d, want it told that the entry was corrected", status)
	}
	now := lastOf(h, "drink")
	if now.Body.(*session.Drink).Volume != 150 || len(now.Was) != 1 {
		t.Errorf("in the end %+v", now)
	}
}

// lastOf is the newest entry of a kind in the running session.
func lastOf(h *house, kind string) (last session.Event) {
	h.t.Helper()
	h.desk.View(func(r *record.Household) {
		log := r.Session(h.life.Open).Log
		for i := range slices.Backward(log) {
			if log[i].Kind == kind && last.ID == "" {
				last = log[i]
			}
		}
	})
	if last.ID == "" {
		h.t.Fatalf("no %s in the session", kind)
	}
	return last
}
