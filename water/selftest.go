package water

import (
	"fmt"

	"ebbline/unit"
)

// SelfTests remarks on the machine's self-tests, given as the number of tries
// each session needed until it passed, oldest first. Two tries or more at the
// last session are said at once; so are repeats at three or more of the last
// ten, because "repeat until it passes" hides a failing part.
func SelfTests(tries []int) []unit.Caution {
	var list []unit.Caution
	if n := len(tries); n > 0 && tries[n-1] >= 2 {
		list = append(list, unit.Caution{Code: "self_test_repeated",
			Text: fmt.Sprintf("The self-test passed only at try %d: write down what it said.", tries[n-1])})
	}
	last := tries[max(0, len(tries)-10):]
	repeats := 0
	for _, n := range last {
		if n >= 2 {
			repeats++
		}
	}
	if repeats >= 3 {
		list = append(list, unit.Caution{Code: "self_test_failing",
			Text: fmt.Sprintf("The self-test had to be repeated at %d of the last %d sessions: have the machine looked at.", repeats, len(last))})
	}
	return list
}
