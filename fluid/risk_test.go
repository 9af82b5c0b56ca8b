package fluid

import (
	"errors"
	"testing"

	"ebbline/unit"
)

func TestRatesByWeight(t *testing.T) {
	for _, tt := range []struct{ weight, usual, twenty, forty float64 }{
		{70, 540, 710, 840}, // 10.1 and 12 mL/h per kg
		{50, 480, 650, 780}, // 13 and 15.6
		{20, 390, 560, 690},
		{300, 1230, 1400, 1530},
	} {
		r, err := RatesByWeight(kg(tt.weight))
		if want := (RateByWeight{tt.usual, tt.twenty, tt.forty}); err != nil || r != want {
			t.Errorf("%v kg: %+v, %v; want %+v", tt.weight, r, err, want)
		}
	}
	for _, weight := range []float64{0, 19.9, 300.1, -70} {
		if _, err := RatesByWeight(kg(weight)); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%v kg: %v, want an InputError", weight, err)
		}
	}
}
