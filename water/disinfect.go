package water

import (
	"fmt"
	"slices"
	"time"

	"ebbline/unit"
)

// A Programme is a kind of disinfection.
type Programme string

const (
	Heat     Programme = "heat"
	Citric   Programme = "citric" // heat with citric acid
	Chemical Programme = "chemical"
)

// A Cycle is one run of a disinfection programme.
type Cycle struct {
	Programme Programme `json:"programme"`
	Began     time.Time `json:"began"`
	Ended     time.Time `json:"ended,omitzero"` // zero: still running, or cut short
	Passed    bool      `json:"passed"`         // it ran to its end as the machine says
}

// A ResidualTest looks for disinfectant left in the machine.
type ResidualTest struct {
	At       time.Time `json:"at"`
	Negative bool      `json:"negative"`
}

// A DisinfectionRule is what the unit and the maker ask for.
type DisinfectionRule struct {
	AfterEach bool          // every session is followed by a passed cycle before the next one
	MaxIdle   time.Duration // from a passed cycle to the start; 0: not limited
	Setter    string
}

// DefaultDisinfectionRule asks for a cycle after each session and for another
// when the machine has stood idle for 48 hours (makers say 24 to 72, from
// memory).
func DefaultDisinfectionRule() DisinfectionRule {
	return DisinfectionRule{AfterEach: true, MaxIdle: 48 * time.Hour, Setter: "program default"}
}

// BeforeStart says what of the machine's disinfection stands in the way of a
// start:
//
//   - no cycle passed since the last session ended (lastEnd, zero for none);
//   - the last passed cycle lies longer back than the machine may stand idle;
//   - the last cycle was cut short or did not pass;
//   - a chemical cycle has run since the last test for residual disinfectant
//     that was negative: even a later heat cycle does not replace that test.
//
// Cycles and tests may be given in any order; those that began after the start
// are passed over.
func (r DisinfectionRule) BeforeStart(cycles []Cycle, tests []ResidualTest, lastEnd, start time.Time) []unit.Caution {
	var list []unit.Caution
	add := func(code, format string, args ...any) {
		list = append(list, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...) + " (" + r.Setter + ")"})
	}
	done := slices.DeleteFunc(slices.Clone(cycles), func(c Cycle) bool { return c.Began.After(start) })
	slices.SortStableFunc(done, func(a, b Cycle) int { return a.Began.Compare(b.Began) })

	var passed time.Time // end of the last passed cycle
	for _, c := range done {
		if c.Passed && !c.Ended.IsZero() && !c.Ended.After(start) && c.Ended.After(passed) {
			passed = c.Ended
		}
	}
	switch {
	case passed.IsZero():
		add("never_disinfected", "No disinfection that passed is recorded")
	case r.AfterEach && !lastEnd.IsZero() && passed.Before(lastEnd):
		add("not_disinfected", "The machine has not been disinfected since the last session")
	case r.MaxIdle > 0 && start.Sub(passed) > r.MaxIdle:
		add("idle_too_long", "The machine was disinfected %.0f hours ago and may stand for %.0f: disinfect again", start.Sub(passed).Hours(), r.MaxIdle.Hours())
	}
	if n := len(done); n > 0 && (!done[n-1].Passed || done[n-1].Ended.IsZero() || done[n-1].Ended.After(start)) {
		add("cycle_not_passed", "The last cycle (%s) did not pass or was cut short", done[n-1].Programme)
	}
	if ResidualTestNeeded(done, tests, start) {
		add("residual_test", "Chemical disinfection was used: test for residual disinfectant before connecting")
	}
	return list
}

// ResidualTestNeeded reports whether a chemical cycle, passed or not, has begun
// since the last negative test for residual disinfectant.
func ResidualTestNeeded(cycles []Cycle, tests []ResidualTest, start time.Time) bool {
	var chemical time.Time
	for _, c := range cycles {
		if c.Programme == Chemical && !c.Began.After(start) {
			at := c.Began
			if c.Ended.After(at) {
				at = c.Ended
			}
			if at.After(chemical) {
				chemical = at
			}
		}
	}
	if chemical.IsZero() {
		return false
	}
	for _, t := range tests {
		if t.Negative && t.At.After(chemical) && !t.At.After(start) {
			return false
		}
	}
	return true
}
