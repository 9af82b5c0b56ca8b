//go:build browser

package browsertest

import (
	"fmt"
	"testing"
)

// A step is moved three times on one page without the page being left, and a
// second screen that showed the old order follows it.
func TestStepsMoveOnOnePage(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	one, two := newScreen(t, h, "one", tabletW, tabletH), newScreen(t, h, "two", tabletW, tabletH)
	one.open(vida + "/run-sheet/set_up")
	two.open(vida + "/run-sheet/set_up")
	const place = `[...document.querySelectorAll(".sheet-steps li")].findIndex(e => e.id === "step-water_on")`
	at := eval[int](one, place)
	for i := range 3 {
		eval[bool](one, `document.querySelector("#step-water_on button[value=down]").click(), true`)
		one.until("the step one further down", fmt.Sprintf("%s === %d", place, at+i+1))
		two.until("the other screen with it", fmt.Sprintf("%s === %d", place, at+i+1))
		if said := eval[string](one, `(document.querySelector("main .refused") || {innerText: ""}).innerText`); said != "" {
			t.Errorf("press %d: %s", i+1, said)
		}
	}
	eval[bool](two, `document.querySelector("#step-water_on button[value=up]").click(), true`)
	one.until("the step one further up", fmt.Sprintf("%s === %d", place, at+2))
}

// A prescription is looked at, then kept, with script as without.
func TestOrderWithScript(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	s := newScreen(t, h, "order", tabletW, tabletH)
	s.open(vida + "/prescription/new")
	for key, value := range map[string]string{"ordered_by": "Nurse K", "ordered_on": "2026-06-11", "valid_from": "2026-06-11"} {
		eval[bool](s, fmt.Sprintf(`document.querySelector("[name=%s]").value = %q, true`, key, value))
	}
	eval[bool](s, `document.querySelector("[name=how][value=paper]").click(), document.querySelector("button[value=look]").click(), true`)
	s.until("the look", `!!document.querySelector("button[value=keep]")`)
	s.shows("What is different")
	eval[bool](s, `document.querySelector("button[value=keep]").click(), true`)
	s.until("the new version", `location.pathname.endsWith("/prescription")`)
	s.shows("In force since 11 June 2026")
}
