//go:build browser

package browsertest

import (
	"testing"
	"time"

	"ebbline/session"
)

// A record that cannot be written says NOT SAVED within two seconds, on the
// screen that typed and on the others, keeps the value in its field, tries again
// by itself and saves once.
func TestNotSaved(t *testing.T) {
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "not-saved", tabletW, tabletH)
	other := newScreen(t, h, "not-saved-other", tabletW, tabletH)
	other.open(base)
	s.open(base)
	s.current()
	s.fill("/reading", "systolic_mmhg", "126")
	s.fill("/reading", "diastolic_mmhg", "74")
	lift := fullDisk(t)
	typed := h.now()
	s.tap(`#pad [data-pad="save"]`)
	const banner = `!document.querySelector("#unsaved").hidden && document.querySelector("#unsaved").innerText.includes("NOT SAVED")`
	took := s.untilWithin(2*time.Second, "NOT SAVED on the screen that typed", banner)
	elsewhere := other.untilWithin(2*time.Second, "NOT SAVED on the other screen", banner)
	t.Logf("NOT SAVED after %v, on the other screen %v later", took.Round(time.Millisecond), elsewhere.Round(time.Millisecond))
	value := func(name string) string { return eval[string](s, fieldOf("/reading", name)+".value") }
	if up, low := value("systolic_mmhg"), value("diastolic_mmhg"); up != "126" || low != "74" {
		t.Errorf("the fields hold %q and %q, want what was typed", up, low)
	}
	s.shows("1 entry is NOT SAVED YET")

	// A press too many changes nothing.
	s.send("/reading")
	s.until("the answer", `!document.querySelector("main button:disabled")`)
	s.shows("1 entry is NOT SAVED YET")
	time.Sleep(6 * time.Second) // it tries by itself meanwhile
	if n := len(h.written(base, "reading")); n != 0 {
		t.Fatalf("%d readings are written on a full disk", n)
	}
	lift()
	s.until("nothing waits any more", `!document.querySelector("#waiting") && document.querySelector("#unsaved").hidden`)
	other.until("no banner", `document.querySelector("#unsaved").hidden`)
	readings := h.written(base, "reading")
	if len(readings) != 1 {
		t.Fatalf("%d readings are written, want 1", len(readings))
	}
	if r := readings[0].Body.(*session.Reading); r.Systolic.String() != "126" || r.Diastolic.String() != "74" {
		t.Errorf("the reading holds %v over %v", r.Systolic, r.Diastolic)
	}
	if off := readings[0].At.Sub(typed); off < -2*time.Second || off > 3*time.Second {
		t.Errorf("the reading stands %v off the moment it was typed", off)
	}
	if up := value("systolic_mmhg"); up != "" {
		t.Errorf("the field still holds %q after it was saved", up)
	}
}

// The page of a run on a full disk is looked at as every other state is. It is no state
// of [stages]: those run beside other tests, which a full disk would reach too.
func TestNotSavedIsLookedAt(t *testing.T) {
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "not-saved-looks", tabletW, tabletH)
	s.open(base)
	s.current()
	lift := fullDisk(t)
	s.tap(`.tap[data-kind="cramp"] button`)
	s.shows("NOT SAVED – USE PAPER")
	s.sees("running-not-saved")
	s.theme("")
	s.size(tabletW, tabletH)
	eval[bool](s, `delete document.documentElement.dataset.theme`)
	smallest := map[string]float64{}
	laidOut(s, "running-not-saved", smallest)
	if got := smallest[".tiles .figure"]; got < 40 {
		t.Errorf("the smallest figure is %.0f pixels, want 40", got)
	}
	lift()
	s.until("the page fresh again", `!document.querySelector("#waiting") && document.querySelector("#unsaved").hidden`)
}

// Without script the form comes back within two seconds with what was typed and
// says so. The best of three counts, since other programs share this machine.
func TestNotSavedOnAForm(t *testing.T) {
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "not-saved-form", tabletW, tabletH)
	s.plain()
	s.open(base + "/drink")
	s.fill("/drink", "volume_ml", "175")
	lift := fullDisk(t)
	const soon = 2 * time.Second
	best := time.Hour
	for try := 0; try < 3 && best > soon; try++ {
		from := time.Now()
		s.turns(func() { s.send("/drink") })
		s.shows("NOT SAVED – USE PAPER")
		best = min(best, time.Since(from))
		if got := eval[string](s, fieldOf("/drink", "volume_ml")+".value"); got != "175" {
			t.Errorf("the field holds %q, want what was typed", got)
		}
	}
	if best > soon {
		t.Errorf("NOT SAVED after %v at best", best)
	}
	s.shot("form")
	lift()
	s.saves("the drink", func() { s.send("/drink") })
	if n := len(h.written(base, "drink")); n != 1 {
		t.Errorf("%d drinks are written, want 1", n)
	}
}

// A tap that can be kept neither by the program nor on the screen is sent as without
// script: with the amount that stands on its button.
func TestTapWithoutAnOutboxKeepsItsAmount(t *testing.T) {
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "no-outbox", phoneW, phoneH)
	s.open(base + "#wrong-low_pressure")
	s.current()
	eval[bool](s, `IDBDatabase.prototype.transaction = () => { throw new Error("none") }, true`)
	lift := fullDisk(t)
	s.tap(`#wrong-low_pressure button >> Saline 100`)
	s.shows("NOT SAVED – USE PAPER")
	s.titled("Saline given")
	s.until("the amount in its field", `document.querySelector("form.keys [name='volume_ml']")?.value === "100"`)
	lift()
	s.saves("the saline", func() { s.tap("form.keys button.main") })
	if given := h.written(base, "saline"); len(given) != 1 || given[0].Body.(*session.Saline).Volume != 100 {
		t.Errorf("%d of saline are written, want one of 100 mL", len(given))
	}
}
