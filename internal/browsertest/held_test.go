//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"
)

// With the program gone a link that leaves the page leads nowhere: the page, its tiles
// and its numbers stay, and it says why at once; back, the link leads on (H-118).
func TestALinkIsHeldWhenTheProgramIsGone(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "held", phoneW, phoneH)
	for _, path := range []string{base, vida + "/session"} {
		s.open(path)
		s.current()
		h.wire.cut()
		eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (7*time.Second).Milliseconds()))
		before := s.address()
		s.tap(`.parts a >> Today`)
		s.shows("The program does not answer. You stay on this page. Still good here: the numbers, the card and your unit’s steps. Do not reload this page and do not close it")
		s.until("the words at the top", `!document.querySelector("#stale").hidden`)
		s.shot("held")
		s.tap(`.bar-now a`)
		s.until("the next check on this page", `location.hash === "#reading-h"`)
		s.tap(`.bar-wrong a`)
		s.lies("wrong", true)
		s.tap(`#wrong a[href="#wrong-air"]`)
		s.lies("wrong-air", true)
		s.until("why, over the trouble", `document.querySelector("#wrong-told").innerText.includes("NOT LIVE. Still good here: the numbers")`)
		if got := eval[string](s, `location.pathname`); got != path {
			t.Errorf("from %s it led to %s (%s)", path, got, before)
		}
		if !eval[bool](s, `document.querySelectorAll("#wrong-air .phones a").length > 0 && document.querySelector("#wrong-air").innerText.includes("Give the blood back: never")`) {
			t.Error("number or rule are gone")
		}
		s.tap(`#wrong-air .wrong-top a[href="#main"]`)
		h.wire.mend()
		s.until("heard again", `document.querySelector("#stale").hidden`)
		s.tap(`.parts a >> Today`)
		s.until("Today", `location.pathname === "`+vida+`/"`)
	}
}

// A program that hangs is not waited for longer than three seconds; one that was only
// not heard is asked, and the link leads on.
func TestALinkAsksAProgramThatHangs(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "hangs", phoneW, phoneH)
	s.open(base)
	s.current()
	h.wire.stall()
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (7*time.Second).Milliseconds()))
	s.tap(`.parts a >> Today`)
	s.shows("The program does not answer. You stay on this page.")
	h.wire.mend()
	s.until("heard again", `document.querySelector("#stale").hidden`)
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (7*time.Second).Milliseconds()))
	s.tap(`.parts a >> Today`)
	s.until("Today", `location.pathname === "`+vida+`/"`)
}

// A finger that bounces on saline writes it once, and the page says so. Over the tile
// stands what was saved, with the way to put it right (H-44).
func TestPressedTwiceIsSavedOnce(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "twice", phoneW, phoneH)
	s.open(base + "#wrong-low_pressure")
	s.lies("wrong-low_pressure", true)
	s.current()
	const saline = `#wrong-low_pressure button >> Saline`
	s.saves("saline", func() { s.tap(saline) })
	s.until("what was saved, over the tile", `(a => { if (!a) return false; const r = a.getBoundingClientRect();
		return a.innerText === "Not right?" && r.height >= 44 && document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2) === a })(document.querySelector("#wrong-told a"))`)
	s.shot("saved")
	link := eval[string](s, `new URL(document.querySelector("#wrong-told a").href).pathname`)
	if given := h.written(base, "saline"); len(given) != 1 || link != base+"/entry/"+given[0].ID {
		t.Errorf("%d times saline, and the way to put it right leads to %s", len(given), link)
	}
	eval[bool](s, `sleptFor(2100), true`)
	n := h.entries()
	s.saves("saline, bouncing", func() { s.tap(saline) })
	s.tap(saline)
	s.shows("Saved once.")
	s.shot("once")
	if got := h.entries() - n; got != 1 {
		t.Errorf("pressed twice it is %d entries", got)
	}
	// Two seconds later it is meant; another button elsewhere always is.
	eval[bool](s, `sleptFor(2100), true`)
	s.saves("saline again", func() { s.tap(saline) })
	s.saves("lay back", func() { s.tap(`#wrong-low_pressure button >> Lay back`) })
	if given := h.written(base, "saline"); len(given) != 3 {
		t.Errorf("%d times saline", len(given))
	}
}
