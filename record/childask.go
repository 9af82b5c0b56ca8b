package record

import "strings"

// childAsks are the bounds outside which a pressure in mmHg or a pulse a minute of a
// child is asked about: a slip of the finger is likelier there. They are as wide as
// children of any age differ, and judge nobody. Ours.
var childAsks = []struct {
	key string // how the key ends
	ask Range
}{
	{"systolic_mmhg", Range{60, 160}},
	{"diastolic_mmhg", Range{25, 110}},
	{"pulse_per_min", Range{50, 180}},
}

// childAsk is the range of a field in a session of a child.
func childAsk(f Field) *Range {
	for i := range childAsks {
		if one := &childAsks[i]; f.Ask != nil && strings.HasSuffix(f.Key, one.key) {
			return &one.ask
		}
	}
	return f.Ask
}
