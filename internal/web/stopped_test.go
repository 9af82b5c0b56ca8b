package web

import (
	"strings"
	"testing"
)

// What stands at stop is named at the top of setting up, with a way to it, and a
// paper session shows what would have been said.
func TestStopsAreNamedFirst(t *testing.T) {
	h, ida := settled(t)
	base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID(), "person_confirmed", "yes")
	if text := h.see(base); strings.Contains(text, `class="look stopped"`) && strings.Contains(text, "Fit to start") {
		before, _, _ := strings.Cut(text, `id="times"`)
		if strings.Contains(before, "Fit to start") {
			t.Error("a stop is named before anything was answered")
		}
	}
	h.saved(base+"/fitness", "fever", "yes")
	before, _, found := strings.Cut(h.see(base), `id="times"`)
	if !found || !strings.Contains(before, "STOP at the start line:") || !strings.Contains(before, "Fit to start") || !strings.Contains(before, `href="#check-fit"`) {
		t.Errorf("the stop is not named above the times")
	}
	h.saved(base+"/access_check", "thrill", "absent", "bruit", "absent", "skin", "clean")
	if before, _, _ := strings.Cut(h.see(base), `id="times"`); !strings.Contains(plainText(before), "Access No thrill, no bruit. Do not needle; ring now.") || strings.Contains(plainText(before), "Technician") {
		t.Errorf("the top does not say what not to do: %s", plainText(before))
	}
	h.saved(base+"/override", "check", "fit", "reason", "nobody reached, tried at 17:10 and 17:20")
	if before, _, _ := strings.Cut(h.see(base), `id="times"`); strings.Contains(before, "Fit to start") {
		t.Errorf("it is named though it was gone past")
	}
}

func TestPaperShowsItsStartLine(t *testing.T) {
	h, ida := settled(t)
	day := h.now.AddDate(0, 0, -1).Format("2006-01-02")
	base := h.saved(ida+"/session", "place", "home", "source", "paper", "session", newID(), "person_confirmed", "yes", "day", day, "clock", "17:00")
	h.saved(base+"/fitness", "chest_pain", "yes", "day", day, "clock", "17:01")
	h.says(base, "Start line", "It holds nothing up here", "Ring your unit first: chest pain.")
}

// What the ambulance is rung about is said once at the top, whichever check said it.
func TestTheAmbulanceIsSaidOnce(t *testing.T) {
	const long = "Heavy legs. Ring the ambulance first, then your unit; do not wait for the session."
	for _, tt := range []struct{ words, ring, want string }{
		{"No thrill. Do not needle.", "", "No thrill. Do not needle."},
		{"No thrill. Do not needle.", long, "No thrill. Do not needle."},
		{long + " Four days without dialysis.", long, "Four days without dialysis."},
		{"Heavy legs. Ring the ambulance first, then your unit. Tell both: fever.", long, "Tell both: fever."},
		{"Faint. Ring the ambulance first, then your unit.", long, "Faint. Ring the ambulance first, then your unit."},
		{"Faint. Ring the ambulance first, then your unit.", "Faint. Ring the ambulance first, then your unit.", ""},
	} {
		if got := without(tt.words, tt.ring); got != tt.want {
			t.Errorf("%q without %q: %q", tt.words, tt.ring, got)
		}
	}
}
