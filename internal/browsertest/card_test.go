//go:build browser

package browsertest

import (
	"testing"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// An ordinary card of eight acts and three numbers is in sight on a small
// telephone without scrolling, each act large, each line of twelve words at
// most, each number a target for a thumb; and it stays readable when the
// program is gone.
func TestCardInOneLook(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	day := unit.DateOf(h.now())
	card := record.Entry{ID: "card-of-eight", Kind: "card", Person: h.life.Person, Body: &record.Card{
		Words: "Pump off\nClamp both lines\nLook at both needles, press where it bleeds\nLie flat, legs up\nNo blood goes back if there is air in it\n" +
			"Ring the ambulance if you feel faint\nThen ring us, by day or at night\nWrite down the time and what happened",
		From: "Nurse K (invented)", GivenOn: day, ReviewBy: day.Add(300),
	}}
	if out, err := h.desk.Record(t.Context(), card); err != nil || !out.Clear() {
		t.Fatalf("the card was not taken: %v %v", err, out.Findings)
	}
	s := newScreen(t, h, "card", 360, 640)
	s.open(vida + "/card")
	s.shot("card-small")
	if n := eval[int](s, `document.querySelectorAll("#emergency .acts li:not(.on)").length`); n != 8 {
		t.Errorf("%d acts", n)
	}
	if at := eval[float64](s, `Math.max(...[...document.querySelectorAll("#emergency .acts li, #emergency .phones a")].map(e => e.getBoundingClientRect().bottom))`); at > 640 {
		t.Errorf("the last act or number ends %.0f px down, on a screen of 640", at)
	}
	if wide := eval[int](s, `document.documentElement.scrollWidth`); wide > 360 {
		t.Errorf("the card is %d px wide", wide)
	}
	if size := eval[float64](s, `parseFloat(getComputedStyle(document.querySelector("#emergency .acts li")).fontSize)`); size < 18 {
		t.Errorf("the acts are written in %.1f px", size)
	}
	if words := eval[int](s, `Math.max(...[...document.querySelectorAll("#emergency .acts li")].map(e => e.innerText.trim().split(/\s+/).length))`); words > 12 {
		t.Errorf("a line has %d words", words)
	}
	if n := eval[int](s, `document.querySelectorAll("#emergency .phones a[href^='tel:']").length`); n != 3 {
		t.Errorf("%d numbers can be rung", n)
	}
	if high := eval[float64](s, `Math.min(...[...document.querySelectorAll("#emergency .phones a")].map(e => e.getBoundingClientRect().height))`); high < 44 {
		t.Errorf("a number is %.0f px high", high)
	}
	h.wire.cut()
	s.untilWithin(40*time.Second, "the page gone old", `document.body.classList.contains("greyed")`)
	if seen := eval[string](s, `getComputedStyle(document.querySelector("main")).opacity + getComputedStyle(document.querySelector("main")).pointerEvents`); seen != "1auto" {
		t.Errorf("without the program the card is shown as %s", seen)
	}
	s.size(1440, 900)
	if at := eval[float64](s, `Math.max(...[...document.querySelectorAll("#emergency .acts li, #emergency .phones a")].map(e => e.getBoundingClientRect().bottom))`); at > 900 {
		t.Errorf("on a desk the last act or number ends %.0f px down", at)
	}
}
