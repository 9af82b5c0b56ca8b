package fluid

import "testing"

// A point that was lost is put back in the digits: the weight suggested is what
// the scale can have shown, not its neighbour in binary.
func TestLostPointIsPutBackExactly(t *testing.T) {
	for typed, want := range map[float64]float64{746: 74.6, 7460: 74.6, 7.46: 74.6, 582: 58.2, 1103: 110.3} {
		w, err := WeighIn(WeighInInput{Entered: kg(typed), DryWeight: kg(want - 2)})
		if err != nil {
			t.Fatal(err)
		}
		if w.LikelyKg == nil || *w.LikelyKg != want {
			t.Errorf("%v suggests %v, want exactly %v", typed, w.LikelyKg, want)
		}
	}
}
