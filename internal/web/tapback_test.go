package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// A tick on a list of steps comes back to where the finger was: to the step that
// takes the place of the one that was ticked, or to the step itself where it
// stays. The place is on the page that it leads to, without script.
func TestATickComesBackToItsPlace(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.saved(base+"/fitness", "none_of_these", "yes")
	lands := func(to, want string) {
		t.Helper()
		path, place, _ := strings.Cut(to, "#")
		if path != base || place != want {
			t.Errorf("leads to %s, want #%s of %s", to, want, base)
		}
		if !strings.Contains(h.see(path), `id="`+place+`"`) {
			t.Errorf("there is no #%s on the page", place)
		}
	}
	tick := func(phase, step, state string) string {
		h.later(time.Minute)
		return h.saved(base+"/step", "phase", phase, "step", step, "state", state)
	}
	var hands []string
	for _, part := range strings.Split(h.see(base), `<li class="step ready" id="step-`)[1:] {
		id, _, _ := strings.Cut(part, `"`)
		hands = append(hands, id)
	}
	if len(hands) < 3 {
		t.Fatalf("the page offers %v", hands)
	}
	lands(tick(session.SetUp, hands[0], session.StepIsDone), "step-"+hands[1])
	lands(tick(session.SetUp, hands[0], "undone"), "step-"+hands[0])
	last := hands[len(hands)-1]
	lands(tick(session.SetUp, last, session.StepNotDone), "step-"+hands[len(hands)-2])

	// Going past a check comes back to the check.
	lands(h.saved(base+"/override", "check", session.CheckSelfTest, "reason", "the technician said so on the telephone"), "check-"+session.CheckSelfTest)
}

// Coming off and typing in from paper hold it so too.
func TestATickComesBackToItsPlaceElsewhere(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all")
	h.later(time.Minute)
	var steps []string
	for _, part := range strings.Split(h.see(base), `id="step-`)[1:] {
		id, _, _ := strings.Cut(part, `"`)
		steps = append(steps, id)
	}
	if len(steps) < 2 {
		t.Fatalf("the page offers %v", steps)
	}
	if to := h.saved(base+"/step", "phase", session.TakeOff, "step", steps[0], "state", session.StepIsDone); to != base+"#step-"+steps[1] {
		t.Errorf("coming off, the tick of %s leads to %s, want %s", steps[0], to, steps[1])
	}
}

// A disinfection that is refused because lines are on the machine is still typed
// when the lines are off: the way over the other form keeps it, and its time.
func TestARefusedDisinfectionStaysTyped(t *testing.T) {
	h := home(t, 2, false)
	base := h.setUp()
	h.later(10 * time.Minute)
	page := base + "/disinfection"
	clock := h.now.Add(-2 * time.Minute).Format("15:04")
	_, _, text := h.post(page, formOf("programme", "chemical", "result", "passed", "clock", clock))
	if typed := fieldsOf(t, text[strings.LastIndex(text, `<form method="post" action="`+page):], page); typed.Get("programme") != "chemical" || typed.Get("result") != "passed" || typed.Get("clock") != clock {
		t.Fatalf("came back as %v\n%s", typed, problems(text))
	}
	off := fieldsOf(t, text, base+"/step")
	h.later(time.Minute)
	status, to, _ := h.post(base+"/step", off)
	if status != 303 || !strings.HasPrefix(to, page+"?") {
		t.Fatalf("the lines off: %d, to %s", status, to)
	}
	text = h.see(to)
	typed := fieldsOf(t, text, page)
	if typed.Get("programme") != "chemical" || typed.Get("result") != "passed" || typed.Get("clock") != clock {
		t.Errorf("after the lines are off: %v", typed)
	}
	if strings.Contains(text, "Lines are off again") {
		t.Error("the lines are still on")
	}
	if plain := fieldsOf(t, h.see(page), page); plain.Get("programme") != "" {
		t.Errorf("a fresh form begins as %v", plain)
	}
}
