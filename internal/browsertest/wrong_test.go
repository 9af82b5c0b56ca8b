//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"

	"ebbline/session"
)

// wholeTiles counts the tiles of the first list that lie wholly on the screen, and
// gives the lowest height of one.
const wholeTiles = `(list => [list.filter(r => r.top >= 0 && r.bottom <= innerHeight && r.left >= 0 && r.right <= innerWidth).length,
	Math.floor(Math.min(...list.map(r => r.height)))])([...document.querySelectorAll("#wrong .wrong-tiles:not(.rest) a")].map(e => e.getBoundingClientRect()))`

// lies waits until a part lies over the page and, where the page has script, has the
// focus.
func (s *screen) lies(id string, script bool) {
	s.t.Helper()
	s.until(id+" over the page", fmt.Sprintf(`document.querySelector("#%[1]s:target") && (!%[2]v || document.activeElement.id === "%[1]s")`, id, script))
}

// opensTrouble goes from a page to one trouble as a finger does, and wants its title,
// its number and what is said of the blood on the screen.
func (s *screen) opensTrouble(code, number string, script bool) {
	s.t.Helper()
	if !eval[bool](s, `!!document.querySelector("#wrong:target")`) {
		s.tap(`.bar-wrong`)
	}
	s.lies("wrong", script)
	s.tap(`a[href="#wrong-` + code + `"]`)
	s.lies("wrong-"+code, script)
	if lead := eval[string](s, `(a => { const r = a.getBoundingClientRect(); return r.height >= 64 && r.bottom <= innerHeight ? a.getAttribute("href") : "not in sight" })(document.querySelector("#wrong-`+code+` .phones a"))`); lead != "tel:"+number {
		s.t.Errorf("%s: %s leads with %s, want %s", s.name, code, lead, number)
	}
	if !eval[bool](s, `document.querySelector("#wrong-`+code+` .wrong-blood:not([hidden])").innerText.startsWith("Give the blood back: ")`) {
		s.t.Errorf("%s: %s does not say whether the blood goes back", s.name, code)
	}
}

// Eight troubles are in sight at once on a telephone, each large enough for a thumb,
// with script and without, by day's size and by a tablet's; one finger more leads to
// the number and the unit's own steps, and Escape leads back (H-111).
func TestSomethingIsWrongInOneLook(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	for _, plain := range []bool{false, true} {
		s := newScreen(t, h, fmt.Sprintf("wrong-plain-%v", plain), phoneW, phoneH)
		if plain {
			s.plain()
		}
		s.open(base)
		s.tap(`.bar-wrong`)
		s.lies("wrong", !plain)
		s.shot("list")
		if got := eval[[]int](s, wholeTiles); got[0] != 8 || got[1] < 64 {
			t.Errorf("script off %v: %d tiles are wholly in sight, the lowest %d px high", plain, got[0], got[1])
		}
		if wide := eval[int](s, `document.querySelector("#wrong").scrollWidth`); wide > phoneW {
			t.Errorf("the list is %d px wide", wide)
		}
		s.opensTrouble("blood_out", "112", !plain)
		s.shot("needle")
		if !eval[bool](s, `document.querySelector("#wrong-blood_out").innerText.includes("Press on the hole")`) {
			t.Error("the unit's own steps are not there")
		}
		if plain {
			continue
		}
		if on := eval[string](s, `document.activeElement.id`); on != "wrong-blood_out" {
			t.Errorf("the focus is on %q", on)
		}
		if !eval[bool](s, `document.querySelector("main").inert`) {
			t.Error("the page under it can be reached by keyboard")
		}
		// What is newer comes in, and the trouble stays open.
		h.saved(base+"/drink", "volume_ml", "100")
		s.current()
		if !eval[bool](s, `!!document.querySelector("#wrong-blood_out:target") && document.querySelector("main").inert`) {
			t.Error("news closed what was open")
		}
		call(s, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "keyDown", Key: "Escape"})
		s.until("the page again", `!document.querySelector(".wrong:target") && !document.querySelector("main").inert`)
	}
}

// When the program is gone numbers, card and steps still open, with script and
// without; what the page says of itself is true, what was done is kept on the screen
// and saved once, and a power cut is counted from the first press (H-118, H-111).
func TestSomethingIsWrongWithTheProgramGone(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "gone", phoneW, phoneH)
	plain := newScreen(t, h, "gone-plain", phoneW, phoneH)
	plain.plain()
	plain.open(base)
	s.open(base)
	s.current()
	h.wire.cut()
	var cutFrom, cutBy time.Time // the first press on the power cut came between them
	for _, one := range []*screen{s, plain} {
		one.opensTrouble("air", "112", one == s)
		one.tap(`#wrong-air .wrong-top a[href="#wrong"]`)
		one.lies("wrong", one == s)
		from := h.now()
		one.opensTrouble("power", "+00015550144", one == s)
		if one == s {
			cutFrom, cutBy = from, h.now()
		}
		one.tap(`#wrong-power .wrong-top a[href="#main"]`)
		one.until("the page again", `!document.querySelector(".wrong:target")`)
		one.tap(`.card-link`)
		one.lies("wrong-card", one == s)
		if !eval[bool](one, `!!document.querySelector("#wrong-card .acts li")`) {
			t.Errorf("%s: the card has no words", one.name)
		}
	}

	// The screen's clock is put forward until the page is old.
	h.later(4 * time.Minute)
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (4*time.Minute).Milliseconds()))
	s.until("the page gone old", `document.body.classList.contains("greyed")`)
	s.shows("NOT LIVE. Still good here: the numbers, the card and your unit’s steps.")
	s.tap(`#wrong-card .wrong-top a[href="#wrong"]`)
	s.lies("wrong", true)
	s.tap(`a[href="#wrong-power"]`)
	s.lies("wrong-power", true)
	s.until("four minutes on the clock", `document.querySelector("#power-clock time").textContent === "4 min" && document.querySelector("#power-past").hidden`)
	s.shot("power")
	s.tap(`#wrong-power button >> Yes, this is happening`)
	s.shows("1 entry is kept on this screen, NOT SAVED")
	eval[bool](s, `sleptFor(1100), true`)
	s.tap(`#wrong-power button >> Pump off`)
	s.shows("2 entries are kept on this screen, NOT SAVED")
	s.shot("kept")
	h.later(12 * time.Minute)
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (12*time.Minute).Milliseconds()))
	s.until("past the unit's figure", `!document.querySelector("#power-past").hidden`)

	h.wire.mend()
	s.until("the count of the record", `document.querySelector("#power-clock").dataset.running !== undefined && !document.querySelector("#waiting")`)
	open, pumps := h.written(base, "trouble"), h.written(base, "pause")
	if len(open) != 1 || len(pumps) != 1 {
		t.Fatalf("%d troubles and %d pauses are saved, want one each", len(open), len(pumps))
	}
	if b := open[0].Body.(*session.Trouble); b.Trouble != session.TroublePower || b.State != session.TroubleOpen {
		t.Errorf("saved is %+v", b)
	}
	// How long it waited is told in whole seconds.
	if at := open[0].At; at.Before(cutFrom.Add(-3*time.Second)) || at.After(cutBy.Add(3*time.Second)) {
		t.Errorf("the cut stands at %s, want %s to %s", at.Format(time.TimeOnly), cutFrom.Format(time.TimeOnly), cutBy.Format(time.TimeOnly))
	}
	if !eval[bool](s, `!!document.querySelector("#wrong-power:target")`) {
		t.Error("saving closed what was open")
	}
}

// What lies over the page has no fault that axe knows either, and a saving that
// leads to a trouble of the page opens it.
func TestAxeOfTroubles(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", session.TroubleOpen)
	s := newScreen(t, h, "axe-wrong", phoneW, phoneH)
	for _, place := range []string{"wrong", "wrong-card", "wrong-low_pressure", "wrong-air", "wrong-power", "wrong-reaction"} {
		s.open(vida + "/")
		s.open(base + "#" + place)
		s.lies(place, true)
		s.sees(place)
	}
	s.open(base)
	s.size(phoneW, phoneH)
	s.current()
	eval[bool](s, fmt.Sprintf(`document.querySelector('form[action$="/reading"] [name="next"]').value = %s, true`, quoted(base+"#wrong-low_pressure")))
	s.fill("/reading", "systolic_mmhg", "118")
	s.fill("/reading", "diastolic_mmhg", "66")
	s.saves("the reading", func() { s.tap(`#pad [data-pad="save"]`) })
	s.until("the trouble it leads to, with the new value", `document.querySelector("#wrong-low_pressure:target .wrong-bp").innerText.includes("118/66")`)
}
