package unit

import (
	"fmt"
	"time"
)

// A Date is a day of the calendar, without a clock or a zone: a dry weight is
// set on a date, a lot expires on one. The zero Date means "not given".
type Date struct{ days int32 } // days since 1970-01-01, plus one so that zero is "not given"

const day = 24 * time.Hour

// DateOf gives the calendar day of an instant as its own zone shows it.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return NewDate(y, m, d)
}

// NewDate makes a date; days past the end of a month run on into the next, as
// in [time.Date].
func NewDate(year int, month time.Month, d int) Date {
	return Date{int32(time.Date(year, month, d, 0, 0, 0, 0, time.UTC).Unix()/int64(day/time.Second)) + 1}
}

// ParseDate reads YYYY-MM-DD, and YYYY-MM for the last day of that month, as
// labels print an expiry. Every other form is refused, because 03/04/27 is
// two different days.
func ParseDate(s string) (Date, error) {
	if t, err := time.Parse(time.DateOnly, s); err == nil && t.Year() >= 1900 && t.Year() <= 2200 {
		return DateOf(t), nil
	}
	if t, err := time.Parse("2006-01", s); err == nil && t.Year() >= 1900 && t.Year() <= 2200 {
		return DateOf(t.AddDate(0, 1, -1)), nil
	}
	return Date{}, Refuse("", s, "a date as year-month-day, such as 2026-03-01")
}

// IsZero reports whether no date was given.
func (d Date) IsZero() bool { return d.days == 0 }

// Time gives the first instant of the day in a zone.
func (d Date) Time(zone *time.Location) time.Time {
	y, m, dd := d.utc().Date()
	return time.Date(y, m, dd, 0, 0, 0, 0, zone)
}

func (d Date) utc() time.Time { return time.Unix(int64(d.days-1)*int64(day/time.Second), 0).UTC() }

// String writes YYYY-MM-DD; a date that was not given is empty.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return d.utc().Format(time.DateOnly)
}

// Long writes the date as people say it, "3 March 2026".
func (d Date) Long() string {
	if d.IsZero() {
		return ""
	}
	return d.utc().Format("2 January 2006")
}

// Before reports whether d is an earlier day than e.
func (d Date) Before(e Date) bool { return d.days < e.days }

// Sub gives the days from e to d.
func (d Date) Sub(e Date) int { return int(d.days - e.days) }

// Add gives the date n days later.
func (d Date) Add(n int) Date { return Date{d.days + int32(n)} }

// Weekday gives the day of the week.
func (d Date) Weekday() time.Weekday { return d.utc().Weekday() }

// MarshalText writes YYYY-MM-DD.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads as [ParseDate]; empty text is "not given".
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = Date{}
		return nil
	}
	v, err := ParseDate(string(b))
	if err != nil {
		return err
	}
	*d = v
	return nil
}

// GoString helps a failing test say which day it is.
func (d Date) GoString() string { return fmt.Sprintf("unit.Date(%s)", d) }
