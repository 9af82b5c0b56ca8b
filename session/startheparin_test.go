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

// A syringe with another dose than prescribed stays beside the right one, with both
// values. What a draw left out is no such dose: bolus and pump may be two draws.
func TestWrongHeparinStaysInSight(t *testing.T) {
	at := evening.Add(mins(40))
	right := HeparinDrawn{Strength: 1000, Bolus: 1500, Line: 2250, BolusVol: 150, LineVol: 225, Lot: "h1", Expiry: date(t, "2027-01-31")}
	as := func(set func(*HeparinDrawn)) HeparinDrawn {
		b := right
		set(&b)
		return b
	}
	for _, tt := range []struct {
		name  string
		first HeparinDrawn
		want  CheckState
		words []string
	}{
		{"a bolus too large", as(func(b *HeparinDrawn) { b.Bolus, b.BolusVol = 4000, 400 }), Look,
			[]string{"At 17:20: Bolus 4 000 IU, prescribed 1 500 IU. Draw up again.", "At 17:32: 3 750 IU from 1 000 IU/mL, as prescribed."}},
		{"a pump too full", as(func(b *HeparinDrawn) { b.Line, b.LineVol = 9000, 900 }), Look, []string{"At 17:20: Pump 9 000 IU"}},
		{"two volumes wrong", as(func(b *HeparinDrawn) { b.BolusVol, b.LineVol = 15, 22 }), Look, []string{"Bolus 1 500 IU is 1.5 mL", "Pump 2 250 IU is 2.25 mL"}},
		{"two strengths", as(func(b *HeparinDrawn) { b.LabelRead = ref(unit.Strength(5000)) }), Look, []string{"Strength typed 1 000 IU/mL, then 5 000"}},
		{"the bolus alone", as(func(b *HeparinDrawn) { b.Line, b.LineVol = 0, 0 }), Ready, nil},
		{"the pump alone", as(func(b *HeparinDrawn) { b.Bolus, b.BolusVol = 0, 0 }), Ready, nil},
		{"the same twice", right, Ready, nil},
	} {
		s := ready(t)
		put(s, evening.Add(mins(20)), &tt.first)
		c := check(t, StartLine(s, known(), at), CheckHeparin)
		words := strings.ReplaceAll(c.Words, "\u00a0", " ")
		if c.State != tt.want {
			t.Errorf("%s: %s %q", tt.name, c.State, words)
		}
		for _, part := range tt.words {
			if !strings.Contains(words, part) {
				t.Errorf("%s: %q, without %q", tt.name, words, part)
			}
		}
	}
	// A label that was only to be read again is answered by reading it.
	s, h := ready(t), known()
	h.Strength = ref(unit.Strength(5000))
	again := right
	again.LabelRead = ref(unit.Strength(1000))
	put(s, evening.Add(mins(34)), &again)
	if c := check(t, StartLine(s, h, at), CheckHeparin); c.State != Ready {
		t.Errorf("the label read again: %s %q", c.State, c.Words)
	}
	// None prescribed, drawn up and then written as none.
	s = ready(t)
	s.Rx.Heparin = "none"
	put(s, evening.Add(mins(34)), &HeparinDrawn{Strength: 1000})
	if c := check(t, StartLine(s, known(), at), CheckHeparin); c.State != StopHere {
		t.Errorf("none prescribed: %s %q", c.State, c.Words)
	}
}
