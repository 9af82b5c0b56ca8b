//go:build browser

package browsertest

import (
	"testing"

	"ebbline/session"
)

// A weight in pounds by the thumb alone: chosen, typed on the number pad, shown in
// kilograms on the first screen, kept. Nothing is written before that (H-01).
func TestPoundsByThumb(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	base := h.begun()
	s := newScreen(t, h, "pounds", phoneW, phoneH)
	s.open(base + "/weigh_in")
	s.taps = 0
	s.turns(func() { s.tap(`.in-units a[href*="in=lb"]`) })
	s.fill("/weigh_in", "weight_lb", "142.4")
	s.fill("/weigh_in", "clothing_kg", "0")
	s.turns(func() { s.send("/weigh_in") })
	if n := len(h.written(base, "weigh_in")); n != 0 {
		t.Fatalf("%d weights are written before their kilograms were shown", n)
	}
	s.shows("142.4 lb is 64.592")
	const foot = `document.querySelector(".in-kg .main").getBoundingClientRect().bottom`
	if at := eval[float64](s, foot); at > phoneH-112 { // the parts of the program stand under it
		t.Errorf("the button that keeps the weight ends at %.0f px", at)
	}
	s.saves("the weight in pounds", func() { s.tap(`.in-kg .main`) })
	kept := h.written(base, "weigh_in")
	if len(kept) != 1 {
		t.Fatalf("%d weights are written", len(kept))
	}
	if w := kept[0].Body.(*session.WeighIn); w.Weight != 64_592 || w.ReadIn != "lb" {
		t.Errorf("kept %+v", w)
	}
	t.Logf("%d taps and %d keys", s.taps, s.keys)
	if s.keys != 0 {
		t.Errorf("%d keys: the number pad was not used", s.keys)
	}
}
