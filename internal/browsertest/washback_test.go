//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"

	"ebbline/session"
)

// threeTicks is what is looked at before the pump starts to give the blood back.
var threeTicks = []string{"saline_on_arterial_line", "yes", "its_clamp_open", "yes", "venous_line_to_me", "yes"}

// mayGoBack goes from the question whether the blood may go back to the step that
// starts the pump.
func (s *screen) mayGoBack() {
	s.t.Helper()
	s.titled("May the blood go back?")
	s.tap(`a >> None of these`)
	s.titled("Before the pump starts")
	s.tickThree(3)
	s.saves("the look", func() { s.send("/washback_checked") })
	s.titled("Give the blood back")
}

// tickThree ticks the first so many of the three.
func (s *screen) tickThree(n int) {
	s.t.Helper()
	for i := range n {
		s.tap(fmt.Sprintf(`form[action$="/washback_checked"] label:has([name="%s"])`, threeTicks[2*i]))
	}
}

// firstScreen fails for an aim that does not lie wholly on the screen as it opens,
// above the parts of the program, or is lower than 64 px where it is pressed.
func (s *screen) firstScreen(aims ...string) {
	s.t.Helper()
	for _, aim := range aims {
		s.until(aim+" on the first screen", fmt.Sprintf(inSight, find, quoted(aim)))
		tall := eval[float64](s, find+`(`+quoted(aim)+`).getBoundingClientRect().height`)
		if ours := eval[bool](s, find+`(`+quoted(aim)+`).matches("#washback :is(a, button, label)")`); ours && tall < 63.9 {
			s.t.Errorf("%s: %s is %.0f px high, want 64", s.name, aim, tall)
		}
	}
}

// A wrong saline line at the washback, on a telephone held upright: the question,
// the ticks, the pump, the bag that gets fuller, the steps of a needle out, and an
// end without the blood; with script and without (H-137, H-138).
func TestWrongSalineLineAtWashback(t *testing.T) {
	for _, script := range []bool{true, false} {
		name := map[bool]string{true: "script", false: "plain"}[script]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := home(t, 1, false)
			base := h.running()
			h.later(230 * time.Minute)
			s := newScreen(t, h, "wrong-line-"+name, phoneW, phoneH)
			if !script {
				s.plain()
			}
			s.open(base + "/came_off")
			s.titled("May the blood go back?")
			s.firstScreen(`.signs button >> Air or foam`, `.signs button >> Blood leak`, `a >> None of these`)
			s.tap(`a >> None of these`)
			s.titled("Before the pump starts")
			if n := eval[int](s, `document.querySelectorAll("#washback :checked").length`); n != 0 {
				t.Errorf("%d ticks are set beforehand", n)
			}
			s.firstScreen(`label.tick >> Saline hangs on the arterial line`, `label.tick >> Its clamp is open`,
				`label.tick >> The venous line still runs to me`, `button >> All three are so`)

			// One left out: nothing is written, and the pump is not started.
			before := h.entries()
			s.tickThree(2)
			s.send("/washback_checked")
			s.shows("is not ticked")
			if h.entries() != before || eval[bool](s, `document.body.innerText.includes("Start the pump")`) {
				t.Error("two ticks start the pump")
			}
			s.tap(`form[action$="/washback_checked"] label:has([name="venous_line_to_me"])`)
			s.saves("the look", func() { s.send("/washback_checked") })
			s.titled("Give the blood back")
			s.firstScreen(`.pump .lead >> it must get emptier`, `button >> It gets fuller, or red`)

			// It gets fuller: one tap from here to the steps of a needle out.
			s.taps = 0
			s.saves("the bag gets fuller", func() { s.tap(`button >> It gets fuller, or red`) })
			s.until("the steps of a needle out", `location.hash === "#wrong-blood_out" && document.querySelector("#wrong-blood_out:target")`)
			if s.taps != 1 {
				t.Errorf("%d taps to the steps, want 1", s.taps)
			}
			if b := h.written(base, "trouble"); len(b) != 1 || b[0].Body.(*session.Trouble).Trouble != session.TroubleBlood {
				t.Errorf("written: %+v", b)
			}

			// Coming off from now on: the blood stays out, the number is one tap.
			s.open(base + "/came_off")
			s.titled("The blood stays out")
			s.firstScreen(`h1`, `a[href^="tel:"]`, `a[href="#wrong-blood_out"]`)
			if n := eval[int](s, `document.querySelectorAll('main form[action$="/washback_checked"], main [name="washback_ml"], main [name="returned"]:not([value="none"])').length`); n != 0 {
				t.Errorf("%d ways to the washback", n)
			}
			s.shot("wrong-line-" + name)
			s.saves("the end", func() {
				s.tap(`#without button.main >> Come off without giving the blood back`)
			})
			s.titled("Coming off")
			if e := h.written(base, "came_off"); len(e) != 1 || e[0].Body.(*session.CameOff).GivesBack() {
				t.Errorf("written: %+v", e)
			}
		})
	}
}

// A page left open at the ticks, or at the pump, closes when another screen says
// that there is air, also when something was typed into the form of the end: no
// field of the washback and no pump is left on it.
func TestOpenWashbackFollowsATrouble(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	base := h.running()
	h.later(230 * time.Minute)
	s := newScreen(t, h, "follows", phoneW, phoneH)
	s.open(base + "/washback?ticks=1")
	s.titled("Before the pump starts")
	h.saved(base+"/trouble", "trouble", "air", "state", "open")
	s.titled("The blood stays out")
	h.saved(base+"/trouble", "trouble", "air", "state", "over", "said", "Sister Holm: the bubble was outside")
	s.until("the way again", `document.querySelector("h1").textContent !== "The blood stays out"`)
	h.saved(base+"/washback_checked", threeTicks...)
	s.titled("Give the blood back")
	s.fill("/came_off", "removed_ml", "1900")
	h.saved(base+"/trouble", "trouble", "air", "state", "open")
	s.titled("The blood stays out")
	s.until("no way to the washback", `!document.querySelector('main [name="washback_ml"], .pump')`)
}
