package record

import (
	"slices"
	"time"

	"ebbline/session"
	"ebbline/stock"
)

// Search matches a recall with the shelf at a moment and with every session
// before it. Lots that are held already count, sessions that were struck out do
// not.
func (h *Household) Search(r *Recall, now time.Time) stock.Found {
	return SearchIn(r, h.Shelf(now), h.PastLots(now))
}

// SearchIn is [Household.Search] in a shelf and past lots that were gathered
// before, for many recalls at once. It changes neither.
func SearchIn(r *Recall, on []ShelfItem, before []stock.Past) stock.Found {
	var shelf []stock.Item
	notice := r.Notice()
	for _, it := range on {
		if it.Answers(r.Item) {
			notice.Item = it.Item // by whatever name the notice calls it
		}
		shelf = append(shelf, stock.Item{Name: it.Item, Lots: it.Stock()})
	}
	past := slices.Clone(before)
	for i := range past {
		if plainName(past[i].Item) == plainName(r.Item) {
			past[i].Item = notice.Item
		}
	}
	found, err := notice.Search(shelf, past)
	if err != nil {
		return stock.Found{} // a notice that cannot be compared is refused before it is taken
	}
	return found
}

// PastLots lists every lot that was written down in a session up to a moment,
// under the name its item has on the shelf, with the maker that the deliveries
// and counts tell of it.
func (h *Household) PastLots(now time.Time) []stock.Past {
	makers := h.makers()
	named := h.Upkeep.naming()
	keys := map[string]string{} // of lots, each met in many sessions
	var list []stock.Past
	for _, m := range h.People {
		for _, s := range m.Sessions {
			_, at := s.Opened()
			if s.Abandoned() || at.After(now) {
				continue
			}
			var picked []Picked
			if one := h.uses[s.ID]; one != nil {
				picked = one.picked
			} else {
				picked = PickedIn(s)
			}
			night := session.Night(s)
			for _, p := range picked {
				name := p.Item
				if it, known := named(name); known {
					name = it.Item
				}
				key, met := keys[p.Lot]
				if !met {
					key = lotKey(p.Lot)
					keys[p.Lot] = key
				}
				list = append(list, stock.Past{Session: s.ID, On: night, Item: name, Maker: makers[makerKey{plainName(name), key}], Lot: p.Lot})
			}
		}
	}
	return list
}

// naming gives what finds an item by a word, as [Upkeep.Item] does, for many
// words at once.
func (u *Upkeep) naming() func(word string) (StockItem, bool) {
	type found struct {
		item  StockItem
		known bool
	}
	items, met := u.ItemsNow(), map[string]found{}
	return func(word string) (StockItem, bool) {
		one, again := met[word]
		if !again {
			if i := slices.IndexFunc(items, func(it StockItem) bool { return it.Answers(word) }); i >= 0 {
				one = found{items[i], true}
			}
			met[word] = one
		}
		return one.item, one.known
	}
}

type makerKey struct{ item, lot string }

// makers gathers whose lot is whose; a lot that two makers share has none.
func (h *Household) makers() map[makerKey]string {
	found := map[makerKey]string{}
	named := h.Upkeep.naming()
	note := func(item, lot, maker string) {
		it, known := named(item)
		if known {
			item = it.Item
			if maker == "" {
				maker = it.Maker
			}
		}
		key := makerKey{plainName(item), lotKey(lot)}
		if old, there := found[key]; there && plainName(old) != plainName(maker) {
			maker = ""
		}
		found[key] = maker
	}
	for _, d := range h.Upkeep.Deliveries {
		for _, l := range d.Value.Lines {
			if d.Struck == nil {
				note(l.Item, l.Lot, l.Maker)
			}
		}
	}
	for _, d := range h.Upkeep.Counts {
		for _, l := range d.Value.Lots {
			if d.Struck == nil {
				note(d.Value.Item, l.Lot, l.Maker)
			}
		}
	}
	return found
}

// A Hold says why a lot may not be picked.
type Hold struct {
	Why    string
	Recall *Recalled // nil when it is set aside for another reason
	Sure   bool      // false: the box is to be looked at first
	Shelf  bool      // the lot is on the book
}

// Held tells whether a lot of an item may not be picked at a moment.
func (h *Household) Held(item, lot string, now time.Time) (Hold, bool) {
	if it, ok := h.ShelfOf(item, now); ok {
		for _, l := range it.Lots {
			if lotKey(l.Code) == lotKey(lot) && l.Held {
				return Hold{Why: l.Why, Recall: h.Upkeep.Recall(l.Recall), Sure: true, Shelf: true}, true
			}
			if lotKey(l.Code) == lotKey(lot) {
				return Hold{}, false // it lies there and somebody has looked
			}
		}
	}
	for _, r := range h.Upkeep.Recalls {
		if !r.Active() || r.At.After(now) {
			continue
		}
		it, known := h.Upkeep.Item(item)
		if !known {
			it = StockItem{Item: item}
		}
		if !it.Answers(r.Value.Item) {
			continue
		}
		maker := h.makers()[makerKey{plainName(it.Item), lotKey(lot)}]
		switch r.matches(it, maker, lot) {
		case stock.Recalled:
			return Hold{Why: r.Name(), Recall: r, Sure: true}, true
		case stock.Look:
			return Hold{Why: r.Name(), Recall: r}, true
		}
	}
	return Hold{}, false
}
