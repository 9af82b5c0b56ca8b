package session

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"ebbline/unit"
)

// A Check is one line of the start line.
type Check struct {
	ID         string
	Title      string
	State      CheckState // what was found; a reason to go on does not change it
	Codes      []string   // of what was found, the worst first
	Words      string     // what is so, and what to do when it is not ready
	Limit      string     // the limit it was held against and whose it is, where there is one
	Since      time.Time  // when the latest of the worst findings was written; zero where none was, and of what came about as time passed
	Rings      bool       // a call that is written down answers a stop of it, or what is left of one for the ambulance
	Entry      string     // that decided the worst of it; empty where none did
	Ambulance  string     // of the words, what the ambulance is rung about first, kept from earlier too; empty where no words do, or a call answered it
	Numbers    bool       // the ambulance's number stands beside the unit's: what was told may be for it
	Overridden *Override
	By         string    // who wrote the reason
	At         time.Time // when
}

// CheckState is how a check stands. Look is said and does not hold up.
type CheckState string

// How a check can stand.
const (
	Ready    CheckState = "ready"
	Look     CheckState = "look" // go on: it was said
	OpenYet  CheckState = "open" // not answered
	StopHere CheckState = "stop" // only past a written reason
)

// rank orders states from the best to the worst.
var rank = map[CheckState]int{Ready: 0, Look: 1, OpenYet: 2, StopHere: 3}

// holds reports whether a state holds up the start unless a reason is written.
func (s CheckState) holds() bool { return s == OpenYet || s == StopHere }

// Passed reports whether the check holds nothing up: ready, look, or overridden
// with a reason.
func (c Check) Passed() bool { return !c.State.holds() || c.Overridden != nil }

// AllPassed reports whether nothing holds up the start: every check is ready or
// look, or was overridden with a written reason.
func AllPassed(checks []Check) bool {
	return !slices.ContainsFunc(checks, func(c Check) bool { return !c.Passed() })
}

// AmbulanceFirst is what the ambulance is rung about before the unit, as it stands in
// the words of a check that was not gone past; empty where no words do.
func AmbulanceFirst(checks []Check) string {
	words := ""
	for _, c := range checks {
		if c.Overridden == nil && c.Ambulance != "" && (words == "" || c.ID == CheckGap) {
			words = c.Ambulance
		}
	}
	return words
}

// AmbulanceToo reports whether the ambulance's number stands beside the unit's where
// something stops: pain in the chest or breathlessness was told, or it is rung first.
func AmbulanceToo(checks []Check) bool {
	return AmbulanceFirst(checks) != "" || slices.ContainsFunc(checks, func(c Check) bool { return c.Numbers && c.Overridden == nil })
}

// Stopped lists the checks that stand at stop and were not gone past.
func Stopped(checks []Check) []Check {
	return slices.DeleteFunc(HoldingUp(checks), func(c Check) bool { return c.State != StopHere })
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

// GoodReason reports whether a reason is long enough as it is seen, more than one
// character repeated, and holds a letter or a digit.
func GoodReason(reason string) bool {
	reason = unit.AsSeen(reason)
	if utf8.RuneCountInString(reason) < ReasonLength || unit.Legible(reason) == 0 {
		return false
	}
	first, _ := utf8.DecodeRuneInString(reason)
	return strings.Trim(reason, string(first)) != ""
}
