package report

import (
	"strconv"
	"strings"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// minus writes a figure with a true minus sign, which does not break off and
// is as wide as a figure.
func minus(s string) string {
	if strings.HasPrefix(s, "-") {
		return "−" + s[1:]
	}
	return s
}

// hours writes a length as people say it: "4 h 27 min".
func hours(m unit.Minutes) string {
	h, min := int64(m)/60, int64(m)%60
	switch {
	case h == 0:
		return strconv.FormatInt(min, 10) + "\u00a0min"
	case min == 0:
		return strconv.FormatInt(h, 10) + "\u00a0h"
	}
	return strconv.FormatInt(h, 10) + "\u00a0h\u00a0" + strconv.FormatInt(min, 10) + "\u00a0min"
}

// later writes how much later something was typed in: to the minute on the
// first day, in days and hours after that.
func later(d time.Duration) string {
	if d < 24*time.Hour {
		return hours(unit.Minutes(d/time.Minute)) + " later"
	}
	days := int(d / (24 * time.Hour))
	s := strconv.Itoa(days) + "\u00a0days"
	if days == 1 {
		s = "1\u00a0day"
	}
	if h := int(d/time.Hour) % 24; h > 0 {
		s += " " + strconv.Itoa(h) + "\u00a0h"
	}
	return s + " later"
}

// letter names the n-th note: a … z, aa, ab, …
func letter(n int) string {
	s := ""
	for n++; n > 0; n = (n - 1) / 26 {
		s = string(rune('a'+(n-1)%26)) + s
	}
	return s
}

// gaps are the four kinds of missing in words.
var gaps = map[session.Missing]string{
	session.NotDone:      "not done",
	session.NotRecorded:  "not recorded",
	session.DoesNotApply: "does not apply",
	session.AsleepByPlan: "asleep by plan",
}

// shortGaps are the same where there is room for one short word only.
var shortGaps = map[session.Missing]string{
	session.NotDone:      "n. done",
	session.NotRecorded:  "n. rec.",
	session.DoesNotApply: "n. a.",
	session.AsleepByPlan: "asleep",
}

// joined puts the parts that are not empty together.
func joined(sep string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, sep)
}

// counted writes a number with its noun.
func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return strconv.Itoa(n) + " " + what
}
