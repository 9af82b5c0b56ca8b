package unit

import (
	"strconv"
	"strings"
)

type piece struct{}

func (piece) about() scale { return scale{symbol: "pieces", decimals: 6} }

// Pieces counts what lies on the shelf in the item's own piece (a dialyser, a
// bag, a vial, a litre of concentrate), to a millionth, so that parts of a
// piece used per session add up without drift.
type Pieces = Quantity[piece]

// Piece is one whole piece.
const Piece Pieces = 1_000_000

// CutPieces takes a count from a machine's number. It keeps the decimals that
// were written and cuts after the sixth, never up: two thirds written with
// sixteen digits become 0.666666, and three such uses still fit two pieces.
// It needs 0 ≤ v ≤ 1e9.
func CutPieces(v float64) (Pieces, error) {
	if !(v >= 0 && v <= 1e9) {
		return 0, Refuse("", v, "a count from 0 to 1e9")
	}
	whole, frac, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	frac = (frac + "000000")[:6]
	n, err := strconv.ParseInt(whole+frac, 10, 64)
	if err != nil {
		return 0, Refuse("", v, "a count from 0 to 1e9")
	}
	return Pieces(n), nil
}

// PiecesText writes a count with its word: "1 piece", "0.5 pieces", "12 pieces".
func PiecesText(n Pieces) string {
	if n == Piece {
		return "1\u00a0piece"
	}
	return n.Text()
}
