package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// Without script too a button that was pressed shows when it was written, the one that
// was pressed and no other; an entry that is struck out shows nothing (H-44).
func TestPressedButtonSaysWhen(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(10 * time.Minute)
	says := func(code, words, want string) {
		t.Helper()
		part := h.troubleOn(base, code)
		for _, m := range tapButton.FindAllStringSubmatch(part, -1) {
			if m[4] == words {
				if m[3] != want {
					t.Errorf("%s, %q: %q, want %q", code, words, m[3], want)
				}
				return
			}
		}
		t.Errorf("%s: no button %q", code, words)
	}
	for _, words := range []string{"Lay back", "Saline 100\u00a0mL", "Removal off"} {
		says(session.TroubleLow, words, "")
	}
	at := h.now
	for _, words := range []string{"Lay back", "Saline 100\u00a0mL"} {
		h.press(base, session.TroubleLow, words)
	}
	h.later(4 * time.Minute)
	h.press(base, session.TroubleBlood, "Arterial needle adjusted")
	h.saved(base+"/rang", "whom", "Ambulance, 112", "said", "they come")
	written := "written " + at.Format("15:04")
	says(session.TroubleLow, "Lay back", written)
	says(session.TroubleLow, "Saline 100\u00a0mL", written)
	says(session.TroubleLow, "Removal off", "")
	says(session.TroubleBlood, "Arterial needle adjusted", "written "+h.now.Format("15:04"))
	says(session.TroubleBlood, "Venous needle adjusted", "")
	if part := plainText(h.troubleOn(base, session.TroubleBlood)); !strings.Contains(part, "I rang the ambulance: what was said written "+h.now.Format("15:04")) ||
		strings.Count(part, "what was said written") != 1 {
		t.Errorf("the call: %s", part)
	}
	h.saved(base+"/entry/"+h.latest(base, "lie_back")+"/strike", "reason", "pressed by mistake")
	says(session.TroubleLow, "Lay back", "")
	h.press(base, session.TroubleAir, yesHappens)
	if part := h.troubleOn(base, session.TroubleAir); !strings.Contains(plainText(part), "Happening since "+h.now.Format("15:04")) || tapButton.MatchString(buttonOf(part, yesHappens)) {
		t.Errorf("after %q: %s", yesHappens, plainText(part))
	}
	h.says(vida+"/guide", yesHappens)
}
