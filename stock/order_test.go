package stock

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ebbline/unit"
)

func TestOrder(t *testing.T) {
	// Sessions on every second day from the 2nd; deliveries each fortnight.
	var sessions []unit.Date
	for d := 2; d <= 60; d += 2 {
		sessions = append(sessions, on(d))
	}
	plan := Plan{Today: on(1), Sessions: sessions, Deliveries: days(8, 22, 36, 50), LeadDays: 5, Reserve: 6}
	for _, tt := range []struct {
		name            string
		item            Item
		change          func(*Plan)
		under, by, goal unit.Date
		packs           int
		codes           []string
	}{
		// 20 pieces: 14 used by the 28th, 6 left; the 30th ends with 5. Before
		// that comes the 22nd. From it to the 36th are the sessions 22 to 34:
		// 7; on hand at the 22nd 10, so 3 left on the 36th and 3 to order.
		{name: "ordinary", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 20 * one}}},
			under: on(30), by: on(17), goal: on(22), packs: 3},
		{name: "whole packs", item: Item{PerSession: one, Pack: 2 * one, Lots: []Lot{{Count: 20 * one}}},
			under: on(30), by: on(17), goal: on(22), packs: 2},
		// Under on the 36th, the day of a delivery: it comes before the session.
		{name: "delivery on the day itself", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 23 * one}}},
			under: on(36), by: on(31), goal: on(36), packs: 7},
		{name: "never under", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 36 * one}}}},
		{name: "under on the last day", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 35 * one}}},
			under: on(60), by: on(45), goal: on(50), packs: 1},
		// 20 pieces that expire on the 20th: under the reserve on the 21st.
		{name: "expiry", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 20 * one, Expires: on(20)}}},
			under: on(21), by: on(3), goal: on(8), packs: 6},
		// Already under: the first delivery that can be had.
		{name: "under today", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 5 * one}}},
			under: on(1), by: on(3), goal: on(8), packs: 11, codes: []string{"reserve_short_first"}},
		{name: "out before it comes", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 2 * one}}},
			under: on(1), by: on(3), goal: on(8), packs: 13, codes: []string{"runs_out_first"}},
		{name: "too late for the one in time", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 12 * one}}}, // under on the 14th
			change: func(p *Plan) { p.LeadDays = 10 },
			under:  on(14), by: on(12), goal: on(22), packs: 11, codes: []string{"order_day_passed", "reserve_short_first"}},
		{name: "no delivery left", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 5 * one}}},
			change: func(p *Plan) { p.Deliveries = nil },
			under:  on(1), codes: []string{"no_delivery"}},
		{name: "one already on its way", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 5 * one}}, Arriving: []Arrival{{on(8), Lot{Count: 13 * one}}}},
			under: on(26), by: on(17), goal: on(22), packs: 5},
		{name: "no reserve wanted", item: Item{PerSession: one, Pack: one, Lots: []Lot{{Count: 12 * one}}}, // cannot serve the 26th
			change: func(p *Plan) { p.Reserve = 0 },
			under:  on(26), by: on(17), goal: on(22), packs: 5},
	} {
		tt.item.Name = "x"
		p := plan
		if tt.change != nil {
			tt.change(&p)
		}
		o, err := tt.item.Order(p)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if o.UnderFrom != tt.under || o.By != tt.by || o.For != tt.goal || o.Packs != tt.packs {
			t.Errorf("%s: under %s, by %s for %s, %d packs; want %s, %s, %s, %d",
				tt.name, o.UnderFrom, o.By, o.For, o.Packs, tt.under, tt.by, tt.goal, tt.packs)
		}
		var codes []string
		for _, c := range o.Cautions {
			codes = append(codes, c.Code)
		}
		if !slices.Equal(codes, tt.codes) {
			t.Errorf("%s: cautions %v, want %v", tt.name, codes, tt.codes)
		}
	}
}

func TestOrderRefuses(t *testing.T) {
	it := Item{Name: "x", PerSession: one, Pack: one}
	for _, p := range []Plan{
		{Today: on(1), Sessions: days(2), LeadDays: -1},
		{Today: on(1), Sessions: days(2), Reserve: -1},
		{Today: on(1), Sessions: days(2), LeadDays: 400},
		{Today: on(1)},
	} {
		if _, err := it.Order(p); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%+v: err = %v, want an InputError", p, err)
		}
	}
}

// With the order delivered as planned, every session from that delivery to the
// next is served and the reserve is whole on the next one's morning; one pack
// fewer and it is not.
func TestOrderKeepsTheReserve(t *testing.T) {
	orders := 0
	rapid.Check(t, func(t *rapid.T) {
		it, sessions := drawItem(t), drawSessions(t)
		p := Plan{Today: on(1), Sessions: sessions, LeadDays: rapid.IntRange(0, 10).Draw(t, "lead"), Reserve: rapid.IntRange(0, 9).Draw(t, "reserve")}
		for d := rapid.IntRange(1, 30).Draw(t, "first"); d < 130; d += rapid.IntRange(1, 28).Draw(t, "interval") {
			p.Deliveries = append(p.Deliveries, on(d))
		}
		o, err := it.Order(p)
		if err != nil {
			t.Fatal(err)
		}
		if o.Packs == 0 {
			if !o.UnderFrom.IsZero() && !o.For.IsZero() {
				t.Fatalf("under the reserve on %s, a delivery on %s, and nothing ordered", o.UnderFrom, o.For)
			}
			return
		}
		orders++
		if o.By.Before(p.Today) || o.By != o.For.Add(-p.LeadDays) || !slices.Contains(p.Deliveries, o.For) {
			t.Fatalf("order by %s for %s", o.By, o.For)
		}
		if ok, why := reserveKept(it, p, o, o.Packs); !ok {
			t.Fatalf("%d packs for %s: %s", o.Packs, o.For, why)
		}
		if ok, _ := reserveKept(it, p, o, o.Packs-1); ok {
			t.Fatalf("%d packs for %s would have done", o.Packs-1, o.For)
		}
	})
	if orders == 0 {
		t.Error("no case led to an order: nothing was tested")
	}
}

func reserveKept(it Item, p Plan, o Order, packs int) (bool, string) {
	it.Arriving = append(slices.Clone(it.Arriving), Arrival{On: o.For, Lot: Lot{Count: unit.Pieces(packs) * it.Pack}})
	var within []unit.Date
	for _, s := range p.Sessions {
		if s.Before(o.Until) {
			within = append(within, s)
		}
	}
	lots := slices.Clone(it.Lots)
	arrived := false
	for _, s := range within {
		if !arrived && !s.Before(o.For) {
			lots, arrived = append(lots, it.Arriving[len(it.Arriving)-1].Lot), true
		}
		_, left, short := Take(lots, it.PerSession, s)
		if short > 0 {
			if !s.Before(o.For) {
				return false, "session on " + s.String() + " not served"
			}
			continue
		}
		lots = left
	}
	if !arrived {
		lots = append(lots, it.Arriving[len(it.Arriving)-1].Lot)
	}
	if have := Usable(lots, o.Until); have < unit.Pieces(p.Reserve)*it.PerSession {
		return false, "only " + have.String() + " on " + o.Until.String()
	}
	return true, ""
}

// A household that sends each order on its last day, and to which it comes as
// planned, is never under its reserve, but for what the first order said it
// could not prevent.
func TestFollowedOrdersNeverLeaveTheReserveShort(t *testing.T) {
	followed := 0
	rapid.Check(t, func(t *rapid.T) {
		it := drawItem(t)
		p := Plan{LeadDays: rapid.IntRange(0, 12).Draw(t, "lead"), Reserve: rapid.IntRange(0, 9).Draw(t, "reserve")}
		every, interval := rapid.IntRange(1, 3).Draw(t, "every"), rapid.IntRange(5, 30).Draw(t, "interval")
		var all []unit.Date
		for d := 1; d < 240; d += every {
			all = append(all, on(d))
		}
		for d := rapid.IntRange(1, 30).Draw(t, "first"); d < 300; d += interval {
			p.Deliveries = append(p.Deliveries, on(d))
		}
		excused := on(0) // up to this day an order has said that the shelf goes under first
		sent := 0
		for d := 1; d <= 120; d++ {
			p.Today, p.Sessions = on(d), all[(d-1+every-1)/every:]
			o, err := it.Order(p)
			if err != nil {
				t.Fatal(err)
			}
			if o.Short {
				if sent > 0 {
					t.Fatalf("day %d, every order sent as asked: %+v", d, o)
				}
				excused = o.For
			}
			if o.Packs > 0 && o.By == p.Today {
				it.Arriving = append(it.Arriving, Arrival{On: o.For, Lot: Lot{Count: unit.Pieces(o.Packs) * it.Pack}})
				sent++
				followed++
			}
			it.Arriving = slices.DeleteFunc(it.Arriving, func(a Arrival) bool {
				if a.On != p.Today {
					return false
				}
				it.Lots = append(it.Lots, a.Lot)
				return true
			})
			if p.Sessions[0] == p.Today {
				_, left, short := Take(it.Lots, it.PerSession, p.Today)
				if short == 0 {
					it.Lots = left
				} else if !p.Today.Before(excused) {
					t.Fatalf("day %d: the session cannot be held", d)
				}
			}
			if have, want := Usable(it.Lots, p.Today), unit.Pieces(p.Reserve)*it.PerSession; have < want && !p.Today.Before(excused) {
				t.Fatalf("day %d ends with %s of a reserve of %s", d, have, want)
			}
		}
	})
	if followed == 0 {
		t.Error("no order was ever sent: nothing was tested")
	}
}

func TestScarcest(t *testing.T) {
	if got := Scarcest([]Forecast{{SessionsLeft: 5}, {SessionsLeft: 3}, {SessionsLeft: 3}}); got != 1 {
		t.Errorf("Scarcest = %d, want the first with 3", got)
	}
	if got := Scarcest(nil); got != -1 {
		t.Errorf("Scarcest of nothing = %d", got)
	}
}
