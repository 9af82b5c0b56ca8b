package household

import (
	"cmp"
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// A ShelfView is the shelf over the sessions that are planned.
type ShelfView struct {
	Rows       []ShelfRow
	Scarcest   *ShelfRow // nil without items or without a plan
	Sessions   []unit.Date
	Supplier   *record.Supplier
	Reserve    int
	ReserveBy  string
	Deliveries []unit.Date
	Waiting    []Awaited // orders whose delivery has not come
	Trouble    string    // why nothing can be reckoned
	Demo       bool
}

// A ShelfRow is one item with what is reckoned of it.
type ShelfRow struct {
	record.ShelfItem
	Usable     unit.Pieces
	PerSession unit.Pieces // with weekly use, disinfections and spares spread over the sessions
	Forecast   stock.Forecast
	Order      stock.Order
	Expiring   []record.ShelfLot // that will expire before they are used up, or have
	Held       []record.ShelfLot
	Cautions   []unit.Caution
	Reckoned   bool
}

// Awaited is an order on its way.
type Awaited struct {
	record.Dated[record.OrderSent]
	Expected unit.Date
	Late     bool
}

// planWeeks is how far the shelf is looked ahead: past two deliveries of the
// usual four weeks and the longest lead.
const planWeeks = 26

// orderComing is how many days before its last day an order is asked for. A week was
// measured to matter more than a large reserve; see the decision on the shelf.
const orderComing = 7

// Shelf reckons the shelf at a moment.
func Shelf(h *record.Household, now time.Time) ShelfView {
	today := unit.DateOf(now)
	v := ShelfView{Sessions: plannedDays(h, now, planWeeks), Reserve: stock.DefaultReserve, ReserveBy: "program default: two weeks at three a week", Demo: h.Demo}
	if s := supplierOf(h); s != nil {
		v.Supplier = s
		v.Reserve, v.ReserveBy = s.Reserve, "your own choice"
		if s.SetBy != "" {
			v.ReserveBy = "set by " + s.SetBy
		}
		v.Deliveries = deliveryDays(h, s, today)
	}
	v.Waiting = awaited(h, today)
	if len(v.Sessions) == 0 {
		v.Trouble = "No session is planned: without a prescription in force what is needed cannot be worked out."
	}
	plan := stock.Plan{Today: today, Sessions: v.Sessions, Deliveries: v.Deliveries, Reserve: v.Reserve}
	if v.Supplier != nil {
		plan.LeadDays = v.Supplier.LeadDays
	}
	sessions, cycles := sessionsPerWeek(h, today), cyclesPerWeek(h, now)
	for _, it := range h.Shelf(now) {
		v.Rows = append(v.Rows, rowOf(it, plan, v.Waiting, sessions, cycles, today))
	}
	slices.SortStableFunc(v.Rows, func(a, b ShelfRow) int {
		if a.Reckoned != b.Reckoned {
			if a.Reckoned {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.Forecast.SessionsLeft, b.Forecast.SessionsLeft)
	})
	if len(v.Rows) > 0 && v.Rows[0].Reckoned {
		v.Scarcest = &v.Rows[0]
	}
	return v
}

func rowOf(it record.ShelfItem, plan stock.Plan, waiting []Awaited, sessions, cycles float64, today unit.Date) ShelfRow {
	row := ShelfRow{ShelfItem: it, Usable: stock.Usable(it.Stock(), today)}
	for _, l := range it.Lots {
		if l.Held {
			row.Held = append(row.Held, l)
		}
	}
	row.remarks(today)
	if len(plan.Sessions) == 0 {
		return row
	}
	per, err := it.Use().Effective(max(sessions, float64(1)/2), cycles)
	if err != nil {
		return row
	}
	row.PerSession = per
	item := stock.Item{Name: it.Item, Lots: it.Stock(), PerSession: per, Pack: it.Pack}
	for _, w := range waiting {
		for _, l := range w.Value.Lines {
			if it.Answers(l.Item) && !w.Expected.IsZero() {
				item.Arriving = append(item.Arriving, stock.Arrival{On: w.Expected, Lot: stock.Lot{Count: l.Pieces}})
			}
		}
	}
	f, err := item.Forecast(plan.Today, plan.Sessions)
	if err != nil {
		return row
	}
	o, err := item.Order(plan)
	if err != nil {
		return row
	}
	row.Forecast, row.Order, row.Reckoned = f, o, true
	row.Cautions = append(row.Cautions, o.Cautions...)
	row.Expiring = expiring(it, item, plan)
	return row
}

// remarks are what the book itself shows: a count that is old or never was, a
// difference that is more than a forgotten spare, pieces used that it never had.
func (r *ShelfRow) remarks(today unit.Date) {
	say := func(code, text string) { r.Cautions = append(r.Cautions, unit.Caution{Code: code, Text: text}) }
	switch {
	case r.Counted.IsZero():
		say("never_counted", r.Item+": never counted. The book knows only what was delivered and used since.")
	case today.Sub(unit.DateOf(r.Counted)) > 45:
		say("count_old", r.Item+": counted last on "+unit.DateOf(r.Counted).Long()+".")
	}
	if n := len(r.Counts); n > 0 && r.ShelfItem.PerSession != nil {
		r.Cautions = append(r.Cautions, r.Counts[n-1].Remark(r.Item, *r.ShelfItem.PerSession)...)
	}
	if r.Unbooked > 0 {
		say("unbooked", r.Item+": more was used than the book ever had, by "+unit.PiecesText(r.Unbooked)+". Count the shelf.")
	}
	var past unit.Pieces
	for _, l := range r.Lots {
		if l.ExpiredOn(today) && !l.Held {
			past += l.Count
		}
	}
	if past > 0 {
		say("expired_on_shelf", r.Item+": "+unit.PiecesText(past)+" on the shelf are past their day. Take them out.")
	}
}

// expiring lists the lots of which something will be left on their last day,
// if the planned sessions take the first to expire first.
func expiring(it record.ShelfItem, item stock.Item, plan stock.Plan) []record.ShelfLot {
	left := slices.Clone(item.Lots)
	var list []record.ShelfLot
	gone := map[int]bool{}
	look := func(day unit.Date) {
		for i, l := range left {
			if !gone[i] && l.ExpiredOn(day) && l.Count > 0 && !l.Held {
				gone[i] = true
				one := it.Lots[i]
				one.Count = l.Count
				list = append(list, one)
			}
		}
	}
	look(plan.Today)
	for _, day := range plan.Sessions {
		look(day)
		if stock.Usable(left, day) >= item.PerSession {
			_, left, _ = stock.Take(left, item.PerSession, day)
		}
	}
	return list
}

// cyclesPerWeek is how many disinfections the last four weeks had, and one for
// each session where nothing is known.
func cyclesPerWeek(h *record.Household, now time.Time) float64 {
	const weeks = 4
	from := now.AddDate(0, 0, -7*weeks)
	n := 0
	for _, m := range h.People {
		for i := len(m.Sessions) - 1; i >= 0; i-- {
			s := m.Sessions[i]
			_, at := s.Opened()
			if at.Before(from) {
				break
			}
			if !s.AtHome() || at.After(now) {
				continue
			}
			session.Each(s, func(*session.Disinfection, *session.Event) { n++ })
		}
	}
	if n == 0 {
		return sessionsPerWeek(h, unit.DateOf(now))
	}
	return min(float64(n)/weeks, 28)
}

// deliveryDays are the days on which a delivery can come, from today on: the
// regular ones as single entries move, add or take out.
func deliveryDays(h *record.Household, s *record.Supplier, today unit.Date) []unit.Date {
	last := today.Add(7 * (planWeeks + 6))
	first := s.FirstOn
	if behind := today.Sub(first); behind > 0 {
		first = first.Add((behind + s.EveryDays - 1) / s.EveryDays * s.EveryDays)
	}
	for d := first.Add(-s.EveryDays); !d.Before(today); d = d.Add(-s.EveryDays) {
		first = d
	}
	var days []unit.Date
	for d := first; !last.Before(d); d = d.Add(s.EveryDays) {
		days = append(days, d)
	}
	for _, p := range h.Upkeep.Planned {
		if p.Struck != nil {
			continue
		}
		out := p.Value.InsteadOf
		if p.Value.Cancelled {
			out = p.Value.On
		}
		days = slices.DeleteFunc(days, func(d unit.Date) bool { return d == out })
		if !p.Value.Cancelled && !p.Value.On.Before(today) && !slices.Contains(days, p.Value.On) {
			days = append(days, p.Value.On)
		}
	}
	slices.SortFunc(days, unit.Date.Sub)
	return days
}

// waitDays is how long after its day an order is still reckoned with, as coming
// tomorrow; after that it is not counted on. Ours.
const waitDays = 7

// awaited lists the orders that no delivery has answered.
func awaited(h *record.Household, today unit.Date) []Awaited {
	var list []Awaited
	for _, o := range h.Upkeep.Orders {
		if o.Struck != nil || answered(h, o.ID) {
			continue
		}
		a := Awaited{Dated: o, Expected: o.Value.For}
		for _, p := range h.Upkeep.Planned {
			if p.Struck == nil && p.Value.InsteadOf == a.Expected {
				a.Expected = p.Value.On
			}
		}
		if a.Expected.Before(today) {
			a.Late = true
			if today.Sub(a.Expected) <= waitDays {
				a.Expected = today.Add(1)
			} else {
				a.Expected = unit.Date{}
			}
		}
		list = append(list, a)
	}
	return list
}

func answered(h *record.Household, order string) bool {
	return slices.ContainsFunc(h.Upkeep.Deliveries, func(d record.Dated[record.Delivery]) bool { return d.Struck == nil && h.Newest(d.Value.Order) == order })
}
