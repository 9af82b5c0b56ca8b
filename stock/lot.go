package stock

import (
	"cmp"
	"slices"

	"ebbline/unit"
)

// A Lot is what lies on the shelf of one item with one lot code and expiry.
type Lot struct {
	Code    string      `json:"lot,omitempty"`
	Maker   string      `json:"maker,omitempty"`
	Count   unit.Pieces `json:"count"`
	Expires unit.Date   `json:"expires,omitzero"` // last day it serves; zero: none printed
	Held    bool        `json:"held,omitempty"`   // in quarantine: recalled, damaged, doubtful
}

// UsableOn reports whether a session on that day may use the lot: something is
// left, it is not held, and its expiry is that day or later.
func (l Lot) UsableOn(day unit.Date) bool {
	return l.Count > 0 && !l.Held && !l.ExpiredOn(day)
}

// ExpiredOn reports whether the lot's last day lies before that day.
func (l Lot) ExpiredOn(day unit.Date) bool {
	return !l.Expires.IsZero() && l.Expires.Before(day)
}

// Offer lists the lots that a session on that day may use, first to expire
// first; lots without an expiry come last. Lots that expire together keep
// their order. A held or expired lot is never offered.
func Offer(lots []Lot, day unit.Date) []Lot {
	var list []Lot
	for _, i := range offer(lots, day) {
		list = append(list, lots[i])
	}
	return list
}

// offer gives the places in lots of those that [Offer] lists.
func offer(lots []Lot, day unit.Date) []int {
	var at []int
	for i, l := range lots {
		if l.UsableOn(day) {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(i, j int) int { return byExpiry(lots[i], lots[j]) })
	return at
}

func byExpiry(a, b Lot) int {
	if a.Expires.IsZero() != b.Expires.IsZero() {
		if a.Expires.IsZero() {
			return 1
		}
		return -1
	}
	return cmp.Compare(a.Expires.Sub(b.Expires), 0)
}

// A Taken is what one use took from one lot.
type Taken struct {
	Lot   int         `json:"-"` // its place in the lots given
	Code  string      `json:"lot,omitempty"`
	Count unit.Pieces `json:"count"`
}

// Take draws need pieces for a session on that day, first expired first out,
// and gives what it took from which lot, what is left, and what was wanting.
// The lots given are not changed. Nothing is lost or made: the counts taken
// and left add up to the counts given, and taken and short to need.
func Take(lots []Lot, need unit.Pieces, day unit.Date) (taken []Taken, left []Lot, short unit.Pieces) {
	left = slices.Clone(lots)
	short = take(left, need, day, func(i int, n unit.Pieces) {
		taken = append(taken, Taken{Lot: i, Code: lots[i].Code, Count: n})
	})
	return taken, left, short
}

func take(lots []Lot, need unit.Pieces, day unit.Date, note func(i int, n unit.Pieces)) (short unit.Pieces) {
	for _, i := range offer(lots, day) {
		if need <= 0 {
			break
		}
		n := min(need, lots[i].Count)
		lots[i].Count -= n
		need -= n
		if note != nil {
			note(i, n)
		}
	}
	return max(need, 0)
}

// Usable adds up what a session on that day may use.
func Usable(lots []Lot, day unit.Date) unit.Pieces {
	var sum unit.Pieces
	for _, l := range lots {
		if l.UsableOn(day) {
			sum += l.Count
		}
	}
	return sum
}
