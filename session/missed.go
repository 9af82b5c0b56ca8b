package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// An Order gives the version of the prescription in force on a day, nil where
// there is none.
type Order func(day unit.Date) *Prescription

// A Start is when a session took place: the day it counts for, and the moment
// its treatment began. For one that is being set up it is the moment it was
// opened.
type Start struct {
	Night unit.Date
	Began time.Time
}

// StartOf gives when a session took place, or was opened.
func StartOf(s *Session) Start {
	_, at := s.Opened()
	if began, ok := s.Began(); ok {
		at = began
	}
	return Start{Night: Night(s), Began: at}
}

// DayCodes are the days of the week as a prescription names them, Sunday first.
func DayCodes() [7]string { return weekdayCodes }

var weekdayCodes = [...]string{
	time.Sunday: "sun", time.Monday: "mon", time.Tuesday: "tue", time.Wednesday: "wed", time.Thursday: "thu", time.Friday: "fri", time.Saturday: "sat",
}

// OnDay reports whether a prescription by days of the week orders a session on
// a day.
func (rx *Prescription) OnDay(day unit.Date) bool {
	return rx != nil && slices.Contains(rx.Days, weekdayCodes[day.Weekday()])
}

// every is the time from start to start where that is what was ordered, else 0.
func (rx *Prescription) every() time.Duration {
	if rx == nil {
		return 0
	}
	return time.Duration(rx.EveryHours) * time.Hour
}

// early is how much sooner than ordered a session by hours may begin and still
// count for its turn: an eighth of the interval, six hours at most. Setting up
// is opened before the treatment begins, and people do not keep to the minute.
// Ours.
func early(every time.Duration) time.Duration { return min(every/8, 6*time.Hour) }

// Turns is how many sessions an order by hours has asked for so long after the
// last one began:
//
//	⌊(since + slack) / every⌋, not below 0
//
// A positive slack counts a turn that has almost come, a negative one only a
// turn that is so long past.
func Turns(since, slack, every time.Duration) int {
	if every <= 0 {
		return 0
	}
	return max(int((since+slack)/every), 0)
}

// MissedBefore is how many sessions the order asked for between the last of the
// earlier ones, given in order, and this one, and that did not take place.
//
//	by days:  the days ordered after the night of the last one and before the
//	          night of this one, without those that were moved, see [Order.MissedDays]
//	by hours: ⌊(this one opened − last one began + slack) / every⌋ − 1, not below 0,
//	          the slack an eighth of the interval and six hours at most (ours)
//
// The session in hand is never among them. It goes by the order in force on its
// own night; days are looked at by the version of each day. With no earlier
// session none is missed. Every 48 h with six days between two starts is 2.
func (o Order) MissedBefore(earlier []Start, this Start) int {
	if len(earlier) == 0 {
		return 0
	}
	last := earlier[len(earlier)-1]
	if every := o(this.Night).every(); every > 0 {
		return max(Turns(this.Began.Sub(last.Began), early(every), every)-1, 0)
	}
	return o.missedAfter(last.Night, append(slices.Clone(earlier), this), this.Night)
}

// MissedUntil is how many days of an order by days went by without a session since
// the last of those held, given in order, and before a day on which none is in hand.
// It is the rule of [Order.MissedBefore]: a session that was held on the day before
// or after instead was moved.
func (o Order) MissedUntil(held []Start, until unit.Date) int {
	if len(held) == 0 {
		return 0
	}
	return o.missedAfter(held[len(held)-1].Night, held, until)
}

// missedAfter counts the days missed after one night and before another.
func (o Order) missedAfter(last unit.Date, held []Start, until unit.Date) int {
	n := 0
	for _, day := range o.daysMissed(held, held[0].Night, until) {
		if last.Before(day) {
			n++
		}
	}
	return n
}

// farthest is how many days are walked through: nobody counts further.
const farthest = 800

// daysMissed lists the days strictly between two that were ordered as days of
// the week and on which no session took place. One that was held a day later or
// a day earlier, on a day that was not ordered, was moved and not missed.
func (o Order) daysMissed(held []Start, from, to unit.Date) []unit.Date {
	if to.Sub(from) > farthest {
		from = to.Add(-farthest)
	}
	on, spare := map[unit.Date]bool{}, map[unit.Date]bool{}
	for _, h := range held {
		on[h.Night] = true
		if !o(h.Night).OnDay(h.Night) && !h.Night.Before(from) && !to.Before(h.Night) {
			spare[h.Night] = true
		}
	}
	var missed []unit.Date
	for day := from.Add(1); day.Before(to); day = day.Add(1) {
		switch {
		case on[day] || !o(day).OnDay(day):
		case spare[day.Add(1)]:
			delete(spare, day.Add(1))
		case spare[day.Add(-1)]:
			delete(spare, day.Add(-1))
		default:
			missed = append(missed, day)
		}
	}
	return missed
}

// MissedDays lists the days strictly between two on which the order asked for a
// session that did not take place, for orders by days and by hours alike, in
// order. The sessions held are given in order. By hours they are the turns that
// came after each session and before the next one's own, by the order in force
// on the night of the session that they follow.
func (o Order) MissedDays(held []Start, from, to unit.Date) []unit.Date {
	missed := o.daysMissed(held, from, to)
	for i, h := range held {
		every := o(h.Night).every()
		if every == 0 {
			continue
		}
		n := farthest
		if i+1 < len(held) {
			n = Turns(held[i+1].Began.Sub(h.Began), early(every), every) - 1
		}
		for k := 1; k <= n; k++ {
			day := unit.DateOf(h.Began.Add(time.Duration(k) * every))
			if !day.Before(to) || o(day).every() == 0 {
				break
			}
			if from.Before(day) {
				missed = append(missed, day)
			}
		}
	}
	slices.SortStableFunc(missed, unit.Date.Sub)
	return missed
}
