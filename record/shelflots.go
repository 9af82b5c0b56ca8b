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

// lotOnShelf gives what the book says of one lot at a moment; false where it
// says nothing. What lies there is what was counted last and delivered since; what
// was used of it does not matter, since a lot that was opened lay there.
func (h *Household) lotOnShelf(items []StockItem, lot session.Lot, until time.Time) (on session.LotOnShelf, known bool) {
	it, key := StockItem{Item: lot.Item}, lotKey(lot.Lot)
	on.Says, on.From = h.Upkeep.numbersOf(items, lot, until)
	i := slices.IndexFunc(items, func(it StockItem) bool { return it.Answers(lot.Item) })
	if lot.Item == "bath" && i < 0 { // whatever the household calls its bottle
		i = slices.IndexFunc(items, func(it StockItem) bool {
			return session.IsConcentrate(it.Item) && h.Upkeep.expiriesOf(it, key, until) != nil
		})
	}
	if i >= 0 {
		it = items[i]
		on.Expires = h.Upkeep.expiriesOf(it, key, until)
	}
	known = len(on.Expires) > 0
	released := time.Time{}
	if known {
		on.Held, released = h.Upkeep.setAside(it, key, until)
		if product := h.Upkeep.productOf(it, key, until); on.Held == "" && product != "" && !h.Upkeep.allowed(it, product) {
			on.Held = anotherProduct
		}
		on.Sure = on.Held != ""
	}
	for _, r := range h.Upkeep.Recalls {
		if !r.Active() || r.At.After(until) || !it.Answers(r.Value.Item) || r.matches(it, "", lot.Lot) == stock.NoMatch {
			continue // the maker, which takes long to find, can only make less of it
		}
		switch r.matches(it, h.makers()[makerKey{plainName(it.Item), key}], lot.Lot) {
		case stock.Recalled:
			return session.LotOnShelf{Expires: on.Expires, Says: on.Says, From: on.From, Held: r.Name(), Sure: true}, true
		case stock.Look:
			if on.Held == "" && released.Before(r.At) {
				on.Held, on.Sure = r.Name(), known
				if known {
					on.Held += lookAtTheBox
				}
				known = true
			}
		}
	}
	return on, known || len(on.Says) > 0
}

// numbersOf gives the numbers that were written of a lot as it came, each time, up to
// a moment, and with which delivery. A count does not undo them: it says how many there are, not what is on
// their label. Lots of another sort of thing are other lots.
func (u *Upkeep) numbersOf(items []StockItem, lot session.Lot, until time.Time) (found []session.LotNumbers, from []string) {
	key := lotKey(lot.Lot)
	for i := range u.Deliveries {
		d := &u.Deliveries[i]
		if d.Struck != nil || d.At.After(until) {
			continue
		}
		for _, line := range d.Value.Lines {
			if line.LotNumbers == (session.LotNumbers{}) || lotKey(line.Lot) != key || key == "" {
				continue
			}
			names := []string{line.Item}
			for _, it := range items {
				if it.Answers(line.Item) {
					names = it.Called()
				}
			}
			if session.SameLabel(names, lot.Item) {
				found, from = append(found, line.LotNumbers), append(from, d.ID)
			}
		}
	}
	return found, from
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
