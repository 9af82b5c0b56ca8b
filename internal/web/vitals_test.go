package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// vitalsIn gives the check of the vitals of a session, and its last such entry.
func (h *house) vitalsIn(base string) (c session.Check, missing map[string]session.Missing) {
	h.t.Helper()
	h.desk.View(func(r *record.Household) {
		s := r.Session(base[strings.LastIndex(base, "/")+1:])
		if _, e := session.Last[session.VitalsBefore](s); e != nil {
			missing = e.Missing
		}
		for _, one := range session.StartLine(s, r.Member(s.Person).History(s), h.now) {
			if one.ID == session.CheckVitals {
				c = one
			}
		}
	})
	return c, missing
}

// What cannot be measured is said by one tap on the form, holds in the next
// sessions, and is taken back by a measurement; no thermometer is asked about
// again after a month. A session from paper does the same.
func TestWhatCannotBeMeasured(t *testing.T) {
	for _, source := range []string{"live", "paper"} {
		t.Run(source, func(t *testing.T) {
			h := home(t, 1, false)
			open := func() string {
				pairs := []string{"place", "home", "source", source, "session", newID()}
				if source == "paper" {
					pairs = append(pairs, "day", h.now.Format(time.DateOnly), "clock", h.now.Format("15:04"))
				}
				base := h.saved(vida+"/session", pairs...)
				h.later(10 * time.Minute)
				return base
			}
			write := func(base string, pairs ...string) {
				t.Helper()
				h.later(2 * time.Minute)
				h.saved(base+"/vitals_before", append(pairs, "clock", h.now.Format("15:04"))...)
			}
			want := func(base string, state session.CheckState, words string) {
				t.Helper()
				if c, _ := h.vitalsIn(base); c.State != state || !strings.Contains(c.Words, words) {
					t.Errorf("%s %q, want %s %q", c.State, c.Words, state, words)
				}
			}
			ticked := func(base, key string) bool {
				return strings.Contains(inputTag(h.see(base+"/vitals_before"), key), "checked")
			}

			base := open()
			h.says(base+"/vitals_before", "Sitting, then standing.")
			h.silent(base+"/vitals_before", "that you cannot stand")
			if ticked(base, "cannot_stand") || ticked(base, "no_thermometer") {
				t.Error("ticked beforehand")
			}
			// Left blank for a reason: lying is not asked for, so it is no gap.
			write(base, "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "pulse_per_min", "70", "lying_systolic_mmhg", "", "blank", "not_done")
			if _, missing := h.vitalsIn(base); missing["standing_systolic_mmhg"] != session.NotDone || missing["lying_systolic_mmhg"] != "" {
				t.Errorf("missing: %v", missing)
			}
			want(base, session.OpenYet, "Standing pressure not done.")
			if source == "live" {
				h.says(base, "Temperature not done. Take it, or tick")
			}

			status, _, text := h.post(base+"/vitals_before", formOf("cannot_stand", "yes", "standing_systolic_mmhg", "131", "clock", h.now.Format("15:04")))
			if status != http.StatusUnprocessableEntity || !strings.Contains(text, "but a standing pressure is written") {
				t.Errorf("cannot stand, and stood: %d %s", status, problems(text))
			}
			write(base, "cannot_stand", "yes", "blank", "not_recorded")
			if _, missing := h.vitalsIn(base); missing["standing_systolic_mmhg"] != "" || missing["lying_systolic_mmhg"] != session.NotRecorded {
				t.Errorf("missing: %v", missing)
			}
			want(base, session.OpenYet, "You cannot stand; lying pressure not recorded. Measure it.")
			write(base, "cannot_stand", "yes", "lying_systolic_mmhg", "141", "lying_diastolic_mmhg", "82")
			write(base, "no_thermometer", "yes")
			want(base, session.Ready, "No temperature: you had no thermometer on ")
			said := h.now

			h.saved(base + "/closed")
			h.later(46 * time.Hour)
			base = open()
			h.says(base+"/vitals_before", "Lying, then sitting.", "that you cannot stand. Untick it when you can.", "You had no thermometer on ", "You are asked again on ")
			if !ticked(base, "cannot_stand") || inputTag(h.see(base+"/vitals_before"), "no_thermometer") != "" {
				t.Error("what was said once is asked again")
			}
			write(base, "cannot_stand", "yes", "sitting_systolic_mmhg", "136", "sitting_diastolic_mmhg", "79", "lying_systolic_mmhg", "140", "lying_diastolic_mmhg", "82", "pulse_per_min", "71")
			want(base, session.Ready, "Measured lying: you wrote on ")
			// They stand again: it is asked for from then on.
			write(base, "standing_systolic_mmhg", "128", "standing_diastolic_mmhg", "75")
			want(base, session.Ready, "No temperature")

			h.saved(base + "/closed")
			h.later(said.Add(session.NoThermometerFor).Sub(h.now))
			base = open()
			h.says(base+"/vitals_before", "Sitting, then standing.", "Take a temperature, or tick it again.")
			if ticked(base, "cannot_stand") || inputTag(h.see(base+"/vitals_before"), "no_thermometer") == "" {
				t.Error("a month later: not asked again")
			}
			write(base, "sitting_systolic_mmhg", "136", "sitting_diastolic_mmhg", "79", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "76", "pulse_per_min", "71")
			want(base, session.OpenYet, "You had no thermometer on ")
			write(base, "temperature_c", "36.5")
			want(base, session.Ready, "")
		})
	}
}

// The style sheet shows lying in place of standing when the box is ticked, with
// the names that the form has.
func TestLyingTakesThePlaceOfStanding(t *testing.T) {
	h := home(t, 1, false)
	base := h.begin()
	form := h.see(base + "/vitals_before")
	_, css := h.get("/static/session.css")
	for _, name := range []string{`data-kind="vitals_before"`, `name="cannot_stand"`} {
		if !strings.Contains(form, name) || !strings.Contains(css, strings.TrimPrefix(name, " ")) {
			t.Errorf("%s is not in both form and style sheet", name)
		}
	}
	for _, key := range []string{"lying_", "standing_"} {
		if !strings.Contains(form, `data-key="`+key) || !strings.Contains(css, `data-key^="`+key) {
			t.Errorf("%s is not in both form and style sheet", key)
		}
	}
}
