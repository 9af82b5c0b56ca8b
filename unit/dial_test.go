package unit

import "testing"

// What a telephone dials is one number, or none: a second number, an extension or a
// pause is not dialled along with it.
func TestDial(t *testing.T) {
	for _, tt := range []struct {
		written, want string
		whole         bool
	}{
		{"112", "112", true},
		{"+000 2 555 02 10", "+00025550210", true},
		{" 555.02-10 ", "5550210", true},
		{"call 5550 / 5551", "5550", false},
		{"+000 2 555 02 10 or +000 2 555 02 11", "+00025550210", false},
		{"+000 2 555 02 10 +000 2 555 02 11", "+00025550210", false},
		{"555 0210 (ask for Ana, ext. 12)", "5550210", false},
		{"112, then ask for the ward", "112", false},
		{"112,,1", "112", false},
		{"112;1", "112", false},
		{"tel. 5550210", "5550210", false},
		{"javascript:alert(1)", "", false},
		{"x:1", "", false},
		{"030/5550110", "", false},
		{"0301 555 / 0302 555", "0301555", false},
		{"+000 (0)2 555 02 10", "", false},
		{"(000) 555 02 10", "", false},
		{"555-CALL", "", false},
		{"112x1", "", false},
		{"112*1", "", false},
		{"*31#5550", "", false},
		{"1\t2", "", false},
		{"+", "", false},
		{"++1", "", false},
		{"ask the ward", "", false},
		{"", "", false},
		{"٣٤٥", "", false},
	} {
		if got, whole := Dial(tt.written); got != tt.want || whole != tt.whole {
			t.Errorf("%q dials %q, alone %v; want %q, %v", tt.written, got, whole, tt.want, tt.whole)
		}
	}
}
