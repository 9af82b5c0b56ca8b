package session

import (
	"slices"
	"strconv"
	"time"

	"ebbline/unit"
)

// A Gap is the time without treatment up to a moment, against what was ordered.
// The zero value is one with no session before it.
type Gap struct {
	Last    time.Time     // end of the last treatment; its beginning where no end is written
	Began   bool          // Last is that beginning
	Since   time.Duration // elapsed since Last
	Missed  int           // sessions ordered since then that did not take place
	Longest time.Duration // the longest gap that the order itself leaves; 0 where there is no order
	PerWeek float64       // sessions that the order asks for in a week

	Ran, Planned unit.Minutes // the last session, where its end is written; else 0

	RemovedAt time.Time // end of one that only removed fluid since; zero for none
}

// Bounds of a gap. All ours, after what is known of the days after a missed
// session: 51.9 deaths in 100 patient-years in the next 48 to 72 hours against
// 4.86 after one that was held (BMC Nephrol 2020, doi 10.1186/s12882-020-01874-x),
// and 22.1 against 18.0 on the day after the long gap of three a week (Foley RN et
// al., N Engl J Med 2011;365:1099–107).
const (
	GapBeyond    = 12 * time.Hour // look: so long beyond the longest gap of the order
	GapStop      = 96 * time.Hour // stop: since the last end
	GapStopDaily = 72 * time.Hour // the same where five or more a week are ordered
	MissedStop   = 2              // sessions missed in a row

	oftenPerWeek = 5
)

// LongestGap is the longest time that an order leaves between the end of one
// session and the start of the next:
//
//	by days:  most days between two ordered days × 24 h − length
//	by hours: hours from start to start − length
//
// The week goes round: Monday, Wednesday and Friday leave three days from Friday
// on, one day a week leaves seven. A length that is not known counts as 0.
// 0 is returned for no order.
func (rx *Prescription) LongestGap() time.Duration {
	length := time.Duration(0)
	if m, _, err := rx.SessionLength(); err == nil {
		length = time.Duration(m) * time.Minute
	}
	if every := rx.every(); every > 0 {
		return max(every-length, 0)
	}
	most, first, last := 0, -1, -1
	for i, code := range weekdayCodes {
		if !slices.Contains(rx.Days, code) {
			continue
		}
		if first < 0 {
			first = i
		} else {
			most = max(most, i-last)
		}
		last = i
	}
	if first < 0 {
		return 0
	}
	most = max(most, first+7-last)
	return max(time.Duration(most)*24*time.Hour-length, 0)
}

// PerWeek is how many sessions a prescription asks for in a week: 3.5 for every
// 48 hours.
func (rx *Prescription) PerWeek() float64 {
	if rx.EveryHours > 0 {
		return 168 / float64(rx.EveryHours)
	}
	return float64(len(rx.Days))
}

// GapOf is the time without treatment up to a moment.
func GapOf(h History, rx *Prescription, at time.Time) Gap {
	if h.Treated == 0 || h.LastBegan.IsZero() {
		return Gap{}
	}
	g := Gap{Last: h.LastEnd, Missed: h.Missed, Ran: h.LastRan, Planned: h.LastPlanned, RemovedAt: h.RemovedAt}
	if g.Last.Before(h.LastBegan) { // not written, or a slip
		g.Last, g.Began = h.LastBegan, true
	}
	g.Since = max(at.Sub(g.Last), 0)
	if rx != nil {
		g.Longest, g.PerWeek = rx.LongestGap(), rx.PerWeek()
	}
	return g
}

// First reports whether there is no session before.
func (g Gap) First() bool { return g.Last.IsZero() }

// StopFrom is from when a gap stops: 96 hours, 72 where five or more sessions a
// week are ordered. An order that itself leaves as long stops 12 hours beyond it.
func (g Gap) StopFrom() time.Duration {
	from := GapStop
	if g.PerWeek >= oftenPerWeek {
		from = GapStopDaily
	}
	if g.Longest >= from {
		from = g.Longest + GapBeyond
	}
	return from
}

// Short reports whether the last session ran less than half of what was planned.
func (g Gap) Short() bool { return g.Planned > 0 && 2*g.Ran <= g.Planned }

// Hours is the time since the last session in whole hours, rounded down. Less than
// an hour from where it is looked at or stops the minutes stand beside them, so
// that the words never lie on the other side of a bound than the decision.
func (g Gap) Hours() string {
	for _, bound := range []time.Duration{g.Longest + GapBeyond, g.StopFrom()} {
		if (g.Since - bound).Abs() < time.Hour {
			return wholeHours(g.Since)
		}
	}
	return strconv.Itoa(int(g.Since/time.Hour)) + "\u00a0h"
}

// Words says how long it is since the last session and how many were missed,
// without a point; "no session before this one is written down" for the first.
func (g Gap) Words() string {
	switch {
	case g.First():
		return worded("gap_none")
	case !g.RemovedAt.IsZero() && g.Began:
		return worded("gap_since_dialysis_began", g.Hours(), g.missed())
	case !g.RemovedAt.IsZero():
		return worded("gap_since_dialysis", g.Hours(), g.missed())
	case g.Began:
		return worded("gap_since_began", g.Hours(), g.missed())
	}
	return worded("gap_since", g.Hours(), g.missed())
}

// label is what the gap counts from, as a line of the plan names it: the last dialysis
// where fluid alone was removed since.
func (g Gap) label() string {
	what, how := "session", "ended"
	if !g.RemovedAt.IsZero() {
		what = "dialysis"
	}
	if g.Began {
		how = "began"
	}
	return "Since the last " + what + " " + how
}

func (g Gap) missed() string {
	switch g.Missed {
	case 0:
		return "none missed"
	case 1:
		return "1 session missed"
	}
	return strconv.Itoa(g.Missed) + " sessions missed"
}

// Said is what the gap by itself comes to, as the start line says it; it has no
// title.
func (g Gap) Said() Check {
	var v verdict
	g.find(&v)
	return v.check(CheckGap, "")
}
