//go:build browser

package browsertest

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
)

// A walk is one trouble, gone through with a thumb on a telephone.
type walk struct {
	code   string
	number string // that leads
	first  string // of its steps
	blood  string
	did    string // what one tap writes down
	kind   string // as this
	told   string // a value that tells of it: field and value; empty where the person says it
}

// walks are those that must be found in the worst minute. The numbers and steps are
// those of the invented unit, which gave none for a fluid too hot.
var walks = []walk{
	{"low_pressure", "+00015550199", "Lie back, legs up", "as your unit's steps say", "Lay back", "lie_back", "systolic_mmhg 74 diastolic_mmhg 41"},
	{"power", "+00015550144", "Open the venous clamp by hand", "as your unit's steps say", "Yes, this is happening", "trouble", ""},
	{"blood_out", "112", "Pump off", "never", "Yes, this is happening", "trouble", ""},
	{"air", "112", "Clamp the venous line", "never", "Yes, this is happening", "trouble", ""},
	{"fluid", "+00015550199", "Pump off", "never", "Pump off", "pause", "dialysate_temp_c 38.9"},
}

// onScreen is the script that reports whether an aim lies wholly on the screen.
const onScreen = `(e => { if (!e) return false; const r = e.getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; })(%s(%s))`

// Five troubles on a telephone held upright, with script and without, with the program
// there and gone: number, first step and what of the blood lie on the screen, at most
// two taps away from the page of the session, and one more writes down what was done.
// With script what was done while the program was gone is written once it is back; without
// it nothing is, and the words are still there after the browser's page of an error.
// A value that tells of one leads there by itself (H-111, H-118).
func TestWalksThroughTroubles(t *testing.T) {
	for _, gone := range []bool{false, true} {
		for _, script := range []bool{true, false} {
			name := fmt.Sprintf("gone=%v script=%v", gone, script)
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				h := home(t, 2, false)
				base := h.running()
				h.later(50 * time.Minute)
				s := newScreen(t, h, strings.NewReplacer(" ", "-", "=", "-").Replace("walk "+name), phoneW, phoneH)
				if !script {
					s.plain()
				}
				s.open(base)
				if gone {
					s.current()
					h.wire.cut()
				}
				before := h.entries()
				for i, w := range walks {
					switch {
					case w.told != "" && !gone:
						s.open(base)
						s.tells(w)
					default:
						s.finds(w, gone, script)
					}
					s.helps(w)
					s.does(w, i, gone, script)
				}
				switch {
				case gone && script:
					s.arrives(base)
				case gone:
					if n := h.entries() - before; n != 0 {
						t.Errorf("%d entries came through a cut line", n)
					}
				}
			})
		}
	}
}

// tells types a value that tells of a trouble, and is led to it.
func (s *screen) tells(w walk) {
	s.t.Helper()
	s.open(s.address() + "#reading-h")
	told := strings.Fields(w.told)
	for i := 0; i < len(told); i += 2 {
		s.fill("/reading", told[i], told[i+1])
	}
	s.send("/reading")
	yes := "yes, 74/41"
	if w.code == "fluid" {
		yes = "yes, " + told[1] + "\u00a0°C"
	}
	s.until("the one tap", find+`(`+quoted(`button >> `+yes)+`)`)
	s.taps = 0
	s.saves("the value", func() { s.tap(`button >> ` + yes) })
	s.until("led to "+w.code, `location.hash === "#wrong-`+w.code+`"`)
	s.t.Logf("%s: %d tap from the value to the steps and the number", w.code, s.taps)
	if s.taps != 1 {
		s.t.Errorf("%s: %d taps", w.code, s.taps)
	}
}

// back goes back as the browser's own button does.
func (s *screen) back() {
	s.t.Helper()
	history := call(s, page.GetNavigationHistory, cdp.Empty{})
	if history.CurrentIndex < 1 {
		s.t.Fatalf("%s: there is nothing to go back to", s.name)
	}
	call(s, page.NavigateToHistoryEntry, page.NavigateToHistoryEntryParams{EntryID: history.Entries[history.CurrentIndex-1].ID})
}

// finds goes from the page of the session to a trouble.
func (s *screen) finds(w walk, gone, script bool) {
	s.t.Helper()
	if eval[bool](s, `!!document.querySelector("section.wrong:is(:target, :has(:target))")`) {
		s.tap(`section.wrong:is(:target, :has(:target)) .wrong-top a[href="#main"]`)
		s.until("the page again", `!document.querySelector("section.wrong:is(:target, :has(:target))")`)
	}
	s.taps = 0
	s.tap(`.bar-wrong a`)
	s.lies("wrong", script)
	if gone && script { // it comes up over the list, a moment after the line is cut
		s.until("what is said of the page", `!document.querySelector("#wrong-told").hidden`)
	}
	s.tap(`section.wrong:is(:target, :has(:target)) a[href="#wrong-` + w.code + `"]`)
	s.lies("wrong-"+w.code, script)
	s.t.Logf("%s: %d taps from the page to the steps and the number", w.code, s.taps)
	if s.taps > 2 {
		s.t.Errorf("%s: %d taps", w.code, s.taps)
	}
}

// helps fails for what is not on the screen as a trouble opens.
func (s *screen) helps(w walk) {
	s.t.Helper()
	within := "#wrong-" + w.code + " "
	for _, aim := range []string{within + `.phones a[href="tel:` + w.number + `"]`, within + `.acts li >> ` + w.first} {
		s.until(aim+" on the screen", fmt.Sprintf(onScreen, find, quoted(aim)))
	}
	if lead := eval[string](s, `document.querySelector("`+within+`.phones a").getAttribute("href")`); lead != "tel:"+w.number {
		s.t.Errorf("%s leads with %s, want %s", w.code, lead, w.number)
	}
	if said := eval[string](s, `document.querySelector("`+within+`.wrong-blood:not([hidden])").innerText`); !strings.Contains(said, w.blood) {
		s.t.Errorf("%s: %q, want %q", w.code, said, w.blood)
	}
	s.shot(w.code)
}

// does writes down what was done by one tap: on disk while the program is there, on
// this screen while it is gone, and nowhere without script and without the program.
func (s *screen) does(w walk, i int, gone, script bool) {
	s.t.Helper()
	button := `#wrong-` + w.code + ` button >> ` + w.did
	switch {
	case !gone:
		before := len(s.house.written(s.base(), w.kind))
		s.saves(w.did, func() { s.tap(button) })
		if n := len(s.house.written(s.base(), w.kind)); n != before+1 {
			s.t.Errorf("%s: %d more of %s", w.code, n-before, w.kind)
		}
		s.until("still at "+w.code, `location.hash.replace(/-taps$/, "") === "#wrong-`+w.code+`" && document.querySelector("#wrong-`+w.code+`").checkVisibility() &&
			(r => r.top >= 0 && r.bottom < innerHeight)(document.querySelector("#wrong-`+w.code+`-taps").getBoundingClientRect()) === true`)
	case script:
		s.tap(button)
		entries := fmt.Sprintf("%d entries are", i+1)
		if i == 0 {
			entries = "1 entry is"
		}
		s.shows(entries)
	default:
		// The button leads to the browser's own page of an error: back, and what to do is
		// there as it was.
		s.tap(button)
		s.until("an error in place of the page", `location.protocol === "chrome-error:" && document.readyState === "complete"`)
		s.back()
		s.until("the words of "+w.code+" again", `!!document.querySelector("#wrong-`+w.code+`:target")`)
		said := eval[string](s, `document.querySelector("#wrong-`+w.code+`:target").innerText`)
		for _, words := range []string{w.first, w.blood, w.did} {
			if !strings.Contains(said, words) {
				s.t.Errorf("%s: %q is gone after an error", w.code, words)
			}
		}
	}
}

// arrives mends the line, and wants each thing that was written down meanwhile once.
func (s *screen) arrives(base string) {
	s.t.Helper()
	s.house.wire.mend()
	s.until("nothing waits any more", `!document.querySelector("#waiting")`)
	want := map[string]int{}
	for _, w := range walks {
		want[w.kind]++
	}
	for kind, n := range want {
		if got := len(s.house.written(base, kind)); got != n {
			s.t.Errorf("%d entries of %s are written, want %d", got, kind, n)
		}
	}
}
