//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"
)

// What is half typed, opened or has the focus survives the news of another
// screen, and the news is there.
func TestHalfTypedSurvivesRefresh(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.begun()
	s := newScreen(t, h, "half-typed", tabletW, tabletH)
	s.open(base)
	s.tap(`#check-chlorine summary`)
	s.into(`#check-chlorine [name="reason"]`)
	s.typed("the strips came wet, so I")
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	s.current()
	s.until("the news of the other screen", `document.querySelector("#check-self_test").innerText.includes("first try")`)
	const reason = `document.querySelector('#check-chlorine [name="reason"]')`
	if got := eval[string](s, reason+".value"); got != "the strips came wet, so I" {
		t.Errorf("what was typed is now %q", got)
	}
	if !eval[bool](s, `document.activeElement === `+reason+` && `+reason+`.closest("details").open`) {
		t.Error("the field was closed or lost the focus")
	}
	s.typed(" sent for others")
	s.saves("the override", func() { s.tap(`#check-chlorine button.main`) })
	s.shows("the strips came wet, so I sent for others")
}

// So does a reading, even when another screen takes the session further.
func TestHalfTypedReadingSurvives(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "half-read", tabletW, tabletH)
	s.open(base)
	s.fill("/reading", "systolic_mmhg", "132")
	s.fill("/reading", "diastolic_mmhg", "7")
	h.saved(base+"/event/drink", "volume_ml", "125")
	s.shows("125")
	if got := eval[string](s, fieldOf("/reading", "systolic_mmhg")+".value"); got != "132" {
		t.Errorf("the upper pressure is now %q", got)
	}
	s.tap(`#pad [data-pad="6"]`)
	s.saves("the reading", func() { s.tap(`#pad [data-pad="save"]`) })
	if got := h.written(base, "reading"); len(got) != 1 {
		t.Errorf("%d readings are written, want 1", len(got))
	}

	// Another screen comes off: this one keeps what is typed and says so.
	s.fill("/reading", "systolic_mmhg", "128")
	h.saved(base+"/washback_checked", threeTicks...)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "900", "again.removed_ml", "900", "returned", "all")
	s.shows("taken further on another screen")
	if got := eval[string](s, fieldOf("/reading", "systolic_mmhg")+".value"); got != "128" {
		t.Errorf("the upper pressure is now %q", got)
	}
	s.tap(`#gone-on a`)
	s.titled("Coming off")
}

// fieldOf is the script that finds a field by its form and name.
func fieldOf(form, name string) string { return find + "(" + quoted(field(form, name)) + ")" }

// A tablet that slept forty minutes shows, woken or loaded anew, the same
// timers as one that stayed awake: they are the distance to moments that the
// server gave.
func TestTimersAfterSleep(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "asleep", tabletW, tabletH)
	s.open(base)
	s.event("pause", "")
	s.until("the time paused", `document.querySelector("#said time[data-since]").textContent === "0 min"`)
	s.shows("in 5") // the next check, of every sixty minutes, is some fifty minutes away

	if h.wire.abandon() != 1 {
		t.Fatal("the page listens on no line")
	}
	h.later(40 * time.Minute)
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (40*time.Minute).Milliseconds()))
	const timers = `JSON.stringify([...document.querySelectorAll("time[data-since], time[data-until]")].map(t => t.textContent))`
	s.until("the time paused after the sleep", `document.querySelector("#said time[data-since]").textContent === "40 min"`)
	took := s.untilWithin(4*time.Second, "the page fresh again", `!document.body.classList.contains("greyed")`)
	t.Logf("fresh %v after it woke", took.Round(time.Millisecond))
	woken := eval[string](s, timers)
	s.open(base)
	s.until("the timers", `document.querySelector("#said time[data-since]").textContent === "40 min"`)
	if anew := eval[string](s, timers); anew != woken {
		t.Errorf("woken the page shows %s, loaded anew %s", woken, anew)
	}
	fresh := newScreen(t, h, "awake", deskW, deskH)
	fresh.open(base)
	if other := eval[string](fresh, timers); other != woken {
		t.Errorf("one screen shows %s, another %s", woken, other)
	}
	t.Logf("timers after forty minutes: %s", woken)
}
