package record

import (
	"slices"
	"strings"
	"time"
	"unicode"

	"ebbline/session"
	"ebbline/stock"
)

// Search matches a recall with the shelf at a moment and with every session
// before it. Lots that are held already count, sessions that were struck out do
// not.
func (h *Household) Search(r *Recall, now time.Time) stock.Found {
	return SearchIn(r, h.Shelf(now), h.PastLots(now))
}

// FoundBy gives what a recall met at the moment that it was written down for, by
// the record as it is now.
func (h *Household) FoundBy(r *Recalled) stock.Found { return h.Search(&r.Value, r.At) }

// SearchIn is [Household.Search] in a shelf and past lots that were gathered
// before, for many recalls at once. It changes neither.
func SearchIn(r *Recall, on []ShelfItem, before []stock.Past) stock.Found {
	var shelf []stock.Item
	notice := r.Notice()
	for _, it := range on {
		if it.Answers(r.Item) {
			notice.Item = it.Item // by whatever name the notice calls it
		}
		lots := it.Stock()
		for i := range lots {
			lots[i].Maker = knownAs(lots[i].Maker, r.Maker)
		}
		shelf = append(shelf, stock.Item{Name: it.Item, Lots: lots})
	}
	past := slices.Clone(before)
	for i := range past {
		past[i].Maker = knownAs(past[i].Maker, r.Maker)
		if plainName(past[i].Item) == plainName(r.Item) {
			past[i].Item = notice.Item
		}
	}
	found, err := notice.Search(shelf, past)
	if err != nil {
		return stock.Found{} // a notice that cannot be compared is refused before it is taken
	}
	for i := range found.Shelf {
		l := &found.Shelf[i]
		for _, it := range on {
			if it.Item == l.Item {
				l.Lot.Maker = it.Lots[l.Place].Maker // as it was written down
			}
		}
	}
	return found
}

// knownAs gives the maker of a lot for comparing with a notice: none when the two
// names are one name written longer or with other stops and capitals, so that the
// box is looked at rather than passed over.
func knownAs(kept, noticed string) string {
	joined := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), "")) }
	a, b := letters(kept), letters(noticed)
	if joined(kept) != joined(noticed) && a != "" && b != "" && (strings.Contains(a, b) || strings.Contains(b, a)) {
		return ""
	}
	return kept
}

// Had reports whether something by this name is on the shelf's list or was ever
// opened in a session.
func (h *Household) Had(item string) bool {
	if _, ok := h.Upkeep.Item(item); ok {
		return true
	}
	for _, d := range h.Upkeep.Items { // also one that is used no more
		if d.Struck == nil && d.Value.Answers(item) {
			return true
		}
	}
	for _, m := range h.People {
		for _, s := range m.Sessions {
			if s.Abandoned() {
				continue
			}
			for _, p := range PickedIn(s) {
				if plainName(p.Item) == plainName(item) {
					return true
				}
			}
		}
	}
	return false
}

// letters are the letters and digits of a name, in lower case.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
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

// Held reports whether a lot of an item may not be picked at a moment.
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
