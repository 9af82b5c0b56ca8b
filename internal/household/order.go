package household

import (
	"fmt"
	"slices"
	"strings"

	"ebbline/exchange"
	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
	"ebbline/water"
)

// A Draft is the order to send: what the shelf needs from the next delivery
// that has to be ordered.
type Draft struct {
	For   unit.Date
	By    unit.Date // last day to send it
	State water.DueState
	Lines []DraftLine
	Until unit.Date // the delivery after it, up to which it must last
	Demo  bool
}

// A DraftLine is one item of the draft.
type DraftLine struct {
	Goods
	Why string
}

// DraftOrder gathers the order. It is coming from a week before its last day,
// because an order that waits until then waits for the next delivery too often.
func (v ShelfView) DraftOrder(today unit.Date) Draft {
	d := Draft{State: water.NotYet, Demo: v.Demo}
	for _, r := range v.Rows {
		if r.Order.Packs > 0 && (d.By.IsZero() || r.Order.By.Before(d.By)) {
			d.By, d.For, d.Until = r.Order.By, r.Order.For, r.Order.Until
		}
	}
	if d.For.IsZero() {
		return d
	}
	switch left := d.By.Sub(today); {
	case left <= 0:
		d.State = water.Due
	case left <= orderComing:
		d.State = water.Coming
	}
	for _, r := range v.Rows {
		if r.Order.Packs == 0 || d.For.Before(r.Order.For) {
			continue
		}
		d.Lines = append(d.Lines, DraftLine{Goods{Item: r.Item, Code: r.OrderCode, Packs: r.Order.Packs, Pack: r.Pack, Pieces: unit.Pieces(r.Order.Packs) * r.Pack}, orderWhy(r.Order)})
	}
	return d
}

func orderWhy(o stock.Order) string {
	if o.RunsOut {
		return "runs out before the delivery"
	}
	return "under the reserve from " + o.UnderFrom.Long()
}

// Body gives the draft as the record keeps an order that was sent.
func (d Draft) Body() record.OrderSent {
	o := record.OrderSent{For: d.For}
	for _, l := range d.Lines {
		o.Lines = append(o.Lines, record.OrderLine{Item: l.Item, Packs: l.Packs, Pieces: l.Pieces})
	}
	return o
}

// Subject and Text word the draft as an e-mail to a supplier, nil where none is
// written down.
func (d Draft) Subject(to *record.Supplier) string {
	return demoTitle(d.Demo, asCustomer("Order for the delivery of "+d.For.Long(), to))
}

// Text is the body of the e-mail. It holds no name and nothing of anybody's
// health beyond the goods.
func (d Draft) Text(from string) string {
	var b strings.Builder
	demoLetter(d.Demo, &b)
	fmt.Fprintf(&b, "Please send with the delivery of %s:\n\n", d.For.Long())
	for _, l := range d.Lines {
		l.write(&b)
	}
	b.WriteString("\nPlease confirm the order and its number, and tell us before you send anything else in the place of an item.\n")
	sign(&b, from)
	return b.String()
}

// Sheet is the draft as a table.
func (d Draft) Sheet() exchange.Sheet {
	sheet := exchange.Sheet{Head: slices.Concat(goodsHead, []string{"for_delivery", "order_by"})}
	for _, l := range d.Lines {
		sheet.Rows = append(sheet.Rows, l.cells(d.For, d.By))
	}
	return demoTable(d.Demo, sheet)
}

// A DeliveryCheck compares what came with what was ordered.
type DeliveryCheck struct {
	record.Dated[record.Delivery]
	Order *record.Dated[record.OrderSent]
	Lines []stock.Line
}

// CheckedDeliveries lists the deliveries, newest first, each held against its
// order. Of an order that comes in several parts each is held against what the
// earlier parts left open.
func CheckedDeliveries(h *record.Household) []DeliveryCheck {
	var list []DeliveryCheck
	came := map[string]map[string]unit.Pieces{} // by order and item: fit for use so far
	days := slices.Clone(h.Upkeep.Deliveries)
	slices.SortStableFunc(days, func(a, b record.Dated[record.Delivery]) int { return a.At.Compare(b.At) })
	for _, d := range days {
		if d.Struck != nil {
			continue
		}
		c := DeliveryCheck{Dated: d}
		if o := h.Upkeep.Order(h.Newest(d.Value.Order)); o != nil && o.Struck == nil {
			c.Order = o
		}
		c.Lines = checkedLines(h, c, came)
		list = append(list, c)
	}
	slices.Reverse(list)
	return list
}

func checkedLines(h *record.Household, c DeliveryCheck, came map[string]map[string]unit.Pieces) []stock.Line {
	name := func(item string) string {
		if it, ok := h.Upkeep.Item(item); ok {
			return it.Item
		}
		return item
	}
	var ordered []stock.Ordered
	var before map[string]unit.Pieces
	if c.Order != nil {
		if before = came[c.Order.ID]; before == nil {
			before = map[string]unit.Pieces{}
			came[c.Order.ID] = before
		}
		for _, l := range c.Order.Value.Lines {
			if open := l.Pieces - before[name(l.Item)]; open > 0 {
				ordered = append(ordered, stock.Ordered{Item: name(l.Item), Pieces: open})
			}
		}
	}
	var received []stock.Received
	for _, l := range c.Value.Lines {
		received = append(received, stock.Received{Item: name(l.Item), Lot: stock.Lot{Code: l.Lot, Maker: l.Maker, Count: l.Pieces, Expires: l.Expires}, Damaged: l.Damaged})
	}
	lines := stock.CheckDelivery(ordered, received, unit.DateOf(c.At))
	for i := range lines {
		l := &lines[i]
		if c.Order == nil { // nothing to hold it against
			l.Cautions = dropCode(l.Cautions, "not_ordered")
		} else if before[l.Item] > 0 && l.Ordered == 0 {
			l.Cautions = dropCode(l.Cautions, "not_ordered")
			l.Cautions = append(l.Cautions, unit.Caution{Code: "too_many", Text: l.Item + ": all that was ordered had come already."})
		}
		if it, ok := h.Upkeep.Item(l.Item); ok && it.PerSession == nil {
			l.Cautions = dropCode(l.Cautions, "expiry_missing") // salt and the like carry none
		}
	}
	if before != nil {
		for _, l := range lines {
			before[l.Item] += l.Came
		}
	}
	return lines
}

func dropCode(list []unit.Caution, code string) []unit.Caution {
	var kept []unit.Caution
	for _, c := range list {
		if c.Code != code {
			kept = append(kept, c)
		}
	}
	return kept
}
