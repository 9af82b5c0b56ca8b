package chart

import "time"

// A tick is one labelled instant of a time axis. The second line carries what
// the first leaves open: the offset on a night the clocks change, the date or
// the year where a new one begins.
type tick struct {
	at           time.Time
	label, under string
}

// clockSteps are the distances of ticks within days, calendarSteps those of
// days, months and years.
var clockSteps = []time.Duration{
	5 * time.Minute, 10 * time.Minute, 15 * time.Minute, 30 * time.Minute,
	time.Hour, 2 * time.Hour, 3 * time.Hour, 6 * time.Hour,
}

var calendarSteps = []struct {
	n    int
	unit string
	days float64
}{
	{1, "day", 1}, {2, "day", 2}, {7, "day", 7}, {14, "day", 14},
	{1, "month", 30.4}, {2, "month", 60.8}, {3, "month", 91.3}, {6, "month", 182.6},
	{1, "year", 365.25}, {2, "year", 730.5}, {5, "year", 1826.25}, {10, "year", 3652.5}, {50, "year", 18262.5},
}

// ticks gives the labelled instants from one instant to a later one, at most
// about n of them, on round local times of the zone.
//
// Local time is taken piece by piece between changes of the clock. Ticks are
// placed on the round hours of each piece, so an autumn night has the hour
// that comes twice twice, each with its offset, and a spring night goes from
// 01:00 to 03:00 in one hour's distance.
func ticks(from, to time.Time, n int, zone *time.Location) []tick {
	span := to.Sub(from)
	if span <= 0 || n < 1 {
		return nil
	}
	for _, step := range clockSteps {
		if span/step < time.Duration(n) {
			return clockTicks(from, to, step, zone)
		}
	}
	for _, step := range calendarSteps {
		if span.Hours()/24/step.days < float64(n) {
			return calendarTicks(from, to, step.n, step.unit, zone)
		}
	}
	return calendarTicks(from, to, 100, "year", zone)
}

// changes reports whether the offset of the zone is not the same all the way.
func changes(from, to time.Time, zone *time.Location) bool {
	_, end := from.In(zone).ZoneBounds()
	return !end.IsZero() && end.Before(to)
}

func clockTicks(from, to time.Time, step time.Duration, zone *time.Location) []tick {
	var out []tick
	offsets := changes(from, to, zone)
	every := int64(step / time.Second)
	for at := from; !at.After(to); {
		_, offset := at.In(zone).Zone()
		_, end := at.In(zone).ZoneBounds()
		local := at.Unix() + int64(offset)
		for local += (every - local%every) % every; ; local += every {
			t := time.Unix(local-int64(offset), 0).In(zone)
			if t.After(to) || (!end.IsZero() && !t.Before(end)) {
				break
			}
			if t.Before(from) { // a fraction of a second was dropped
				continue
			}
			k := tick{at: t, label: t.Format("15:04")}
			switch {
			case offsets:
				k.under = t.Format("-07:00")
			case local%86400 == 0:
				k.under = t.Format("2 Jan")
			}
			out = append(out, k)
		}
		if end.IsZero() {
			break
		}
		at = end
	}
	return out
}

func calendarTicks(from, to time.Time, n int, unit string, zone *time.Location) []tick {
	var out []tick
	y, m, d := from.In(zone).Date()
	year := 0
	for {
		var t time.Time
		on := false
		switch unit {
		case "day":
			t = time.Date(y, m, d, 0, 0, 0, 0, zone)
			days := time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400
			on = (days+3)%int64(n) == 0 // day 4 of the epoch was a Monday
			d++
		case "month":
			t = time.Date(y, m, 1, 0, 0, 0, 0, zone)
			on = int(t.Month()-1)%n == 0
			m++
		case "year":
			t = time.Date(y, 1, 1, 0, 0, 0, 0, zone)
			on = y%n == 0
			y++
		}
		if t.After(to) {
			return out
		}
		if !on || t.Before(from) {
			continue
		}
		k := tick{at: t}
		switch unit {
		case "day":
			k.label = t.Format("2 Jan")
		case "month":
			k.label = t.Format("Jan")
		case "year":
			k.label = t.Format("2006")
		}
		if unit != "year" && t.Year() != year {
			year = t.Year()
			k.under = t.Format("2006")
		}
		out = append(out, k)
	}
}
