package household

import (
	"testing"

	"ebbline/record"
	"ebbline/unit"
)

// An order that comes in two parts is short only by what neither brought; a name
// of an item that the order did not use is that item.
func TestOrderInTwoParts(t *testing.T) {
	d, now := stockedDiary(t)
	order := d.house(now, "order_sent", &record.OrderSent{For: unit.NewDate(2026, 3, 17), How: "email", Lines: []record.OrderLine{{Item: "dialyser", Packs: 2, Pieces: 24 * one}, {Item: "needle", Packs: 1, Pieces: 50 * one}}})
	far := unit.NewDate(2028, 3, 31)
	line := func(item, lot string, count float64) record.DeliveryLine {
		return record.DeliveryLine{Item: item, Lot: lot, Expires: far, Pieces: *n(count)}
	}
	d.house(d.at(2026, 3, 17, 10, 0), "delivery", &record.Delivery{Order: order, Lines: []record.DeliveryLine{line("Dialysers", "C", 12), line("needle", "M", 50)}})
	d.house(d.at(2026, 3, 19, 10, 0), "delivery", &record.Delivery{Order: order, Lines: []record.DeliveryLine{line("dialyser", "C", 8), line("needle", "M", 50)}})
	codes := func(c DeliveryCheck) (list []string) {
		for _, l := range c.Lines {
			for _, one := range l.Cautions {
				list = append(list, l.Item+" "+one.Code)
			}
		}
		return list
	}
	checked := CheckedDeliveries(d.h)
	if got := codes(checked[1]); len(got) != 1 || got[0] != "dialyser short" {
		t.Errorf("the first part: %v", got)
	}
	if got := codes(checked[0]); len(got) != 2 || got[0] != "dialyser short" || got[1] != "needle too_many" {
		t.Errorf("the second part: %v", got)
	}
	if l := checked[0].Lines[0]; l.Ordered != 12*one || l.Came != 8*one {
		t.Errorf("12 were open, 8 came: %+v", l)
	}
	d.house(d.at(2026, 3, 20, 10, 0), "struck", &record.Struck{Entry: order, Reason: "never sent"})
	if got := codes(CheckedDeliveries(d.h)[0]); len(got) != 0 {
		t.Errorf("held against an order that was struck out: %v", got)
	}
}
