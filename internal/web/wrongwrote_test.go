package web

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

var wroteLine = regexp.MustCompile(`(?s)<p id="wrong-([a-z_]+)-taps" class="wrong-wrote"[^>]*>(.*?)</p>`)

// A tile lists what was written since its trouble began, the newest first, with the
// saline in all, right before its taps, to which a tap without script comes back; what
// is struck out and what is older is not in it.
func TestTileListsWhatWasWritten(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	line := func(code, want string) {
		t.Helper()
		part := h.troubleOn(base, code)
		m := wroteLine.FindStringSubmatch(part)
		if m == nil || m[1] != code || strings.TrimSpace(m[2]) != want {
			t.Errorf("%s: the list reads %q, want %q", code, m, want)
			return
		}
		if at := places(t, part, m[0], ">Lay back<"); code == session.TroubleLow && at[0] > at[1] {
			t.Error("the list does not stand before the taps")
		}
	}
	line(session.TroubleLow, "Nothing is written of it yet.")
	h.later(10 * time.Minute)
	h.press(base, session.TroubleLow, "Saline 100\u00a0mL")
	h.later(31 * time.Minute)
	line(session.TroubleLow, "Nothing is written of it yet.")
	off := h.now.Format("15:04")
	h.press(base, session.TroubleLow, "Removal off")
	h.later(time.Minute)
	lay := h.now.Format("15:04")
	h.press(base, session.TroubleLow, "Lay back")
	h.later(time.Minute)
	first := h.now.Format("15:04")
	h.press(base, session.TroubleLow, "Saline 100\u00a0mL")
	line(session.TroubleLow, "Written: saline 100\u00a0mL "+first+" (100 in all) · lay back "+lay+" · removal off "+off)
	h.press(base, session.TroubleLow, yesHappens)
	h.later(40 * time.Minute) // of a trouble that is there nothing is dropped
	h.press(base, session.TroubleLow, "Saline 100\u00a0mL")
	want := "Written: saline 100\u00a0mL " + h.now.Format("15:04") + " (200 in all) · happening: low pressure " + first +
		" · saline 100\u00a0mL " + first + " · lay back " + lay + " · removal off " + off
	line(session.TroubleLow, want)
	h.saved(base+"/entry/"+h.latest(base, "lie_back")+"/strike", "reason", "pressed by mistake")
	line(session.TroubleLow, strings.Replace(want, " · lay back "+lay, "", 1))
	if to := h.saved(base+"/low_pressure", "next", base+"#"+tapsOf(session.TroubleLow)); to != base+"#wrong-low_pressure-taps" {
		t.Errorf("low, no figure leads to %s", to)
	}
}
