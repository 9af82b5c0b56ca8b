//go:build browser

package browsertest

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// What is tapped on one screen stands on the other within a second, each way.
// The best of three rounds counts, since other programs share this machine.
func TestSeveralScreens(t *testing.T) {
	t.Parallel()
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	chair := newScreen(t, h, "chair", tabletW, tabletH)
	kitchen := newScreen(t, h, "kitchen", deskW, deskH)
	chair.open(base)
	kitchen.open(base)
	const soon = time.Second
	best := time.Hour
	for round := 0; round < 3 && best > soon; round++ {
		best = min(best, fromScreenToScreen(t, chair, kitchen))
	}
	if best > soon {
		t.Errorf("the other screen shows a drink after %v at best, want one second", best)
	}
	if n := len(h.written(base, "drink")); n < 10 {
		t.Errorf("%d drinks are written, want 10", n)
	}

	// Another screen that takes the session into its next phase takes this one
	// along.
	h.saved(base+"/washback_checked", threeTicks...)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1200", "again.removed_ml", "1200", "returned", "all")
	for _, s := range []*screen{chair, kitchen} {
		s.titled("Coming off")
	}
}

// fromScreenToScreen taps ten drinks, now on one screen, now on the other, and
// gives the median of the times until the other shows them.
func fromScreenToScreen(t *testing.T, chair, kitchen *screen) time.Duration {
	t.Helper()
	var took []time.Duration
	for i := range 10 {
		from, to := chair, kitchen
		if i%2 == 1 {
			from, to = kitchen, chair
		}
		const count = `document.querySelectorAll("#log li").length + "|" + document.querySelector("#set-now").innerText`
		before := eval[string](to, count)
		at := time.Now()
		from.tap(`.tap[data-kind="drink"] button >> ` + []string{"50", "100", "150"}[i/2%3]) // not the same twice at once
		to.until("the other screen's drink", count+" !== "+quoted(before))
		took = append(took, time.Since(at))
		from.current()
		to.current()
	}
	slices.Sort(took)
	t.Logf("from the tap to the other screen: median %v, slowest %v", took[len(took)/2].Round(time.Millisecond), took[len(took)-1].Round(time.Millisecond))
	return took[len(took)/2]
}

// A page that hears nothing says how old it is, greys out and closes its fields
// after 20 seconds, and comes back by itself, whatever went wrong on the way.
func TestGreyWithoutTheServer(t *testing.T) {
	t.Parallel()
	for name, lose := range map[string]func(*wire){
		"server gone":  (*wire).cut,
		"network dead": (*wire).stall,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := home(t, 1, true)
			s := newScreen(t, h, strings.ReplaceAll(name, " ", "-"), tabletW, tabletH)
			s.open(vida + "/session/" + h.life.Open)
			const clock = `document.querySelector("#fresh").innerText`
			s.until("how fresh the page is", clock+`.includes("as of 19:3")`)
			first := eval[string](s, clock)
			s.until("a newer time", clock+" !== "+quoted(first))
			const shut = `document.querySelectorAll("main input:not([type=hidden]):not(:disabled), main button:not(:disabled)").length === 0`
			if eval[bool](s, shut) {
				t.Fatal("a fresh page has no open field")
			}
			lose(h.wire)
			// The last word may be as old as one beat of the server.
			took := s.untilWithin(40*time.Second, "the grey page", `document.body.classList.contains("greyed")`)
			if took < 14*time.Second || took > 25*time.Second {
				t.Errorf("the page went grey after %v, want 20 s after it was last heard", took)
			}
			if !eval[bool](s, shut) {
				t.Error("fields are open on an old page")
			}
			s.shows("NOT LIVE")
			s.shows("s ago")
			if eval[string](s, `getComputedStyle(document.querySelector(".card-link")).pointerEvents`) == "none" {
				t.Error("the card cannot be reached from an old page")
			}
			s.shot("grey")
			h.wire.mend()
			took = s.untilWithin(20*time.Second, "the page come back", `!document.body.classList.contains("greyed") && document.querySelector("#stale").hidden`)
			t.Logf("%s: back after %v", name, took.Round(100*time.Millisecond))
			if eval[bool](s, shut) {
				t.Error("the fields stay closed on a page that is fresh again")
			}
			s.event("drink", ">> 100")
		})
	}
}
