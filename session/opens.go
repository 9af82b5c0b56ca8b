package session

import (
	"slices"
	"time"
)

// An Opening is one thing that a session opens, as the start line asks for its lot.
type Opening struct {
	Name string   // as the shelf calls it, or the start line
	Kind string   // of the entry that its lot is written with
	Lots []string // written for it in this session
}

// Openings lists what a session opens, in the order in which it is opened: what
// the start line asks a lot of, written or not, and what else this machine and this
// access use. What is written with an entry of its own – the concentrate on the
// label of the bath, saline in syringes – names it in Kind.
func Openings(s *Session, h History, at time.Time) []Opening {
	if s.Rx == nil {
		return nil
	}
	l := startLine{s: s, h: h, rx: s.Rx, at: at}
	needs := l.needs()
	for _, g := range goodsOrder {
		has := func(n named) bool { return slices.Contains(n.goods, g) }
		if l.opens(g) && !slices.ContainsFunc(needs, has) {
			needs = append(needs, named{name: string(g), goods: []goods{g}})
		}
	}
	slices.SortStableFunc(needs, func(a, b named) int { return a.place() - b.place() })
	var list []Opening
	for _, n := range needs {
		o := Opening{Name: n.name, Kind: "supply"}
		switch {
		case slices.Contains(n.goods, concentrateGoods), slices.Contains(n.goods, bagGoods):
			o.Kind = "bath_label"
		case slices.Contains(n.goods, flushGoods):
			o.Kind = "flush_drawn"
		}
		for _, lot := range l.lotsNow() {
			one := l.call(lot.Item)
			if _, bath := lot.Event.Body.(*BathLabel); bath {
				one.name = string(l.bathGoods())
			}
			if lot.Lot != "" && n.metBy(one) {
				o.Lots = append(o.Lots, lot.Lot)
			}
		}
		list = append(list, o)
	}
	return list
}

// place is where a thing stands in the order in which things are opened.
func (n named) place() int {
	if len(n.goods) == 0 {
		return len(goodsOrder)
	}
	return slices.Index(goodsOrder, n.goods[0])
}
