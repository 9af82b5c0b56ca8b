//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"
)

// inSight is the script that reports whether all of what an aim finds lies on the
// screen, above the parts of the program.
const inSight = `(e => {
	if (!e) return false;
	const r = e.getBoundingClientRect(), floor = document.querySelector(".parts").getBoundingClientRect().top;
	return r.top >= 0 && r.bottom <= floor;
})(%s(%s))`

// underLine says whether a place lies under the line of what stops, and whether
// that line is more than one line.
const underLine = `(() => {
	const line = document.querySelector(".stop-line a"), at = document.querySelector(%s);
	const l = line.getBoundingClientRect(), r = at.getBoundingClientRect(), one = parseFloat(getComputedStyle(line).lineHeight);
	const words = document.createRange();
	words.selectNodeContents(line.lastChild);
	if (words.getClientRects().length > 1) return "the line has " + words.getClientRects().length + " lines of " + one;
	return r.top >= l.bottom ? "" : "begins at " + Math.round(r.top) + ", the line ends at " + Math.round(l.bottom);
})()`

// manyLines counts the numbers to ring that take more than one line.
const manyLines = `[...document.querySelectorAll("#stops .phones a, #start-line > .look .phones a")].filter(a =>
	[...a.children].some(part => part.getBoundingClientRect().height > 1.6 * parseFloat(getComputedStyle(part).lineHeight))).length`

// What must not be missed lies on the first screen of a telephone: the first thing
// to do of setting up, what stands at stop with what not to do, the numbers, and
// how long it is since the last session once that is too long.
func TestFirstScreen(t *testing.T) {
	h := home(t, 2, false)
	s := newScreen(t, h, "first-screen", phoneW, phoneH)
	see := func(page string, aims ...string) {
		t.Helper()
		s.open(page)
		for _, aim := range aims {
			// A page that is opened may still fetch what is newer.
			s.until(aim+" on the first screen of "+page, fmt.Sprintf(inSight, find, quoted(aim)))
		}
	}
	see(vida+"/", "a.huge")
	base := h.begun()
	see(base, ".allergy", ".times", "#step-fit .step-do .main")
	h.saved(base+"/weigh_in", "weight_kg", "64.6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	see(base, "#to-plan a")
	h.saved(base+"/access_check", "thrill", "absent", "bruit", "absent", "skin", "clean")
	h.saved(base+"/fitness", "fever", "yes")
	see(base, ".stops a >> Do not needle", ".stops a >> Ring your unit first: fever", ".phones a >> at night")
	h.later(time.Minute)
	h.saved(base+"/fitness", "fever", "yes", "heavy_legs", "yes")
	see(base, "#ambulance p >> Ring the ambulance first", ".phones a >> Ambulance", ".phones a >> at night", ".stops a >> Fit to start")
	see(vida+"/", ".overdue p >> Ring the ambulance first", ".phones a >> at night")
	abandon(h, base)
	base = h.begun()
	h.saved(base+"/access_check", "thrill", "absent", "bruit", "absent", "skin", "clean")
	h.saved(base+"/self_test", "passed", "", "tries", "3")
	h.saved(base+"/bath_label", "label_k_mmol_l", "3", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	h.saved(base+"/fitness", "fever", "yes")
	see(base, ".stop-line a", ".phones a >> by day", ".phones a >> at night")
	if n := eval[int](s, manyLines); n != 0 {
		s.shot("many-lines")
		t.Errorf("%d numbers to ring are more than a line", n)
	}
	// A tick leads to the step after it: what stops is named there too, in one line, and
	// the step is not under it.
	for _, place := range []string{"#step-weigh", "#stops", "#check-bath"} {
		see(base+place, ".stop-line a")
		if what := eval[string](s, fmt.Sprintf(underLine, quoted(place))); what != "" {
			s.shot("under-the-line")
			t.Errorf("%s: %s", place, what)
		}
	}
	abandon(h, base)
	h.later(5 * 24 * time.Hour)
	see(vida+"/", ".overdue p >> Ring about potassium", ".phones a >> Ambulance", ".phones a >> at night")
}
