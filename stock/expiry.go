package stock

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"ebbline/unit"
)

// ExpiryOf makes a lot's last day from the three fields of a form. Day 0 means
// the label prints none: the last day of the month. The year has four digits,
// from 2000 to 2099; a day that the month does not have is refused.
func ExpiryOf(year, month, day int) (unit.Date, error) {
	switch {
	case year < 2000 || year > 2099:
		return unit.Date{}, unit.Refuse("expires", year, "a year with four digits, 2000 to 2099")
	case month < 1 || month > 12:
		return unit.Date{}, unit.Refuse("expires", month, "a month from 1 to 12")
	}
	last := unit.NewDate(year, time.Month(month)+1, 0)
	if day == 0 {
		return last, nil
	}
	d := unit.NewDate(year, time.Month(month), day)
	if day < 0 || last.Before(d) {
		return unit.Date{}, unit.Refuse("expires", day, fmt.Sprintf("a day of that month, 1 to %s, or none for its end", last.String()[8:]))
	}
	return d, nil
}

var (
	yearFirst  = regexp.MustCompile(`^(\d{4})[-/. ](\d{1,2}|\pL{3,})(?:[-/. ](\d{1,2}))?$`)
	yearLast   = regexp.MustCompile(`^(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4})$`)
	monthYear  = regexp.MustCompile(`^(\d{1,2}|\pL{3,})[-/. ](\d{4})$`)
	dayNamed   = regexp.MustCompile(`^(\d{1,2})[-/. ]?(\pL{3,})[-/. ]?(\d{4})$`)
	monthNames = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}
)

// ParseExpiry reads an expiry as a label prints it. Year, month and day in
// that order, month and year, or a month by its English name; without a day it
// is the month's last. Day and month as numbers before a four-digit year are
// accepted only when they can be read in one way: 30/11/2026 and 11/30/2026
// are the same day, but 03/04/2027 is two days and is refused, and so is every
// date with a two-digit year.
func ParseExpiry(s string) (unit.Date, error) {
	text := strings.TrimSpace(s)
	if m := yearFirst.FindStringSubmatch(text); m != nil {
		return fields(s, m[1], m[2], m[3])
	}
	if m := monthYear.FindStringSubmatch(text); m != nil {
		return fields(s, m[2], m[1], "")
	}
	if m := dayNamed.FindStringSubmatch(text); m != nil {
		return fields(s, m[3], m[2], m[1])
	}
	m := yearLast.FindStringSubmatch(text)
	if m == nil {
		return unit.Date{}, unit.Refuse("expires", s, "year, month and day, such as 2026-11-30, or 2026-11 for the month's end")
	}
	dayFirst, err1 := fields(s, m[3], m[2], m[1])
	monthFirst, err2 := fields(s, m[3], m[1], m[2])
	switch {
	case err1 != nil:
		return monthFirst, err2
	case err2 == nil && dayFirst != monthFirst:
		return unit.Date{}, unit.Refuse("expires", s, fmt.Sprintf("year, month and day: this can be read as %s or as %s", dayFirst.Long(), monthFirst.Long()))
	}
	return dayFirst, nil
}

func fields(typed, year, month, day string) (unit.Date, error) {
	y, _ := strconv.Atoi(year)
	m, err := strconv.Atoi(month)
	if err != nil {
		m = monthNamed(month)
	}
	d := 0
	if day != "" {
		if d, _ = strconv.Atoi(day); d == 0 && len(day) < 2 {
			d = -1 // a lone 0 is a slip; 00 is how codes write "no day"
		}
	}
	if m == 0 {
		return unit.Date{}, unit.Refuse("expires", typed, "a month from 1 to 12 or its English name")
	}
	return ExpiryOf(y, m, d)
}

// monthNamed gives the month whose English name begins so, by three letters or
// more; 0 for any other word.
func monthNamed(word string) int {
	word = strings.ToLower(word)
	for i, short := range monthNames {
		if word == short || word == strings.ToLower(time.Month(i+1).String()) || word == "sept" && i == 8 {
			return i + 1
		}
	}
	return 0
}
