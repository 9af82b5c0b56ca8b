package record

import (
	"cmp"
	"slices"
	"sort"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// A Meter gives how many sessions were held at home, and how many hours and
// litres machine and plant have run, up to any moment.
//
// Hours and litres are those of the counters that were read; after the last
// reading, the treated hours and the dialysate of the sessions since are added,
// which is the least that has run. A counter that begins again at less than
// before was changed: it goes on from where the old one ended.
type Meter struct {
	sessions []time.Time // their ends
	run      []running
	read     []CounterReading
}

// running is what one session ran at the least.
type running struct {
	at            time.Time
	hours, litres float64
}

// Meter gathers the counts of all that was held and read in the household.
func (h *Household) Meter() *Meter {
	c := &Meter{read: h.Upkeep.CounterReadings()}
	for _, m := range h.People {
		for _, s := range m.Sessions {
			ended, over := s.Ended()
			if !s.AtHome() || !s.Treated() || !over {
				continue
			}
			c.sessions = append(c.sessions, ended)
			one := running{at: ended, hours: session.TreatedFor(s, ended).Hours()}
			if s.Rx != nil && s.Rx.DialFlow != nil {
				one.litres = one.hours * 60 * s.Rx.DialFlow.Float() / 1000
			}
			c.run = append(c.run, one)
		}
	}
	slices.SortFunc(c.sessions, time.Time.Compare)
	slices.SortStableFunc(c.run, func(a, b running) int { return cmp.Compare(a.at.UnixNano(), b.at.UnixNano()) })
	return c
}

// At gives the counts at a moment.
func (c *Meter) At(t time.Time) water.Counts {
	n := sort.Search(len(c.sessions), func(i int) bool { return c.sessions[i].After(t) })
	counts := water.Counts{On: unit.DateOf(t), Sessions: n}
	counts.Hours = c.counter(t, func(r CounterReading) (float64, bool) {
		if r.Hours == nil {
			return 0, false
		}
		return r.Hours.Float(), true
	}, func(r running) float64 { return r.hours })
	counts.Litres = c.counter(t, func(r CounterReading) (float64, bool) {
		if r.Litres == nil {
			return 0, false
		}
		return r.Litres.Float(), true
	}, func(r running) float64 { return r.litres })
	return counts
}

// counter goes through readings and sessions in order of time. What was computed
// between two readings gives way to the later one, but never runs backwards.
func (c *Meter) counter(t time.Time, read func(CounterReading) (float64, bool), ran func(running) float64) float64 {
	var total, base, shown float64 // total = base + what was computed since the last reading
	have := false
	i := 0
	until := func(to time.Time) {
		for ; i < len(c.run) && !c.run[i].at.After(to); i++ {
			total += ran(c.run[i])
		}
	}
	for _, r := range c.read {
		v, ok := read(r)
		if !ok || r.At.After(t) {
			continue
		}
		until(r.At)
		switch {
		case !have: // what ran before the first reading is in it, as far as anybody knows
			have, base = true, total
		case v >= shown:
			base += v - shown
		default: // another counter
			base = max(total, base)
		}
		shown = v
		total = max(total, base)
		base = total
	}
	until(t)
	return total
}

// Pace is what a usual week of the last two months brought; prescribed, when
// it is not 0, is how many sessions a week there are to be.
func (c *Meter) Pace(now time.Time, prescribed float64) water.Pace {
	const weeks = 8
	then, today := c.At(now.AddDate(0, 0, -7*weeks)), c.At(now)
	p := water.Pace{Sessions: prescribed, Hours: (today.Hours - then.Hours) / weeks, Litres: (today.Litres - then.Litres) / weeks}
	if p.Sessions == 0 {
		p.Sessions = float64(today.Sessions-then.Sessions) / weeks
	}
	return p
}
