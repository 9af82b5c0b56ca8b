//go:build browser

package browsertest

import "testing"

// What the page says against something typed is in sight on a telephone,
// without a finger moving the page, and no number of it is cut off.
func TestWhatIsSaidIsInSight(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	s := newScreen(t, h, "again", phoneW, phoneH)
	const inSight = `(css => [...document.querySelectorAll(css)].length > 0 && [...document.querySelectorAll(css)].every(e => {
		const r = e.getBoundingClientRect();
		return r.top >= 0 && r.bottom <= innerHeight && r.left >= 0 && r.right <= innerWidth && e.scrollWidth <= e.clientWidth + 1 && r.right <= e.closest(".scroll, main").getBoundingClientRect().right + 1;
	}))`

	base := h.ready()
	h.agree(base)
	s.open(base + "/read_back")
	goal := h.goal(base)
	s.fill("/read_back", "shown", goal[2:3]+goal[1:2]+goal[:1])
	s.fill("/read_back", "machine_length_min", "250")
	s.send("/read_back")
	s.shows("Plan and machine differ")
	s.until("both numbers in sight", inSight+`(".differ tbody td")`)
	h.saved(base+"/read_back", "shown", goal, "machine_length_min", "250")

	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	s.open(base)
	s.fill("/reading", "systolic_mmhg", "192")
	s.send("/reading")
	s.shows("typed again")
	s.until("what is to be looked at again in sight", inSight+`(".again-at")`)
	if n := len(h.written(base, "reading")); n != 0 {
		t.Errorf("%d readings are written, want none before it is typed again", n)
	}
}
