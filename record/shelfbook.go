package record

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"ebbline/stock"
	"ebbline/unit"
)

// Shelf gives every item as the book has it at a moment.
//
// Counts are the truth from their moment on. Deliveries add, uses take away,
// and a session takes, once it is closed, what it is said to use: from the lots
// that were picked while it was set up, the rest from the lots that expire
// first. What a session began to use counts from its beginning, so that a count
// on the same evening is not charged twice.
func (h *Household) Shelf(now time.Time) []ShelfItem {
	items := h.Upkeep.ItemsNow()
	begins := make([]time.Time, len(items)) // where the book of each begins
	from := now
	for i := range items {
		if begins[i] = h.Upkeep.bookFrom(items[i], now); begins[i].Before(from) {
			from = begins[i]
		}
	}
	used := h.sessionUses(from, now)
	var list []ShelfItem
	for i, it := range items {
		list = append(list, h.shelfItem(it, used, begins[i], now))
	}
	return list
}

// ShelfOf gives the one item that a word means, and false when none answers.
func (h *Household) ShelfOf(word string, now time.Time) (ShelfItem, bool) {
	it, ok := h.Upkeep.Item(word)
	if !ok {
		return ShelfItem{}, false
	}
	from := h.Upkeep.bookFrom(it, now)
	return h.shelfItem(it, h.sessionUses(from, now), from, now), true
}

func (h *Household) shelfItem(it StockItem, used []sessionUse, from, now time.Time) ShelfItem {
	b := itemBook{ShelfItem: ShelfItem{StockItem: it}, names: it.names(), house: h}
	b.events(&h.Upkeep, used, from, now)
	b.replay(now)
	b.learn()
	return b.ShelfItem
}

// An itemBook replays what happened to one item.
type itemBook struct {
	ShelfItem
	names    []string // that it answers to, as they are compared
	house    *Household
	list     []bookEvent
	released map[string]bool // lots let go after somebody looked
	held     map[string]string
	recalls  []*Recalled
	weekly   time.Time // up to when the weekly use is taken
	stretch  *stock.Count
}

// bookEvent is one thing that happened; rank orders what happened at one
// moment.
type bookEvent struct {
	at    time.Time
	rank  int
	apply func(at time.Time)
}

const (
	arriveRank = iota
	asideRank
	useRank
	countRank
)

// countsKept is how many counts the book goes back: a year of monthly ones.
const countsKept = 13

// bookFrom is where an item's book begins. A count is the whole truth of its
// moment, so what lies before the first one that is kept need not be gone
// through again. It is the zero time while there are fewer.
func (u *Upkeep) bookFrom(it StockItem, now time.Time) time.Time {
	counts := u.countsOf(it, now)
	if len(counts) <= countsKept {
		return time.Time{}
	}
	slices.SortFunc(counts, time.Time.Compare)
	return counts[len(counts)-countsKept]
}

// LastCounted gives when an item was counted last up to a moment, the zero time
// for never.
func (u *Upkeep) LastCounted(it StockItem, now time.Time) time.Time {
	var last time.Time
	for _, at := range u.countsOf(it, now) {
		if at.After(last) {
			last = at
		}
	}
	return last
}

// countsOf gives when an item was counted up to a moment, in the order written.
func (u *Upkeep) countsOf(it StockItem, now time.Time) []time.Time {
	var counts []time.Time
	for _, name := range it.names() {
		for _, i := range u.counted[name] {
			if d := &u.Counts[i]; d.Struck == nil && !d.At.After(now) {
				counts = append(counts, d.At)
			}
		}
	}
	return counts
}

func (b *itemBook) events(u *Upkeep, used []sessionUse, from, now time.Time) {
	add := func(at time.Time, rank int, f func(at time.Time)) {
		if !at.After(now) && (rank == asideRank || !at.Before(from)) {
			b.list = append(b.list, bookEvent{at, rank, f})
		}
	}
	for _, d := range u.Deliveries {
		if d.Struck != nil || d.At.Before(from) {
			continue
		}
		for _, line := range d.Value.Lines {
			if b.Answers(line.Item) {
				add(d.At, arriveRank, func(at time.Time) { b.arrive(line, at) })
			}
		}
	}
	for _, d := range u.Counts {
		if d.Struck == nil && !d.At.Before(from) && b.Answers(d.Value.Item) {
			add(d.At, countRank, func(at time.Time) { b.count(d.Value, at) })
		}
	}
	for _, d := range u.Used {
		if d.Struck == nil && !d.At.Before(from) && b.Answers(d.Value.Item) {
			add(d.At, useRank, func(at time.Time) { b.off(d.Value, at) })
		}
	}
	for _, s := range used {
		add(s.at, useRank, func(time.Time) { b.session(s) })
	}
	for _, d := range u.Done {
		if d.Struck == nil && d.Value.Outcome == "done" && programmes[d.Value.Item] != "" && b.PerCycle != nil {
			add(d.At, useRank, func(at time.Time) { b.book(nil, *b.PerCycle, unit.DateOf(at)) })
		}
	}
	for _, d := range u.Quarantines {
		if d.Struck == nil && b.Answers(d.Value.Item) {
			add(d.At, asideRank, func(time.Time) { b.aside(d.Value) })
		}
	}
	for _, r := range u.Recalls {
		if !r.Active() || !b.Answers(r.Value.Item) {
			continue
		}
		add(r.At, asideRank, func(time.Time) { b.recall(r) })
		if r.Closed != nil {
			add(r.Closed.At, useRank, func(time.Time) { b.sentBack(r, r.Closed.Value) })
		}
	}
	slices.SortStableFunc(b.list, func(a, c bookEvent) int { return cmp.Or(a.at.Compare(c.at), a.rank-c.rank) })
}

func (b *itemBook) replay(now time.Time) {
	b.released, b.held = map[string]bool{}, map[string]string{}
	for _, e := range b.list {
		b.week(e.at)
		e.apply(e.at)
	}
	b.week(now)
	b.hold() // the unit may have answered since
	b.Lots = slices.DeleteFunc(b.Lots, func(l ShelfLot) bool { return l.Count == 0 })
	slices.SortStableFunc(b.Lots, func(x, y ShelfLot) int {
		if x.Expires.IsZero() != y.Expires.IsZero() {
			if x.Expires.IsZero() {
				return 1
			}
			return -1
		}
		return x.Expires.Sub(y.Expires)
	})
}

// week takes what is used every week whatever the sessions, up to a moment.
func (b *itemBook) week(to time.Time) {
	if b.PerWeek == nil || b.weekly.IsZero() || !to.After(b.weekly) {
		return
	}
	days := unit.DateOf(to).Sub(unit.DateOf(b.weekly))
	if days > 0 {
		b.book(nil, *b.PerWeek*unit.Pieces(days)/7, unit.DateOf(to))
		b.weekly = to
	}
}

// lotKeys keeps what lots are compared as, as plainNames does for items.
var lotKeys sync.Map // string → string

func lotKey(code string) string {
	if key, ok := lotKeys.Load(code); ok {
		return key.(string)
	}
	key := stock.NormalLot(code)
	if len(code) <= longestName {
		lotKeys.Store(strings.Clone(code), key)
	}
	return key
}

func (b *itemBook) arrive(line DeliveryLine, at time.Time) {
	if b.weekly.IsZero() {
		b.weekly = at
	}
	n := line.Pieces - min(line.Damaged, line.Pieces)
	if b.stretch != nil {
		b.stretch.Received += n
	}
	for i := range b.Lots {
		l := &b.Lots[i]
		if lotKey(l.Code) == lotKey(line.Lot) && l.Expires == line.Expires && strings.EqualFold(l.Maker, line.Maker) && l.Product == line.Product {
			l.Count += n
			return
		}
	}
	b.Lots = append(b.Lots, ShelfLot{Lot: stock.Lot{Code: line.Lot, Maker: line.Maker, Count: n, Expires: line.Expires}, Product: line.Product})
	b.hold()
}

func (b *itemBook) count(c StockCount, at time.Time) {
	makers, products := map[string]string{}, map[string]string{}
	for _, l := range b.Lots {
		makers[lotKey(l.Code)], products[lotKey(l.Code)] = l.Maker, l.Product
	}
	var total unit.Pieces
	b.Lots = b.Lots[:0:0]
	for _, l := range c.Lots {
		total += l.Pieces
		key := lotKey(l.Lot)
		b.Lots = append(b.Lots, ShelfLot{Lot: stock.Lot{Code: l.Lot, Maker: cmp.Or(l.Maker, makers[key]), Count: l.Pieces, Expires: l.Expires}, Product: products[key]})
	}
	day := unit.DateOf(at)
	if b.stretch != nil {
		b.stretch.To, b.stretch.Shelf = day, total
		b.Counts = append(b.Counts, *b.stretch)
	}
	b.stretch = &stock.Count{From: day, Before: total}
	b.Counted, b.Unbooked, b.weekly = at, 0, at
	b.hold()
}

// off takes pieces that no session booked. "One more used" and a failed set-up
// are use, from which the spares are learned; the rest has left the house
// unused.
func (b *itemBook) off(s StockUsed, at time.Time) {
	var from []Picked
	if s.Lot != "" {
		from = []Picked{{Lot: s.Lot, Pieces: s.Pieces}}
	}
	b.take(from, s.Pieces, unit.DateOf(at))
	switch {
	case b.stretch == nil:
	case s.Why == "used" || s.Why == "failed_set_up":
		b.stretch.Noted += s.Pieces
	default:
		b.stretch.TakenOut += s.Pieces
	}
}

// book takes what the household's own figures say is used.
func (b *itemBook) book(picked []Picked, need unit.Pieces, day unit.Date) {
	if b.stretch != nil {
		b.stretch.Booked += need
	}
	b.take(picked, need, day)
}

func (b *itemBook) session(s sessionUse) {
	var picked []Picked
	for _, p := range s.picked {
		if slices.Contains(b.names, p.key) {
			picked = append(picked, p)
		}
	}
	var need unit.Pieces
	if b.PerSession != nil && (s.treated || len(picked) > 0) {
		need = *b.PerSession
	}
	// A second one opened in a session is a second one used, where the item
	// counts in whole pieces.
	if n := unit.Pieces(len(picked)) * unit.Piece; b.PerSession != nil && *b.PerSession >= unit.Piece && n > need {
		need = n
	}
	if b.PerCycle != nil {
		need += *b.PerCycle * unit.Pieces(s.cycles)
	}
	if need == 0 {
		return
	}
	for i := range picked {
		picked[i].Pieces = need / unit.Pieces(len(picked))
	}
	if len(picked) > 0 {
		picked[0].Pieces += need - picked[0].Pieces*unit.Pieces(len(picked))
	}
	b.book(picked, need, s.day)
}

// take removes pieces: from the lots picked, held ones too, since they were
// used; the rest first expired first out. What came from a lot that the book
// does not have was used all the same and is counted as unbooked.
func (b *itemBook) take(picked []Picked, need unit.Pieces, day unit.Date) {
	rest := need
	for _, p := range picked {
		if lotKey(p.Lot) == "" {
			continue
		}
		want := min(p.Pieces, rest)
		rest -= want
		there := b.from(lotKey(p.Lot), &want)
		if !there {
			there = b.from("", &want) // counted without their codes
		}
		if there {
			rest += want // the box was empty before all were taken
		} else {
			b.Unbooked += want
		}
	}
	if rest <= 0 {
		return
	}
	_, left, short := stock.Take(b.Stock(), rest, day)
	for i := range b.Lots {
		b.Lots[i].Count = left[i].Count
	}
	b.Unbooked += short
}

// from takes what it can of the lots with one code, and reports whether there is
// any such lot.
func (b *itemBook) from(key string, want *unit.Pieces) (there bool) {
	for i := range b.Lots {
		if l := &b.Lots[i]; lotKey(l.Code) == key {
			there = true
			n := min(*want, l.Count)
			l.Count -= n
			*want -= n
		}
	}
	return there
}

func (b *itemBook) aside(q Quarantine) {
	key := lotKey(q.Lot)
	if q.State == "released" {
		b.released[key] = true
		delete(b.held, key)
	} else {
		b.held[key] = q.Why
		delete(b.released, key)
	}
	b.hold()
}

func (b *itemBook) recall(r *Recalled) {
	b.recalls = append(b.recalls, r)
	for _, l := range b.Lots {
		if r.matches(b.StockItem, l.Maker, l.Code) != stock.NoMatch {
			delete(b.released, lotKey(l.Code)) // an old release does not cover a new notice
		}
	}
	b.hold()
}

// matches compares a lot with the notice; the item was compared by its names.
func (r *Recalled) matches(it StockItem, maker, lot string) stock.Match {
	n := r.Value.Notice()
	n.Item = it.Item
	return n.Matches(it.Item, knownAs(maker, n.Maker), lot)
}

// sentBack takes away what a closed recall sent back or destroyed.
func (b *itemBook) sentBack(r *Recalled, c RecallClosed) {
	n := c.Returned + c.Destroyed
	for i := range b.Lots {
		if l := &b.Lots[i]; l.Recall == r.ID {
			took := min(n, l.Count)
			l.Count -= took
			n -= took
			if b.stretch != nil {
				b.stretch.TakenOut += took
			}
		}
	}
}

// anotherProduct is why a lot waits that came in the place of the usual one.
const anotherProduct = "another product than usual; the unit’s yes is missing"

// lookAtTheBox ends why a lot waits that a recall may mean.
const lookAtTheBox = ": look at the box"

// hold works out again which lots are held, and why.
func (b *itemBook) hold() {
	for i := range b.Lots {
		l := &b.Lots[i]
		l.Held, l.Why, l.Recall = false, "", ""
		key := lotKey(l.Code)
		if why, ok := b.held[key]; ok {
			l.Held, l.Why = true, why
		}
		if l.Product != "" && !b.house.Upkeep.allowed(b.StockItem, l.Product) {
			l.Held, l.Why = true, anotherProduct
		}
		for _, r := range b.recalls {
			switch r.matches(b.StockItem, l.Maker, l.Code) {
			case stock.Recalled:
				l.Held, l.Recall, l.Why = true, r.ID, r.Name()
			case stock.Look:
				if !b.released[key] {
					l.Held, l.Recall, l.Why = true, r.ID, r.Name()+lookAtTheBox
				}
			}
		}
	}
}

// Name says which recall it is.
func (r *Recalled) Name() string {
	words := fmt.Sprintf("recall of %s by %s", r.Value.Item, r.Value.Maker)
	if r.Value.Number != "" {
		words += ", " + r.Value.Number
	}
	return words + ", written down on " + unit.DateOf(r.At).Long()
}

// allowed reports whether the unit has said yes to another product in an item's
// place, and not no since.
func (u *Upkeep) allowed(it StockItem, product string) bool {
	yes := false
	for _, d := range u.Substitutes {
		if d.Struck == nil && it.Answers(d.Value.Item) && plainName(d.Value.Product) == plainName(product) && d.Value.Answer != "asked" {
			yes = d.Value.Answer == "yes"
		}
	}
	return yes
}

func (b *itemBook) learn() {
	b.Spare, b.Learned = stock.SpareFactor(b.Counts, b.typical())
}

// typical is what one session uses, for what is learned from counts.
func (b *itemBook) typical() unit.Pieces {
	if b.PerSession != nil {
		return *b.PerSession
	}
	return 0
}
