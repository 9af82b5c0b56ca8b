//go:build browser

package browsertest

import (
	"fmt"
	"testing"
)

// A lot typed into the row of its item is written down and the page comes back to
// that row, with script and without.
func TestLotRowComesBackToItsPlace(t *testing.T) {
	t.Parallel()
	for _, plain := range []bool{false, true} {
		h := home(t, 1, false)
		base := h.begun()
		s := newScreen(t, h, "lot-row", phoneW, phoneH)
		if plain {
			s.plain()
		}
		s.open(base + "/supply")
		for _, name := range []string{"dialyser", "needle"} {
			row := "#open-" + name
			if !eval[bool](s, `document.querySelector("`+row+`").open`) { // as the server wrote it; nothing changes that since
				s.tap(row + " summary")
			}
			for field, value := range map[string]string{"lot": "D7", "expiry.year": "2027", "expiry.month": "1", "expiry.day": "31"} {
				s.into(row + ` [name="` + field + `"]`)
				s.typed(value)
			}
			s.saves(name, func() { s.tap(row + " button.main") })
			s.until("the row ticked", find+`("`+row+` summary >> ✓ D7")`)
			// The page scrolls to its place once it is laid out.
			s.until("the row in sight", fmt.Sprintf(`(top => top >= -1 && top <= %d)(document.querySelector("%s").getBoundingClientRect().top)`, phoneH, row))
		}
	}
}
