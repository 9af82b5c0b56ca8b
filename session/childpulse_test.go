package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// A child's pulse that rises is said with the start, again when a step further, and after
// one inside; with no pulse before, from the first one read.
func TestRisingPulseOfAChild(t *testing.T) {
	for _, tt := range []struct {
		start int
		read  []int
		said  int
	}{
		{85, []int{125, 160, 200}, 3}, {85, []int{125, 130}, 1}, {85, []int{125, 100, 125}, 2}, {85, []int{100, 118}, 0}, {0, []int{85, 125}, 1}, {0, []int{180, 200}, 0},
	} {
		s := byPaper(t)
		s.Rx.PulseLow, s.Rx.PulseHigh = nil, nil
		edit(s, func(b *VitalsBefore) {
			if b.Pulse = nil; tt.start > 0 {
				b.Pulse = ref(unit.Pulse(tt.start))
			}
		})
		put(s, on(0), &Connected{})
		for i, v := range tt.read {
			put(s, on(20*(i+1)), pulse(v))
		}
		got := saidOf(s, on(100), "pulse_out")
		if len(got) != tt.said {
			t.Errorf("%d, then %v: %q", tt.start, tt.read, got)
		}
		for _, words := range got {
			if !strings.Contains(words, "over 118, up from 85 at the start ("+ownDefault+")") {
				t.Errorf("%d, then %v: %q", tt.start, tt.read, words)
			}
		}
	}
}

// Before the start the line of a child names the values, and that nothing judges them.
func TestAChildsValuesAreNamedAsNotJudged(t *testing.T) {
	s := ready(t)
	s.Child, s.Rx.Limits = true, Limits{}
	edit(s, func(b *VitalsBefore) {
		b.SitSystolic, b.SitDiastolic, b.Pulse = mm(65), mm(40), ref(unit.Pulse(180))
	})
	for _, c := range StartLine(s, known(), evening.Add(mins(44))) {
		if c.ID != CheckVitals {
			continue
		}
		for _, want := range []string{"the values are not judged", "65/40", "pulse 180"} {
			if c.State != Look || !strings.Contains(c.Words, want) {
				t.Errorf("%s: %q lacks %q", c.State, c.Words, want)
			}
		}
	}
}
