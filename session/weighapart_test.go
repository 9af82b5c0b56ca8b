package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// Two weighings of one evening more than a kilogram apart, without clothes, are both
// named; nearer ones, and one that was struck out, are not.
func TestWeighingsApart(t *testing.T) {
	for _, tt := range []struct {
		name   string
		first  WeighIn
		struck bool
		want   CheckState
	}{
		{"2.7 kg lighter", WeighIn{Weight: 57_900, Clothing: 500}, false, Look},
		{"a kilogram", WeighIn{Weight: 59_600, Clothing: 500}, false, Ready},
		{"a gram more", WeighIn{Weight: 59_599, Clothing: 500}, false, Look},
		{"heavier", WeighIn{Weight: 61_601, Clothing: 500}, false, Look},
		{"only the clothes", WeighIn{Weight: 62_100, Clothing: 2000}, false, Ready},
		{"struck out", WeighIn{Weight: 57_900, Clothing: 500}, true, Ready},
		{"not taken", WeighIn{Clothing: 500}, false, Ready},
	} {
		s := ready(t)
		edit(s, func(w *WeighIn) { w.Weight, w.Clothing = 60_600, 500 })
		first := tt.first
		first.Scale = "bath"
		e := put(s, evening.Add(mins(1)), &first)
		if tt.struck {
			e.Struck = &Strike{}
		}
		if first.Weight == 0 {
			e.Missing = map[string]Missing{"weight_kg": NotDone}
		}
		checks := StartLine(s, twoDaysBefore(), evening.Add(mins(40)))
		c := checks[slices.IndexFunc(checks, func(c Check) bool { return c.ID == CheckWeighed })]
		if c.State != tt.want {
			t.Errorf("%s: %s %q, want %s", tt.name, c.State, c.Words, tt.want)
		}
		if tt.want == Look && !(strings.Contains(c.Words, first.Weight.Text()+" at 17:01") && strings.Contains(c.Words, unit.Mass(60_600).Text())) {
			t.Errorf("%s: %q does not name both", tt.name, c.Words)
		}
	}
}
