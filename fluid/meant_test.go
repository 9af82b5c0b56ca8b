package fluid

import (
	"math"
	"testing"
)

func guessed(typed string, kind Reason) []float64 {
	var list []float64
	for _, g := range guesses(typed) {
		if g.kind == kind {
			list = append(list, g.kg)
		}
	}
	return list
}

func TestGuesses(t *testing.T) {
	for _, tt := range []struct {
		typed string
		kind  Reason
		want  []float64
	}{
		{"74.6", DigitsSwapped, []float64{47.6, 76.4}},
		{"72", DigitsSwapped, []float64{27, 70.2}}, // 72 is 72.0
		{"77.6", DigitsSwapped, []float64{76.7}},   // equal digits swap to themselves
		{"70.0", DigitsSwapped, nil},               // 07.0 is nobody's weight, 70.0 is itself
		{"100.5", DigitsSwapped, []float64{105}},
		{"72.25", DigitsSwapped, []float64{27.25, 72.52}},
		{"164.5", Pounds, []float64{74.6, 362.7}},
		{"11.6", Stone, []float64{73.7, 72.6}}, // 11.6 st, or 11 st 6 lb
		{"11.13", Stone, []float64{70.7, 75.7}},
		{"11.14", Stone, []float64{70.7}},            // there is no 14th pound
		{"11.1", Stone, []float64{70.5, 70.3, 74.4}}, // 11.1 st, 11 st 1 lb, or 11 st 10 lb
		{"746", PointLost, []float64{74.6, 7.46, 0.746, 7460, 74600}},
	} {
		got := guessed(tt.typed, tt.kind)
		if len(got) != len(tt.want) {
			t.Errorf("%s as %s: %v, want %v", tt.typed, tt.kind, got, tt.want)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-tt.want[i]) > 1e-9 {
				t.Errorf("%s as %s: %v, want %v", tt.typed, tt.kind, got, tt.want)
				break
			}
		}
	}
	// Each of three digits into nine others, less the 0 in front.
	if got := guessed("74.6", OneDigitOff); len(got) != 26 {
		t.Errorf("one digit off 74.6: %d guesses %v", len(got), got)
	}
	// A value that cannot be typed as kg has no guesses that are no numbers.
	for _, typed := range []string{"0", "0.0", "1000000", "0.000001"} {
		for _, g := range guesses(typed) {
			if math.IsNaN(g.kg) || math.IsInf(g.kg, 0) || g.kg < 0 {
				t.Errorf("%s may be %v", typed, g)
			}
		}
	}
}
