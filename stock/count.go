package stock

import (
	"fmt"
	"math"

	"ebbline/unit"
)

// A Count is one stretch between two counts of an item on the shelf.
type Count struct {
	From     unit.Date
	To       unit.Date
	Before   unit.Pieces // counted on From
	Received unit.Pieces // delivered since
	TakenOut unit.Pieces // thrown away, sent back or given away since
	Shelf    unit.Pieces // counted on To
	Booked   unit.Pieces // use as the closed sessions booked it
	Noted    unit.Pieces // spares and failed set-ups that somebody wrote down besides
}

// Drift is the book less the shelf: what is missing when it is above 0.
//
//	drift = before + received − taken out − booked − noted − shelf
func (c Count) Drift() unit.Pieces {
	return c.Before + c.Received - c.TakenOut - c.Booked - c.Noted - c.Shelf
}

// used is what really went, if the counts are right: what was noted and what was
// not.
func (c Count) used() unit.Pieces { return c.Booked + c.Noted + c.Drift() }

// Remark says when book and shelf differ by more than the use of two sessions
// (our own choice), which is more than a forgotten spare.
func (c Count) Remark(item string, perSession unit.Pieces) []unit.Caution {
	d := c.Drift()
	switch {
	case d > 2*perSession:
		return []unit.Caution{{Code: "fewer_than_booked", Text: fmt.Sprintf("%s: the shelf has %s fewer than the book says since %s.", item, unit.PiecesText(d), c.From.Long())}}
	case d < -2*perSession:
		return []unit.Caution{{Code: "more_than_booked", Text: fmt.Sprintf("%s: the shelf has %s more than the book says since %s: was a delivery left out?", item, unit.PiecesText(-d), c.From.Long())}}
	}
	return nil
}

// The factor before there are counts to learn from, and its bounds. A tenth
// for spares is common practice; the bounds are our own.
const (
	firstSpare = 1.1
	leastSpare = 1.0
	mostSpare  = 2.0
)

// SpareFactor learns from counts by how much the use really exceeds what the
// sessions book: spares, failed set-ups, pieces dropped, whether noted or not.
//
//	factor = (1.1·b + Σ used) / (b + Σ booked)
//
// where b is the use of ten sessions, which keeps the first counts from
// swinging it: with none it is 1.1. It is held between 1 and 2, since a
// reckoning below the book is a miscount and one above twice the book is a
// loss to be found, not a habit. perSession must be above 0; otherwise the
// factor is 1.1. learned reports whether the counts span the use of at least
// ten sessions.
func SpareFactor(counts []Count, perSession unit.Pieces) (factor float64, learned bool) {
	if perSession <= 0 {
		return firstSpare, false
	}
	prior := 10 * float64(perSession)
	used, booked := firstSpare*prior, prior
	for _, c := range counts {
		used += math.Max(0, float64(c.used()))
		booked += float64(c.Booked)
	}
	factor = math.Min(mostSpare, math.Max(leastSpare, used/booked))
	return factor, booked-prior >= prior
}
