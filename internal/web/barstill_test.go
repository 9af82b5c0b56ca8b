package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// While the machine stands still the bar and the page of the run say since when the
// blood stands in the lines, by the pause or by a blood flow of 0, whichever came first,
// and lead to the steps; going on, or a flow, ends it.
func TestBloodThatStandsIsSaid(t *testing.T) {
	h := home(t, 2, false)
	h.noSteps()
	base := h.begin()
	says := func(what, age string, since time.Time) {
		t.Helper()
		want := what + " for " + age
		h.says(base, want+" , since "+since.Format("15:04")+": blood stands in the lines.")
		for _, path := range []string{base, vida + "/", base + "/note"} {
			bar := barOn(h.see(path))
			if !strings.Contains(plainText(bar), want+" : blood stands in the lines") || !strings.Contains(bar, `href="#wrong-clotting"`) {
				t.Errorf("%s: the bar does not say %q: %s", path, want, plainText(bar))
			}
			if !strings.Contains(bar, `<time data-since="`+stampOf(since)+`">`) {
				t.Errorf("%s: nothing to count up: %s", path, bar)
			}
		}
		text := mainOf(h.see(base))
		if !strings.Contains(text, `<a href="#wrong-clotting">`) || !strings.Contains(text, `<a href="#wrong-power">`) {
			t.Error("the page has no way to the steps")
		}
		h.silent(base, "the blood goes back within")
	}
	moves := func() {
		t.Helper()
		h.silent(base, "blood stands in the lines")
	}
	h.later(10 * time.Minute)
	moves()
	paused := h.now
	h.saved(base + "/event/pause")
	says("Paused", "0 min", paused)
	h.later(6 * time.Minute)
	says("Paused", "6 min", paused)
	h.saved(base+"/reading", "blood_flow_ml_min", "0", "again.blood_flow_ml_min", "0")
	says("Paused", "6 min", paused)
	h.later(time.Minute)
	h.saved(base + "/event/resume")
	moves()
	h.later(time.Minute)
	stopped := h.now
	h.saved(base+"/blood_flow_changed", "blood_flow_ml_min", "0", "again.blood_flow_ml_min", "0")
	says("Blood flow 0", "0 min", stopped)
	h.later(2 * time.Minute)
	h.saved(base + "/event/pause")
	says("Blood flow 0", "2 min", stopped)
	h.saved(base + "/event/resume")
	h.later(time.Minute)
	h.saved(base+"/reading", "blood_flow_ml_min", "0", "again.blood_flow_ml_min", "0")
	h.later(time.Minute)
	h.saved(base+"/reading", "blood_flow_ml_min", "300")
	moves()
}

// The unit's figure for how long blood may stand is there where its steps hold one, and
// when it is past; not while a trouble is open in which the blood stays out.
func TestBloodThatStandsHasTheUnitsFigure(t *testing.T) {
	h := home(t, 2, false)
	steps, back := h.stepsOf(session.TroublePower, session.RingUnit, "Turn by hand"), unit.Minutes(15)
	steps.BackIn = &back
	h.keep("p-vida-hribar", steps)
	base := h.begin()
	h.later(10 * time.Minute)
	paused := h.now
	h.saved(base + "/event/pause")
	const within, past = "Your unit: the blood goes back within 15 min.", "That time has passed."
	look := func(isPast bool) {
		t.Helper()
		text := h.see(base)
		for _, part := range []string{barOn(text), mainOf(text)} {
			if !strings.Contains(plainText(part), within) || !strings.Contains(part, `href="#wrong-power"`) {
				t.Errorf("no figure of the unit: %s", plainText(part))
			}
			shown := strings.Contains(part, `data-from="`+stampOf(paused.Add(15*time.Minute))+`">`+past)
			if shown != isPast {
				t.Errorf("past the figure: %v, want %v: %s", shown, isPast, part)
			}
		}
		if bar := barOn(text); strings.Contains(bar, "is-look") != isPast || (len(h.tels(base)) > 0) != isPast {
			t.Errorf("past the figure %v: %s", isPast, bar)
		}
	}
	look(false)
	if bar := barOn(h.see(base)); !strings.Contains(bar, `data-again="`+stampOf(paused.Add(15*time.Minute))+`"`) {
		t.Errorf("the bar does not say when it changes: %s", bar)
	}
	h.later(14 * time.Minute)
	look(false)
	h.later(time.Minute)
	look(true)
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", session.TroubleOpen)
	if bar := plainText(barOn(h.see(base))); strings.Contains(bar, "stands in the lines") || !strings.Contains(bar, "Air or foam") {
		t.Errorf("air is not before it: %s", bar)
	}
	h.says(base, "Paused for 15 min , since "+paused.Format("15:04")+": blood stands in the lines.")
	h.silent(base, "goes back within", past)
}

// A low pressure stands before blood that stands still; the page says both.
func TestBloodThatStandsUnderALook(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(10 * time.Minute)
	h.saved(base + "/event/pause")
	h.saved(base + "/event/low_pressure")
	if bar := plainText(barOn(h.see(base))); strings.Contains(bar, "stands in the lines") || !strings.Contains(bar, "Low pressure, no figure") {
		t.Errorf("the bar: %s", bar)
	}
	h.says(base, "Paused for 0 min", "blood stands in the lines.")
}

// A check that a low pressure called for is named as soon as it is overdue, in the bar of
// every page and on the page of the run, with nothing read meanwhile.
func TestCheckAfterLowIsNamedAtOnce(t *testing.T) {
	for _, open := range []bool{false, true} {
		h := home(t, 2, false)
		base := h.begin()
		h.later(10 * time.Minute)
		h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76")
		h.later(10 * time.Minute)
		h.saved(base+"/reading", "systolic_mmhg", "78", "diastolic_mmhg", "40", "again.systolic_mmhg", "78", "again.diastolic_mmhg", "40")
		if open {
			h.saved(base+"/trouble", "trouble", session.TroubleLow, "state", session.TroubleOpen)
		}
		due := h.now.Add(5 * time.Minute)
		if bar := barOn(h.see(base)); strings.Contains(bar, "Check due") || !strings.Contains(bar, `data-again="`+stampOf(due)+`"`) {
			t.Errorf("not due yet, and when it is: %s", bar)
		}
		h.later(6 * time.Minute)
		want := "Check due since " + due.Format("15:04")
		for _, path := range []string{base, vida + "/", base + "/note"} {
			bar := barOn(h.see(path))
			if words := plainText(bar); !strings.Contains(words, want+" ( 1 min )") || !strings.Contains(words, "ow pressure") {
				t.Errorf("open %v, %s: the bar does not say %q: %s", open, path, want, words)
			}
			if !strings.Contains(bar, `<time data-since="`+stampOf(due)+`">1 min</time>`) {
				t.Errorf("%s: nothing to count up: %s", path, bar)
			}
		}
		if text := plainText(mainOf(h.see(base))); !strings.Contains(text, "Check due since "+due.Format("15:04")+" due 1 min ago") {
			t.Errorf("the page of the run does not say %q: %s", want, text)
		}
		h.saved(base+"/reading", "systolic_mmhg", "79", "diastolic_mmhg", "41", "again.systolic_mmhg", "79", "again.diastolic_mmhg", "41")
		h.silent(base, "Check due since")
	}
}

// stampOf is a moment as it stands in the text of a page.
func stampOf(t time.Time) string { return strings.ReplaceAll(t.Format(time.RFC3339), "+", "&#43;") }

// A check that is due for what was said after its time is due now, since that was said;
// one that was overdue before stays overdue since its time.
func TestCheckIsNotDueBeforeItsCause(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(10 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "132", "blood_flow_ml_min", "310", "venous_mmhg", "135")
	read := h.now
	h.later(36 * time.Minute)
	h.saved(base+"/event/unwell", "words", "chest pain")
	said := h.now.Format("15:04")
	for _, path := range []string{base, vida + "/"} {
		if words := plainText(barOn(h.see(path))); !strings.Contains(words, "Check due now: since what was said at "+said) || strings.Contains(words, "due since") {
			t.Errorf("%s: %s", path, words)
		}
	}
	h.says(base, "Check due now since what was said at "+said)
	h.silent(base, "min ago", "Next check", read.Add(15*time.Minute).Format("15:04"))

	h.later(time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "131", "venous_mmhg", "100", "blood_flow_ml_min", "310")
	due := h.now.Add(15 * time.Minute).Format("15:04")
	h.later(20 * time.Minute)
	h.saved(base+"/event/unwell", "words", "breathless")
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "Check due since "+due) || strings.Contains(words, "due now") {
		t.Errorf("overdue before it was said: %s", words)
	}
}

// What is said of the batch calls for no check of the pressure: one that is due for
// something else is due since that.
func TestCheckIsNotDueForTheBatch(t *testing.T) {
	h := home(t, 2, false)
	h.described("batch")
	h.saved(vida+"/round/batch", "name", "7", "use_within_h", "60", "conductivity_low_ms_cm", "13.8", "conductivity_high_ms_cm", "13.9",
		"label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "A-31", "expiry", "2026-12-31")
	id := ""
	h.desk.View(func(rec *record.Household) { id = rec.Batches(h.now)[0].ID })
	h.saved(vida+"/round/batch/"+id+"/test", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12-31",
		"machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.85")
	base := h.upTo()
	h.saved(base+"/batch_used", "batch_id", id)
	h.treated(base)
	h.later(10 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "132", "blood_flow_ml_min", "310", "venous_mmhg", "135")
	h.later(25 * time.Minute)
	h.saved(base+"/fluid_check", "machine_conductivity_ms_cm", "14.0", "meter_conductivity_ms_cm", "14.0")
	h.says(base, "the range of the batch")
	h.later(11 * time.Minute)
	h.saved(base+"/event/unwell", "words", "chest pain")
	said := h.now.Format("15:04")
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "Check due now: since what was said at "+said) {
		t.Errorf("%s, want %s", words, said)
	}
}
