package web

import (
	"net/http"
	"regexp"
	"slices"
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
		part, _, _ := strings.Cut(h.troubleOn(base, code), `id="rang-`)
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

var anyButton = regexp.MustCompile(`(?s)<button[^>]*>\s*([^<]*?)\s*<`)

// buttonsOf are the buttons of a part, pressable or not, in their order.
func buttonsOf(part string) (list []string) {
	for _, m := range anyButton.FindAllStringSubmatch(part, -1) {
		list = append(list, m[1])
	}
	return list
}

// buttonOf is one of them as markup; empty where there is none.
func buttonOf(part, words string) string {
	for _, m := range anyButton.FindAllStringSubmatch(part, -1) {
		if m[1] == words {
			return m[0]
		}
	}
	return ""
}

// marked reports whether a button stays with when it was written, and takes no press.
func marked(part, words, said string) bool {
	b := buttonOf(part, words)
	return strings.Contains(b, `type="button" aria-disabled="true"`) && strings.Contains(b, `data-said="`+said+`"`)
}

// "It is over" stands behind the calls, far from what opens the trouble, so that a page
// which comes back with the taps at its top has it under no finger.
func TestOverStandsApart(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	for _, code := range []string{session.TroubleHeart, session.TroublePower, session.TroubleBleeding} {
		h.saved(base+"/trouble", "trouble", code, "state", "open")
		part := h.troubleOn(base, code)
		calls, over := strings.Index(part, `id="rang-`), strings.Index(part, ">It is over<")
		if calls < 0 || over < calls {
			t.Errorf("%s: the calls at %d, over at %d", code, calls, over)
		}
	}
}

// Whatever is pressed in a tile stays in its place, and no other button moves to where
// one stood before: a second press writes nothing else.
func TestNoButtonComesUnderTheFinger(t *testing.T) {
	t.Parallel()
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	pressed := 0
	for _, kind := range session.Troubles() {
		for _, words := range []string{yesHappens, "Pump off", "Going on", "Removal off", "Removal on again", "Lay back"} {
			h.later(time.Minute)
			part := h.troubleOn(base, kind.Code)
			taps, _, _ := strings.Cut(part, `id="rang-`)
			if !tapButton.MatchString(buttonOf(taps, words)) {
				continue
			}
			was := buttonsOf(taps)
			h.press(base, kind.Code, words)
			pressed++
			now, _, _ := strings.Cut(h.troubleOn(base, kind.Code), `id="rang-`)
			for i, one := range buttonsOf(now) {
				// What is new stands behind all that was there.
				if i < len(was) && one != was[i] && !slices.Contains(was, one) {
					t.Errorf("%s, %q: %q comes to where %q stood", kind.Code, words, one, was[i])
				}
			}
			if i := slices.Index(was, words); i >= len(buttonsOf(now)) || buttonsOf(now)[i] != words {
				t.Errorf("%s: %q does not stay in its place: %q, then %q", kind.Code, words, was, buttonsOf(now))
			}
			if words != "Lay back" && !marked(now, words, "written "+h.now.Format("15:04")) {
				t.Errorf("%s: %q can be pressed again: %s", kind.Code, words, buttonOf(now, words))
			}
		}
		if kind.StaysOut() {
			h.saved(base+"/trouble", "trouble", kind.Code, "state", session.TroubleOver, "said", "Nurse R at the unit: go on")
		}
	}
	if pressed < 33 {
		t.Errorf("only %d presses", pressed)
	}
}

// While a trouble is open in which the blood stays out, no tile starts the pump again by
// one press, nor does the page of the run, which says why (H-138).
func TestGoingOnIsNotOfferedWhileTheBloodStaysOut(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.saved(base + "/event/pause")
	offered := func(want bool) {
		t.Helper()
		page := h.see(base)
		for _, code := range stoppedBy {
			if got := tapButton.MatchString(buttonOf(h.troubleIn(page, base, code), "Going on")); got != want {
				t.Errorf("%s: going on is offered: %v, want %v", code, got, want)
			}
		}
		if got := strings.Contains(page, `/event/resume"`); got != want {
			t.Errorf("on the page of the run going on is one tap: %v, want %v", got, want)
		}
	}
	offered(true)
	for _, kind := range session.Troubles() {
		h.later(time.Minute)
		h.saved(base+"/trouble", "trouble", kind.Code, "state", session.TroubleOpen)
		offered(!kind.StaysOut())
		if kind.StaysOut() {
			h.says(base, "Going on is not offered while “"+kind.Title+"” is not over. "+kind.Blood.Words())
		} else {
			h.silent(base, "Going on is not offered")
		}
		h.saved(base+"/trouble", "trouble", kind.Code, "state", session.TroubleOver, "said", "Nurse R at the unit: go on")
	}
	offered(true)
}

// What was just felt is shown as written, and may be pressed again after five minutes.
func TestFeltIsShownAsWritten(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.saved(base+"/event/unwell", "words", "chest pain")
	at := "written " + h.now.Format("15:04")
	h.later(4 * time.Minute)
	part := h.troubleOn(base, session.TroubleHeart)
	if !marked(part, "Felt chest pain", at) || !tapButton.MatchString(buttonOf(part, "Felt breathless")) {
		t.Errorf("%s, %s", buttonOf(part, "Felt chest pain"), buttonOf(part, "Felt breathless"))
	}
	h.later(time.Minute)
	if b := buttonOf(h.troubleOn(base, session.TroubleHeart), "Felt chest pain"); !tapButton.MatchString(b) || !strings.Contains(b, at) {
		t.Errorf("five minutes later: %s", b)
	}
}

// What was only felt can be said to be over: by one press, or where the blood stays out
// with the unit's word.
func TestFeltCanBeOver(t *testing.T) {
	for _, f := range session.Feelings() {
		h := home(t, 2, true)
		base := vida + "/session/" + h.life.Open
		kind, _ := session.TroubleOf(f.Trouble)
		if part := h.troubleOn(base, f.Trouble); tapButton.MatchString(buttonOf(part, "It is over")) || strings.Contains(part, "who of your unit said what") {
			t.Errorf("%s is over with nothing felt", f.Trouble)
		}
		h.saved(base+"/event/unwell", "words", f.Words)
		h.later(time.Minute)
		part := h.troubleOn(base, f.Trouble)
		if !kind.StaysOut() {
			h.press(base, f.Trouble, "It is over")
			if !marked(h.troubleOn(base, f.Trouble), "It is over", "written "+h.now.Format("15:04")) {
				t.Errorf("%s: it is over, and not marked", f.Trouble)
			}
			continue
		}
		_, over, _ := strings.Cut(part, "It is over: who of your unit said what")
		if over == "" {
			t.Fatalf("%s has no way to be over: %s", f.Trouble, plainText(part))
		}
		form := formOf("trouble", f.Trouble, "state", "over", "said", "Nurse R at the unit: it is nothing")
		if status, _, text := h.post(base+"/trouble", form); status != http.StatusSeeOther {
			t.Errorf("%s: %d, %s", f.Trouble, status, problems(text))
		}
	}
}
