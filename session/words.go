package session

import (
	"strconv"
	"strings"
	"time"

	"ebbline/unit"
)

// ownDefault stands beside every figure the unit has not set.
const ownDefault = "the program's own default, not set by your unit"

// setByUnit names who set the limits and when.
func setByUnit(rx *Prescription) string {
	who, when := rx.SetBy, rx.SetOn
	if who == "" {
		who = rx.OrderedBy
	}
	if when.IsZero() {
		when = rx.OrderedOn
	}
	words := "set by " + who
	if who == "" {
		words = "set by your unit"
	}
	if !when.IsZero() {
		words += " on " + when.Long()
	}
	return words
}

// boundBy gives a bound, the unit's where it set one, else the program's own, and
// whose it is.
func boundBy[M unit.Measure](rx *Prescription, set *unit.Quantity[M], own unit.Quantity[M]) (bound unit.Quantity[M], whose string) {
	if set != nil {
		return *set, setByUnit(rx)
	}
	return own, ownDefault
}

// insideWords is the only praise there is.
func insideWords(rx *Prescription) string {
	if rx == nil || rx.SetOn.IsZero() {
		return "inside the limits your unit set"
	}
	return "inside the limits your unit set on " + rx.SetOn.Long()
}

// thousands writes a whole number with a no-break space between its
// thousands, so that 10000 is not read as 1000.
func thousands(n int64) string {
	s := strconv.FormatInt(n, 10)
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	if len(s) <= 3 {
		return sign + s
	}
	head := len(s) % 3
	parts := []string{}
	if head > 0 {
		parts = append(parts, s[:head])
	}
	for i := head; i < len(s); i += 3 {
		parts = append(parts, s[i:i+3])
	}
	return sign + strings.Join(parts, "\u00a0")
}

// litresText writes a volume in litres with the digits it has: "3.2 L".
func litresText(v unit.Volume) string { return unit.Litres(v).Text() }

// hoursText writes minutes as people say a length: "4 h 27 min".
func hoursText(m unit.Minutes) string {
	h, min := int64(m)/60, int64(m)%60
	switch {
	case h == 0:
		return strconv.FormatInt(min, 10) + "\u00a0min"
	case min == 0:
		return strconv.FormatInt(h, 10) + "\u00a0h"
	}
	return strconv.FormatInt(h, 10) + "\u00a0h\u00a0" + strconv.FormatInt(min, 10) + "\u00a0min"
}

// clock writes the time of day as the instant's own zone shows it.
func clock(t time.Time) string { return t.Format("15:04") }

// dayText writes the day of an instant, as its own zone shows it: "3 March 2026".
func dayText(t time.Time) string { return unit.DateOf(t).Long() }

// ago writes how long before now something was: "12 min ago".
func ago(at, now time.Time) string {
	if now.Sub(at) < time.Minute {
		return "just now"
	}
	return hoursText(unit.Minutes(now.Sub(at)/time.Minute)) + " ago"
}
