package web

import (
	"strings"
	"testing"
	"time"
)

// After the end the page says at its top what came of the blood, with the way to put it
// right.
func TestComingOffSaysHowItEnded(t *testing.T) {
	for _, tt := range []struct {
		send []string
		want string
	}{
		{[]string{"returned", "none", "why", "clots"}, "No blood was given back. “clots” Not right?"},
		{[]string{"returned", "all", "washback_ml", "250"}, "All of the blood was given back. Not right?"},
		{[]string{"returned", "part", "washback_ml", "100"}, "A part of the blood was given back. Not right?"},
	} {
		h := home(t, 2, true)
		base := vida + "/session/" + h.life.Open
		h.later(time.Minute)
		h.saved(base+"/washback_checked", "saline_on_arterial_line", "yes", "its_clamp_open", "yes", "venous_line_to_me", "yes")
		h.saved(base+"/came_off", append(tt.send, "removed_ml", "1900", "again.removed_ml", "1900")...)
		text := mainOf(h.see(base))
		top, _, _ := strings.Cut(text, `id="off-numbers"`)
		if !strings.Contains(plainText(top), "Ended at "+h.now.Format("15:04")+". "+tt.want) {
			t.Errorf("the top reads %q, want %q", plainText(top), tt.want)
		}
		if !strings.Contains(top, `href="`+base+"/entry/"+lastOf(h, "came_off").ID+`"`) {
			t.Errorf("no way to put it right: %s", top)
		}
	}
}
