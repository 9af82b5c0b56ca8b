//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"
)

// inSight is the script that reports whether all of what an aim finds lies on the
// screen, above the parts of the program.
const inSight = `(e => {
	if (!e) return false;
	const r = e.getBoundingClientRect(), floor = document.querySelector(".parts").getBoundingClientRect().top;
	return r.top >= 0 && r.bottom <= floor;
})(%s(%s))`

// What must not be missed lies on the first screen of a telephone: the first thing
// to do of setting up, what stands at stop with what not to do, the numbers, and
// how long it is since the last session once that is too long.
func TestFirstScreen(t *testing.T) {
	h := home(t, 2, false)
	s := newScreen(t, h, "first-screen", phoneW, phoneH)
	see := func(page string, aims ...string) {
		t.Helper()
		s.open(page)
		for _, aim := range aims {
			// A page that is opened may still fetch what is newer.
			s.until(aim+" on the first screen of "+page, fmt.Sprintf(inSight, find, quoted(aim)))
		}
	}
	see(vida+"/", "a.huge")
	base := h.begun()
	see(base, ".times", "#step-fit .step-do .main")
	h.saved(base+"/weigh_in", "weight_kg", "64.6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	see(base, "#to-plan a")
	h.saved(base+"/access_check", "thrill", "absent", "bruit", "absent", "skin", "clean")
	h.saved(base+"/fitness", "fever", "yes")
	see(base, ".stops a >> Do not needle", ".stops a >> Ring your unit first: fever", ".phones a >> at night")
	h.later(time.Minute)
	h.saved(base+"/fitness", "fever", "yes", "heavy_legs", "yes")
	see(base, "#ambulance p >> Ring the ambulance first", ".phones a >> Ambulance", ".phones a >> at night", ".stops a >> Fit to start")
	see(vida+"/", ".overdue p >> Ring the ambulance first", ".phones a >> at night")
	abandon(h, base)
	h.later(5 * 24 * time.Hour)
	see(vida+"/", ".overdue p >> Ring about potassium", ".phones a >> Ambulance", ".phones a >> at night")
}
