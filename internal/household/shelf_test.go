package household

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/record"
	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
	"ebbline/water"
)

const one = unit.Piece

func n(v float64) *unit.Pieces { return ptr(unit.Pieces(v * float64(one))) }

// household of three sessions a week with a supplier that comes every four
// weeks, on Tuesdays.
func stockedDiary(t *testing.T) (*diary, time.Time) {
	t.Helper()
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) { rx.Days = []string{"mon", "wed", "fri"} })
	d.held(d.at(2026, 2, 27, 17, 0), 0)
	at := d.at(2026, 3, 1, 9, 0) // a Sunday
	d.house(at, "supplier", &record.Supplier{Name: "Supplier (invented)", Phone: "1", Account: "K-77", LeadDays: 5, EveryDays: 28, FirstOn: unit.NewDate(2026, 2, 17), Reserve: 6})
	d.house(at, "stock_item", &record.StockItem{Item: "dialyser", PerSession: n(1), Pack: 12 * one, OrderCode: "D-170", Storage: "room"})
	d.house(at, "stock_item", &record.StockItem{Item: "needle", PerSession: n(2), Pack: 50 * one, Storage: "room"})
	d.house(at, "stock_count", &record.StockCount{Item: "dialyser", Lots: []record.CountedLot{{Lot: "A", Expires: unit.NewDate(2026, 3, 5), Pieces: 4 * one}, {Lot: "B", Expires: unit.NewDate(2027, 3, 31), Pieces: 9 * one}}})
	d.house(at, "stock_count", &record.StockCount{Item: "needle", Lots: []record.CountedLot{{Lot: "N", Expires: unit.NewDate(2027, 3, 31), Pieces: 90 * one}}})
	return d, at.Add(time.Hour)
}

func (v ShelfView) row(item string) ShelfRow {
	for _, r := range v.Rows {
		if r.Item == item {
			return r
		}
	}
	return ShelfRow{}
}

// Sessions left by the scarcest item, what expires before it can be used, the
// day to order by, and the packs that reach the delivery after the next with the
// reserve whole.
func TestShelfOverThePlannedSessions(t *testing.T) {
	d, now := stockedDiary(t)
	v := Shelf(d.h, now)
	if v.Trouble != "" || len(v.Sessions) < 70 || v.Sessions[0] != unit.NewDate(2026, 3, 2) {
		t.Fatalf("%q, %d sessions from %v", v.Trouble, len(v.Sessions), v.Sessions[0])
	}
	if len(v.Deliveries) < 5 || v.Deliveries[0] != unit.NewDate(2026, 3, 17) {
		t.Errorf("deliveries %v, want every 28 days from 17 March", v.Deliveries)
	}
	// Spares are reckoned in with a factor of 1.1 until the counts teach another.
	r := v.row("dialyser")
	if r.PerSession != 1_100_000 || r.Usable != 13*one {
		t.Errorf("%s a session, %s usable", r.PerSession, r.Usable)
	}
	// Lot A serves 2 and 4 March only: 2.2 of 4 are used, 1.8 expire. Lot B's 9
	// serve 8 more.
	if r.Forecast.SessionsLeft != 10 || r.Forecast.Wasted != 1_800_000 || len(r.Expiring) != 1 || r.Expiring[0].Code != "A" || r.Expiring[0].Count != 1_800_000 {
		t.Errorf("%d left, %s wasted, expiring %+v", r.Forecast.SessionsLeft, r.Forecast.Wasted, r.Expiring)
	}
	if v.Scarcest == nil || v.Scarcest.Item != "dialyser" {
		t.Errorf("the scarcest is %+v", v.Scarcest)
	}
	// Under six sessions (6.6 pieces) at the end of Wednesday 11 March, before
	// the delivery of the 17th: it is the next that can be ordered, by the 12th.
	if o := r.Order; o.For != unit.NewDate(2026, 3, 17) || o.By != unit.NewDate(2026, 3, 12) || !o.Short || o.RunsOut || o.Packs == 0 {
		t.Errorf("%+v", o)
	}
	draft := v.DraftOrder(unit.DateOf(now))
	if draft.State != water.NotYet || len(draft.Lines) != 1 || draft.Lines[0].Pieces != unit.Pieces(draft.Lines[0].Packs)*12*one {
		t.Errorf("eleven days before: %+v", draft)
	}
	if s := v.DraftOrder(unit.NewDate(2026, 3, 5)).State; s != water.Coming {
		t.Errorf("a week before its last day the order is %s", s)
	}
	if s := v.DraftOrder(unit.NewDate(2026, 3, 12)).State; s != water.Due {
		t.Errorf("on its last day the order is %s", s)
	}
	text := draft.Text("Ida Brook")
	if !strings.Contains(text, "x dialyser (D-170), pack of 12") || !strings.Contains(draft.Subject(v.Supplier), "K-77") || strings.Contains(text, "dialysis") {
		t.Errorf("%s\n%s", draft.Subject(v.Supplier), text)
	}
}

// An order that was sent is reckoned with on its day; one that has not come is
// said, reckoned with for a week as coming tomorrow, and then no more. A
// delivery answers it.
func TestOrdersOnTheirWay(t *testing.T) {
	d, now := stockedDiary(t)
	order := d.house(now, "order_sent", &record.OrderSent{For: unit.NewDate(2026, 3, 17), How: "email", Lines: []record.OrderLine{{Item: "dialyser", Packs: 3, Pieces: 36 * one}}})
	v := Shelf(d.h, now)
	if len(v.Waiting) != 1 || v.Waiting[0].Late || v.row("dialyser").Forecast.SessionsLeft < 35 {
		t.Errorf("on its way: %+v, %d left", v.Waiting, v.row("dialyser").Forecast.SessionsLeft)
	}
	if o := v.row("dialyser").Order; !o.For.IsZero() && !unit.NewDate(2026, 3, 17).Before(o.For) {
		t.Errorf("it is ordered a second time: %+v", o)
	}
	v = Shelf(d.h, d.at(2026, 3, 19, 9, 0))
	if !v.Waiting[0].Late || v.Waiting[0].Expected != unit.NewDate(2026, 3, 20) {
		t.Errorf("two days late: %+v", v.Waiting[0])
	}
	late := false
	for _, o := range Errands(d.h, d.h.Member(keeper), d.at(2026, 3, 19, 9, 0)) {
		late = late || strings.Contains(o.Words, "has not come")
	}
	if !late {
		t.Error("a late delivery is not told of")
	}
	v = Shelf(d.h, d.at(2026, 3, 25, 9, 0))
	if !v.Waiting[0].Expected.IsZero() {
		t.Errorf("after a week it is still counted on for %s", v.Waiting[0].Expected)
	}
	d.house(d.at(2026, 3, 25, 10, 0), "delivery", &record.Delivery{Order: order, Lines: []record.DeliveryLine{
		{Item: "dialyser", Lot: "C", Expires: unit.NewDate(2026, 5, 31), Pieces: 30 * one, Damaged: 2 * one}}})
	v = Shelf(d.h, d.at(2026, 3, 25, 11, 0))
	if len(v.Waiting) != 0 {
		t.Errorf("answered and still waiting: %+v", v.Waiting)
	}
	got := map[string]bool{}
	for _, c := range CheckedDeliveries(d.h)[0].Lines[0].Cautions {
		got[c.Code] = true
	}
	if !got["short"] || !got["damaged"] || !got["near_expiry"] {
		t.Errorf("30 of 36 came, 2 damaged, good for two months: said are %v", got)
	}
}

// Deliveries move and are taken out with the entries about them.
func TestDeliveryDays(t *testing.T) {
	d, now := stockedDiary(t)
	d.house(now, "delivery_planned", &record.DeliveryPlanned{On: unit.NewDate(2026, 3, 19), InsteadOf: unit.NewDate(2026, 3, 17)})
	d.house(now, "delivery_planned", &record.DeliveryPlanned{On: unit.NewDate(2026, 4, 14), Cancelled: true})
	d.house(now, "delivery_planned", &record.DeliveryPlanned{On: unit.NewDate(2026, 4, 2)})
	days := Shelf(d.h, now).Deliveries
	for i, want := range []unit.Date{unit.NewDate(2026, 3, 19), unit.NewDate(2026, 4, 2), unit.NewDate(2026, 5, 12)} {
		if i >= len(days) || days[i] != want {
			t.Errorf("delivery %d of %v: want %s", i, days, want)
		}
	}
}

// Whatever lies there and whenever deliveries come, an order that can be had in
// time, once delivered as reckoned, leaves the reserve whole until the delivery
// after it.
func TestOrdersKeepTheReserve(t *testing.T) {
	today := unit.NewDate(2026, 3, 1)
	rapid.Check(t, func(rt *rapid.T) {
		every := rapid.IntRange(1, 3).Draw(rt, "every")
		var sessions []unit.Date
		for i := 0; i < 180; i += every {
			sessions = append(sessions, today.Add(i))
		}
		var deliveries []unit.Date
		for d := rapid.IntRange(3, 30).Draw(rt, "first"); d < 200; d += 28 {
			deliveries = append(deliveries, today.Add(d))
		}
		plan := stock.Plan{Today: today, Sessions: sessions, Deliveries: deliveries, LeadDays: rapid.IntRange(0, 10).Draw(rt, "lead"), Reserve: rapid.IntRange(1, 10).Draw(rt, "reserve")}
		it := record.ShelfItem{StockItem: record.StockItem{Item: "x", PerSession: n(float64(rapid.IntRange(1, 4).Draw(rt, "uses"))), Pack: unit.Pieces(rapid.IntRange(1, 50).Draw(rt, "pack")) * one}, Spare: 1}
		for i := range rapid.IntRange(1, 4).Draw(rt, "lots") {
			it.Lots = append(it.Lots, record.ShelfLot{Lot: stock.Lot{Code: string(rune('A' + i)), Count: unit.Pieces(rapid.IntRange(0, 60).Draw(rt, "count")) * one, Expires: today.Add(rapid.IntRange(-5, 200).Draw(rt, "expires")), Held: rapid.Bool().Draw(rt, "held")}})
		}
		row := rowOf(it, plan, nil, 7/float64(every), 0, today)
		if !row.Reckoned || row.Order.Packs == 0 || row.Order.Short {
			return // nothing to order, or it cannot be had in time, which is said
		}
		item := stock.Item{Name: "x", Lots: it.Stock(), PerSession: row.PerSession, Pack: it.Pack,
			Arriving: []stock.Arrival{{On: row.Order.For, Lot: stock.Lot{Count: unit.Pieces(row.Order.Packs) * it.Pack}}}}
		f, err := item.Forecast(today, sessions)
		if err != nil {
			rt.Fatal(err)
		}
		reserve := unit.Pieces(plan.Reserve) * row.PerSession
		for i, d := range f.Days {
			if d.Date.Before(row.Order.Until) && d.Usable < reserve-row.PerSession && (i == 0 || !f.Days[i].Date.Before(row.Order.For)) {
				rt.Fatalf("on %s only %s are left of a reserve of %s, before the delivery of %s (ordered %d packs for %s)", d.Date, d.Usable, reserve, row.Order.Until, row.Order.Packs, row.Order.For)
			}
			if d.Served < d.Sessions && d.Date.Before(row.Order.Until) {
				rt.Fatalf("the session of %s cannot be held", d.Date)
			}
		}
	})
}

func TestShelfSaysWhatItDoesNotKnow(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 1, 9, 0)
	d.house(at, "stock_item", &record.StockItem{Item: "dialyser", PerSession: n(1), Pack: 12 * one, Storage: "room"})
	v := Shelf(d.h, at)
	if v.Trouble == "" || v.Scarcest != nil || v.Reserve != stock.DefaultReserve || !strings.Contains(v.ReserveBy, "program default") {
		t.Errorf("without a prescription: %+v", v)
	}
	codes := map[string]bool{}
	for _, c := range v.Rows[0].Cautions {
		codes[c.Code] = true
	}
	if !codes["never_counted"] {
		t.Errorf("never counted, and said are %v", codes)
	}
	d.house(at, "stock_count", &record.StockCount{Item: "dialyser", Lots: []record.CountedLot{{Lot: "A", Expires: unit.NewDate(2026, 2, 28), Pieces: 4 * one}}})
	codes = map[string]bool{}
	for _, c := range Shelf(d.h, at.AddDate(0, 0, 60)).Rows[0].Cautions {
		codes[c.Code] = true
	}
	if !codes["count_old"] || !codes["expired_on_shelf"] {
		t.Errorf("an old count and an expired lot: said are %v", codes)
	}
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	ways := StandsInTheWay(d.h, d.h.Member(keeper), at)
	if len(ways) == 0 || !ways[0].Stop || !strings.Contains(ways[0].Words, "not enough on the shelf") {
		t.Errorf("only expired ones lie there: %+v", ways)
	}
}

// A recall's letter names this person's sessions and counts those of others; the
// notice is open until it is closed with what became of the pieces.
func TestRecallLetter(t *testing.T) {
	d, now := stockedDiary(t)
	d.put(now, "person", "", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	id := "s-" + d.at(2026, 2, 27, 17, 0).UTC().Format("20060102-1504")
	d.put(d.at(2026, 2, 27, 17, 5), "supply", id, &session.Supply{Item: "Dialyser", Lot: "b"})
	notice := d.house(now, "recall", &record.Recall{Number: "FSN 3", Maker: "Maker (invented)", Item: "dialyser", Lots: []string{"B"}, From: "supplier"})
	rows := Recalls(d.h, now.Add(time.Hour))
	if len(rows) != 1 || rows[0].Left != 9*one || len(rows[0].Aside) != 1 || len(rows[0].Past) != 1 {
		t.Fatalf("%+v", rows)
	}
	l, ok := LetterOf(d.h, d.h.Member(keeper), notice, now.Add(time.Hour))
	if !ok || len(l.Sessions) != 1 || l.Sessions[0].ID != id || l.Others != 0 {
		t.Errorf("%+v", l)
	}
	v := Shelf(d.h, now.Add(time.Hour))
	if v.row("dialyser").Usable != 4*one || len(v.row("dialyser").Held) != 1 {
		t.Errorf("held and still usable: %+v", v.row("dialyser"))
	}
	d.house(now.Add(2*time.Hour), "recall_closed", &record.RecallClosed{Recall: notice, Returned: 9 * one, To: "supplier", Told: "nurse by telephone"})
	if rows := Recalls(d.h, now.Add(3*time.Hour)); rows[0].Closed == nil || rows[0].Left != 0 {
		t.Errorf("closed: %+v", rows[0])
	}
	if _, ok := LetterOf(d.h, d.h.Member(keeper), "line-99999", now); ok {
		t.Error("a letter about nothing")
	}
}
