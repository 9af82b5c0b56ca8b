package stock

import (
	"fmt"
	"slices"

	"ebbline/unit"
)

// DefaultReserve is the reserve in sessions when the unit sets none: two weeks
// at three sessions a week. Source: advice to keep at least two weeks of
// supplies in date (a supplier's and kidney organisations' emergency
// planning), of low grade.
const DefaultReserve = 6

// A Plan is what an order is reckoned from.
type Plan struct {
	Today      unit.Date
	Sessions   []unit.Date // all that are planned, from today on
	Deliveries []unit.Date // days on which deliveries can come; those gone by are passed over
	LeadDays   int         // an order for a delivery must be sent this many days before it, or earlier
	Reserve    int         // sessions that the shelf should always still serve
}

// An Order is what to send for one item.
type Order struct {
	Item      string
	UnderFrom unit.Date   // first day that ends with less than the reserve; zero: none in the plan, and no order
	By        unit.Date   // last day to send it; zero when there is no order
	For       unit.Date   // the delivery it is for
	Until     unit.Date   // the delivery after it, or else the day after the last session or For, whichever is later: up to its morning the order must last
	Wanted    unit.Pieces // before rounding up to packs
	Packs     int
	Short     bool      // the shelf goes under the reserve before the delivery comes
	RunsOut   bool      // or cannot serve a session before it
	MissedBy  unit.Date // when it should have been sent for a delivery in time; zero: not too late
	Cautions  []unit.Caution
}

// Order says what to order, for which delivery, and by when:
//
//   - A day is under the reserve when the pieces in date and not held at its
//     end are fewer than Reserve × PerSession. UnderFrom is the first such day,
//     from the last arrival already on its way on.
//   - The order is for the last delivery on or before that day, because a
//     delivery comes before its day's session. By is that day less LeadDays.
//   - When that delivery can no longer be ordered (its By lies before today),
//     or none comes in time, the order is for the next that can, and a caution
//     says what happens until then.
//   - Packs is the fewest whole packs with which every session from that
//     delivery up to the one after it is served and the reserve is whole on
//     the morning of the one after, reckoned with the lots that are then still
//     in date. After the last delivery of the plan, up to the end of the day
//     of the last session. What is ordered is taken to outlast the plan.
//
// Deliveries before an arrival that is already ordered are passed over. Input
// outside [Item.Forecast]'s, a lead outside 0 to 365 days or a reserve outside
// 0 to 1000 sessions is an [*unit.InputError].
func (it Item) Order(p Plan) (Order, error) {
	f, err := it.Forecast(p.Today, p.Sessions)
	if err != nil {
		return Order{}, err
	}
	switch {
	case p.LeadDays < 0 || p.LeadDays > 365:
		return Order{}, unit.Refuse("order_lead_days", p.LeadDays, "days from 0 to 365")
	case p.Reserve < 0 || p.Reserve > 1000:
		return Order{}, unit.Refuse("reserve_sessions", p.Reserve, "sessions from 0 to 1000")
	}
	p.Sessions, _ = inOrder(p.Today, p.Sessions)
	o := Order{Item: it.Name}
	reserve := unit.Pieces(p.Reserve) * it.PerSession
	from := p.Today
	for _, a := range it.Arriving {
		if from.Before(a.On) {
			from = a.On
		}
	}
	under := slices.IndexFunc(f.Days, func(d Day) bool { return !d.Date.Before(from) && d.Usable < reserve })
	if p.Reserve == 0 { // no reserve: the first session that cannot be served
		under = slices.IndexFunc(f.Days, func(d Day) bool { return !d.Date.Before(from) && d.Served < d.Sessions })
	}
	if under < 0 {
		return o, nil
	}
	o.UnderFrom = f.Days[under].Date
	it.choose(&o, p, from)
	if o.For.IsZero() {
		o.caution("no_delivery", "%s falls under the reserve on %s and no delivery in the plan can still be ordered: ring the supplier.", it.Name, o.UnderFrom.Long())
		return o, nil
	}
	it.fill(&o, p, reserve)
	if o.Packs == 0 { // no reserve is kept and no session comes after the delivery
		o.caution("no_delivery", "%s runs out on %s and no delivery comes before the last planned session.", it.Name, f.RunsOut.Long())
		o.By, o.For, o.Until = unit.Date{}, unit.Date{}, unit.Date{}
		return o, nil
	}
	o.Short = o.UnderFrom.Before(o.For)
	o.RunsOut = !f.RunsOut.IsZero() && f.RunsOut.Before(o.For)
	if o.RunsOut {
		o.caution("runs_out_first", "%s runs out on %s, before the delivery of %s: ring the supplier and the unit.", it.Name, f.RunsOut.Long(), o.For.Long())
	} else if o.Short {
		o.caution("reserve_short_first", "%s is under the reserve from %s until the delivery of %s.", it.Name, o.UnderFrom.Long(), o.For.Long())
	}
	return o, nil
}

// choose finds the delivery: the last in time that can still be ordered, or
// else the first of all that can.
func (it Item) choose(o *Order, p Plan, from unit.Date) {
	days := slices.Clone(p.Deliveries)
	slices.SortFunc(days, unit.Date.Sub)
	days = slices.Compact(days)
	for i, d := range days {
		if d.Before(p.Today) || len(it.Arriving) > 0 && !from.Before(d) {
			continue
		}
		inTime := !o.UnderFrom.Before(d)
		by := d.Add(-p.LeadDays)
		if by.Before(p.Today) {
			if inTime {
				o.MissedBy = by
			}
			continue
		}
		if inTime || o.For.IsZero() {
			o.For, o.By, o.MissedBy = d, by, later(o.MissedBy, inTime)
			o.Until = p.Sessions[len(p.Sessions)-1].Add(1)
			if i+1 < len(days) {
				o.Until = days[i+1]
			} else if o.Until.Before(d) {
				o.Until = d // what expires before it comes is no reserve on that day
			}
		}
	}
	if !o.MissedBy.IsZero() {
		o.caution("order_day_passed", "%s should have been ordered by %s for the delivery before it falls under the reserve.", it.Name, o.MissedBy.Long())
	}
}

// later forgets a missed day once a delivery in time can still be had.
func later(missed unit.Date, inTime bool) unit.Date {
	if inTime {
		return unit.Date{}
	}
	return missed
}

// fill counts the packs.
func (it Item) fill(o *Order, p Plan, reserve unit.Pieces) {
	last := p.Sessions[len(p.Sessions)-1]
	if last.Add(1).Before(o.Until) {
		o.caution("plan_ends_first", "The plan ends on %s, before the delivery of %s: sessions in between are not counted for %s.", last.Long(), o.Until.Long(), it.Name)
	}
	lots := slices.Clone(it.Lots)
	coming := slices.Clone(it.Arriving) // all of it before this delivery
	for _, s := range p.Sessions {
		coming = slices.DeleteFunc(coming, func(a Arrival) bool {
			if s.Before(a.On) {
				return false
			}
			lots = append(lots, a.Lot)
			return true
		})
		switch {
		case !s.Before(o.Until):
		case !s.Before(o.For): // what is wanting comes from the order
			o.Wanted += take(lots, it.PerSession, s, nil)
		case Usable(lots, s) >= it.PerSession:
			take(lots, it.PerSession, s, nil)
		}
	}
	for _, a := range coming {
		lots = append(lots, a.Lot)
	}
	o.Wanted += max(0, reserve-Usable(lots, o.Until))
	o.Packs = int((o.Wanted + it.Pack - 1) / it.Pack)
}

func (o *Order) caution(code, format string, args ...any) {
	o.Cautions = append(o.Cautions, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
}

// Scarcest gives the place of the forecast with the fewest sessions left; of
// several, the first given. It is -1 for an empty list.
func Scarcest(all []Forecast) int {
	at := -1
	for i, f := range all {
		if at < 0 || f.SessionsLeft < all[at].SessionsLeft {
			at = i
		}
	}
	return at
}
