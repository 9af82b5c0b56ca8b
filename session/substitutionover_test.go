package session

import (
	"slices"
	"strings"
	"testing"
)

// Substitution fluid is far over the order by more than a quarter of it and more than two
// litres, both; it is said once, and again after a count that was not.
func TestSubstitutionFarOverTheOrder(t *testing.T) {
	for _, tt := range []struct {
		name    string
		ordered int // mL; 0: no volume
		given   []happened
		again   int // which of them began at zero again; −1: none
		want    []int
	}{
		{"by a quarter", 20_000, []happened{{60, both(650, 25_000)}}, -1, nil},
		{"by more than a quarter", 20_000, []happened{{60, both(650, 25_100)}}, -1, []int{60}},
		{"by more than a quarter, and two litres", 6000, []happened{{60, both(650, 8000)}}, -1, nil},
		{"by more than two litres", 6000, []happened{{60, both(650, 8100)}}, -1, []int{60}},
		{"once", 20_000, []happened{{60, both(650, 80_000)}, {90, both(970, 81_000)}}, -1, []int{60}},
		{"again", 20_000, []happened{{60, both(650, 80_000)}, {90, both(970, 9000)}, {120, both(1300, 30_000)}}, -1, []int{60, 120}},
		{"both counts together", 20_000, []happened{{60, both(650, 18_000)}, {90, both(320, 8000)}}, 1, []int{90}},
		{"at the end", 20_000, []happened{{60, both(650, 5000)}, {240, &CameOff{Removed: removedAt(2600).Removed, Given: litresOf(60_000)}}}, -1, []int{240}},
		{"no volume ordered", 0, []happened{{60, both(650, 80_000)}}, -1, nil},
	} {
		s := filtered(t, RemovedNet)
		if tt.ordered > 0 {
			s.Rx.Substitution = litresOf(tt.ordered)
		}
		for i, h := range tt.given {
			if r, is := h.body.(*Reading); is && i == tt.again {
				r.Again = true
			}
			put(s, on(h.at), h.body)
		}
		var got []int
		for _, r := range Remarks(s, on(241)) {
			if r.Code != "substitution_over" {
				continue
			}
			got = append(got, int(r.At.Sub(on(0)).Minutes()))
			if r.Level != LevelLook || !strings.Contains(r.Words, "ordered "+s.Rx.Substitution.Text()) || !strings.Contains(r.Words, "ring your unit") {
				t.Errorf("%s: %s %q", tt.name, r.Level, r.Words)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: said at %v, want %v", tt.name, got, tt.want)
		}
	}
}
