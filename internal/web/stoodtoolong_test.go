package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// Blood that stood in the lines for longer than the unit's figure is not offered to be
// given back, until somebody said in so many words that it may (H-138).
func TestBloodThatStoodTooLongStaysOut(t *testing.T) {
	h, base := runs(t)
	within := unit.Minutes(15)
	h.keep("p-vida-hribar", &record.TroubleSteps{Trouble: session.TroublePower, Words: "Turn the pump by hand.", Ring: session.RingUnit, BackIn: &within,
		From: "Sister Holm (invented)", GivenOn: unit.DateOf(h.now), ReviewBy: unit.DateOf(h.now).Add(200)})
	h.saved(base + "/event/pause")
	h.later(14 * time.Minute)
	isWayBack(t, h, base, "14 min")
	h.later(2 * time.Minute)
	h.says(base+"/washback", "The blood stays out", "Blood has stood in the lines for 16", "Your unit’s figure is 15 min", "Come off without giving the blood back")
	for _, page := range []string{"/washback", "/washback?ticks=1"} {
		if way := wayBack(h.see(base + page)); way != "" {
			t.Errorf("%s has a way to the washback: %s", page, way)
		}
	}
	for _, said := range []string{"they ring back", "no, throw it away", "Sister Holm: come tomorrow"} {
		h.saved(base+"/rang", "whom", "Unit, at night", "said", said)
		h.says(base+"/washback", "The blood stays out")
	}
	h.saved(base + "/event/resume")
	h.later(5 * time.Minute)
	h.says(base+"/washback", "The blood stays out", "Blood has stood in the lines for 16")
	_, form, _ := strings.Cut(h.see(base+"/washback"), `action="`+base+`/rang"`)
	form, _, _ = strings.Cut(form, "</form>")
	if !strings.Contains(form, `name="said" value="the blood may go back"`) || !strings.Contains(form, "They said: the blood may go back") {
		t.Errorf("no button with these words: %s", form)
	}
	h.saved(base+"/rang", "whom", "Unit, at night", "said", "the blood may go back")
	isWayBack(t, h, base, "on the unit's word")
}

// A power cut is blood that stands too, without a pause: past the unit's figure neither
// the washback nor the tile nor the bar gives it back (H-138).
func TestPowerCutPastTheUnitsFigure(t *testing.T) {
	h, base := runs(t)
	within := unit.Minutes(15)
	h.keep("p-vida-hribar", &record.TroubleSteps{Trouble: session.TroublePower, Words: "Turn the pump by hand, slowly.", Ring: session.RingUnit, BackIn: &within,
		From: "Sister Holm (invented)", GivenOn: unit.DateOf(h.now), ReviewBy: unit.DateOf(h.now).Add(200)})
	h.saved(base+"/trouble", "trouble", "power", "state", "open")
	if text := plainText(h.troubleOn(base, session.TroublePower)); !strings.Contains(text, "Turn the pump by hand") {
		t.Errorf("the unit's steps are not there at first: %s", text)
	}
	h.later(16 * time.Minute)
	h.says(base+"/washback", "The blood stays out", "Blood has stood in the lines for 16")
	text := plainText(h.troubleOn(base, session.TroublePower))
	if strings.Contains(text, "Turn the pump by hand") || strings.Contains(text, "as your unit’s steps say") || !strings.Contains(text, "Give the blood back: no longer") {
		t.Errorf("past the figure: %s", text)
	}
	h.silent(base, "Turn the pump by hand")
	h.saved(base+"/trouble", "trouble", "power", "state", "over")
	h.later(10 * time.Minute)
	h.says(base+"/washback", "The blood stays out", "Blood has stood in the lines for 16")
	h.later(21 * time.Minute)
	h.says(base+"/washback", "May the blood go back?")
}

// Saline that is tapped under low pressure says why, so that it is never in the goal
// (H-139).
func TestSalineUnderLowPressureSaysWhy(t *testing.T) {
	h, base := runs(t)
	_, tap, _ := strings.Cut(h.troubleOn(base, session.TroubleLow), `action="`+base+`/saline"`)
	tap, _, _ = strings.Cut(tap, "</form>")
	if !strings.Contains(tap, `name="why" value="low pressure"`) {
		t.Errorf("it does not: %s", tap)
	}
	before, _ := session.SetNow(h.open(base), h.now)
	h.saved(base+"/saline", "volume_ml", "250", "why", "low pressure")
	if after, err := session.SetNow(h.open(base), h.now); err != nil || after.Saline != 250 || after.Added != before.Added {
		t.Errorf("%v: %+v", err, after)
	}
}

// What is open, or was felt and not answered, stands where the session is closed, with
// whom to ring; the button names it (H-114).
func TestClosingWithSomethingOpen(t *testing.T) {
	for name, wrong := range map[string]func(h *house, base string){
		"felt":   func(h *house, base string) { h.saved(base+"/unwell", "words", "chest pain") },
		"opened": func(h *house, base string) { h.saved(base+"/trouble", "trouble", "heart", "state", "open") },
	} {
		h, base := runs(t)
		wrong(h, base)
		h.saved(base+"/came_off", append([]string{"look_id", newID(), "washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all"}, threeTicks...)...)
		_, closing, _ := strings.Cut(h.see(base), `id="close"`)
		closing, _, _ = strings.Cut(closing, "</section>")
		if text := strings.ToLower(plainText(closing)); !strings.Contains(text, "chest pain") || !strings.Contains(closing, `href="tel:`) || !strings.Contains(text, "close it with this still open") {
			t.Errorf("%s:\n%s", name, text)
		}
	}
	h, base := runs(t)
	h.saved(base+"/came_off", append([]string{"look_id", newID(), "washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all"}, threeTicks...)...)
	h.says(base, "Close this session")
	h.silent(base, "still open:")
}
