package unit

import (
	"math"
	"strings"
	"testing"
)

func TestCutPieces(t *testing.T) {
	for _, tt := range []struct {
		in   float64
		want Pieces
	}{
		{0, 0},
		{3, 3 * Piece},
		{0.2, 200_000},
		{0.29, 290_000}, // 0.29·1e6 in binary falls just short
		{2.0 / 3, 666_666},
		{1e-7, 0},
		{1e9, 1_000_000_000 * Piece},
	} {
		got, err := CutPieces(tt.in)
		if err != nil || got != tt.want {
			t.Errorf("CutPieces(%v) = %v, %v; want %v", tt.in, got, err, tt.want)
		}
	}
	for _, bad := range []float64{-1, -1e-9, 1e10, math.NaN(), math.Inf(1)} {
		if got, err := CutPieces(bad); err == nil {
			t.Errorf("CutPieces(%v) = %v, want it refused", bad, got)
		}
	}
	for n, want := range map[Pieces]string{Piece: "1 piece", Piece / 2: "0.5 pieces", 12 * Piece: "12 pieces"} {
		if got := strings.ReplaceAll(PiecesText(n), "\u00a0", " "); got != want {
			t.Errorf("%s print as %q, want %q", n, got, want)
		}
	}
}
