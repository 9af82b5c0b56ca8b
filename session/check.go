package session

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// A Check is one line of the start line.
type Check struct {
	ID         string
	Title      string
	State      CheckState
	Words      string // what is so, and what to do when it is not green
	Limit      string // the limit it was held against and whose it is, where there is one
	Overridden *Override
	By         string    // who wrote the reason
	At         time.Time // when
}

// CheckState is how a check stands. Amber is told but does not hold up.
type CheckState string

// How a check can stand.
const (
	Green    CheckState = "green"
	Amber    CheckState = "amber"
	OpenYet  CheckState = "open" // not done yet
	StopHere CheckState = "stop"
)

// Passed tells whether the check holds nothing up: green, amber, or overridden
// with a reason.
func (c Check) Passed() bool {
	return c.State == Green || c.State == Amber || c.Overridden != nil
}

// AllGreen tells whether nothing holds up the start: every check is green or
// amber, or was overridden with a written reason.
func AllGreen(checks []Check) bool {
	return !slices.ContainsFunc(checks, func(c Check) bool { return !c.Passed() })
}

// HoldingUp lists the checks that hold up the start, stops before what is only
// not done yet.
func HoldingUp(checks []Check) []Check {
	var out []Check
	for _, want := range []CheckState{StopHere, OpenYet} {
		for _, c := range checks {
			if !c.Passed() && c.State == want {
				out = append(out, c)
			}
		}
	}
	return out
}

// ReasonLength is how many characters a reason to go on in spite of a check
// must have at least. Ours: long enough that it cannot be a dot.
const ReasonLength = 10

// GoodReason tells whether a reason is long enough and more than one character
// repeated.
func GoodReason(reason string) bool {
	reason = strings.TrimSpace(reason)
	if utf8.RuneCountInString(reason) < ReasonLength {
		return false
	}
	first, _ := utf8.DecodeRuneInString(reason)
	return strings.Trim(reason, string(first)) != ""
}

// override puts the reason on a check that is not green. A reason counts only
// for what was known when it was written: an entry for the same check that
// happened later needs a new one.
func (c *Check) override(s *Session, latest time.Time, ref time.Time) {
	if c.State == Green || c.State == Amber {
		return
	}
	Each(s, func(o *Override, e *Event) {
		if o.Check == c.ID && GoodReason(o.Reason) && !e.At.Before(latest) && !e.At.After(ref) {
			c.Overridden, c.By, c.At = o, e.By, e.At
		}
	})
}
