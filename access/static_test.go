package access

import (
	"errors"
	"math"
	"testing"

	"ebbline/unit"
)

func TestStaticEstimate(t *testing.T) {
	for _, tt := range []struct {
		name        string
		in          Static
		mmhg, ratio float64
		code        string
	}{
		// Example inputs, worked by hand from P + 0.35·H + 3.4.
		{"P 40, H 30, mean 95", Static{40, 30, 95}, 53.9, 53.9 / 95, "ratio_above_half"},
		{"on the threshold", Static{46.6, 0, 100}, 50, 0.5, ""},
		{"just above", Static{46.7, 0, 100}, 50.1, 0.501, "ratio_above_half"},
		{"chamber below the needle", Static{60, -20, 95}, 56.4, 56.4 / 95, "ratio_above_half"},
		{"an ordinary fistula", Static{15, 30, 95}, 28.9, 28.9 / 95, ""},
		{"sensor line clamped", Static{-40, 30, 95}, -26.1, -26.1 / 95, "pressure_not_above_zero"},
	} {
		got, err := tt.in.Estimate()
		if err != nil || math.Abs(got.MmHg-tt.mmhg) > 1e-9 || math.Abs(got.Ratio-tt.ratio) > 1e-12 {
			t.Errorf("%s: %+v, %v; want %v mmHg, ratio %v", tt.name, got, err, tt.mmhg, tt.ratio)
		}
		if tt.code == "" && len(got.Cautions) > 0 || tt.code != "" && (len(got.Cautions) != 1 || got.Cautions[0].Code != tt.code) {
			t.Errorf("%s: cautions %v, want %q", tt.name, got.Cautions, tt.code)
		}
	}
	for _, bad := range []Static{{601, 30, 95}, {-201, 30, 95}, {40, 201, 95}, {40, -101, 95}, {40, 30, 0}, {40, 30, 301}, {math.NaN(), 30, 95}, {40, math.NaN(), 95}, {40, 30, math.NaN()}} {
		if got, err := bad.Estimate(); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%+v: %+v, %v; want an InputError", bad, got, err)
		}
	}
}
