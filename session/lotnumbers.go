package session

import (
	"slices"

	"ebbline/unit"
)

// LotNumbers are the numbers on the label of a lot that can hurt when they are
// another than expected. On the shelf they are written as a lot comes or is counted,
// where they are known; in a session they are typed from the thing in the hand.
type LotNumbers struct {
	Strength  *unit.Strength      `json:"strength_iu_ml,omitempty"`     // of heparin, or of a lock
	Content   *unit.Content       `json:"strength_percent,omitempty"`   // of a lock
	K         *unit.Molar         `json:"k_mmol_l,omitempty"`           // of a concentrate or bag
	Ca        *unit.Molar         `json:"ca_mmol_l,omitempty"`          // of a concentrate or bag
	ReadsDown *unit.Concentration `json:"reads_down_to_mg_l,omitempty"` // the smallest step of a chlorine test
}

// A LotNumber is one of them: its key, what it is called, and the bounds outside
// which no label has it.
type LotNumber struct {
	Key, Label, Unit string
	Lo, Hi           float64

	set   func(*LotNumbers, string) error
	value func(LotNumbers) (float64, string, bool)
	goods []goods // that have it on their label
}

// Set reads the number from a text as it is typed.
func (n LotNumber) Set(to *LotNumbers, text string) error { return n.set(to, text) }

// Of gives the number in its unit, and in words; false where it is not known.
func (n LotNumber) Of(of LotNumbers) (value float64, text string, known bool) { return n.value(of) }

func lotNumber[M unit.Measure](key, label string, lo, hi float64, at func(*LotNumbers) **unit.Quantity[M], of ...goods) LotNumber {
	return LotNumber{
		Key: key, Label: label, Unit: unit.Quantity[M](0).Symbol(), Lo: lo, Hi: hi, goods: of,
		set: func(to *LotNumbers, text string) error {
			q := new(unit.Quantity[M])
			*at(to) = q
			return q.UnmarshalText([]byte(text))
		},
		value: func(of LotNumbers) (float64, string, bool) {
			q := *at(&of)
			if q == nil {
				return 0, "", false
			}
			if s, is := any(*q).(unit.Strength); is {
				return q.Float(), strengthText(s), true // 10 000 is not read as 1 000
			}
			return q.Float(), q.Text(), true
		},
	}
}

// lotNumbers are all of them. The bounds are those of the entries of a session.
var lotNumbers = []LotNumber{
	lotNumber("strength_iu_ml", "strength", 10, 25000, func(n *LotNumbers) **unit.Strength { return &n.Strength }, heparinGoods, lockGoods),
	lotNumber("strength_percent", "strength", 0.1, 50, func(n *LotNumbers) **unit.Content { return &n.Content }, lockGoods),
	lotNumber("k_mmol_l", "K", 0, 5, func(n *LotNumbers) **unit.Molar { return &n.K }, concentrateGoods, bagGoods),
	lotNumber("ca_mmol_l", "Ca", 0, 3, func(n *LotNumbers) **unit.Molar { return &n.Ca }, concentrateGoods, bagGoods),
	lotNumber("reads_down_to_mg_l", "lowest step", 0.005, 5, func(n *LotNumbers) **unit.Concentration { return &n.ReadsDown }, stripGoods),
}

// LotNumbersOf lists the numbers that a thing of these names has on its label: none
// for most things.
func LotNumbersOf(names ...string) []LotNumber {
	var list []LotNumber
	for _, n := range lotNumbers {
		if slices.ContainsFunc(names, func(name string) bool {
			return slices.ContainsFunc(goodsOf(name), func(g goods) bool { return slices.Contains(n.goods, g) })
		}) {
			list = append(list, n)
		}
	}
	return list
}

// SameLabel reports whether a thing of these names has the same numbers on its label
// as another, and at least one: a vial of heparin, say, and "heparin".
func SameLabel(names []string, other string) bool {
	a, b := LotNumbersOf(names...), LotNumbersOf(other)
	return len(a) > 0 && slices.EqualFunc(a, b, func(x, y LotNumber) bool { return x.Key == y.Key })
}

// AllLotNumbers lists every number that a label can have.
func AllLotNumbers() []LotNumber { return slices.Clone(lotNumbers) }

// typedNumbers are the numbers that were typed from the thing in the hand.
func typedNumbers(body any) LotNumbers {
	switch b := body.(type) {
	case *HeparinDrawn:
		return LotNumbers{Strength: &b.Strength}
	case *CatheterLock:
		return LotNumbers{Strength: b.Strength, Content: b.Content}
	case *BathLabel:
		return LotNumbers{K: &b.K, Ca: &b.Ca}
	case *Chlorine:
		return LotNumbers{ReadsDown: &b.ReadsDown}
	}
	return LotNumbers{}
}

// shelfSays is the one rule for a number that can hurt: what was typed from the
// thing in the hand against what the shelf's book has of a lot with that number. A
// lot that says otherwise stops, in the check that the number belongs to (heparin,
// lock, bath, chlorine), and stays in sight where the right one follows. Neither of
// the two is taken for the truth: the label decides.
func (l startLine) shelfSays(v *verdict, e *Event) {
	says := l.h.OnShelf[e.ID].Says
	if len(says) == 0 {
		return
	}
	lot, typed := "", typedNumbers(e.Body)
	for _, one := range Lots(l.s) {
		if one.Event.ID == e.ID {
			lot = one.Lot
		}
	}
	for _, on := range says {
		for _, n := range lotNumbers {
			has, shelf, known := n.Of(on)
			got, words, given := n.Of(typed)
			if !known || given && got == has {
				continue
			}
			if !given {
				words = "none"
			}
			v.stop(e, "shelf_says", lot, n.Label, words, shelf).stays(looked)
		}
	}
}

// shelfSaysOf is [startLine.shelfSays] as [judged] takes it, for a check that judges
// its entries in a way of its own.
func shelfSaysOf[T any](l startLine, v *verdict, _ *T, e *Event) { l.shelfSays(v, e) }

// shelfSaid keeps in sight what the shelf's book said of a lot before a delivery was
// struck out or corrected, or another lot was written in its place: both values,
// until the label was read.
func (l startLine) shelfSaid(check string, v *verdict) {
	for _, u := range l.h.Undone {
		if u.Check != check || u.found.code != "shelf_says" {
			continue
		}
		still := slices.ContainsFunc(v.findings, func(f finding) bool {
			return f.state == StopHere && f.code == u.found.code && slices.Equal(f.args, u.found.args)
		})
		if !still {
			v.look(nil, "shelf_said", append(slices.Clone(u.found.args), clock(u.At.In(l.opened().Location())))...)
		}
	}
}
