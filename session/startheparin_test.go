package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// A dose that was drawn from another strength than prescribed is not “as prescribed”,
// though the strength was typed twice.
func TestHeparinOfAnotherStrength(t *testing.T) {
	s := ready(t)
	edit(s, func(b *HeparinDrawn) {
		b.Strength, b.LabelRead = 5000, ref(unit.Strength(5000))
		b.BolusVol, _ = volumeFor(b.Bolus, 5000)
		b.LineVol, _ = volumeFor(b.Line, 5000)
	})
	c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckHeparin)
	words := strings.ReplaceAll(c.Words, "\u00a0", " ")
	if s.Rx.HepStrength == nil || c.State != Look || strings.Contains(words, "as prescribed") || !strings.Contains(words, "5 000 IU/mL") || !strings.Contains(words, "prescribed is 1 000 IU/mL") {
		t.Errorf("%s %q", c.State, words)
	}
}

// Bleeding that was told of stays beside heparin when the next answer is better,
// until the unit was rung.
func TestHeparinHoldStaysInSight(t *testing.T) {
	s := ready(t)
	put(s, evening.Add(mins(0)), &Fitness{Bleeding: true}) // before the answer at 17:01
	c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckHeparin)
	if c.State != Look || !strings.Contains(c.Words, "At 17:00: Hold heparin: bleeding.") {
		t.Errorf("bleeding, then none: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(38)), &Fitness{Bleeding: true})
	c = check(t, StartLine(s, known(), evening.Add(mins(40))), CheckHeparin)
	if c.State != StopHere {
		t.Errorf("bleeding again: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(39)), &Rang{Whom: "Nurse Berg", Said: "no heparin tonight"})
	c = check(t, StartLine(s, known(), evening.Add(mins(40))), CheckHeparin)
	if c.State != Look || !strings.Contains(c.Words, "no heparin tonight") {
		t.Errorf("rang: %s %q", c.State, c.Words)
	}
}

// Inside a rate that the unit set, what to set now has no second opinion.
func TestSetNowIsQuietInsideTheUnitsRate(t *testing.T) {
	for _, tt := range []struct {
		limit unit.RatePerKg
		said  bool
	}{{1500, false}, {0, true}} {
		s := connected(t)
		if s.Rx.Rate = nil; tt.limit > 0 {
			s.Rx.Rate = ref(tt.limit)
		}
		put(s, on(120), &GoalChanged{Goal: 3000, Length: ref(unit.Minutes(240))}) // 1.3 L or more in two hours: above 10
		put(s, on(121), &Reading{Removed: ref(unit.Volume(1400))})
		n, err := SetNow(s, on(122))
		if err != nil {
			t.Fatal(err)
		}
		if got := len(n.Cautions) > 0; got != tt.said {
			t.Errorf("limit %v: cautions %v at %v", tt.limit, n.Cautions, n.Options[0].RatePerKg)
		}
	}
}
