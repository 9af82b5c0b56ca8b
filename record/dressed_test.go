package record

import (
	"strings"
	"testing"

	"ebbline/session"
)

// The slip is looked for in the digits that the scale showed. Taken off first,
// 0.3 kg of clothes would turn 157.2 lb into 71.2 kg, and 47.6 into 47.3, of
// which no swap makes the weight that was meant.
func TestSlipOfADressedPerson(t *testing.T) {
	for typed, want := range map[string]struct {
		in   session.WeighIn
		says string
	}{
		"swapped": {session.WeighIn{Weight: 47_600, Clothing: 300, Scale: "bathroom", ReadIn: "kg"}, "was it 74.6 kg"},
		"pounds":  {session.WeighIn{Weight: 164_500, Clothing: 300, Scale: "bathroom", ReadIn: "kg"}, "was it 74.6 kg"},
	} {
		b := newBook(t)
		b.open("session-1")
		found := b.try(b.entry("weigh_in", "session-1", &want.in))
		var said []string
		for _, f := range found {
			said = append(said, f.Words)
		}
		if !strings.Contains(strings.Join(said, "; "), want.says) {
			t.Errorf("%s: %q, want %q", typed, said, want.says)
		}
	}
}
