package simulate

import (
	"fmt"
	"slices"
	"time"

	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
)

// pile is one item of the invented shelf.
type pile struct {
	body   record.StockItem
	life   int     // months that a lot serves from its delivery
	hidden float64 // chance that a session uses one more that nobody books
}

// orderOut is an order on its way.
type orderOut struct {
	id    string
	on    time.Time
	lines []record.OrderLine
}

const (
	deliveryEvery = 28
	deliveryLead  = 5
	reserve       = 8 // two weeks at four sessions a week
)

// goods are what lies on the invented shelf.
func goods() []*pile {
	n := func(v float64) *unit.Pieces { return ptr(unit.Pieces(v * float64(unit.Piece))) }
	item := func(name, also string, per, pack float64, storage string, life int, hidden float64) *pile {
		return &pile{record.StockItem{Item: name, Also: also, Maker: "Maker " + string(rune('A'+len(name)%5)) + " (invented)", PerSession: n(per), Pack: *n(pack), OrderCode: fmt.Sprintf("%d%d-%d", len(name), name[0], int(pack)), Storage: storage}, life, hidden}
	}
	list := []*pile{
		item("dialyser", "", 1, 12, "room", 30, 0.02), item("line set", "lines", 1, 12, "room", 30, 0.02), item("needle", "needles, arterial needle, venous needle", 2, 50, "room", 36, 0.1),
		item("on/off pack", "", 1, 20, "room", 24, 0), item("saline 1 L", "saline", 2, 10, "frost_free", 14, 0.05), item("acid concentrate, L", "bath, concentrate", 5, 10, "frost_free", 12, 0),
		item("bicarbonate cartridge", "", 1, 12, "room", 18, 0), item("heparin vial", "heparin", 1, 10, "room", 14, 0), item("local anaesthetic", "", 1, 10, "room", 18, 0),
		item("saline flush", "flush", 2, 60, "room", 18, 0.05), item("chlorine test", "chlorine reagent", 1, 50, "room", 10, 0.05), item("antiseptic swab", "", 4, 100, "room", 24, 0.2),
	}
	salt := item("softener salt, kg", "", 0, 25, "room", 0, 0)
	salt.body.PerSession, salt.body.PerWeek = nil, n(3)
	return append(list, salt)
}

// startShelf writes down supplier and items, and counts what is there.
func (k *keeper) startShelf(at time.Time) {
	k.write(at, "supplier", &record.Supplier{Name: "Supplies from the valley (invented)", Phone: "+000 1 555 01 70", Email: "orders@valley.invalid", Account: "DEMO-88", LeadDays: deliveryLead, EveryDays: deliveryEvery,
		FirstOn: unit.DateOf(k.firstDelivery()), Reserve: reserve, SetBy: "Nurse A. Kos (invented)"})
	for _, g := range goods() {
		k.stock[g.body.Item] = g
		body := g.body
		k.write(at.Add(time.Minute), "stock_item", &body)
		n := k.uses(g, 24)
		k.write(at.Add(2*time.Minute), "stock_count", &record.StockCount{Item: g.body.Item, Lots: []record.CountedLot{
			{Lot: k.lotCode(g), Maker: g.body.Maker, Expires: k.expiry(g, at.AddDate(0, -3, 0)), Pieces: n / 2 / unit.Piece * unit.Piece},
			{Lot: k.lotCode(g), Maker: g.body.Maker, Expires: k.expiry(g, at), Pieces: (n - n/2/unit.Piece*unit.Piece) / unit.Piece * unit.Piece}}})
	}
	k.write(at.Add(3*time.Minute), "recall", &record.Recall{Number: "N-2031", Maker: "Maker C (invented)", Item: "dialyser", Ranges: []stock.LotRange{{From: "X100", To: "X180"}}, From: "supplier, by e-mail", Words: "A seal may leak. Do not use."})
}

// uses is what so many sessions use of an item.
func (k *keeper) uses(g *pile, sessions int) unit.Pieces {
	var n unit.Pieces
	if g.body.PerSession != nil {
		n += *g.body.PerSession * unit.Pieces(sessions)
	}
	if g.body.PerWeek != nil {
		n += *g.body.PerWeek * unit.Pieces(sessions) / 4
	}
	return n
}

func (k *keeper) firstDelivery() time.Time { return k.begin.AddDate(0, 0, 9) }

// lotCode makes a code as labels print them.
func (k *keeper) lotCode(g *pile) string {
	k.lotNo++
	return fmt.Sprintf("%c%02d-%04d", 'A'+len(g.body.Item)%20, k.lotNo%97, 1000+k.rng.IntN(9000))
}

// expiry is printed as a month: its last day.
func (k *keeper) expiry(g *pile, at time.Time) unit.Date {
	if g.life == 0 {
		return unit.Date{}
	}
	d := at.AddDate(0, g.life, 0)
	return unit.NewDate(d.Year(), d.Month()+1, 0)
}

// shelfDay orders a week before a delivery, takes it in on its day, and counts
// on the first of the month.
func (k *keeper) shelfDay(day time.Time) {
	n := int(unit.DateOf(day).Sub(unit.DateOf(k.firstDelivery())))
	switch {
	case n >= -7 && (n+7)%deliveryEvery == 0:
		k.send(day, day.AddDate(0, 0, 7))
	case n >= 0 && n%deliveryEvery == 0 && k.order != nil:
		k.receive(day, n/deliveryEvery)
	}
	if day.Day() == 1 && day.Sub(k.begin) > 20*24*time.Hour {
		k.countShelf(day)
	}
}

// send orders what brings each item up to the sessions until the delivery after
// the next, with the reserve.
func (k *keeper) send(day, on time.Time) {
	o := &record.OrderSent{For: unit.DateOf(on), How: "email", Number: "B-" + unit.DateOf(day).String()[2:7]}
	for _, it := range k.house.Shelf(day) {
		g := k.stock[it.Item]
		if g == nil {
			continue
		}
		want := k.uses(g, 4+16+reserve)*11/10 - stock.Usable(it.Stock(), unit.DateOf(on))
		if want > 0 {
			packs := int((want + it.Pack - 1) / it.Pack)
			o.Lines = append(o.Lines, record.OrderLine{Item: it.Item, Packs: packs, Pieces: unit.Pieces(packs) * it.Pack})
		}
	}
	if len(o.Lines) == 0 {
		return
	}
	k.write(day.Add(90*time.Minute), "order_sent", o)
	orders := k.house.Upkeep.Orders
	if k.err == nil {
		k.order = &orderOut{orders[len(orders)-1].ID, on, o.Lines}
	}
}

// receive takes a delivery in. Every third is short of one pack; every fourth
// has some pieces damaged.
func (k *keeper) receive(day time.Time, nth int) {
	d := &record.Delivery{Order: k.order.id, Number: fmt.Sprintf("L-%d", 4000+nth)}
	for i, l := range k.order.lines {
		g := k.stock[l.Item]
		line := record.DeliveryLine{Item: l.Item, Maker: g.body.Maker, Lot: k.lotCode(g), Expires: k.expiry(g, day), Pieces: l.Pieces}
		if nth%3 == 2 && i == 1 && l.Packs > 1 {
			line.Pieces -= g.body.Pack
		}
		if nth%4 == 1 && i == 0 {
			line.Damaged = 2 * unit.Piece
		}
		d.Lines = append(d.Lines, line)
	}
	k.write(day.Add(5*time.Hour), "delivery", d)
	k.order = nil
}

// countShelf counts what is truly there: the book less what nobody booked.
func (k *keeper) countShelf(day time.Time) {
	at := day.Add(80 * time.Minute)
	for _, it := range k.house.Shelf(at) {
		g := k.stock[it.Item]
		if g == nil {
			continue
		}
		var lost unit.Pieces
		for range 17 { // sessions of a month
			if k.rng.Float64() < g.hidden {
				lost += unit.Piece
			}
		}
		k.Upkeep.Drift[it.Item] += lost
		_, left, _ := stock.Take(it.Stock(), lost, unit.DateOf(at))
		var lots []record.CountedLot
		for _, l := range left {
			if l.Count >= unit.Piece {
				lots = append(lots, record.CountedLot{Lot: l.Code, Maker: l.Maker, Expires: l.Expires, Pieces: l.Count / unit.Piece * unit.Piece})
			}
		}
		k.write(at, "stock_count", &record.StockCount{Item: it.Item, Lots: lots})
	}
}

// lot is the lot of an item that a session opens: the first to expire of what
// lies there.
func (l *life) lot(item, otherwise string, day unit.Date, days int) (string, unit.Date) {
	if l.laid != day {
		l.shelf, l.laid = l.house.Shelf(day.Time(l.zone).Add(15*time.Hour)), day
	}
	at := slices.IndexFunc(l.shelf, func(it record.ShelfItem) bool { return it.Answers(item) })
	if at >= 0 {
		if offered := stock.Offer(l.shelf[at].Stock(), day); len(offered) > 0 && !offered[0].Expires.IsZero() {
			return offered[0].Code, offered[0].Expires
		}
	}
	return otherwise, day.Add(days)
}
