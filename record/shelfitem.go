package record

import (
	"slices"
	"strings"
	"sync"
	"time"

	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// A ShelfItem is one item as the book has it at a moment: what lies there lot
// by lot, how it is used up, and what the counts have taught.
type ShelfItem struct {
	StockItem
	Lots     []ShelfLot
	Counts   []stock.Count // stretches between two counts, oldest first
	Counted  time.Time     // the last count; zero: never counted
	Unbooked unit.Pieces   // used since then from lots that the book does not have
	Spare    float64       // factor learned from the counts
	Learned  bool          // from enough of them
}

// A ShelfLot is one lot of an item.
type ShelfLot struct {
	stock.Lot
	Product string // when it is not the usual one
	Why     string // why it is held
	Recall  string // the recall that holds it
}

// Stock gives the lots as the stock room reads them.
func (it ShelfItem) Stock() []stock.Lot {
	list := make([]stock.Lot, len(it.Lots))
	for i, l := range it.Lots {
		list[i] = l.Lot
	}
	return list
}

// Use gives how the item is used up, with the learned factor for spares.
func (it ShelfItem) Use() stock.Use {
	u := stock.Use{Spare: it.Spare}
	for _, p := range []struct {
		to   *unit.Pieces
		from *unit.Pieces
	}{{&u.PerSession, it.PerSession}, {&u.PerWeek, it.PerWeek}, {&u.PerCycle, it.PerCycle}} {
		if p.from != nil {
			*p.to = *p.from
		}
	}
	return u
}

// Answers reports whether a word that a step or a person uses means this item:
// its name or one of its other names, without regard to case, spaces and a
// plural s.
func (it StockItem) Answers(word string) bool {
	want := plainName(word)
	if want == "" {
		return false
	}
	if plainName(it.Item) == want {
		return true
	}
	for name := range strings.SplitSeq(it.Also, ",") {
		if plainName(name) == want {
			return true
		}
	}
	return false
}

// names are all that it goes by, as names are compared.
func (it StockItem) names() []string {
	list := []string{plainName(it.Item)}
	for name := range strings.SplitSeq(it.Also, ",") {
		if name = plainName(name); name != "" {
			list = append(list, name)
		}
	}
	return list
}

// plainNames keeps what names are compared as: the same few hundred words are met
// again for every count, delivery and session of ten years.
var plainNames sync.Map // string → string

func plainName(s string) string {
	if plain, ok := plainNames.Load(s); ok {
		return plain.(string)
	}
	plain := session.PlainName(s)
	if len(s) <= longestName {
		plainNames.Store(strings.Clone(s), plain)
	}
	return plain
}

// longestName bounds what is kept; the names of items are shorter.
const longestName = 200

// ItemsNow gives the items in use, in the order they were first written.
func (u *Upkeep) ItemsNow() []StockItem {
	var list []StockItem
	at := map[string]int{}
	for _, d := range u.Items {
		if d.Struck != nil {
			continue
		}
		key := plainName(d.Value.Item)
		if i, ok := at[key]; ok {
			list[i] = d.Value
			continue
		}
		at[key] = len(list)
		list = append(list, d.Value)
	}
	return slices.DeleteFunc(list, func(it StockItem) bool { return it.Off })
}

// Item gives the item that a word means, and false when none answers to it.
func (u *Upkeep) Item(word string) (StockItem, bool) {
	for _, it := range u.ItemsNow() {
		if it.Answers(word) {
			return it, true
		}
	}
	return StockItem{}, false
}

// A Picked is one lot that a session opened.
type Picked struct {
	Item   string // as written
	Lot    string
	Expiry unit.Date
	Pieces unit.Pieces // as said; 0: one share of what a session uses
	key    string      // Item, as names are compared
}

// PickedIn lists the lots that were written down in a session, in order of
// time.
func PickedIn(s *session.Session) []Picked {
	var list []Picked
	for _, one := range session.Taken(s) {
		list = append(list, Picked{Item: one.Item, Lot: one.Lot, Expiry: one.Expiry})
	}
	return list
}

// sessionUse is what one session takes off the shelf.
type sessionUse struct {
	at      time.Time
	day     unit.Date
	treated bool
	cycles  int
	picked  []Picked
}

// useOf reads off a session what it takes; nil for one that takes nothing: it
// is not closed, was given up, or was held elsewhere.
func useOf(s *session.Session) *sessionUse {
	_, at := s.Opened()
	if !s.AtHome() || s.Phase() != session.Done {
		return nil
	}
	one := &sessionUse{at: at, day: unit.DateOf(at), treated: s.Treated(), picked: PickedIn(s)}
	for i := range one.picked {
		one.picked[i].key = plainName(one.picked[i].Item)
	}
	session.Each(s, func(b *session.Disinfection, _ *session.Event) {
		if b.Result != "running" {
			one.cycles++
		}
	})
	return one
}

// sessionUses lists the closed sessions that were begun at home from one moment
// to another, in order of their beginning.
func (h *Household) sessionUses(from, now time.Time) []sessionUse {
	var list []sessionUse
	for _, m := range h.People {
		first := len(m.Sessions)
		for ; first > 0; first-- {
			if _, at := m.Sessions[first-1].Opened(); at.Before(from) {
				break // they stand in order of their beginning
			}
		}
		for _, s := range m.Sessions[first:] {
			if one := h.uses[s.ID]; one != nil && !one.at.After(now) {
				list = append(list, *one)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b sessionUse) int { return a.at.Compare(b.at) })
	return list
}
