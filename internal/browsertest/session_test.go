//go:build browser

package browsertest

import (
	"strings"
	"testing"
	"time"
)

// takeSession goes from “start setting up” to the closed record, everything
// through the page. It is the same with script and without.
func takeSession(s *screen) (base string) {
	h := s.house
	s.open(vida + "/session")
	s.titled("Start a session")
	s.shot("1-start")
	s.saves("starting", func() { s.tap(`form[action$="/session"] button.main >> Start setting up`) })
	s.titled("Setting up")
	base = s.address()

	setUp(s)

	s.tap(`#step-plan a.main`)
	s.titled("Weight and plan")
	s.shows("L")
	s.shot("3-plan")
	s.write("/plan")
	s.titled("Read back")
	goal := h.goal(base)
	s.write("/read_back", "shown", goal, "machine_length_min", "250")
	s.titled("Setting up")
	s.tick("start_line")
	s.tick("arm")
	s.tap(`#step-needles a.main`)
	s.write("/needling", "arterial_site", "A3", "venous_site", "V3", "arterial_tries", "1", "venous_tries", "1", "pain_0_10", "2")
	s.titled("Setting up")
	s.shot("4-ready")
	h.later(2 * time.Minute)
	s.write("/connected", "blood_flow_ml_min", "310")
	s.titled("Running")
	s.shows("cannot see the machine")

	h.later(6 * time.Minute)
	s.write("/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "pulse_per_min", "71", "blood_flow_ml_min", "310", "arterial_mmhg", "-150", "venous_mmhg", "135", "tmp_mmhg", "60", "removal_rate_ml_h", "348", "removed_ml", "30", "conductivity_ms_cm", "13.9", "dialysate_temp_c", "36.0")
	h.later(50 * time.Minute)
	s.event("drink", ">> 150")
	s.event("lie_back", "")
	s.event("low_pressure", "")
	s.until("the steps of low pressure", `location.hash === "#wrong-low_pressure"`)
	s.tap(`#wrong-low_pressure a >> Back to the page`)
	s.event("pause", "")
	s.shows("blood stands in the lines")
	s.shot("6-paused")
	h.later(8 * time.Minute)
	s.event("resume", "")
	s.tap(`.tap[data-kind="alarm"] a`)
	s.titled("Alarm")
	s.write("/alarm", "words", "line kinked under the blanket")
	s.until("the steps of an alarm", `location.hash === "#wrong-alarm"`)
	s.tap(`#wrong-alarm a >> Back to the page`)
	s.titled("Running")
	h.later(time.Hour)
	s.write("/reading", "systolic_mmhg", "124", "diastolic_mmhg", "72", "pulse_per_min", "74", "blood_flow_ml_min", "310", "venous_mmhg", "138", "removed_ml", "790")
	s.shot("7-running")
	h.later(2*time.Hour + 20*time.Minute)
	s.tap(`.come-off a`)
	s.mayGoBack()
	s.write("/came_off", "washback_ml", "250", "removed_ml", "1600", "returned", "=all")
	s.titled("Coming off")
	s.shot("8-off")
	h.later(12 * time.Minute)
	for _, one := range []struct {
		kind  string
		pairs []string
	}{
		{"holding", []string{"arterial_min", "10", "venous_min", "12", "thrill", "=present"}},
		{"vitals_after", []string{"lying_systolic_mmhg", "124", "lying_diastolic_mmhg", "70", "standing_systolic_mmhg", "118", "standing_diastolic_mmhg", "68", "pulse_per_min", "76"}},
		{"weigh_out", []string{"weight_kg", "63.4", "clothing_kg", "0"}},
		{"circuit", []string{"grade_0_3", "0"}},
		{"disinfection", []string{"programme", "heat", "result", "=passed"}},
	} {
		s.tap(`#write-down a[href$="/` + one.kind + `"]`)
		s.write("/"+one.kind, one.pairs...)
		s.titled("Coming off")
		h.later(2 * time.Minute)
	}
	s.shot("9-nearly-closed")
	s.write("/closed", "machine_treated_min", "256", "feel", "well")
	s.until("the sheet", `document.querySelector(".sheet") || document.body.innerText.includes("All entries of this session")`)
	return base
}

// setUp writes down everything before the plan.
func setUp(s *screen) {
	h := s.house
	form := func(step, kind string, pairs ...string) {
		s.t.Helper()
		s.tap("#step-" + step + " a.main")
		s.write("/"+kind, pairs...)
		s.titled("Setting up")
		h.later(time.Minute)
	}
	s.tap("#step-fit a.main")
	s.saves("no to all", func() { s.tap(`form[action$="/fitness"] button[name="none_of_these"]`) })
	s.titled("Setting up")
	h.later(time.Minute)
	s.tick("hands_clean")
	s.tick("water_on")
	s.tick("machine_on")
	s.tick("water_runs")
	s.shot("2-setting-up")
	h.later(3 * time.Minute)
	form("access", "access_check", "thrill", "=present", "bruit", "=present", "skin", "=clean")
	form("weigh", "weigh_in", "weight_kg", "64.6", "clothing_kg", "0")
	form("vitals", "vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "78", "pulse_per_min", "70", "temperature_c", "36.5")
	form("bath", "bath_label", "label_k_mmol_l", "2.0", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	form("self_test", "self_test", "passed", "=yes", "tries", "1")
	h.later(5 * time.Minute)
	form("chlorine", "chlorine", "total_chlorine_mg_l", "0.02", "below", "=yes", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12")
	// The page of what is opened stays, since several things are.
	s.tap("#step-lines a.main")
	for _, item := range []string{"dialyser", "lines", "needles", "saline", "bicarbonate cartridge"} {
		s.write("/supply", "item", item, "lot", "L1", "expiry", "2027-01-31")
		s.until("the "+item+" is written down", `document.querySelector("main").innerText.includes("Item `+item+`")`)
	}
	s.tap(`a >> Back to the session`)
	s.titled("Setting up")
	h.later(time.Minute)
	s.tick("prime")
	h.later(8 * time.Minute)
	s.open(s.address())
	s.tick("residue")
	s.tick("air")
	form("conductivity", "fluid_check", "machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.95", "machine_temperature_c", "36.0", "meter_temperature_c", "36.1")
	s.tap("#step-heparin a.main")
	s.titled("Heparin")
	s.into(`[name="strength_iu_ml"]`)
	s.typed("1000")
	s.tap(`button >> Work out the volumes`)
	s.shows("Drawn up and labelled")
	s.write("/heparin_drawn", "lot", "H1", "expiry", "2027-01-31")
	s.titled("Setting up")
	s.open(s.base() + "/flush_drawn")
	s.write("/flush_drawn", "count", "2", "each_ml", "10", "lot", "F1", "expiry", "2027-01-31")
	s.titled("Setting up")
	s.tick("flushes")
}

// tick ticks a step of the run sheet, or starts its timer.
func (s *screen) tick(step string) {
	s.t.Helper()
	s.saves(step, func() { s.tap("#step-" + step + " button.main") })
}

// event records a one-tap event.
func (s *screen) event(kind, words string) {
	s.t.Helper()
	before := len(s.house.written(s.base(), kind))
	s.saves(kind, func() { s.tap(strings.TrimSpace(`.tap[data-kind="` + kind + `"] form button ` + words)) })
	if got := len(s.house.written(s.base(), kind)); got != before+1 {
		s.t.Errorf("%s: %d entries of %s, want %d", s.name, got, kind, before+1)
	}
}

// base is the address of the session that the page belongs to.
func (s *screen) base() string {
	parts := strings.Split(strings.Split(s.address(), "?")[0], "/")
	return strings.Join(parts[:5], "/")
}

// A whole session by touch on a tablet, from setting up to the printed sheet.
func TestWholeSessionByTouch(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "touch", tabletW, tabletH)
	base := takeSession(s)
	if n := len(h.written(base, "reading")); n != 2 {
		t.Errorf("%d readings are in the record, want 2", n)
	}
	onOneSheet(s, base)
	t.Logf("a whole session with script: %d taps on the page, %d signs typed on a keyboard", s.taps, s.keys)
}

// The same with script switched off.
func TestWholeSessionWithoutScript(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "plain", tabletW, tabletH)
	s.plain()
	base := takeSession(s)
	if n := len(h.written(base, "reading")); n != 2 {
		t.Errorf("%d readings are in the record, want 2", n)
	}
	onOneSheet(s, base)
	t.Logf("a whole session without script: %d taps on the page, %d signs typed on a keyboard", s.taps, s.keys)
}
