package record

import (
	"fmt"
	"strings"
	"time"
)

// ReadClock turns a typed clock time into a moment. day is YYYY-MM-DD or blank
// for the latest such time not after now. A time that the clocks skipped that
// night is refused; one that came twice needs which to say "first" or
// "second". The second result is what stands against it, or empty.
func ReadClock(day, clock, which string, now time.Time) (time.Time, string) {
	hm, err := time.Parse("15:04", strings.Replace(strings.TrimSpace(clock), ".", ":", 1))
	if err != nil {
		return time.Time{}, quote(clock) + " is not a time of day; needs hours and minutes, such as 05:30"
	}
	// Days are counted in UTC: not every zone has a midnight every day.
	date := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC)
	if day != "" {
		if date, err = time.Parse(time.DateOnly, day); err != nil {
			return time.Time{}, quote(day) + " is not a day; needs year-month-day"
		}
	}
	for back := range 2 {
		d := date.AddDate(0, 0, -back)
		found := Moments(d.Year(), d.Month(), d.Day(), hm.Hour(), hm.Minute(), now.Location())
		switch {
		case len(found) == 0:
			return time.Time{}, fmt.Sprintf("%s did not come on %s: the clocks went forward over it", clock, d.Format("2 January"))
		case len(found) == 2 && which == "":
			return time.Time{}, fmt.Sprintf("%s came twice on %s: choose the first or the second", clock, d.Format("2 January"))
		case len(found) == 2 && which == "second":
			found[0] = found[1]
		}
		if day != "" || !found[0].After(now.Add(early)) {
			return found[0], ""
		}
		if len(found) == 2 {
			return time.Time{}, fmt.Sprintf("the %s %s has not come yet", which, clock) // not yesterday’s: it was said which
		}
	}
	return time.Time{}, quote(clock) + " has not come yet"
}

// Moments returns the instants at which a clock on the wall showed this time:
// none when the clocks went forward over it, two when they went back over it,
// in the order they came.
func Moments(year int, month time.Month, day, hour, minute int, zone *time.Location) []time.Time {
	guess := time.Date(year, month, day, hour, minute, 0, 0, zone)
	var found []time.Time
	// Every change of the clocks known to the zone table is of less than three
	// hours; stepping through the offsets around the guess finds all readings.
	seen := map[int]bool{}
	for _, near := range []time.Duration{-3 * time.Hour, 0, 3 * time.Hour} {
		_, offset := guess.Add(near).Zone()
		if seen[offset] {
			continue
		}
		seen[offset] = true
		t := time.Date(year, month, day, hour, minute, 0, 0, time.UTC).Add(-time.Duration(offset) * time.Second).In(zone)
		if t.Hour() == hour && t.Minute() == minute && t.Day() == day {
			found = append(found, t)
		}
	}
	if len(found) == 2 && found[1].Before(found[0]) {
		found[0], found[1] = found[1], found[0]
	}
	return found
}
