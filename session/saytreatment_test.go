package session

import "testing"

// What is asked of a machine that stands long names the own figure and how often it was
// passed; it never says how long it may stand.
func TestAskIdleWords(t *testing.T) {
	const want = "The machine stood longer than 48 h, the program’s own figure, before 2 of your last 6 sessions. " +
		"Ask your unit how long it may stand, then write it, or that it sets none."
	if got := AskIdleWords(2, 6, 48); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
