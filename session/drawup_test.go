package session

import (
	"regexp"
	"strings"
	"testing"

	"ebbline/unit"
)

// Every dose at every strength sold: dose = volume · strength to half the last
// digit of the syringe.
func TestHeparinVolumes(t *testing.T) {
	for _, strength := range []unit.Strength{10, 100, 1000, 5000, 10_000, 25_000} {
		for _, bolus := range []unit.Dose{500, 1500, 2000, 3000, 5000} {
			rx := ordered(t)
			rx.HepStrength, rx.HepBolus = &strength, &bolus
			h, err := DrawHeparin(rx, strength, nil, &strength, 240)
			if err != nil {
				if strength == 10 { // a flush, not for a dose: it would not fit a syringe
					continue
				}
				t.Fatal(err)
			}
			held := h.BolusVol.Float() * strength.Float()
			if d := held - bolus.Float(); d > strength.Float()*0.005+1e-6 || -d > strength.Float()*0.005+1e-6 {
				t.Errorf("%v at %v: %v mL hold %.0f IU", bolus, strength, h.BolusVol, held)
			}
			if h.Line != 2250 || h.Why+h.ReadAgain != "" {
				t.Errorf("pump %v, read again %q", h.Line, h.ReadAgain)
			}
		}
	}
}

// Of another strength no volume is given until it was typed a second time, the
// same (H-55).
func TestNoVolumeBeforeTheLabelIsReadAgain(t *testing.T) {
	rx, last := ordered(t), unit.Strength(1000)
	for _, tt := range []struct {
		again *unit.Strength
		asks  string
	}{
		{nil, "last time it was 1\u00a0000\u00a0IU/mL. Read the label aloud"},
		{ref(unit.Strength(1000)), "typed 5\u00a0000\u00a0IU/mL, then 1\u00a0000\u00a0IU/mL"},
		{ref(unit.Strength(50_000)), "then 50\u00a0000"},
		{ref(unit.Strength(5000)), ""},
	} {
		h, err := DrawHeparin(rx, 5000, tt.again, &last, 240)
		if err != nil || h.Why == "" || (h.ReadAgain == "") != (tt.asks == "") || !strings.Contains(h.ReadAgain, tt.asks) {
			t.Errorf("typed again %v: %+v, %v", tt.again, h, err)
		}
		bolus, line := unit.Drawn(0), unit.Drawn(0)
		if tt.asks == "" {
			bolus, line = 30, 45 // 0.3 and 0.45 mL
		}
		if h.BolusVol != bolus || h.LineVol != line || h.Bolus != 1500 || h.Line != 2250 {
			t.Errorf("typed again %v: %v and %v mL", tt.again, h.BolusVol, h.LineVol)
		}
	}
}

// A change of strength always asks to read the label, whichever way it goes.
func TestStrengthChangeAlwaysStops(t *testing.T) {
	all := []unit.Strength{1000, 5000, 10_000, 25_000}
	for _, last := range all {
		for _, now := range all {
			rx := ordered(t)
			rx.HepStrength = nil
			h, err := DrawHeparin(rx, now, nil, &last, 240)
			if err != nil || (h.ReadAgain != "") != (now != last) || (h.BolusVol > 0) != (now == last) {
				t.Errorf("%v after %v: %+v, %v", now, last, h, err)
			}
			if h, err = DrawHeparin(rx, now, &now, &last, 240); err != nil || h.ReadAgain != "" || h.BolusVol <= 0 {
				t.Errorf("%v after %v, typed again: %+v, %v", now, last, h, err)
			}
			drawn := HeparinDrawn{Strength: now, Bolus: h.Bolus, Line: h.Line, BolusVol: h.BolusVol, LineVol: h.LineVol}
			if found := heparinAgainst(rx, drawn, &last, 240); (len(found) > 0) != (now != last) {
				t.Errorf("%v after %v: %v", now, last, found)
			}
			drawn.LabelRead = &now
			if found := heparinAgainst(rx, drawn, &last, 240); len(found) != 0 {
				t.Errorf("%v after %v, label read: %v", now, last, found)
			}
			if now != last {
				drawn.LabelRead = &last
				if found := heparinAgainst(rx, drawn, &last, 240); len(found) != 1 {
					t.Errorf("%v after %v, label read as the old one: %v", now, last, found)
				}
			}
		}
	}
	// The first time, the prescribed strength is what it is held against.
	if h, _ := DrawHeparin(ordered(t), 5000, nil, nil, 240); h.ReadAgain == "" || !strings.HasPrefix(h.Why, "prescribed is") {
		t.Errorf("%+v", h)
	}
}

func TestHeparinRefuses(t *testing.T) {
	none := ordered(t)
	none.Heparin = "none"
	undosed := ordered(t)
	undosed.Heparin, undosed.HepBolus, undosed.HepHourly = "low_molecular", nil, nil
	for name, f := range map[string]func() error{
		"no strength":     func() error { _, err := DrawHeparin(ordered(t), 0, nil, nil, 240); return err },
		"none prescribed": func() error { _, err := DrawHeparin(none, 1000, nil, nil, 240); return err },
		"no dose in IU":   func() error { _, err := DrawHeparin(undosed, 1000, nil, nil, 240); return err },
		"no prescription": func() error { _, err := DrawHeparin(nil, 1000, nil, nil, 240); return err },
	} {
		if f() == nil {
			t.Errorf("%s: a volume all the same", name)
		}
	}
}

func TestLineDose(t *testing.T) {
	for _, tt := range []struct {
		hourly *unit.DoseRate
		stop   *unit.Minutes
		length unit.Minutes
		want   unit.Dose
	}{
		{ref(unit.DoseRate(750)), ref(unit.Minutes(60)), 240, 2250},
		{ref(unit.DoseRate(750)), nil, 240, 3000},
		{ref(unit.DoseRate(750)), ref(unit.Minutes(45)), 233, 2350},
		{ref(unit.DoseRate(750)), ref(unit.Minutes(240)), 60, 0},
		{nil, nil, 240, 0},
	} {
		if got := lineDose(&Prescription{HepHourly: tt.hourly, HepStop: tt.stop}, tt.length); got != tt.want {
			t.Errorf("%v/h for %v min: %v, want %v", tt.hourly, tt.length, got, tt.want)
		}
	}
}

// The pump's syringe may hold the whole session or only until the stop.
func TestHeparinAgainst(t *testing.T) {
	rx := ordered(t)
	drawn := func(line unit.Dose) HeparinDrawn {
		v, _ := volumeFor(line, 1000)
		return HeparinDrawn{Strength: 1000, Bolus: 1500, Line: line, BolusVol: 150, LineVol: v}
	}
	for line, ok := range map[unit.Dose]bool{2249: false, 2250: true, 2500: true, 3000: true, 3001: false, 225: false, 22_500: false} {
		if found := heparinAgainst(rx, drawn(line), nil, 240); (len(found) == 0) != ok {
			t.Errorf("pump %v: %v", line, found)
		}
	}
	wrong := drawn(2250)
	wrong.BolusVol = 15
	if found := heparinAgainst(rx, wrong, nil, 240); len(found) != 1 || !strings.Contains(found[0].words(), "is 1.5 mL at this strength, not 0.15") {
		t.Errorf("a wrong volume: %v", found)
	}
	rx.HepBolus = nil
	if found := heparinAgainst(rx, drawn(2250), nil, 240); len(found) != 1 || !strings.Contains(found[0].words(), "none prescribed") {
		t.Errorf("a bolus nobody prescribed: %v", found)
	}
}

// The stricter published limit: 3 mg/kg and 200 mg; 1 % is 10 mg/mL.
func TestAnaesthetic(t *testing.T) {
	for _, tt := range []struct {
		strength unit.Percent
		each     unit.Drawn
		n        int
		dry      unit.Mass
		unitsMg  *unit.Milligrams
		total    float64
		limit    float64
		over     bool
		words    string
	}{
		{10, 30, 2, 58_000, nil, 6, 174, false, ""},
		{10, 870, 2, 58_000, nil, 174, 174, false, "is that right?"}, // at the limit
		{10, 870, 2, 57_900, nil, 174, 173.7, true, "174 mg"},
		{20, 500, 2, 58_000, nil, 200, 174, true, "limit 174 mg"}, // 2 % for 1 %
		{20, 500, 2, 90_000, nil, 200, 200, false, ""},            // 270 by weight, 200 in all
		{10, 300, 1, 58_000, ref(unit.Milligrams(2000)), 30, 20, true, "limit 20 mg"},
		{10, 500, 1, 58_000, nil, 50, 174, false, ""},
		{10, 501, 1, 58_000, nil, 50.1, 174, false, "is that right?"},
	} {
		s := newSession(t)
		s.Rx.DryWeight, s.Rx.Anaesthetic = tt.dry, tt.unitsMg
		for range tt.n {
			put(s, evening, &AnaestheticDrawn{Strength: tt.strength, Volume: tt.each})
		}
		a, err := SumAnaesthetic(s)
		if err != nil || a.TotalMg != tt.total || a.LimitMg != tt.limit || a.Over != tt.over || (a.Words == "") != (tt.words == "") || !strings.Contains(a.Words, tt.words) {
			t.Errorf("%d × %v mL of %v %%: %+v, %v", tt.n, tt.each, tt.strength, a, err)
		}
		if mine := strings.HasPrefix(a.Whose, ownDefault); mine != (tt.unitsMg == nil) {
			t.Errorf("whose limit: %q", a.Whose)
		}
	}
}

func TestLabels(t *testing.T) {
	at := evening
	labels := HeparinLabels("Ada", HeparinDrawn{Strength: 5000, Bolus: 1500, Line: 10_000, BolusVol: 30, LineVol: 200, Lot: "h1"}, at)
	labels = append(labels, AnaestheticLabel("Ada", AnaestheticDrawn{Strength: 10, Volume: 50, Lot: "a1"}, at), FlushLabel("Ada", FlushDrawn{Each: 1000, Lot: "s1"}, at))
	if len(labels) != 4 {
		t.Fatalf("%d labels", len(labels))
	}
	for i, want := range []string{"1\u00a0500 international units", "10\u00a0000 international units", "5\u00a0milligrams", "10\u00a0mL"} {
		if text := strings.Join(labels[i].Lines, "\n"); !strings.Contains(text, want) {
			t.Errorf("label %d lacks %q:\n%s", i, want, text)
		}
	}
	// "U" has been read as 0, "1.0" as 10, ".5" as 5, "µ" as m.
	bad := regexp.MustCompile(`\bIU\b|\bU\b|\d\.0+\b|(^|[^0-9])\.\d|µ`)
	for _, l := range labels {
		for _, line := range l.Lines {
			if bad.MatchString(line) {
				t.Errorf("%q can be misread", line)
			}
			if len([]rune(line)) > 45 {
				t.Errorf("%q is too long for a syringe", line)
			}
		}
	}
	if none := HeparinLabels("Ada", HeparinDrawn{Strength: 1000, Bolus: 1500, BolusVol: 150}, at); len(none) != 1 {
		t.Errorf("%d labels without a pump dose", len(none))
	}
}
