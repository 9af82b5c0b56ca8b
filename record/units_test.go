package record

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// In which other units a person may read or type a weight: the scale switched
// to pounds or stone, 10 stone 3 typed as 10.3, grams.
var wrongWeights = map[string]func(kg float64) float64{
	"pounds":       func(kg float64) float64 { return math.Round(kg/0.45359237*10) / 10 },
	"whole pounds": func(kg float64) float64 { return math.Round(kg / 0.45359237) },
	"stone":        func(kg float64) float64 { return math.Round(kg/6.35029318*10) / 10 },
	"stone and pounds": func(kg float64) float64 {
		lb := math.Round(kg / 0.45359237)
		return math.Floor(lb/14) + math.Mod(lb, 14)/10
	},
	"grams":           func(kg float64) float64 { return math.Round(kg * 1000) },
	"kilograms as lb": func(kg float64) float64 { return math.Round(kg*0.45359237*10) / 10 },
	"ten times":       func(kg float64) float64 { return math.Round(kg * 10) },
	"a tenth":         func(kg float64) float64 { return math.Round(kg) / 10 },
}

// sized is a book whose person has another dry weight.
func sized(t *testing.T, dry unit.Mass) *book {
	b := newBook(t)
	rx := aPrescription()
	rx.DryWeight = dry
	e := b.entry("prescription", "", &rx)
	e.Again = map[string]string{"dry_weight_kg": dry.String()}
	if found := b.try(e); len(found) > 0 {
		t.Fatal(found)
	}
	return b
}

// A weight in a wrong unit is never taken in silence, neither before a session
// nor after it, for people of 36 to 120 kg (H-01). By every road: the check is
// the one that page, desk and command share.
func TestWeightsInWrongUnitsAreAsked(t *testing.T) {
	tried := 0
	for dry := unit.Mass(36_000); dry <= 120_000; dry += 3_500 {
		b := sized(t, dry)
		b.must("session_opened", "session-1", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		after := sized(t, dry)
		after.must("session_opened", "session-1", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		pre := dry + 1_500
		in := after.entry("weigh_in", "session-1", &session.WeighIn{Weight: pre, Scale: "bathroom", ReadIn: "kg"})
		in.Again = map[string]string{"weight_kg": pre.String()}
		if found := after.try(in); len(found) > 0 {
			t.Fatal(found)
		}
		after.must("connected", "session-1", &session.Connected{})
		after.must("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(0)), Removed: ptr(unit.Volume(1500))})
		for gain := unit.Mass(300); gain <= 4_500; gain += 300 {
			for name, typed := range wrongWeights {
				tried++
				w := unit.Mass(0).Near(typed((dry + gain).Float()))
				if found := Check(b.h, b.entry("weigh_in", "session-1", &session.WeighIn{Weight: w, Scale: "bathroom", ReadIn: "kg"})); found.On("weight_kg") == "" {
					t.Errorf("dry %s kg, %s kg before typed in %s as %s: %v", dry, dry+gain, name, w, found)
				}
				w = unit.Mass(0).Near(typed((dry + gain - 300).Float()))
				if found := Check(after.h, after.entry("weigh_out", "session-1", &session.WeighOut{Weight: w, Scale: "bathroom"})); found.On("weight_kg") == "" {
					t.Errorf("dry %s kg, %s kg after typed in %s as %s: %v", dry, dry+gain-300, name, w, found)
				}
			}
		}
	}
	if tried < 2000 {
		t.Errorf("only %d wrong weights were tried", tried)
	}
}

// A dry weight that is changed is never moved by a wrong unit in silence. The
// very first one has nothing to be held against; the summary that is looked at
// before it is kept, and the first weighing, are what there is for it.
func TestChangedDryWeightInWrongUnits(t *testing.T) {
	for dry := unit.Mass(36_000); dry <= 120_000; dry += 1_000 {
		b := sized(t, dry)
		for name, typed := range wrongWeights {
			rx := aPrescription()
			rx.DryWeight = unit.Mass(0).Near(typed(dry.Float() - 0.5))
			if found := Check(b.h, b.entry("prescription", "", &rx)); found.On("dry_weight_kg") == "" {
				t.Errorf("dry weight %s kg less 0.5 typed in %s as %s: %v", dry, name, rx.DryWeight, found)
			}
		}
	}
}

// silent reports whether text is taken into a field of a kind without a word, as
// far as the field's own reading and bounds go.
func silent(kind, key, text string) bool {
	k, _ := Find(kind)
	body, found := k.FromForm(func(one string) []string {
		if one == key {
			return []string{text}
		}
		return nil
	})
	if found.On(key) != "" {
		return false
	}
	f, _ := k.Field(key)
	n, given := f.number(body)
	if !given {
		return false
	}
	c := &Checker{Kind: k, Entry: Entry{Kind: kind, Body: body}}
	c.bounds(f, n)
	return len(c.found) == 0
}

// Values that can kill when their unit is wrong are not taken in silence in any
// of the units in which somebody may meet them; the true ones are.
func TestGraveValuesInWrongUnits(t *testing.T) {
	digits := func(decimals int, factor float64) func(float64) string {
		return func(v float64) string { return strconv.FormatFloat(v*factor, 'f', decimals, 64) }
	}
	fahrenheit := func(v float64) string { return strconv.FormatFloat(v*1.8+32, 'f', 1, 64) }
	type units map[string]func(float64) string
	// Litres an hour, which nobody shows for blood, are left to the fifth around the prescribed flow.
	flow := units{"L/min": digits(2, 0.001), "mL/h": digits(0, 60)}
	pressure := units{"kPa": digits(1, 0.133322), "whole kPa": digits(0, 0.133322), "cmHg": digits(1, 0.1)}
	conduct := units{"mS/m": digits(0, 100), "µS/cm": digits(0, 1000), "S/m": digits(2, 0.1), "mmol/L of Na": digits(0, 10)}
	temperature := units{"°F": fahrenheit, "K": func(v float64) string { return fmt.Sprintf("%.1f", v+273.15) }}
	for _, tt := range []struct {
		kind, key string
		decimals  int
		usual     []float64
		wrong     units
	}{
		{"chlorine", "total_chlorine_mg_l", 2, []float64{0.02, 0.05, 0.1}, units{"µg/L": digits(0, 1000)}},
		{"fluid_check", "machine_conductivity_ms_cm", 2, []float64{13.5, 13.9, 14.4}, conduct},
		{"fluid_check", "meter_conductivity_ms_cm", 2, []float64{13.5, 13.9, 14.4}, conduct},
		{"reading", "conductivity_ms_cm", 2, []float64{13.5, 13.9, 14.4}, conduct},
		{"fluid_check", "machine_temperature_c", 1, []float64{35, 36, 37}, temperature},
		{"vitals_before", "temperature_c", 1, []float64{35.6, 36.4, 37.5}, temperature},
		{"vitals_before", "sitting_systolic_mmhg", 0, []float64{105, 138, 170}, pressure},
		{"reading", "systolic_mmhg", 0, []float64{105, 138, 170}, pressure},
		{"reading", "venous_mmhg", 0, []float64{60, 130}, units{"kPa": digits(1, 0.133322), "whole kPa": digits(0, 0.133322)}},
		{"reading", "blood_flow_ml_min", 0, []float64{250, 310, 400}, flow},
		{"prescription", "blood_flow_ml_min", 0, []float64{250, 310, 400}, units{"L/min": digits(2, 0.001), "L/h": digits(0, 0.06), "mL/h": digits(0, 60)}},
		{"prescription", "length_min", 0, []float64{150, 240, 480}, units{"h": digits(1, 1./60), "whole h": digits(0, 1./60), "s": digits(0, 60)}},
		{"read_back", "machine_length_min", 0, []float64{150, 240, 480}, units{"h": digits(1, 1./60), "whole h": digits(0, 1./60), "s": digits(0, 60)}},
		{"goal_changed", "goal_ml", 0, []float64{900, 2400, 3000}, units{"L": digits(1, 0.001), "whole L": digits(0, 0.001), "g as kg": digits(2, 0.001)}},
		{"prescription", "max_removal_ml", 0, []float64{2500, 3200, 4000}, units{"L": digits(1, 0.001), "whole L": digits(0, 0.001)}},
		{"prescription", "rate_limit_ml_h_kg", 0, []float64{8, 10, 13}, units{"mL/h": digits(0, 65), "L/h": digits(2, 0.065)}},
		{"prescription", "dialysate_temp_c", 1, []float64{35, 36, 37}, temperature},
		{"prescription", "heparin_bolus_iu", 0, []float64{1500, 2000, 4000}, units{"mL": digits(1, 0.001)}},
		{"heparin_drawn", "bolus_iu", 0, []float64{1500, 2500, 4500}, units{"mL": digits(1, 0.001)}},
		{"anaesthetic_drawn", "strength_percent", 0, []float64{1, 2}, units{"mg/mL": digits(0, 10)}},
		{"came_off", "removed_ml", 0, []float64{1400, 2400}, units{"L": digits(1, 0.001)}},
		{"drink", "volume_ml", 0, []float64{100, 250}, units{"L": digits(2, 0.001)}},
	} {
		for _, v := range tt.usual {
			if text := strconv.FormatFloat(v, 'f', tt.decimals, 64); !silent(tt.kind, tt.key, text) {
				t.Errorf("%s.%s = %s is not taken as it stands", tt.kind, tt.key, text)
			}
			for name, typed := range tt.wrong {
				if text := typed(v); silent(tt.kind, tt.key, text) {
					t.Errorf("%s.%s = %v typed in %s as %s is taken in silence", tt.kind, tt.key, v, name, text)
				}
			}
		}
	}
}

// A goal set on the machine that lies below what is off already is asked about:
// 2 for 2.0 L is the likeliest cause.
func TestGoalBelowWhatIsOff(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-1")
	b.now = b.now.Add(time.Hour)
	b.must("reading", "session-1", &session.Reading{Removed: ptr(unit.Volume(800))})
	if found := Check(b.h, b.entry("goal_changed", "session-1", &session.GoalChanged{Goal: 700})); found.On("goal_ml") == "" {
		t.Errorf("a goal of 700 mL after 800 mL are off: %v", found)
	}
	if found := Check(b.h, b.entry("goal_changed", "session-1", &session.GoalChanged{Goal: 800})); len(found) > 0 {
		t.Errorf("removal stopped where it stands: %v", found)
	}
}

// One heparin at a time: the unfractionated and the low-molecular kind cannot
// stand in one prescription, nor can a dose beside "none", nor be drawn up
// (H-58).
func TestOneHeparinOnly(t *testing.T) {
	b := newBook(t)
	for name, change := range map[string]func(*session.Prescription){
		"low-molecular by the hour": func(p *session.Prescription) { p.Heparin, p.HepHourly = "low_molecular", ptr(unit.DoseRate(600)) },
		"none, with a dose":         func(p *session.Prescription) { p.Heparin = "none" },
		"both":                      func(p *session.Prescription) { p.Heparin = "unfractionated low_molecular" },
		"a kind without a dose":     func(p *session.Prescription) { p.HepBolus, p.HepHourly = nil, nil },
		"a dose without a strength": func(p *session.Prescription) { p.HepStrength = nil },
	} {
		rx := aPrescription()
		change(&rx)
		if found := Check(b.h, b.entry("prescription", "", &rx)); !found.Refused() {
			t.Errorf("%s: %v", name, found)
		}
	}
	rx := aPrescription()
	rx.Heparin, rx.HepBolus, rx.HepStrength = "none", nil, nil
	b.must("prescription", "", &rx)
	b.open("session-1")
	drawn := &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "H1", Expiry: unit.NewDate(2027, 1, 31)}
	if found := Check(b.h, b.entry("heparin_drawn", "session-1", drawn)); !strings.Contains(found.On("bolus_iu"), "no heparin") {
		t.Errorf("drawn up though none is prescribed: %v", found)
	}
}
