package session

import (
	"slices"
	"strings"
	"unicode"

	"ebbline/unit"
)

// A Lot is one thing whose lot was written in a session.
type Lot struct {
	Item   string // as written, or as the entry names it
	Lot    string
	Expiry unit.Date
	Event  *Event
}

// Lots lists every lot written in a session, in order of time. A chlorine test
// that does not apply has none.
func Lots(s *Session) []Lot {
	return slices.DeleteFunc(Taken(s), func(one Lot) bool {
		_, test := one.Event.Body.(*Chlorine)
		return test && one.Lot == ""
	})
}

// Taken lists everything that a session opened, in order of time, a chlorine test
// without a lot too.
func Taken(s *Session) []Lot {
	var out []Lot
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil {
			continue
		}
		switch b := e.Body.(type) {
		case *Supply:
			out = append(out, Lot{b.Item, b.Lot, b.Expiry, e})
		case *HeparinDrawn:
			out = append(out, Lot{"heparin", b.Lot, b.Expiry, e})
		case *CatheterLock:
			out = append(out, Lot{"catheter lock", b.Lot, b.Expiry, e})
		case *AnaestheticDrawn:
			out = append(out, Lot{"local anaesthetic", b.Lot, b.Expiry, e})
		case *FlushDrawn:
			out = append(out, Lot{"saline flush", b.Lot, b.Expiry, e})
		case *BathLabel:
			out = append(out, Lot{"bath", b.Lot, b.Expiry, e})
		case *Chlorine:
			out = append(out, Lot{"chlorine test", b.Lot, b.Expiry, e})
		}
	}
	return out
}

// A Likeness is how surely two names mean one thing of one lot number.
type Likeness int

// From nothing in common to one name.
const (
	Unlike    Likeness = iota
	LabelLike          // two sorts that one thing can serve as: heparin in a syringe or in a lumen
	SortLike           // one sort of thing: “heparin vials” and “heparin”
	NameLike           // one name
)

// Alike is the one rule of what the name of an item means beside another, given the
// names that an item goes by: one name, one sort of thing, or two sorts that have a
// number of their labels in common.
func Alike(names []string, other string) Likeness {
	best := Unlike
	for _, name := range names {
		switch {
		case PlainName(name) != "" && PlainName(name) == PlainName(other):
			return NameLike
		case slices.ContainsFunc(goodsOf(name), func(g goods) bool { return slices.Contains(goodsOf(other), g) }):
			best = max(best, SortLike)
		case sharesNumber(name, other) || salty(name) && salty(other):
			best = max(best, LabelLike)
		}
	}
	return best
}

// sharesNumber reports whether two things have one number in common on their labels.
func sharesNumber(a, b string) bool {
	other := LotNumbersOf(b)
	return slices.ContainsFunc(LotNumbersOf(a), func(n LotNumber) bool {
		return slices.ContainsFunc(other, func(o LotNumber) bool { return o.Key == n.Key })
	})
}

// salty reports whether a name means saline, in a bag or drawn up to flush.
func salty(name string) bool {
	of := goodsOf(name)
	return slices.Contains(of, salineGoods) || slices.Contains(of, flushGoods)
}

// PlainName is what names of items are compared as: without regard to case,
// spaces and a plural s.
func PlainName(s string) string {
	return strings.TrimSuffix(strings.Join(strings.Fields(strings.ToLower(s)), ""), "s")
}

// A ShelfItem is one item of the household's shelf.
type ShelfItem struct {
	Names []string // that it goes by, as written; the item's own name first
	Each  bool     // used in each session
	Off   bool     // used no more
}

// answers reports whether a word means this item.
func (it ShelfItem) answers(word string) bool {
	want := PlainName(word)
	return want != "" && slices.ContainsFunc(it.Names, func(name string) bool { return PlainName(name) == want })
}

// A LotOnShelf is what the shelf's book says of a lot that a session opened.
type LotOnShelf struct {
	Expires []unit.Date  // of that lot; a zero date where no expiry is on the book
	Says    []LotNumbers // what was written of its label as it came or was counted, each time
	From    []string     // the entries that say so, one for each of Says
	Held    string       // why it must not be picked, or empty
	Sure    bool         // that it is this lot; false: the box is to be looked at
}

// goods are the sorts of things that a session opens.
type goods string

const (
	dialyserGoods    goods = "dialyser"
	lineGoods        goods = "lines"
	needleGoods      goods = "needles"
	capGoods         goods = "caps"
	concentrateGoods goods = "concentrate"
	bicarbonateGoods goods = "bicarbonate"
	bagGoods         goods = "bags"
	salineGoods      goods = "saline"
	flushGoods       goods = "flushes"
	heparinGoods     goods = "heparin"
	lockGoods        goods = "catheter lock"
	numbGoods        goods = "local anaesthetic"
	stripGoods       goods = "chlorine test"
)

// goodsOrder is the order in which they are named.
var goodsOrder = []goods{dialyserGoods, lineGoods, needleGoods, capGoods, concentrateGoods, bicarbonateGoods, bagGoods, salineGoods, flushGoods, heparinGoods, lockGoods, numbGoods, stripGoods}

// goodsOf gives the sorts of things that a name may mean; none for a name that
// says nothing to the program. A cartridge holds dialyser and lines in one.
func goodsOf(name string) []goods {
	low := strings.ToLower(name)
	words := strings.FieldsFunc(low, func(r rune) bool { return !unicode.IsLetter(r) })
	part := func(parts ...string) bool {
		return slices.ContainsFunc(parts, func(p string) bool { return strings.Contains(low, p) })
	}
	word := func(any ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(any, w) })
	}
	switch {
	case part("flush"):
		return []goods{flushGoods}
	case word("lock", "locks") && !part("luer"):
		return []goods{lockGoods}
	case part("heparin"):
		return []goods{heparinGoods}
	case part("citrate", "taurolidine") && !part("concentrate", "dialys") && !word("acid", "bath", "bag", "bags"):
		return []goods{lockGoods}
	case part("chlorine") || word("strip", "strips"):
		return []goods{stripGoods}
	case part("anaesthetic", "anesthetic", "lidocaine", "lignocaine"):
		return []goods{numbGoods}
	case part("saline", "sodium chloride"):
		return []goods{salineGoods}
	case part("needle", "cannula"):
		return []goods{needleGoods}
	case word("cap", "caps"):
		return []goods{capGoods}
	case part("bicarb"):
		return []goods{bicarbonateGoods}
	case part("cartridge"):
		return []goods{dialyserGoods, lineGoods}
	case part("concentrate") || word("acid"):
		return []goods{concentrateGoods}
	case word("bath"):
		return []goods{concentrateGoods, bagGoods}
	case part("dialysate") || word("bag", "bags") && !part("waste"):
		return []goods{bagGoods}
	case part("dialyser", "dialyzer"):
		return []goods{dialyserGoods}
	case word("line", "lines", "tubing", "circuit") || part("bloodline"):
		return []goods{lineGoods}
	}
	return nil
}
