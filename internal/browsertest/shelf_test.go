//go:build browser

package browsertest

import "testing"

// On a telephone what is left of an item stands whole on the shelf's page: no
// count loses its last digit at the edge of the table.
func TestShelfCountsAreWhole(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "shelf", phoneW, phoneH)
	s.open(vida + "/shelf")
	rows := eval[int](s, `document.querySelectorAll(".shelf-table tbody tr").length`)
	cut := eval[int](s, `[...document.querySelectorAll(".shelf-table tr")].filter(r => {
		const edge = r.closest(".scroll").getBoundingClientRect().right;
		return [...r.cells].slice(0, 3).some(c => c.getBoundingClientRect().right > edge + 1);
	}).length`)
	if rows == 0 || cut != 0 {
		t.Errorf("of %d items %d rows are cut off before the count of pieces ends", rows, cut)
	}
}
