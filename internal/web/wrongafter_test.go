package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// After the end of the treatment neither tiles nor bar ask for what is of the run only, no
// tap writes it, and the tile of a low pressure shows the pressure written since (H-111).
func TestNothingOfTheRunAfterItsEnd(t *testing.T) {
	t.Parallel()
	for _, own := range []bool{false, true} {
		h := home(t, 2, false)
		if !own {
			h.noSteps()
		}
		base := h.begin()
		h.later(3 * time.Hour)
		if part := h.troubleOn(base, session.TroubleLow); !strings.Contains(part, ">Removal off<") {
			t.Fatalf("while it runs removal off is no tap: %s", part)
		}
		h.saved(base+"/came_off", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "none")
		h.later(10 * time.Minute)
		h.saved(base+"/vitals_after", "lying_systolic_mmhg", "82", "again.lying_systolic_mmhg", "82", "lying_diastolic_mmhg", "50", "again.lying_diastolic_mmhg", "50")
		if text := plainText(h.troubleOn(base, session.TroubleLow)); !strings.Contains(text, "82/50 mmHg, "+h.now.Format("15:04")) {
			t.Errorf("the newest pressure is not there: %s", text)
		}
		for _, kind := range session.Troubles() {
			part := h.troubleOn(base, kind.Code)
			for _, words := range []string{"Removal off", "Removal on again", "Pump off", "Going on", "Lay back"} {
				if buttonOf(part, words) != "" {
					t.Errorf("%s: %q is a tap after the end", kind.Code, words)
				}
			}
			text, _, _ := strings.Cut(plainText(part), "Write down")
			if !own && (ofRun(text) || strings.Contains(text, "Nothing watches for air")) {
				t.Errorf("%s: %s", kind.Code, text)
			}
			if own && ofRun(text) != strings.Contains(text, "The treatment has ended: removal, pump and saline by the machine are past.") {
				t.Errorf("%s: what is past is not said to be: %s", kind.Code, text)
			}
			h.later(time.Minute)
			h.saved(base+"/trouble", "trouble", kind.Code, "state", session.TroubleOpen)
			if words := plainText(barOn(h.see(base))); !strings.Contains(words, kind.Title) || ofRun(words) {
				t.Errorf("%s, the bar: %s", kind.Code, words)
			}
			h.saved(base+"/trouble", "trouble", kind.Code, "state", session.TroubleOver, "said", "Nurse R at the unit: go on")
		}
	}
}
