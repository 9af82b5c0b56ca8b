package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// While the pressure is low the bar says the pressure written last with its time, also
// one that is not low enough to be remarked on again, and saving it leads to the steps;
// what is felt then stands beside it.
func TestBarSaysTheLatestLowPressure(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	read := func(upper, lower, to string) {
		t.Helper()
		h.later(5 * time.Minute)
		got := h.saved(base+"/reading", "systolic_mmhg", upper, "diastolic_mmhg", lower, "again.systolic_mmhg", upper, "again.diastolic_mmhg", lower)
		if got != base+to {
			t.Errorf("%s/%s leads to %s", upper, lower, got)
		}
	}
	says := func(path, want string) {
		t.Helper()
		if words := plainText(barOn(h.see(path))); !strings.Contains(words, "! "+want) {
			t.Errorf("%s: the bar does not say %q: %s", path, want, words)
		}
	}
	read("132", "76", "")
	read("88", "50", "#wrong-low_pressure")
	says(base, "Low pressure 88/50, "+h.now.Format("15:04"))
	read("74", "41", "#wrong-low_pressure")
	read("71", "40", "#wrong-low_pressure") // no new remark: not 10 lower
	says(base, "Low pressure 71/40, "+h.now.Format("15:04"))
	says(vida+"/", "Low pressure 71/40, "+h.now.Format("15:04"))
	h.later(time.Minute)
	h.saved(base+"/event/unwell", "words", "chest pain")
	says(base, "Feeling unwell: “chest pain”. and low pressure 71/40")
	if bar := barOn(h.see(base)); !strings.Contains(bar, `href="#wrong-heart"`) {
		t.Errorf("the bar does not lead to the steps for chest pain: %s", bar)
	}
	h.later(time.Minute)
	h.saved(base + "/event/low_pressure")
	says(base, "Feeling unwell: “chest pain”. and low pressure 71/40")
	read("131", "75", "")
	if words := plainText(barOn(h.see(base))); strings.Contains(words, "Low pressure") {
		t.Errorf("inside again: %s", words)
	}
}

// Felt low without any figure of the run, no pressure from before it is called low.
func TestBarSaysLowWithoutAFigure(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(5 * time.Minute)
	h.saved(base + "/event/low_pressure")
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "! Low pressure, no figure, "+h.now.Format("15:04")) {
		t.Errorf("%s", words)
	}
}

// From the look at the three things until the end is written the bar leads back to where
// the bag is watched, whatever else stands; a trouble takes its place (H-137).
func TestBarLeadsBackToTheWashback(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(3 * time.Hour)
	h.saved(base+"/reading", "systolic_mmhg", "101", "diastolic_mmhg", "60")
	h.saved(base+"/washback_checked", "saline_on_arterial_line", "yes", "its_clamp_open", "yes", "venous_line_to_me", "yes")
	for _, path := range []string{base, vida + "/", base + "/note"} {
		bar := barOn(h.see(path))
		if words := plainText(bar); !strings.Contains(words, "Giving the blood back: watch the bag") || !strings.Contains(bar, `<a href="`+base+`/washback">`) {
			t.Errorf("%s: %s", path, bar)
		}
		if !strings.Contains(bar, `href="#wrong-low_pressure"`) || len(h.tels(path)) == 0 {
			t.Errorf("%s: the low pressure has lost its steps and its number: %s", path, bar)
		}
	}
	h.says(base+"/washback", "It gets fuller, or red")
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", session.TroubleOpen)
	if bar := barOn(h.see(base)); strings.Contains(bar, "watch the bag") || strings.Contains(bar, "/washback") {
		t.Errorf("with air: %s", bar)
	}
}

// Nothing that reassures stands on the page of the run, over values that the program has
// no rule for either: a first venous pressure of 400, or 245/130.
func TestNothingReassures(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.says(base, "No reading is written yet.")
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "245", "again.systolic_mmhg", "245", "diastolic_mmhg", "130", "again.diastolic_mmhg", "130",
		"venous_mmhg", "400", "again.venous_mmhg", "400", "blood_flow_ml_min", "300")
	h.silent(base, "remarked on", "Nothing was", "No reading is written yet.")
}
