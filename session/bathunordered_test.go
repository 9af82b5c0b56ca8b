package session

import (
	"strings"
	"testing"
)

// A label that no prescription is there for is not "as prescribed".
func TestBathWithoutAPrescription(t *testing.T) {
	s, h := ready(t), known()
	edit(s, func(b *BathLabel) { b.K, b.Ca = 0, 0 })
	s.Rx = nil
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckBath); c.State != OpenYet || !strings.Contains(c.Words, "No prescription") {
		t.Errorf("%s %q", c.State, c.Words)
	}
}
