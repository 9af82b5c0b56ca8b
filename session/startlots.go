package session

import (
	"slices"
	"strings"
	"unicode"

	"ebbline/unit"
)

// habitOver is how many sessions a habit is read off, and habitEnough in how
// many of them a lot was written. Ours.
const (
	habitOver   = 3
	habitEnough = 2
)

// named is a thing of a session with what its name means.
type named struct {
	name  string
	item  *ShelfItem // of the household's shelf; nil where no item answers
	goods []goods
	lot   string
	must  bool // is needed, whether its lot was written before or not
	habit bool
}

// lots are the things opened for this session, each with its lot and in date
// (hazard H-83).
//
// A lot that is past its day, that the shelf has set aside, or of which the
// shelf knows another expiry, stops. A lot that is not written is open where the
// person writes it as a rule, and before the first session at home; else it is a
// look, so that somebody who never wrote the lot of their lines is told of it
// and not held up.
func (l startLine) lots(v *verdict) {
	today, supplies := unit.DateOf(l.at), false
	var there, dated, undated []named
	for _, lot := range l.lotsNow() {
		one := l.call(lot.Item)
		one.lot = lot.Lot
		if _, bath := lot.Event.Body.(*BathLabel); bath {
			one.name = string(l.bathGoods())
		}
		there = append(there, one)
		_, opened := lot.Event.Body.(*Supply)
		supplies = supplies || opened
		name := capital(one.shown())
		noExpiry, own := lot.Event.Missing["expiry"] == DoesNotApply, l.hasOwnCheck(lot.Event.Body)
		switch {
		case !lot.Expiry.IsZero() && lot.Expiry.Before(today) && own:
			v.look(lot.Event, "lots_expired", name, lot.Expiry.Long()) // it stops there
		case !lot.Expiry.IsZero() && lot.Expiry.Before(today):
			if better := l.laterLot(lot, today); better != nil {
				v.look(lot.Event, "lots_expired_before", name, lot.Lot, lot.Expiry.Long(), clock(better.Event.At), better.Lot)
			} else {
				v.stop(lot.Event, "lots_expired", name, lot.Expiry.Long())
			}
		case !lot.Expiry.IsZero():
			dated = append(dated, one)
		case noExpiry:
			undated = append(undated, one)
		case !own:
			v.open(lot.Event, "lots_no_expiry", one.shown())
		}
		l.againstShelf(v, lot, name, noExpiry)
	}
	l.notWritten(v, there, supplies)
	for names := range slices.Chunk(listed(dated), lotsInSentence) {
		v.ready("lots_ready", capital(strings.Join(names, ", ")))
	}
	if names := listed(undated); len(names) > 0 {
		v.ready("lots_undated", capital(strings.Join(names, ", ")))
	}
}

// laterLot is a lot of the same thing, in date, that was written after one that
// is not.
func (l startLine) laterLot(lot Lot, today unit.Date) *Lot {
	for _, one := range l.lotsNow() {
		same := PlainName(one.Item) == PlainName(lot.Item) && one.Event.Kind == lot.Event.Kind
		if same && one.Event.At.After(lot.Event.At) && !one.Expiry.IsZero() && !one.Expiry.Before(today) {
			return &one
		}
	}
	return nil
}

// lotsInSentence is how many things one sentence names.
const lotsInSentence = 6

// lotsNow lists the lots written up to the moment of the start line. Of the bath,
// the chlorine test and the catheter's lock the last counts, as in their own checks.
func (l startLine) lotsNow() []Lot {
	_, bath := lastBy[BathLabel](l.s, l.at)
	_, test := lastBy[Chlorine](l.s, l.at)
	_, lock := lastBy[CatheterLock](l.s, l.at)
	return slices.DeleteFunc(Lots(l.s), func(lot Lot) bool {
		switch lot.Event.Body.(type) {
		case *BathLabel:
			return lot.Event != bath
		case *Chlorine:
			return lot.Event != test
		case *CatheterLock:
			return lot.Event != lock
		}
		return lot.Event.At.After(l.at)
	})
}

// hasOwnCheck reports whether the expiry of a lot holds up the start in a check
// of its own, which one reason is enough for.
func (l startLine) hasOwnCheck(body any) bool {
	switch body.(type) {
	case *BathLabel, *Chlorine:
		return true
	case *CatheterLock:
		return l.rx.ByCatheter()
	}
	return false
}

// againstShelf holds a lot against what the shelf's book says of it.
func (l startLine) againstShelf(v *verdict, lot Lot, name string, noExpiry bool) {
	on, known := l.h.OnShelf[lot.Event.ID]
	if !known {
		return
	}
	switch {
	case on.Held != "" && on.Sure:
		v.stop(lot.Event, "lots_held", name, lot.Lot, on.Held)
	case on.Held != "":
		v.look(lot.Event, "lots_perhaps_held", name, lot.Lot, on.Held)
	}
	has := slices.DeleteFunc(slices.Clone(on.Expires), unit.Date.IsZero)
	switch {
	case len(has) == 0 || slices.Contains(has, lot.Expiry) || lot.Expiry.IsZero() && !noExpiry:
	case noExpiry:
		v.stop(lot.Event, "lots_none_typed", name, lot.Lot, has[0].Long())
	default:
		v.stop(lot.Event, "lots_otherwise", name, lot.Lot, lot.Expiry.Long(), has[0].Long())
	}
}

// notWritten finds what this session needs and of which no lot was written.
func (l startLine) notWritten(v *verdict, there []named, supplies bool) {
	var open, look []named
	for _, n := range l.needs() {
		if slices.ContainsFunc(there, func(one named) bool { return one.lot != "" && n.metBy(one) }) {
			continue
		}
		if always := slices.ContainsFunc(n.goods, l.always); n.habit || len(l.h.Opened) == 0 || always && !supplies {
			open = append(open, n)
		} else {
			look = append(look, n)
		}
	}
	switch names := strings.Join(listed(open), ", "); {
	case names == "":
	case !supplies:
		v.open(nil, "lots_none", names)
	default:
		v.open(nil, "lots_missing", capital(names))
	}
	if names := listed(look); len(names) > 0 {
		v.look(nil, "lots_missing", capital(strings.Join(names, ", ")))
	}
}

// needs are the things whose lot this session should have: what the shelf says
// is used in each session, dialyser, lines and needles (of a catheter the caps)
// always, and what the person wrote a lot of in two of the last three sessions.
func (l startLine) needs() []named {
	var list []named
	for i := range l.h.Shelf {
		it := &l.h.Shelf[i]
		if n := l.call(it.Names[0]); it.Each && slices.ContainsFunc(n.goods, l.opens) {
			n.must = true
			list = append(list, n)
		}
	}
	for _, g := range goodsOrder {
		if l.always(g) && !slices.ContainsFunc(list, func(n named) bool { return slices.Contains(n.goods, g) }) {
			list = append(list, named{name: string(g), goods: []goods{g}, must: true})
		}
	}
	for _, opened := range slices.Backward(l.h.Opened) {
		for _, name := range opened {
			n := l.call(name)
			off := n.item != nil && n.item.Off
			unused := len(n.goods) > 0 && !slices.ContainsFunc(n.goods, l.opens)
			if off || unused || slices.ContainsFunc(list, func(one named) bool { return one.metBy(n) }) {
				continue
			}
			if n.item != nil {
				n.name = n.item.Names[0]
			}
			list = append(list, n)
		}
	}
	kept := list[:0]
	for _, n := range list {
		n.habit = l.habit(n)
		if n.habit || n.must {
			kept = append(kept, n)
		}
	}
	return kept
}

// habit reports whether the lot of a thing was written in two of the last three
// sessions treated at home, or in each of them while there are fewer.
func (l startLine) habit(n named) bool {
	times := 0
	for _, opened := range l.h.Opened {
		if slices.ContainsFunc(opened, func(name string) bool { return n.metBy(l.call(name)) }) {
			times++
		}
	}
	return times > 0 && times >= min(habitEnough, len(l.h.Opened))
}

// call gives a name its meaning. A shelf of fifty items is asked about the same
// twenty names for each of the last sessions, so each answer is kept.
func (l startLine) call(name string) named {
	if n, ok := l.called[name]; ok {
		return n
	}
	n := l.meaning(name)
	if l.called != nil {
		l.called[name] = n
	}
	return n
}

func (l startLine) meaning(name string) named {
	n := named{name: name}
	for i := range l.h.Shelf {
		if it := &l.h.Shelf[i]; it.answers(name) {
			n.item = it
			for _, also := range it.Names {
				n.goods = append(n.goods, goodsOf(also)...)
			}
			return n
		}
	}
	n.goods = goodsOf(name)
	return n
}

// metBy reports whether the lot of one thing is the lot of another: both are the
// same item of the shelf, or one of them is none and they are of one sort.
func (n named) metBy(one named) bool {
	if n.item != nil && one.item != nil {
		return n.item == one.item
	}
	return PlainName(n.name) == PlainName(one.name) ||
		slices.ContainsFunc(n.goods, func(g goods) bool { return slices.Contains(one.goods, g) })
}

// always reports whether every session opens this: dialyser, lines, and needles
// or, on a catheter, caps.
func (l startLine) always(g goods) bool {
	switch g {
	case dialyserGoods, lineGoods:
		return true
	case needleGoods:
		return !l.rx.ByCatheter()
	case capGoods:
		return l.rx.ByCatheter()
	}
	return false
}

// opens reports whether this session can open this: concentrate where the fluid
// is made, bags where it comes in bags. What is drawn up only where it is used –
// heparin, anaesthetic – and the test have entries of their own.
func (l startLine) opens(g goods) bool {
	if l.s.RemovalOnly() && (g == concentrateGoods || g == bicarbonateGoods || g == bagGoods) {
		return false
	}
	switch g {
	case concentrateGoods, bicarbonateGoods:
		b, _ := BatchNow(l.s, l.h, l.at)
		return l.bathGoods() == concentrateGoods && b == nil // that of a batch was opened when it was made
	case bagGoods:
		return l.bathGoods() == bagGoods
	case salineGoods, flushGoods:
		return true
	}
	return l.always(g)
}

// bathGoods is what the fluid comes from on this machine.
func (l startLine) bathGoods() goods {
	if l.s.Machine.Fluid() == FluidBags || l.s.Machine.FluidUnsaid() {
		return bagGoods
	}
	return concentrateGoods
}

// shown is the name as a sentence has it: without what stands behind a comma,
// “acid concentrate, L”.
func (n named) shown() string {
	name, _, _ := strings.Cut(n.name, ",")
	name = strings.TrimSpace(name)
	r := []rune(name)
	if len(r) > 1 && unicode.IsUpper(r[0]) && unicode.IsLower(r[1]) {
		r[0] = unicode.ToLower(r[0])
	}
	return string(r)
}

// listed gives the names of things, each once, in the order in which they are
// opened.
func listed(list []named) []string {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b named) int { return a.place() - b.place() })
	var names []string
	for _, n := range list {
		name := n.shown()
		if !slices.ContainsFunc(names, func(one string) bool { return PlainName(one) == PlainName(name) }) {
			names = append(names, name)
		}
	}
	return names
}
