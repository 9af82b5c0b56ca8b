package stock

import (
	"slices"
	"strings"

	"ebbline/unit"
)

// An Item is one kind of thing on the shelf.
type Item struct {
	Name       string
	Lots       []Lot
	Arriving   []Arrival   // ordered, not yet on the shelf
	PerSession unit.Pieces // used by each session, above 0; see [Use.PerSession]
	Pack       unit.Pieces // pieces in the pack that it is ordered by, above 0
}

// An Arrival is a delivery that has been ordered, on the day it is expected.
// It can be used by a session on that day.
type Arrival struct {
	On  unit.Date
	Lot Lot
}

// A Day is the shelf of one item at the end of one day.
type Day struct {
	Date     unit.Date
	Usable   unit.Pieces // in date on that day and not held, after its sessions
	Expired  unit.Pieces // whose last day was the day before, or earlier for the first day
	Arrived  unit.Pieces
	Sessions int // planned on that day
	Served   int // of these, with enough on the shelf
}

// A Forecast says how far the shelf reaches over the planned sessions.
type Forecast struct {
	SessionsLeft int         // planned sessions in a row, from today, that the shelf serves
	RunsOut      unit.Date   // day of the first session it cannot serve; zero: it serves all
	Wasted       unit.Pieces // that expire unused, up to and including the last planned day; what had expired before today counts
	Used         unit.Pieces
	Left         unit.Pieces // neither used nor wasted, held lots among them
	Days         []Day       // today, the days with sessions or arrivals, the days after a lot's last; in order
}

// Forecast goes day by day over the planned sessions. Each session takes
// PerSession pieces, first expired first out, or nothing when there are not
// enough; arrivals come before that day's sessions.
//
// SessionsLeft counts planned sessions only: a shelf that serves them all
// gives their number, however much is left. Sessions may stand in any order
// and two on one day; all must lie on or after today, as must arrivals, and
// there must be at least one session. Otherwise the error is an
// [*unit.InputError].
func (it Item) Forecast(today unit.Date, sessions []unit.Date) (Forecast, error) {
	if err := it.check(); err != nil {
		return Forecast{}, err
	}
	plan, err := inOrder(today, sessions)
	if err != nil {
		return Forecast{}, err
	}
	for _, a := range it.Arriving {
		if a.On.Before(today) {
			return Forecast{}, unit.Refuse("arriving", a.On, "the day on which it is now expected, not one gone by")
		}
	}
	return it.forecast(today, plan), nil
}

// forecast is [Item.Forecast] on checked input, the sessions in order.
func (it Item) forecast(today unit.Date, sessions []unit.Date) Forecast {
	lots := slices.Clone(it.Lots)
	arrivals := slices.Clone(it.Arriving)
	slices.SortStableFunc(arrivals, func(a, b Arrival) int { return a.On.Sub(b.On) })
	last := sessions[len(sessions)-1]

	var f Forecast
	failed := false
	next := 0 // arrival
	at := 0   // session
	for _, day := range it.daysToLook(today, sessions) {
		d := Day{Date: day}
		for ; next < len(arrivals) && !day.Before(arrivals[next].On); next++ {
			lots = append(lots, arrivals[next].Lot)
			d.Arrived += arrivals[next].Lot.Count
		}
		for i := range lots {
			if l := &lots[i]; !l.Held && l.ExpiredOn(day) {
				d.Expired += l.Count
				l.Count = 0
			}
		}
		f.Wasted += d.Expired
		for ; at < len(sessions) && sessions[at] == day; at++ {
			d.Sessions++
			if Usable(lots, day) < it.PerSession {
				if !failed {
					failed, f.RunsOut = true, day
				}
				continue
			}
			take(lots, it.PerSession, day, nil)
			f.Used += it.PerSession
			d.Served++
			if !failed {
				f.SessionsLeft++
			}
		}
		d.Usable = Usable(lots, day)
		f.Days = append(f.Days, d)
	}
	for _, l := range lots {
		if !l.Held && !l.Expires.IsZero() && !last.Before(l.Expires) {
			f.Wasted += l.Count // its last day is the last planned one: nothing comes that could use it
			continue
		}
		f.Left += l.Count
	}
	for ; next < len(arrivals); next++ {
		f.Left += arrivals[next].Lot.Count
	}
	return f
}

// daysToLook lists the days up to the last session on which the shelf changes.
func (it Item) daysToLook(today unit.Date, sessions []unit.Date) []unit.Date {
	last := sessions[len(sessions)-1]
	days := append([]unit.Date{today}, sessions...)
	add := func(d unit.Date) {
		if today.Before(d) && !last.Before(d) {
			days = append(days, d)
		}
	}
	for _, l := range it.Lots {
		if !l.Expires.IsZero() {
			add(l.Expires.Add(1))
		}
	}
	for _, a := range it.Arriving {
		add(a.On)
		if !a.Lot.Expires.IsZero() {
			add(a.Lot.Expires.Add(1))
		}
	}
	slices.SortFunc(days, unit.Date.Sub)
	return slices.Compact(days)
}

func (it Item) check() error {
	switch {
	case strings.TrimSpace(it.Name) == "":
		return unit.Refuse("item", `""`, "a name")
	case it.PerSession <= 0 || it.PerSession > maxCount:
		return unit.Refuse("per_session", it.PerSession, "a count above 0, up to 1000000")
	case it.Pack <= 0 || it.Pack > maxCount:
		return unit.Refuse("pack", it.Pack, "a count above 0, up to 1000000")
	}
	for _, l := range it.Lots {
		if l.Count < 0 || l.Count > maxCount {
			return unit.Refuse("count", l.Count, "a count from 0 to 1000000")
		}
	}
	for _, a := range it.Arriving {
		if a.Lot.Count < 0 || a.Lot.Count > maxCount {
			return unit.Refuse("arriving", a.Lot.Count, "a count from 0 to 1000000")
		}
	}
	return nil
}

// maxCount keeps sums of counts far inside int64.
const maxCount = 1_000_000 * unit.Piece

func inOrder(today unit.Date, sessions []unit.Date) ([]unit.Date, error) {
	if len(sessions) == 0 {
		return nil, unit.Refuse("session_dates", "[]", "at least one planned session")
	}
	plan := slices.Clone(sessions)
	slices.SortFunc(plan, unit.Date.Sub)
	if plan[0].Before(today) {
		return nil, unit.Refuse("session_dates", plan[0], "planned sessions from today on")
	}
	return plan, nil
}
