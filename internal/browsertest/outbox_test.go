//go:build browser

package browsertest

import (
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// What is entered while the server cannot be reached is counted on the page as
// not saved, and is saved once, at the time it happened, when it can be again.
func TestOutbox(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "outbox", tabletW, tabletH)
	s.open(base)
	s.current()
	h.wire.cut()
	drank := h.now()
	s.tap(`.tap[data-kind="drink"] button >> 150`)
	s.shows("1 entry is NOT SAVED YET")
	s.tap(`.tap[data-kind="drink"] button >> 50`)
	s.shows("2 entries are NOT SAVED YET")
	s.fill("/reading", "systolic_mmhg", "126")
	s.fill("/reading", "diastolic_mmhg", "74")
	read := h.now()
	s.tap(`#pad [data-pad="save"]`)
	s.shows("3 entries are NOT SAVED YET")
	s.shows("Write on paper too")
	s.shot("waiting")
	if n := len(h.written(base, "drink")) + len(h.written(base, "reading")); n != 0 {
		t.Fatalf("%d entries came through a cut line", n)
	}

	// Half an hour passes for both.
	h.later(30 * time.Minute)
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (30*time.Minute).Milliseconds()))
	s.shows("kept on this screen for 30 min")
	h.wire.mend()
	s.until("nothing waits any more", `!document.querySelector("#waiting")`)
	drinks, readings := h.written(base, "drink"), h.written(base, "reading")
	if len(drinks) != 2 || len(readings) != 1 {
		t.Fatalf("%d drinks and %d readings are saved, want 2 and 1", len(drinks), len(readings))
	}
	for i, e := range append(drinks, readings...) {
		want := drank
		if i == 2 {
			want = read
		}
		if off := e.At.Sub(want); off < -2*time.Second || off > 4*time.Second {
			t.Errorf("%s stands at %s, want %s", e.Kind, e.At.Format(time.TimeOnly), want.Format(time.TimeOnly))
		}
		if late := e.Written.Sub(e.At); late < 29*time.Minute {
			t.Errorf("%s is not marked as written later: %v", e.Kind, late)
		}
	}
	s.until("the drinks on the page", `document.querySelectorAll("#log li").length >= 4`)
	s.shows("typed 30 min later")

	// Something that waited and cannot be taken any more is said, with the way
	// to put it right.
	h.wire.cut()
	s.tap(`.tap[data-kind="drink"] button >> 100`)
	s.shows("1 entry is NOT SAVED YET")
	h.aside(base+"/washback_checked", threeTicks...)
	h.aside(base+"/came_off", "washback_ml", "250", "removed_ml", "900", "again.removed_ml", "900", "returned", "all")
	h.wire.mend()
	s.shows("One was not taken")
	s.tap(`#waiting button >> take it off this screen`)
	s.shows("Throw away what was typed?")
	s.tap(`#waiting button >> throw it away`)
	s.until("nothing waits any more", `!document.querySelector("#waiting")`)
}

// An answer that is lost after the server took the entry does not double it.
func TestAnswerLost(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "answer-lost", tabletW, tabletH)
	s.open(base)
	amounts := []string{"50", "100", "200"} // each another button: the same one pressed again at once is a bounce
	for i, lost := range []int{1, 2, 4} {
		before := len(h.written(base, "drink"))
		s.current()
		h.wire.loseNext(lost)
		s.tap(`.tap[data-kind="drink"] button >> ` + amounts[i])
		for from := time.Now(); h.wire.lost() < lost && time.Since(from) < 2*patience; time.Sleep(20 * time.Millisecond) {
		}
		if got := h.wire.lost(); got != lost {
			t.Fatalf("%d answers were lost, want %d", got, lost)
		}
		s.until("nothing waits any more", `!document.querySelector("#waiting") && !document.querySelector("main button:disabled")`)
		s.current()
		if got := len(h.written(base, "drink")) - before; got != 1 {
			t.Errorf("%d answers lost: the drink is saved %d times", lost, got)
		}
	}
}

// A page that is left while an entry is on its way loses nothing: the next one
// takes the entry up.
func TestLeftOnItsWay(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "left", tabletW, tabletH)
	for _, cut := range []bool{false, true} {
		s.open(base)
		s.current()
		before := len(h.written(base, "drink"))
		if cut {
			h.wire.cut()
		}
		eval[bool](s, `document.querySelector('.tap[data-kind="drink"] button').click(), location.reload(), true`)
		h.wire.mend()
		s.open(base)
		s.until("the entry is no longer on its way", `!Object.keys(localStorage).some(k => k.startsWith("on its way")) && !document.querySelector("#waiting")`)
		for from := time.Now(); len(h.written(base, "drink")) == before && time.Since(from) < patience; time.Sleep(20 * time.Millisecond) {
		}
		if got := len(h.written(base, "drink")) - before; got != 1 {
			t.Errorf("the line cut: %v: a drink tapped as the page was left is saved %d times", cut, got)
		}
	}
}

// Forty cuts of every sort at random moments while drinks are tapped: none is
// lost, none is doubled.
func TestRandomCuts(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	base := h.running()
	s := newScreen(t, h, "cuts", tabletW, tabletH)
	s.open(base)
	chance := rand.New(rand.NewPCG(7, 11))
	amounts := []string{"50", "100", "150", "200"}
	tapped := map[unit.Volume]int{}
	cuts, reloads, before := 0, 0, 0
	var cutting sync.WaitGroup // a cut that comes late must not follow the mending
	for taps := 0; cuts < 40; taps++ {
		switch chance.IntN(8) {
		case 0, 1:
			h.wire.cut()
			cuts++
		case 2:
			h.wire.loseNext(1 + chance.IntN(2))
			cuts++
		case 3:
			// Cut while the entry is on its way.
			delay := time.Duration(chance.IntN(12)) * time.Millisecond
			cutting.Go(func() {
				time.Sleep(delay)
				h.wire.cut()
			})
			cuts++
		case 4:
			cutting.Wait()
			h.wire.mend()
			if chance.IntN(3) == 0 {
				s.open(base) // a page loaded anew finds what waits
				reloads++
			}
		default:
			cutting.Wait()
			h.wire.mend()
		}
		// Another amount than just before: the same one at once is a finger that bounces.
		i := (before + 1 + chance.IntN(len(amounts)-1)) % len(amounts)
		before = i
		s.tap(`.tap[data-kind="drink"] button >> ` + amounts[i])
		var v unit.Volume
		if err := v.UnmarshalText([]byte(amounts[i])); err != nil {
			t.Fatal(err)
		}
		tapped[v]++
	}
	cutting.Wait()
	h.wire.mend()
	h.wire.loseNext(0)
	s.untilWithin(30*time.Second, "nothing waits any more", `!Object.keys(localStorage).some(k => k.startsWith("on its way")) && !document.querySelector("#waiting") && !document.querySelector("main button:disabled")`)
	saved := map[unit.Volume]int{}
	for _, e := range h.written(base, "drink") {
		saved[e.Body.(*session.Drink).Volume]++
	}
	lost, doubled, all := 0, 0, 0
	for v, n := range tapped {
		all += n
		lost += max(0, n-saved[v])
		doubled += max(0, saved[v]-n)
	}
	t.Logf("%d taps, %d cuts, %d pages loaded anew: %d lost, %d doubled", all, cuts, reloads, lost, doubled)
	if lost != 0 || doubled != 0 || all < 40 {
		t.Errorf("tapped %v, saved %v", tapped, saved)
	}
}
