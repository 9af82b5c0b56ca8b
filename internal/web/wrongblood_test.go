package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// While one trouble is open in which the blood stays out, no other says a weaker rule:
// over all pairs the stricter one stands there once, with the trouble that holds it and
// since when, and neither the tile nor the bar has a step of a hand return or a time to
// give the blood back in (H-138).
func TestNoTroubleGivesBackWhatAnotherHolds(t *testing.T) {
	t.Parallel()
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	const byHand = "Turn the pump by hand"
	for _, one := range session.Troubles() {
		steps := h.stepsOf(one.Code, session.RingUnit, byHand+"\nStop at the line")
		if back := unit.Minutes(15); one.Code == session.TroublePower {
			steps.BackIn = &back
		}
		h.keep("p-vida-hribar", steps)
	}
	pairs := 0
	for _, open := range session.Troubles() {
		h.later(time.Minute)
		h.saved(base+"/trouble", "trouble", open.Code, "state", session.TroubleOpen)
		since := h.now.Format("15:04")
		for _, path := range []string{base, vida + "/", vida + "/shelf"} {
			page := h.see(path)
			for _, other := range session.Troubles() {
				part := h.troubleIn(page, path, other.Code)
				text := plainText(part)
				own, held := other.Blood.Words(), ""
				if open.Code != other.Code && strictness[open.Blood] > strictness[other.Blood] {
					held = strings.TrimSuffix(open.Blood.Words(), ".") + " – “" + open.Title + "” is not over (since " + since + ")."
				}
				if n := strings.Count(text, "Give the blood back: "); n != 1 {
					t.Errorf("%s, %s under %s: the rule stands %d times", path, other.Code, open.Code, n)
				}
				if held == "" {
					if !strings.Contains(text, own) {
						t.Errorf("%s, %s under %s: its own rule is not there: %s", path, other.Code, open.Code, text)
					}
					continue
				}
				pairs++
				if !strings.Contains(text, held) || strings.Contains(text, own) {
					t.Errorf("%s, %s while %s is open does not say %q: %s", path, other.Code, open.Code, held, text)
				}
				if strings.Contains(text, "goes back within") || strings.Contains(text, "no longer given back") && !strings.Contains(part, `class="wrong-old" hidden`) {
					t.Errorf("%s, %s while %s is open has a time to give the blood back in: %s", path, other.Code, open.Code, text)
				}
				if other.Code == session.TroublePower {
					if strings.Contains(text, byHand) || !strings.Contains(text, "The steps for giving it back by hand are left out while “"+open.Title+"” is not over.") {
						t.Errorf("%s, a power cut while %s is open: %s", path, open.Code, text)
					}
				} else if !strings.Contains(text, byHand) {
					t.Errorf("%s, %s while %s is open has lost the unit's steps", path, other.Code, open.Code)
				}
			}
		}
		h.saved(base+"/trouble", "trouble", open.Code, "state", session.TroubleOver, "said", "Nurse R at the unit: go on")
	}
	if pairs < 100 {
		t.Errorf("only %d pairs were looked at", pairs)
	}
}

// The bar gives the first steps of a power cut only where they may be gone by; with two
// that hold the blood the stricter is named.
func TestPowerCutWhileBloodStaysOut(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.keep("p-vida-hribar", h.stepsOf(session.TroublePower, session.RingAmbulance, "Turn the pump by hand"))
	h.saved(base+"/trouble", "trouble", session.TroublePower, "state", session.TroubleOpen)
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "Turn the pump by hand") {
		t.Fatalf("the bar: %s", words)
	}
	h.later(time.Minute)
	h.saved(base+"/trouble", "trouble", session.TroubleLeak, "state", session.TroubleOpen)
	h.later(time.Minute)
	h.saved(base+"/trouble", "trouble", session.TroubleDark, "state", session.TroubleOpen)
	if words := plainText(barOn(h.see(base))); strings.Contains(words, "Turn the pump by hand") || !strings.Contains(words, "Nothing watches for air now.") {
		t.Errorf("the bar: %s", words)
	}
	if text := plainText(h.troubleOn(base, session.TroublePower)); !strings.Contains(text, "Give the blood back: never – “Blood dark or cherry, back pain” is not over (since "+h.now.Format("15:04")+").") {
		t.Errorf("%s", text)
	}
}
