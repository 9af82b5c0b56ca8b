package web

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// places gives what stands in an order where, by markup; it fails where one is missing.
func places(t *testing.T, text string, parts ...string) (at []int) {
	t.Helper()
	for _, part := range parts {
		i := strings.Index(text, part)
		if i < 0 {
			t.Errorf("%q is not there", part)
		}
		at = append(at, i)
	}
	return at
}

// Where removal was switched off no button of the same list switches it on: that one is
// the last, in the tile and on the page of the run.
func TestRemovalOnIsNoSecondPressOfOff(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.saved(base + "/event/removal_off")
	for _, code := range []string{session.TroubleLow, session.TroubleHeart, session.TroubleConfused, session.TroublePower} {
		part := h.troubleOn(base, code)
		buttons := regexp.MustCompile(`<button formaction="[^"]*/([a-z_]+)"|<form method="post" action="[^"]*/([a-z_]+)" class="entry">`).FindAllStringSubmatch(part, -1)
		if len(buttons) < 2 {
			t.Fatalf("%s: %d buttons", code, len(buttons))
		}
		if last := buttons[len(buttons)-1]; last[1]+last[2] != "removal_on" {
			t.Errorf("%s: the last of the taps is %s", code, last[1]+last[2])
		}
	}
	text := h.see(base)
	_, text, _ = strings.Cut(text, `class="taps short"`)
	text, _, _ = strings.Cut(text, `class="taps feelings"`)
	kinds := regexp.MustCompile(`data-kind="([a-z_]+)"`).FindAllStringSubmatch(text, -1)
	if last := kinds[len(kinds)-1][1]; last != "removal_on" {
		t.Errorf("on the page of the run the last is %s", last)
	}
}

// A trouble opened by a slip leads to the entry that opened it, where that is struck
// out; once it is, the trouble is not there, whatever the unit's word.
func TestTroubleTypedByMistake(t *testing.T) {
	for _, code := range []string{session.TroubleAir, session.TroubleClotting} {
		h := home(t, 2, true)
		base := vida + "/session/" + h.life.Open
		if part := h.troubleOn(base, code); strings.Contains(part, "Typed by mistake") {
			t.Errorf("%s is not open: %s", code, plainText(part))
		}
		h.press(base, code, "Yes, this is happening")
		entry := lastOf(h, "trouble").ID
		part := h.troubleOn(base, code)
		link := `href="` + base + "/entry/" + entry + `#strike">Typed by mistake`
		if !strings.Contains(part, link) {
			t.Fatalf("%s: no way to strike it out: %s", code, part)
		}
		if !strings.Contains(h.see(base+"/entry/"+entry), `id="strike"`) {
			t.Error("the page of the entry has no such place")
		}
		h.saved(base+"/entry/"+entry+"/strike", "reason", "pressed by mistake")
		if part := h.troubleOn(base, code); strings.Contains(part, "Happening since") || strings.Contains(part, "Typed by mistake") {
			t.Errorf("%s is still open: %s", code, plainText(part))
		}
	}
}

// While the pressure is low its tile leads to the field of the pressure, first of all
// links; on the page of the session itself, by either address, no link of tile or bar to
// a place on it needs a request.
func TestPlacesOfTheSessionNeedNoRequest(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.later(time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "74", "again.systolic_mmhg", "74")
	for _, tt := range []struct{ path, at string }{{base, ""}, {vida + "/session", ""}, {vida + "/", base}, {base + "/note", base}} {
		_, part, _ := strings.Cut(h.troubleOn(tt.path, session.TroubleLow), "<h3>Write down</h3>")
		at := places(t, part, `href="`+tt.at+`#at-reading-systolic_mmhg">Measured: type it in`, "<form")
		if at[0] >= at[1] {
			t.Errorf("%s: the pressure is not first: %v", tt.path, at)
		}
		places(t, h.troubleOn(tt.path, session.TroubleFever), `href="`+tt.at+`#reading-h">Measured: type it in`)
		for _, link := range regexp.MustCompile(`href="([^"]*)"`).FindAllStringSubmatch(barOn(h.see(tt.path)), -1) {
			if place, _, is := strings.Cut(link[1], "#"); is && tt.at == "" && place != "" && !strings.HasPrefix(place, "tel:") {
				t.Errorf("%s: the bar leads by a request to %s", tt.path, link[1])
			}
		}
	}
	if !strings.Contains(h.see(base), `id="at-reading-systolic_mmhg"`) {
		t.Error("the page of the run has no such field")
	}
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "128", "again.systolic_mmhg", "128")
	if part := h.troubleOn(base, session.TroubleLow); strings.Contains(part, "#at-reading") || !strings.Contains(part, `href="#reading-h"`) {
		t.Errorf("no longer low: %s", part)
	}
}
