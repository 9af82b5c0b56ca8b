package web

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The nights of both clock changes, computed with the IANA database: a
// treatment from 22:30 to 06:30 by the clock on the wall. twice and never are
// faces that the clock showed twice that night, and not at all.
var changes = []struct {
	zone, start, end string
	elapsed          time.Duration
	twice, never     string
	offsets          [2]string // of the two
	rate             int       // mL/h that take off 3.2 L
}{
	{"Europe/London", "2026-10-24T21:30Z", "2026-10-25T06:30Z", 9 * time.Hour, "01:30", "", [2]string{"+01:00", "+00:00"}, 356},
	{"Europe/London", "2026-03-28T22:30Z", "2026-03-29T05:30Z", 7 * time.Hour, "", "01:30", [2]string{}, 457},
	{"America/New_York", "2026-11-01T02:30Z", "2026-11-01T11:30Z", 9 * time.Hour, "01:30", "", [2]string{"-04:00", "-05:00"}, 356},
	{"America/New_York", "2026-03-08T03:30Z", "2026-03-08T10:30Z", 7 * time.Hour, "", "02:30", [2]string{}, 457},
	{"Australia/Lord_Howe", "2026-04-04T11:30Z", "2026-04-04T20:00Z", 8*time.Hour + 30*time.Minute, "01:45", "", [2]string{"+11:00", "+10:30"}, 376},
	{"Australia/Lord_Howe", "2026-10-03T12:00Z", "2026-10-03T19:30Z", 7*time.Hour + 30*time.Minute, "", "02:15", [2]string{}, 427},
	{"Pacific/Auckland", "2026-04-04T09:30Z", "2026-04-04T18:30Z", 9 * time.Hour, "02:30", "", [2]string{"+13:00", "+12:00"}, 356},
	{"Pacific/Auckland", "2026-09-26T10:30Z", "2026-09-26T17:30Z", 7 * time.Hour, "", "02:30", [2]string{}, 457},
	{"Asia/Tokyo", "2026-10-24T13:30Z", "2026-10-24T21:30Z", 8 * time.Hour, "", "", [2]string{}, 400},
}

// abroad is a household of one person, with everything but a session, in some
// zone at some moment.
func abroad(t *testing.T, zone string, now time.Time, length unit.Minutes) *house {
	t.Helper()
	h := nobodyIn(t, zone, now)
	h.keep("p-vida-hribar", &record.Person{Name: "Vida Hribar", BirthYear: 1969, Colour: "fern", Adult: true})
	rx := simulate.Prescription(unit.DateOf(now.In(h.desk.Zone())).Add(-20))
	rx.Length = &length
	h.keep("p-vida-hribar", &rx)
	h.rinsed()
	return h
}

// rinsed writes down what a machine needs on which nobody was treated yet.
func (h *house) rinsed() {
	h.t.Helper()
	h.keep("", &record.RoundDone{Item: "rinse", Outcome: "done"})
	h.keep("", &record.ResidualTest{For: "chlorine", Value: 50, Below: true, Lot: "R1", Expiry: unit.DateOf(h.now).Add(300)})
}

// nobodyIn is a machine without anybody yet, in some zone at some moment.
func nobodyIn(t *testing.T, zone string, now time.Time) *house {
	t.Helper()
	z, err := record.LoadZone(zone)
	if err != nil {
		t.Fatal(err)
	}
	h := &house{t: t, now: now}
	h.desk, err = household.Open(context.Background(), filepath.Join(t.TempDir(), "night.ebb"), household.Options{Now: func() time.Time { return h.now }, Zone: z})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { h.desk.Close() })
	handler, err := New(h.desk, Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	h.http = httptest.NewServer(handler)
	t.Cleanup(h.http.Close)
	h.keep("", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	return h
}

// prepared opens a session and writes down everything before the lines are
// joined: 66.15 kg, 3.2 L to take off.
func (h *house) prepared() (base string, plan map[string][]string) {
	h.t.Helper()
	base = h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.saved(base+"/access_check", "thrill", "present", "bruit", "present", "skin", "clean")
	h.saved(base+"/weigh_in", "weight_kg", "66.15", "again.weight_kg", "66.15", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "76", "pulse_per_min", "72", "temperature_c", "36.6")
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2027-12", "sample_point", "first_carbon")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	h.saved(base+"/fluid_check", "machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.95", "machine_temperature_c", "36", "meter_temperature_c", "36.1")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-12")
	for _, item := range []string{"dialyser", "lines", "needles"} {
		h.saved(base+"/supply", "item", item, "lot", "L1", "expiry", "2027-12")
	}
	drawn := h.see(base + "/heparin_drawn?strength_iu_ml=1000")
	vial := fieldsOf(h.t, drawn[strings.Index(drawn, `<form method="post" action="`+base):], base+"/heparin_drawn")
	vial.Set("lot", "H1")
	vial.Set("expiry", "2027-12")
	if status, _, text := h.post(base+"/heparin_drawn", vial); status != http.StatusSeeOther {
		h.t.Fatalf("heparin: %s", problems(text))
	}
	form := h.plan(base)
	if status, _, text := h.post(base+"/plan", form); status != http.StatusSeeOther {
		h.t.Fatalf("the plan was not taken: %s", problems(text))
	}
	goal := form.Get("set_goal_ml")
	h.saved(base+"/read_back", "shown", goal[:1]+"."+goal[1:3], "machine_length_min", form.Get("length_min"))
	h.saved(base+"/needling", "arterial_site", "A1", "venous_site", "V1", "arterial_gauge", "16", "venous_gauge", "16", "arterial_tries", "1", "venous_tries", "1")
	return base, form
}

// A night session written with forms and typed clock times on the nights when
// the clocks change: treated time, rate, heparin stop, due times and the sheet
// go by what passed, not by what the clock on the wall says (H-26, H-27, H-28,
// H-35).
func TestNightsOfClockChangeByForms(t *testing.T) {
	for _, n := range changes {
		t.Run(n.zone+" "+n.start[:10], func(t *testing.T) {
			start, end := instant(t, n.start), instant(t, n.end)
			h := abroad(t, n.zone, start.Add(-50*time.Minute), unit.Minutes(n.elapsed.Minutes()))
			base, plan := h.prepared()
			if got := plan["rate_ml_h"][0]; got != fmt.Sprint(n.rate) || plan["set_goal_ml"][0] != "3200" {
				t.Errorf("planned %s mL at %s mL/h, want 3200 at %d", plan["set_goal_ml"][0], got, n.rate)
			}
			h.now = start
			h.saved(base+"/connected", "blood_flow_ml_min", "310")
			if night := start.In(h.desk.Zone()).Format("15:04"); night != "22:30" && n.zone != "Australia/Lord_Howe" {
				t.Fatalf("begun at %s", night)
			}

			h.now = start.Add(6 * time.Hour)
			pulses := h.typedTimes(base, n.twice, n.never)
			h.says(base, "off at "+end.In(h.desk.Zone()).Format("15:04"), end.Add(-45*time.Minute).In(h.desk.Zone()).Format("15:04"))
			h.desk.View(func(r *record.Household) {
				run, _ := session.Follow(r.Session(base[strings.LastIndex(base, "/")+1:]), h.now)
				if run.Treated != 6*time.Hour || run.Left != n.elapsed-6*time.Hour || !run.PlannedEnd.Equal(end) || !run.HeparinStop.Equal(end.Add(-45*time.Minute)) {
					t.Errorf("after six hours: treated %v, left %v, end %v, heparin off %v", run.Treated, run.Left, run.PlannedEnd, run.HeparinStop)
				}
			})

			h.now = end
			h.lookedFirst(base)
			h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "3200", "returned", "all", "again.removed_ml", "3200")
			h.later(20 * time.Minute)
			h.saved(base+"/closed", "machine_treated_min", fmt.Sprint(int(n.elapsed.Minutes())))
			sheet := plainText(h.see(base + "/sheet"))
			hours := fmt.Sprintf("%d h", int(n.elapsed.Hours()))
			if m := int(n.elapsed.Minutes()) % 60; m > 0 {
				hours += fmt.Sprintf(" %d min", m)
			}
			if !strings.Contains(sheet, "Treated "+hours) {
				t.Errorf("the sheet does not say that it was treated %s", hours)
			}
			if !strings.Contains(sheet, start.In(h.desk.Zone()).Format("Monday 2 January 2006")) {
				t.Error("the sheet does not belong to the evening it began")
			}
			if n.twice != "" {
				first, second := strings.Index(sheet, n.twice+" "+n.offsets[0]), strings.Index(sheet, n.twice+" "+n.offsets[1])
				if first < 0 || second < first {
					t.Errorf("%s stands on the sheet at %d with %s and at %d with %s", n.twice, first, n.offsets[0], second, n.offsets[1])
				}
			}
			var read []string
			h.desk.View(func(r *record.Household) {
				session.Each(r.Session(base[strings.LastIndex(base, "/")+1:]), func(b *session.Reading, e *session.Event) {
					read = append(read, b.Pulse.String())
				})
			})
			if got := strings.Join(read, " "); got != pulses {
				t.Errorf("pulses in order of time: %s, want %s", got, pulses)
			}
		})
	}
}

// typedTimes writes readings by typed clock times, six hours into the night,
// and gives the pulses in the order in which they were true.
func (h *house) typedTimes(base, twice, never string) string {
	h.t.Helper()
	reading := func(pulse, clock string, more ...string) []string {
		return append([]string{"pulse_per_min", pulse, "clock", clock}, more...)
	}
	h.saved(base+"/reading", reading("61", "23:30")...)
	if never != "" {
		h.refused(base+"/reading", "did not come on", reading("99", never)...)
		h.refused(base+"/reading", "did not come on", reading("99", never, "which", "second")...)
	}
	if twice == "" {
		h.saved(base+"/reading", reading("64", "00:45")...)
		return "61 64"
	}
	// Written in the wrong order, each with the word that says which it was.
	h.saved(base+"/reading", reading("63", twice, "which", "second")...)
	h.refused(base+"/reading", "came twice", reading("99", twice)...)
	h.saved(base+"/reading", reading("62", twice, "which", "first")...)
	return "61 62 63"
}

// While the repeated hour runs for the first time, its second time has not come.
func TestSecondTimeHasNotComeYet(t *testing.T) {
	h := abroad(t, "Europe/London", instant(t, "2026-10-24T20:40Z"), 540)
	base, _ := h.prepared()
	h.now = instant(t, "2026-10-24T21:30Z")
	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	h.now = instant(t, "2026-10-25T00:40Z") // 01:40, for the first time
	h.refused(base+"/reading", "has not come yet", "pulse_per_min", "62", "clock", "01:30", "which", "second")
	h.saved(base+"/reading", "pulse_per_min", "62", "clock", "01:30", "which", "first")
	h.saved(base+"/reading", "pulse_per_min", "63") // now, without a typed time
	h.now = instant(t, "2026-10-25T01:40Z")
	h.saved(base+"/reading", "pulse_per_min", "64")
	text := plainText(h.see(base))
	for _, face := range []string{"01:30 (first)", "01:40 (first)", "01:40 (second)"} {
		if !strings.Contains(text, face) {
			t.Errorf("the page does not tell %s from its twin", face)
		}
	}
}

// An end that falls into the repeated hour is told by which of the two it is.
func TestEndInTheRepeatedHour(t *testing.T) {
	for _, tt := range []struct {
		length unit.Minutes
		off    string
	}{{180, "off at 01:30 (first)"}, {240, "off at 01:30 (second)"}, {300, "off at 02:30"}} {
		h := abroad(t, "Europe/London", instant(t, "2026-10-24T20:40Z"), 540)
		rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
		rx.Length = &tt.length
		h.keep("p-vida-hribar", &rx)
		base, _ := h.prepared()
		h.now = instant(t, "2026-10-24T21:30Z")
		h.saved(base+"/connected", "blood_flow_ml_min", "310")
		h.later(time.Hour)
		h.says(base, tt.off)
	}
}

func instant(t *testing.T, text string) time.Time {
	t.Helper()
	at, err := time.Parse("2006-01-02T15:04Z", text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}
