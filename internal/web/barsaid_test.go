package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// Nothing that is open or stands is lost from the bar by what comes after it: the gravest
// is the first, with its steps, the others are named, and the ambulance's number is first
// if any of them is one for it (H-111).
func TestBarNamesEverything(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.begin()
	says := func(want, steps string) {
		t.Helper()
		for _, path := range []string{base, vida + "/"} {
			bar := barOn(h.see(path))
			if words := plainText(bar); !strings.Contains(words, want+" ") || !strings.Contains(bar, `href="#wrong-`+steps+`"`) {
				t.Errorf("%s: the bar does not say %q with the steps of %s: %s", path, want, steps, words)
			}
			if tels := h.tels(path); len(tels) == 0 || tels[0] != ambulance {
				t.Errorf("%s: %q: first is %q", path, want, tels)
			}
		}
	}
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "63", "again.systolic_mmhg", "63", "diastolic_mmhg", "35", "again.diastolic_mmhg", "35")
	h.later(time.Minute)
	h.saved(base+"/event/unwell", "words", "chest pain")
	says("! Feeling unwell: “chest pain”. and low pressure 63/35", session.TroubleHeart)
	open := func(code string) string {
		h.later(time.Minute)
		h.saved(base+"/trouble", "trouble", code, "state", session.TroubleOpen)
		return h.now.Format("15:04")
	}
	open(session.TroubleFluid)
	says("✕ Feeling unwell: “chest pain”. and fluid wrong; low pressure 63/35", session.TroubleHeart)
	at := open(session.TroubleAir)
	says("✕ Air or foam, since "+at+" and chest pain; fluid wrong; low pressure 63/35", session.TroubleAir)
	open(session.TroubleHeart)
	says("✕ Air or foam, since "+at+" and chest, heart; fluid wrong; low pressure 63/35", session.TroubleAir)
	h.saved(base+"/trouble", "trouble", session.TroubleHeart, "state", session.TroubleOver)
	says("✕ Air or foam, since "+at+" and fluid wrong; low pressure 63/35", session.TroubleAir)
	h.later(time.Minute)
	h.saved(base+"/came_off", "removed_ml", "0", "returned", "none")
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "Coming off ✕ Air or foam, since "+at+" and fluid wrong") {
		t.Errorf("coming off: %s", words)
	}
	for _, kind := range session.Troubles() {
		if shortNames[kind.Code] == "" {
			t.Errorf("%s has no short name", kind.Code)
		}
	}
}
