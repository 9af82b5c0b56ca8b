//go:build browser

package browsertest

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
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

// A finger that bounces on saline writes it once, and the page tells that. Over the tile
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
	s.until("what was saved by name", `/^Saved: saline 100\smL, \d\d:\d\d\.\s*Not right\?$/.test(document.querySelector("#wrong-told").innerText)`)
	s.current()
	eval[bool](s, `sleptFor(1100), true`)
	s.saves("lay back", func() { s.tap(`#wrong-low_pressure button >> Lay back`) })
	if given := h.written(base, "saline"); len(given) != 3 {
		t.Errorf("%d times saline", len(given))
	}
}

// middle is the script that gives the middle of the button of an open tile with these words.
const middle = `(w => { const r = [...document.querySelectorAll(".wrong:target button")].find(b => b.textContent.trim() === w).getBoundingClientRect();
	return [r.x + r.width / 2, r.y + r.height / 2]; })`

// A second press within a second, a little off, writes nothing else: what was pressed
// stays where it is, and a press on the button beside it, near the first, is held and said.
// One in the middle of that button counts at once; on the page of the run every press does
// (H-44).
func TestASecondPressBesideWritesNothing(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "beside", phoneW, phoneH)
	for _, code := range []string{"air", "heart", "power", "alarm"} {
		s.open(base)
		s.tap(`.bar-wrong a`)
		s.tap(`#wrong a[href="#wrong-` + code + `"]`)
		s.lies("wrong-"+code, true)
		s.current()
		const yes = `Yes, this is happening`
		s.tap(`#wrong-` + code + ` button >> ` + yes) // brings it into sight
		s.until("written", saidOn(yes)+`.startsWith("written ")`)
		at := eval[[]float64](s, middle+`(`+quoted(yes)+`)`)
		n := h.entries()
		for _, off := range [][2]float64{{0, 0}, {22, 0}, {-22, 22}, {0, 22}, {0, -22}} {
			s.do(chromedp.TapXY(at[0]+off[0], at[1]+off[1]))
		}
		s.shot(code)
		if now := eval[[]float64](s, middle+`(`+quoted(yes)+`)`); now[0] != at[0] || now[1] != at[1] {
			t.Errorf("%s: the button moved from %v to %v", code, at, now)
		}
		if got := h.entries(); got != n {
			t.Errorf("%s: %d entries more", code, got-n)
		}
	}
	// Two buttons side by side.
	s.open(base + "?two=1#wrong-low_pressure")
	s.lies("wrong-low_pressure", true)
	s.current()
	edge := eval[[]float64](s, `(() => { const of = w => [...document.querySelectorAll("#wrong-low_pressure button")].find(b => b.textContent.trim() === w);
		of("Lay back").scrollIntoView({block: "center", behavior: "instant"});
		const at = w => of(w).getBoundingClientRect(), l = at("Lay back"), r = at("Removal off"); return [l.right - 6, r.left + 6, l.top + l.height / 2, r.left + r.width / 2]; })()`)
	s.do(chromedp.TapXY(edge[0], edge[2]))
	s.until("written", saidOn("Lay back")+`.startsWith("written ")`)
	n := h.entries()
	s.do(chromedp.TapXY(edge[1], edge[2])) // a finger that trembles over the edge
	s.until("held", `document.querySelector("#wrong-told").innerText.includes("Pressed twice? Press again.")`)
	if got := h.entries(); got != n {
		t.Errorf("beside it: %d entries more", got-n)
	}
	s.saves("removal off, meant: in its middle, at once", func() { s.do(chromedp.TapXY(edge[3], edge[2])) })
	s.tap(`#wrong-low_pressure .wrong-top a[href="#main"]`)
	s.saves("a drink", func() { s.tap(`.tap[data-kind="drink"] button >> 50`) })
	s.saves("another at once", func() { s.tap(`.tap[data-kind="drink"] button >> 100`) })
	s.until("by name", `document.querySelector("#saved").innerText.startsWith("Saved: drink or food 100")`)
}

// With the program gone a trouble that was just said makes its rule stand in every other
// tile: after air no hand return of a power cut is in sight, no figure for it, no going on,
// and the bar names what is kept on this screen. The same holds before the answer has come,
// and until the fresh page says it itself (H-138, H-44).
func TestAKeptTroubleHoldsTheBlood(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	h.saved(base + "/event/pause")
	s := newScreen(t, h, "kept-rule", phoneW, phoneH)
	s.open(base)
	s.current()
	const shown = `(code => { const c = document.querySelector("#wrong-" + code).cloneNode(true); c.querySelectorAll("[hidden]").forEach(e => e.remove());
		return c.textContent.replace(/\s+/g, " "); })`
	const power, never = shown + `("power")`, `Give the blood back: never – “Air or foam” was said on this screen.`
	look := func(code string) {
		t.Helper()
		s.tap(`.wrong:target .wrong-top a[href="#wrong"]`)
		s.lies("wrong", true)
		s.tap(`#wrong a[href="#wrong-` + code + `"]`)
		s.lies("wrong-"+code, true)
	}
	s.tap(`.bar-wrong a`)
	s.lies("wrong", true)
	s.tap(`#wrong a[href="#wrong-power"]`)
	s.lies("wrong-power", true)
	hand := eval[[]string](s, `[...document.querySelectorAll("#wrong-power .acts:not([hidden]) li")].map(e => e.innerText)`)
	before := eval[string](s, power)
	if len(hand) < 3 || !strings.Contains(before, "goes back within") || !strings.Contains(before, "Going on") || strings.Contains(before, "never") {
		t.Fatalf("before: %q\n%s", hand, before)
	}
	held := func(what string) {
		t.Helper()
		s.until(what+": the rule", power+`.includes(`+quoted(never)+`)`)
		now := eval[string](s, power)
		for _, words := range append(hand, "goes back within", "Going on", "as your unit") {
			if strings.Contains(now, words) && !strings.Contains("Removal stops. Nothing watches for air now.", words) {
				t.Errorf("%s: %q is in sight: %s", what, words, now)
			}
		}
		if strings.Count(now, "Give the blood back:") != 1 {
			t.Errorf("%s: the rule stands more than once: %s", what, now)
		}
	}
	look("air")
	h.wire.stall()
	s.tap(`#wrong-air button >> Yes, this is happening`)
	held("before the answer")
	h.wire.cut()
	s.shows("1 entry is kept on this screen, NOT SAVED")
	look("power")
	held("kept")
	if !eval[bool](s, `[...document.querySelectorAll("#wrong-power [hidden]")].every(e => !e.checkVisibility())`) {
		t.Error("what is hidden is in sight")
	}
	s.shot("power")
	if rule := eval[string](s, shown+`("air")`); strings.Count(rule, "Give the blood back:") != 1 || strings.Contains(rule, "was said on this screen") {
		t.Errorf("its own tile: %s", rule)
	}
	look("alarm")
	s.until("the rule under an alarm", shown+`("alarm").includes(`+quoted(never)+`)`)
	s.tap(`.wrong:target .wrong-top a[href="#main"]`)
	s.until("the bar", `!document.querySelector("#bar-kept").hidden && document.querySelector("#bar-kept").innerText.includes("Air or foam: kept on this screen, NOT SAVED")`)
	s.shot("bar")
	if eval[bool](s, `[...document.querySelectorAll('.tap[data-kind="resume"], form[action$="/resume"]')].some(e => e.checkVisibility())`) {
		t.Error("going on is in sight")
	}
	h.wire.mend()
	s.until("saved, and said by the page itself", `document.querySelector("#bar-kept").hidden && document.querySelector("#bar").innerText.includes("Air or foam, since")
		&& document.querySelector("#wrong-power").textContent.includes("never – “Air or foam” is not over")`)
	h.saved(base+"/trouble", "trouble", "air", "state", "over", "said", "Nurse R at the unit: go on")
	s.until("over", `[...document.querySelectorAll("#wrong-power .acts:not([hidden]) li")].length === `+fmt.Sprint(len(hand)))
}
