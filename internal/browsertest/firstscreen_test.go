//go:build browser

package browsertest

import (
	"fmt"
	"strings"
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

// underBar says whether a place lies under the bar, and whether what stops takes more
// than two lines of it.
const underBar = `(() => {
	const bar = document.querySelector("#bar"), line = bar.querySelector(".bar-now b"), at = document.querySelector(%s);
	const l = bar.getBoundingClientRect(), r = at.getBoundingClientRect(), one = parseFloat(getComputedStyle(line).lineHeight);
	if (line.getBoundingClientRect().height > 2.2 * one) return "what stops is " + line.getBoundingClientRect().height + " high, a line " + one;
	return r.top >= l.bottom ? "" : "begins at " + Math.round(r.top) + ", the bar ends at " + Math.round(l.bottom);
})()`

// manyLines counts the numbers to ring that take more than one line.
const manyLines = `[...document.querySelectorAll("#bar .phones a, #start-line > .look .phones a")].filter(a =>
	[...a.children].some(part => part.getBoundingClientRect().height > 1.6 * parseFloat(getComputedStyle(part).lineHeight))).length`

// What must not be missed lies on the first screen of a telephone: the first thing
// to do of setting up, what stands at stop with what not to do, the numbers, and
// how long it is since the last session once that is too long.
func TestFirstScreen(t *testing.T) {
	t.Parallel()
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
	see(base, "#bar.is-stop .bar-now a", "#bar .bar-wrong a", ".phones a >> by day", ".phones a >> at night")
	if n := eval[int](s, manyLines); n != 0 {
		s.shot("many-lines")
		t.Errorf("%d numbers to ring are more than one line", n)
	}
	// A tick leads to the step after it: what stops is named there too, and the step is
	// not under it.
	for _, place := range []string{"#step-weigh", "#stops", "#check-bath"} {
		see(base+place, "#bar.is-stop .bar-now a")
		if what := eval[string](s, fmt.Sprintf(underBar, quoted(place))); what != "" {
			s.shot("under-the-bar")
			t.Errorf("%s: %s", place, what)
		}
	}
	abandon(h, base)
	h.later(5 * 24 * time.Hour)
	see(vida+"/", ".overdue p >> Ring about potassium", ".phones a >> Ambulance", ".phones a >> at night")
}

// heightOf is the script that gives how high an aim is, in whole pixels.
func heightOf(aim string) string {
	return `Math.round(document.querySelector(` + quoted(aim) + `).getBoundingClientRect().height)`
}

// A treatment on the first screen of a telephone: quiet, the bar with its one row, time
// left, the pressure, what came off and the next check; after a fall to 74/41, one tap
// after it was asked about, what it is, what to do first, the numbers and the words.
func TestFirstScreenRunning(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "first-screen-running", phoneW, phoneH)
	see := func(aims ...string) {
		t.Helper()
		for _, aim := range aims {
			s.until(aim+" on the first screen", fmt.Sprintf(inSight, find, quoted(aim)))
		}
	}
	h.later(30 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "venous_mmhg", "135", "removed_ml", "250")
	s.open(base)
	see("#bar .bar-now a >> Next check at", "#bar .bar-wrong a", "#now p >> Left", "#now p >> Blood pressure", "#now p >> Removed",
		"#now p >> To come off", "#now p >> Next check")
	high := eval[int](s, heightOf("#bar"))
	if high > 120 {
		t.Errorf("the bar is %d high with nothing to say", high)
	}
	t.Logf("the bar is %d high with nothing to say", high)

	h.later(20 * time.Minute)
	s.open(base + "#reading-h")
	s.fill("/reading", "systolic_mmhg", "74")
	s.fill("/reading", "diastolic_mmhg", "41")
	s.tap(`#pad [data-pad="save"]`)
	s.until("the way to the steps before it is kept", fmt.Sprintf(inSight, find, quoted(`.low-asked a >> what to do`)))
	s.taps = 0
	s.saves("the low pressure", func() { s.tap(`button >> yes, 74/41`) })
	s.titled("Running")
	s.until("the steps of low pressure", `location.hash === "#wrong-low_pressure"`)
	if s.taps != 1 {
		t.Errorf("%d taps keep a low pressure, want 1", s.taps)
	}
	s.open(vida + "/") // away from the steps, and back
	s.open(base)
	see("#bar.is-look .bar-now a >> Low pressure 74/41", "#bar .bar-wrong a", "#bar .bar-first a >> What to do", "#bar .phones a >> at night",
		"#bar .phones a >> by day", "#said .look >> Upper pressure 74", "#now .pressure.low >> 74/41")
	t.Logf("the bar is %d high after a fall", eval[int](s, heightOf("#bar")))
	for _, aim := range []string{"#bar .bar-wrong a", "#bar .phones a", "#taps button"} {
		if high := eval[int](s, heightOf(aim)); high < 64 {
			t.Errorf("%s is %d high", aim, high)
		}
	}
	// It stays in sight, and what it leads to is not under it.
	for _, place := range []string{"#reading-h", "#taps", "#set-now"} {
		s.open(base + "?from=" + place[1:] + place)
		see("#bar.is-look .bar-now a", "#bar .bar-wrong a")
		if what := eval[string](s, fmt.Sprintf(underBar, quoted(place))); what != "" && !strings.HasPrefix(what, "what stops") {
			s.shot("under-the-bar")
			t.Errorf("%s: %s", place, what)
		}
	}
}

// With four things at once the bar of a telephone names each, stays under 240 px, has the
// three numbers in one row, and after the save the first sentence of the page is under it
// and not behind it.
func TestBarOfManyThingsIsLow(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	h.later(10 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "63", "again.systolic_mmhg", "63", "diastolic_mmhg", "35", "again.diastolic_mmhg", "35")
	h.later(time.Minute)
	h.saved(base+"/event/unwell", "words", "chest pain")
	s := newScreen(t, h, "bar-low", phoneW, phoneH)
	low := func(what string, most int) {
		t.Helper()
		high := eval[int](s, heightOf("#bar"))
		t.Logf("%s: the bar is %d high", what, high)
		if high > most {
			t.Errorf("%s: the bar is %d high, want %d at most", what, high, most)
		}
		if rows := eval[int](s, `new Set([...document.querySelectorAll("#bar .bar-phones li")].map(e => Math.round(e.getBoundingClientRect().top))).size`); rows != 1 {
			t.Errorf("%s: the numbers stand in %d rows", what, rows)
		}
		if !eval[bool](s, `[...document.querySelectorAll("#bar .bar-phones a")].every(e => e.scrollWidth <= e.clientWidth && e.getBoundingClientRect().height >= 64)`) {
			t.Errorf("%s: a number is cut off, or low", what)
		}
	}
	s.open(base)
	low("two looks", 240)
	h.saved(base+"/reading", "dialysate_temp_c", "38.9", "again.dialysate_temp_c", "38.9", "conductivity_ms_cm", "12.2", "again.conductivity_ms_cm", "12.2")
	s.open(base)
	low("fluid as well", 240)
	if words := eval[string](s, `document.querySelector("#bar").innerText`); !strings.Contains(words, "chest pain") || !strings.Contains(words, "low pressure 63/35") || !strings.Contains(words, "fluid wrong") {
		t.Errorf("the bar: %s", words)
	}
	h.saved(base+"/trouble", "trouble", "air", "state", "open")
	s.open(base)
	low("and air", 240)
	s.shot("four")
	for _, to := range []string{"#said", "#taps", "#reading-h"} {
		s.open(vida + "/")
		s.open(base + to)
		const under = `document.querySelector(%s).getBoundingClientRect().top - document.querySelector("#bar").getBoundingClientRect().bottom`
		if room := eval[float64](s, fmt.Sprintf(under, quoted(to))); room < 0 {
			t.Errorf("%s lies %v px under the bar", to, -room)
		}
	}
	// With script a save of a look leads there as well.
	h2 := home(t, 2, false)
	base = h2.running()
	h2.saved(base+"/reading", "systolic_mmhg", "132", "venous_mmhg", "135", "blood_flow_ml_min", "310")
	h2.later(30 * time.Minute)
	s2 := newScreen(t, h2, "said-after", phoneW, phoneH)
	s2.open(base + "#reading-h")
	s2.current()
	s2.fill("/reading", "venous_mmhg", "100")
	s2.fill("/reading", "blood_flow_ml_min", "310")
	s2.saves("the reading", func() { s2.send("/reading") })
	s2.until("what was said, under the bar", `location.hash === "#said" && document.querySelector("#said .look") &&
		(r => r.top >= document.querySelector("#bar").getBoundingClientRect().bottom && r.bottom < innerHeight)(document.querySelector("#said .look").getBoundingClientRect())`)
}
