package web

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// twoInLondon is a household of Ida, 72 kg, and Jon, 88 kg, two days before the
// clocks go back, with one session of Ida's behind them.
func twoInLondon(t *testing.T) *house {
	h := nobodyIn(t, "Europe/London", instant(t, "2026-10-22T16:00Z"))
	for _, one := range []struct {
		id, name, colour string
		dry              unit.Mass
	}{{"person-ida", "Ida Brook", "reed", 72_000}, {"person-jon", "Jon Brook", "plum", 88_000}} {
		h.keep(one.id, &record.Person{Name: one.name, BirthYear: 1961, Colour: one.colour, Adult: true})
		rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
		length := unit.Minutes(540)
		rx.Length, rx.DryWeight = &length, one.dry
		h.keep(one.id, &rx)
	}
	base := h.saved("/p/person-ida/session", "place", "home", "source", "paper", "session", newID(), "person_confirmed", "yes", "day", "2026-10-21", "clock", "21:00")
	h.saved(base+"/weigh_in", "weight_kg", "73.9", "again.weight_kg", "73.9", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg", "day", "2026-10-21", "clock", "21:20")
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "4950", "bolus_ml", "2", "line_ml", "4.95", "lot", "H0", "expiry", "2027-01-31", "day", "2026-10-21", "clock", "21:30")
	h.saved(base+"/connected", "day", "2026-10-21", "clock", "22:00")
	h.saved(base+"/came_off", "returned", "all", "washback_ml", "250", "removed_ml", "2400", "day", "2026-10-22", "clock", "07:00")
	h.saved(base+"/weigh_out", "weight_kg", "72.1", "again.weight_kg", "72.1", "clothing_kg", "0", "scale", "bathroom scale", "day", "2026-10-22", "clock", "07:20")
	h.saved(base+"/closed", "day", "2026-10-22", "clock", "07:30")
	return h
}

// The bad evening: a couple on one machine, the carer on the wrong page, two
// digits swapped, a strip too coarse to tell, a box of another strength, a
// tablet with the old plan, a night in which the clocks go back, a laptop that
// sleeps, and a power cut at ten past five. No number of the wrong person is
// used, each stop fires, nothing that was saved is lost, the time is what
// passed without the pause, and the sheet names what was gone on in spite of.
func TestBadEvening(t *testing.T) {
	h := twoInLondon(t)
	const ida, jon = "/p/person-ida", "/p/person-jon"
	h.now = instant(t, "2026-10-24T20:35Z") // 21:35 summer time
	stops := 0
	stopped := func(path, words string, pairs ...string) {
		t.Helper()
		before := entries(h)
		status, _, text := h.post(path, formOf(pairs...))
		if status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), words) || entries(h) != before {
			t.Errorf("%s: %d, want a stop with %q\n%s", path, status, words, problems(text))
			return
		}
		stops++
	}

	// The carer picks the wrong one.
	stopped(jon+"/session", "say that this is your page", "place", "home", "source", "live", "session", newID())
	base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID(), "person_confirmed", "yes")
	if status, _, _ := h.post(strings.Replace(base, "person-ida", "person-jon", 1)+"/weigh_in", formOf("weight_kg", "74.7")); status != http.StatusNotFound {
		t.Errorf("Ida's session under Jon's name: %d", status)
	}
	h.later(2 * time.Minute)
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.saved(base+"/access_check", "thrill", "present", "bruit", "present", "skin", "clean")

	// 77.4 for 74.7.
	weight := func(kg string, more ...string) []string {
		return append([]string{"weight_kg", kg, "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}, more...)
	}
	stopped(base+"/weigh_in", "Step on the scale again", weight("77.4")...)
	stopped(base+"/weigh_in", "then as 74.7", weight("77.4", "again.weight_kg", "74.7")...)
	h.saved(base+"/weigh_in", weight("74.7", "again.weight_kg", "74.7")...)
	h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "76", "pulse_per_min", "72", "temperature_c", "36.6")

	// "0" with a strip whose first step is 0.5.
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0", "method", "strip", "reads_down_to_mg_l", "0.5", "lot", "S1", "expiry", "2027-12", "sample_point", "first_carbon")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-12")
	for _, item := range []string{"dialyser", "lines", "needles"} {
		h.saved(base+"/supply", "item", item, "lot", "L1", "expiry", "2027-12")
	}

	// A box of another strength.
	vial := []string{"strength_iu_ml", "5000", "bolus_iu", "2000", "line_iu", "4950", "bolus_ml", "0.4", "line_ml", "0.99", "lot", "H9", "expiry", "2027-12"}
	stopped(base+"/heparin_drawn", "Read the label aloud", vial...)
	stopped(base+"/heparin_drawn", "which is 0.4", "strength_iu_ml", "5000", "label_read_again_iu_ml", "5000", "bolus_iu", "2000", "line_iu", "4950", "bolus_ml", "2", "line_ml", "4.95", "lot", "H9", "expiry", "2027-12")
	h.saved(base+"/heparin_drawn", append(vial, "label_read_again_iu_ml", "5000")...)

	// The tablet keeps the plan of the first weight; the laptop has a newer one.
	old := fieldsOf(t, h.see(base+"/plan"), base+"/plan")
	if old.Get("dry_weight_kg") != "72" || old.Get("pre_weight_kg") != "74.7" {
		t.Errorf("the plan is made of %s and %s kg", old.Get("pre_weight_kg"), old.Get("dry_weight_kg"))
	}
	h.later(5 * time.Minute)
	h.saved(base+"/weigh_in", weight("74.4", "again.weight_kg", "74.4")...)
	before := entries(h)
	if status, _, text := h.post(base+"/plan", old); status != http.StatusUnprocessableEntity || entries(h) != before {
		t.Errorf("the old plan of the tablet: %d\n%s", status, problems(text))
	} else {
		stops++
	}
	plan := fieldsOf(t, h.see(base+"/plan"), base+"/plan")
	if status, _, text := h.post(base+"/plan", plan); status != http.StatusSeeOther {
		t.Fatalf("the plan: %s", problems(text))
	}
	goal := plan.Get("set_goal_ml")
	shown := func(ml string) []string {
		return []string{"shown", ml[:1] + "." + ml[1:3], "machine_length_min", "540"}
	}
	if to := h.saved(base+"/read_back", shown(old.Get("set_goal_ml"))...); !strings.HasSuffix(to, "/read_back") {
		t.Errorf("the old goal on the machine leads on to %s", to)
	}
	h.says(base+"/read_back", "Plan and machine differ")
	h.saved(base+"/read_back", shown(goal)...)
	h.saved(base+"/needling", "arterial_site", "A1", "venous_site", "V1", "arterial_gauge", "16", "venous_gauge", "16", "arterial_tries", "1", "venous_tries", "1")

	// The strip cannot tell; nor was the fluid held against the own meter.
	h.now = instant(t, "2026-10-24T21:28Z")
	stopped(base+"/connected", "reads down to", "blood_flow_ml_min", "310")
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "R1", "expiry", "2027-12", "sample_point", "first_carbon")
	stopped(base+"/connected", "Conductivity", "blood_flow_ml_min", "310")
	stopped(base+"/override", "too short", "check", session.CheckConduct, "reason", "broken")
	h.saved(base+"/override", "check", session.CheckConduct, "reason", "my meter is broken; the unit said to go by the machine tonight")
	h.now = instant(t, "2026-10-24T21:30Z")
	h.saved(base+"/connected", "blood_flow_ml_min", "310")

	// The night: 01:30 twice, a laptop asleep for forty minutes, a pause of twenty.
	h.now = instant(t, "2026-10-25T00:31Z")
	h.saved(base+"/reading", "pulse_per_min", "62", "clock", "01:30", "which", "first")
	h.now = instant(t, "2026-10-25T01:31Z")
	stopped(base+"/reading", "came twice", "pulse_per_min", "63", "clock", "01:30")
	h.saved(base+"/reading", "pulse_per_min", "63", "clock", "01:30", "which", "second")
	h.later(40 * time.Minute) // asleep
	h.says(base, "4 h 41", "off at 06:30")
	h.saved(base + "/event/pause")
	h.later(20 * time.Minute)
	h.saved(base + "/event/resume")
	h.says(base, "off at 06:50")

	// The power goes at ten past five; the record is opened again.
	h.now = instant(t, "2026-10-25T05:10Z")
	h.saved(base+"/event/drink", "volume_ml", "150")
	count := entries(h)
	path, zone := h.desk.Path(), h.desk.Zone()
	if err := h.desk.Close(); err != nil {
		t.Fatal(err)
	}
	var err error
	if h.desk, err = household.Open(context.Background(), path, household.Options{Now: func() time.Time { return h.now }, Zone: zone}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { h.desk.Close() })
	if h.http.Config.Handler, err = New(h.desk, Options{Version: "test"}); err != nil {
		t.Fatal(err)
	}
	if entries(h) != count {
		t.Errorf("%d entries after the power cut, %d before", entries(h), count)
	}
	h.says(base, "off at 06:50")

	h.now = instant(t, "2026-10-25T06:30Z")
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", goal, "returned", "all", "why", "twenty minutes early: tired")
	h.later(20 * time.Minute)
	h.saved(base+"/closed", "machine_treated_min", "520")
	sheet := plainText(h.see(base + "/sheet"))
	for _, words := range []string{"8 h 40 min", "01:30 +01:00", "01:30 +00:00", "Ida Brook", "24 October 2026", "my meter is broken; the unit said to go by the machine tonight", "twenty minutes early: tired"} {
		if !strings.Contains(sheet, words) {
			t.Errorf("the sheet does not say %q", words)
		}
	}
	if strings.Contains(sheet, "Jon") || strings.Contains(sheet, "88 kg") {
		t.Error("the sheet of Ida holds something of Jon")
	}
	h.desk.View(func(r *record.Household) {
		if n := len(r.Member("person-jon").Sessions); n != 0 {
			t.Errorf("Jon has %d sessions", n)
		}
	})
	if stops < 10 {
		t.Errorf("only %d stops fired", stops)
	}
	t.Logf("%d stops", stops)
}
