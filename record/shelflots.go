package record

import (
	"slices"
	"strings"
	"time"

	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// shelfOf adds to a session's history what the household's shelf lists up to a
// moment, and what its book says of each lot that the session opened.
func (m *Member) shelfOf(to *session.History, s *session.Session, until time.Time) {
	items := m.house.Upkeep.itemsAt(until)
	for _, it := range items {
		to.Shelf = append(to.Shelf, session.ShelfItem{Names: it.Called(), Each: !it.Off && it.PerSession != nil && *it.PerSession > 0, Off: it.Off})
	}
	if s == nil {
		return
	}
	for _, lot := range session.Lots(s) {
		if lot.Lot == "" || lot.Event.At.After(until) {
			continue
		}
		if on, known := m.house.lotOnShelf(items, lot, until); known {
			if to.OnShelf == nil {
				to.OnShelf = map[string]session.LotOnShelf{}
			}
			to.OnShelf[lot.Event.ID] = on
		}
	}
}

// Called gives the names that an item goes by, as written, its own first.
func (it StockItem) Called() []string {
	names := []string{it.Item}
	for name := range strings.SplitSeq(it.Also, ",") {
		if name = strings.TrimSpace(name); name != "" {
			names = append(names, name)
		}
	}
	return names
}

// itemsAt gives the items that were on the shelf's list at a moment, in the
// order they were first written, those no longer used included.
func (u *Upkeep) itemsAt(until time.Time) []StockItem {
	var list []StockItem
	for _, d := range u.Items {
		if d.Struck != nil || d.At.After(until) {
			continue
		}
		if i := slices.IndexFunc(list, func(it StockItem) bool { return plainName(it.Item) == plainName(d.Value.Item) }); i >= 0 {
			list[i] = d.Value
		} else {
			list = append(list, d.Value)
		}
	}
	return list
}

// itemOf gives the item that a word means, of those listed; one of that name alone
// where none answers.
func itemOf(items []StockItem, word string) (it StockItem, listed bool) {
	if i := slices.IndexFunc(items, func(it StockItem) bool { return it.Answers(word) }); i >= 0 {
		return items[i], true
	}
	return StockItem{Item: word}, false
}

// A written lot is an item under which the number of a lot was written down as it
// came or was counted, with how surely it is the thing that a session opened, and
// what was written of its label each time.
type writtenLot struct {
	item StockItem
	like session.Likeness
	says []session.LotNumbers
	from []string // the entries that say so
}

// written lists the items that have a lot with the number of one that a session
// opened, of those that can be that thing by [session.Alike], up to a moment. A count
// without the numbers of a label does not undo them: then it says how many there are.
func (u *Upkeep) written(items []StockItem, lot session.Lot, until time.Time) (found []writtenLot) {
	key := lotKey(lot.Lot)
	note := func(word string, numbers session.LotNumbers, entry string) {
		it, _ := itemOf(items, word)
		like := session.Alike(it.Called(), lot.Item)
		if like == session.Unlike {
			return
		}
		i := slices.IndexFunc(found, func(w writtenLot) bool { return w.item.Answers(it.Item) })
		if i < 0 {
			i, found = len(found), append(found, writtenLot{item: it, like: like})
		}
		if numbers != (session.LotNumbers{}) {
			found[i].says, found[i].from = append(found[i].says, numbers), append(found[i].from, entry)
		}
	}
	for _, at := range u.lotsIn.delivered[key] {
		if d := &u.Deliveries[at.entry]; d.Struck == nil && !d.At.After(until) {
			l := d.Value.Lines[at.line]
			note(l.Item, l.LotNumbers, d.ID)
		}
	}
	for _, at := range u.lotsIn.counted[key] {
		if d := &u.Counts[at.entry]; d.Struck == nil && !d.At.After(until) {
			note(d.Value.Item, d.Value.Lots[at.line].LotNumbers, d.ID)
		}
	}
	return found
}

// lotOnShelf gives what the book says of one lot at a moment; false where it
// says nothing. What lies there is what was counted last and delivered since; what
// was used of it does not matter, since a lot that was opened lay there.
//
// Which item it is decides one rule for numbers, expiry, hold and recall: the one
// of that name that has the lot, else those of its sort, else those whose label has
// a number in common with it; where none has the lot, the item of that name.
func (h *Household) lotOnShelf(items []StockItem, lot session.Lot, until time.Time) (on session.LotOnShelf, known bool) {
	best := session.Unlike
	there := h.Upkeep.written(items, lot, until)
	for _, w := range there {
		best = max(best, w.like)
	}
	var list []StockItem
	for _, w := range there {
		if w.like == best {
			list = append(list, w.item)
		}
		if w.like == best || w.like >= session.SortLike {
			on.Says, on.From = append(on.Says, w.says...), append(on.From, w.from...)
		}
	}
	if len(there) == 0 {
		it, _ := itemOf(items, lot.Item)
		list = []StockItem{it}
	}
	for _, it := range list {
		// A word that means another item of the shelf is not about this one, unless
		// the book has the lot of neither.
		means := func(word string) session.Likeness {
			other, listed := itemOf(items, word)
			switch {
			case it.Answers(word):
				return session.NameLike
			case listed && len(there) > 0:
				return session.Unlike
			}
			like := session.Unlike
			for _, name := range other.Called() {
				like = max(like, session.Alike(it.Called(), name))
			}
			return like
		}
		h.holdOf(&on, it, lot, means, until)
	}
	return on, on.Held != "" || len(on.Expires) > 0 || len(on.Says) > 0
}

// holdOf adds what the book says of a lot as one of an item: its expiry, and why it
// must not be picked. means says how surely a word that a recall uses is this item.
func (h *Household) holdOf(on *session.LotOnShelf, it StockItem, lot session.Lot, means func(string) session.Likeness, until time.Time) {
	key := lotKey(lot.Lot)
	expires := h.Upkeep.expiriesOf(it, key, until)
	known, held, released := len(expires) > 0, "", time.Time{}
	on.Expires = append(on.Expires, expires...)
	if known {
		held, released = h.Upkeep.setAside(it, key, until)
		if product := h.Upkeep.productOf(it, key, until); held == "" && product != "" && !h.Upkeep.allowed(it, product) {
			held = anotherProduct
		}
	}
	sure := held != ""
	for _, r := range h.Upkeep.Recalls {
		if !r.Active() || r.At.After(until) || r.matches(it, "", lot.Lot) == stock.NoMatch {
			continue // the maker, which takes long to find, can only make less of it
		}
		if like := means(r.Value.Item); like == session.Unlike || r.Value.All && like < session.SortLike {
			continue
		}
		switch r.matches(it, h.makers()[makerKey{plainName(it.Item), key}], lot.Lot) {
		case stock.Recalled:
			held, sure = r.Name(), true
		case stock.Look:
			if held == "" && released.Before(r.At) {
				held, sure = r.Name(), known
				if known {
					held += lookAtTheBox
				}
			}
		}
	}
	if held != "" && (on.Held == "" || sure && !on.Sure) {
		on.Held, on.Sure = held, sure
	}
}

// expiriesOf gives the expiry of each box of one lot that lay on the shelf at a
// moment: as counted last, and as delivered since.
func (u *Upkeep) expiriesOf(it StockItem, key string, until time.Time) (found []unit.Date) {
	var counted *Dated[StockCount]
	for _, name := range it.names() {
		for _, i := range u.counted[name] {
			if d := &u.Counts[i]; d.Struck == nil && !d.At.After(until) && (counted == nil || !d.At.Before(counted.At)) {
				counted = d
			}
		}
	}
	if counted != nil {
		for _, l := range counted.Value.Lots {
			if lotKey(l.Lot) == key && l.Pieces > 0 {
				found = append(found, l.Expires)
			}
		}
	}
	for i := range u.Deliveries {
		d := &u.Deliveries[i]
		if d.Struck != nil || d.At.After(until) || counted != nil && !d.At.After(counted.At) {
			continue
		}
		for _, l := range d.Value.Lines {
			if it.Answers(l.Item) && lotKey(l.Lot) == key {
				found = append(found, l.Expires)
			}
		}
	}
	return found
}

// setAside gives why a lot was set aside at a moment, and when it was let go after
// a look, as far as that still holds.
func (u *Upkeep) setAside(it StockItem, key string, until time.Time) (why string, released time.Time) {
	last := time.Time{}
	for _, d := range u.Quarantines {
		if d.Struck != nil || d.At.After(until) || d.At.Before(last) || !it.Answers(d.Value.Item) || lotKey(d.Value.Lot) != key {
			continue
		}
		if last = d.At; d.Value.State == "released" {
			why, released = "", d.At
		} else {
			why, released = d.Value.Why, time.Time{}
		}
	}
	return why, released
}

// productOf gives what was delivered under a lot in the place of the usual product.
func (u *Upkeep) productOf(it StockItem, key string, until time.Time) (product string) {
	for _, d := range u.Deliveries {
		for _, l := range d.Value.Lines {
			if l.Product != "" && d.Struck == nil && !d.At.After(until) && lotKey(l.Lot) == key && it.Answers(l.Item) {
				product = l.Product
			}
		}
	}
	return product
}
