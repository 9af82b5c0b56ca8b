package fluid

import (
	"errors"
	"math"
	"testing"

	"ebbline/unit"

	"pgregory.net/rapid"
)

func TestDraw(t *testing.T) {
	for _, tt := range []struct {
		dose, strength Amount
		want           float64
	}{
		// The strengths that are sold, against one dose: the tenfold slip is
		// the tenfold volume.
		{Amount{1500, IU}, Amount{1000, IUPerMl}, 1.5},
		{Amount{1500, IU}, Amount{5000, IUPerMl}, 0.3},
		{Amount{1500, IU}, Amount{10_000, IUPerMl}, 0.15},
		{Amount{1500, IU}, Amount{25_000, IUPerMl}, 0.06},
		{Amount{3000, IU}, Amount{1000, IUPerMl}, 3},
		{Amount{500, IU}, Amount{100, IUPerMl}, 5},
		{Amount{40, Mg}, Amount{100, MgPerMl}, 0.4},
		{Amount{2, Mg}, Amount{1, Percent}, 0.2}, // 1 % is 10 mg/mL
		{Amount{200, Mg}, Amount{1, Percent}, 20},
		{Amount{200, Mg}, Amount{2, Percent}, 10},
		{Amount{30, Microgram}, Amount{40, MicrogramPer}, 0.75},
	} {
		got, err := Draw(DrawInput{Dose: tt.dose, Strength: tt.strength})
		if err != nil || got.DrawMl != tt.want || got.DiluentMl != nil || got.Final != nil || len(got.Cautions) != 0 {
			t.Errorf("%v of %v = %+v, %v; want %v mL", tt.dose, tt.strength, got, err, tt.want)
		}
	}
}

func TestDrawDiluted(t *testing.T) {
	got, err := Draw(DrawInput{Amount{5000, IU}, Amount{5000, IUPerMl}, new(ml(20))})
	if err != nil || got.DrawMl != 1 || *got.DiluentMl != 19 || *got.Final != (Amount{250, IUPerMl}) {
		t.Errorf("5000 IU made up to 20 mL: %+v, %v", got, err)
	}
	got, err = Draw(DrawInput{Amount{50, Mg}, Amount{2, Percent}, new(ml(5))})
	if err != nil || got.DrawMl != 2.5 || *got.DiluentMl != 2.5 || *got.Final != (Amount{1, Percent}) {
		t.Errorf("2 %% thinned to half: %+v, %v", got, err)
	}
	// The dose fills the volume: nothing is added.
	got, err = Draw(DrawInput{Amount{1000, IU}, Amount{1000, IUPerMl}, new(ml(1))})
	if err != nil || *got.DiluentMl != 0 || got.Final.Value != 1000 {
		t.Errorf("just full: %+v, %v", got, err)
	}
}

func TestDrawRefuses(t *testing.T) {
	heparin := DrawInput{Dose: Amount{1500, IU}, Strength: Amount{1000, IUPerMl}}
	for _, tt := range []struct {
		name, field string
		change      func(*DrawInput)
	}{
		{"IU of a vial in mg", "strength.unit", func(in *DrawInput) { in.Strength.Unit = MgPerMl }},
		{"IU of a percentage", "strength.unit", func(in *DrawInput) { in.Strength.Unit = Percent }},
		{"IU of micrograms", "strength.unit", func(in *DrawInput) { in.Strength.Unit = MicrogramPer }},
		{"mg of a vial in IU", "strength.unit", func(in *DrawInput) { in.Dose.Unit = Mg }},
		{"mg of micrograms", "strength.unit", func(in *DrawInput) { in.Dose.Unit, in.Strength.Unit = Mg, MicrogramPer }},
		{"micrograms of mg", "strength.unit", func(in *DrawInput) { in.Dose.Unit, in.Strength.Unit = Microgram, MgPerMl }},
		{"micrograms of a percentage", "strength.unit", func(in *DrawInput) { in.Dose.Unit, in.Strength.Unit = Microgram, Percent }},
		{"a U", "strength.unit", func(in *DrawInput) { in.Dose.Unit = "U" }},
		{"no strength", "strength.unit", func(in *DrawInput) { in.Strength = Amount{} }},
		{"strength 0", "strength.value", func(in *DrawInput) { in.Strength.Value = 0 }},
		{"strength NaN", "strength.value", func(in *DrawInput) { in.Strength.Value = math.NaN() }},
		{"over 100 %", "strength.value", func(in *DrawInput) { in.Dose, in.Strength = Amount{10, Mg}, Amount{101, Percent} }},
		{"dose 0", "dose.value", func(in *DrawInput) { in.Dose.Value = 0 }},
		{"dose below 0", "dose.value", func(in *DrawInput) { in.Dose.Value = -1500 }},
		{"dose infinite", "dose.value", func(in *DrawInput) { in.Dose.Value = math.Inf(1) }},
		{"litres of it", "dose.value", func(in *DrawInput) { in.Dose.Value, in.Strength.Value = 15_000, 10 }},
		{"a hair too much for the syringe", "dilute_to_ml", func(in *DrawInput) { in.DiluteTo = new(ml(1.499)) }},
		{"diluted to nothing", "dilute_to_ml", func(in *DrawInput) { in.DiluteTo = new(ml(0)) }},
	} {
		in := heparin
		tt.change(&in)
		got, err := Draw(in)
		if ie := (*unit.InputError)(nil); !errors.As(err, &ie) || ie.Field != tt.field || got.DrawMl != 0 {
			t.Errorf("%s: %+v, %v; want a refusal of %s", tt.name, got, err, tt.field)
		}
	}
}

// Flush of 10 IU/mL taken for the vial: the volume itself gives it away.
func TestDrawLarge(t *testing.T) {
	got, err := Draw(DrawInput{Dose: Amount{1500, IU}, Strength: Amount{10, IUPerMl}})
	if err != nil || got.DrawMl != 150 || codes(got.Cautions) != "large_draw " {
		t.Errorf("1500 IU of flush: %+v, %v", got, err)
	}
	got, err = Draw(DrawInput{Dose: Amount{600, IU}, Strength: Amount{10, IUPerMl}})
	if err != nil || got.DrawMl != 60 || len(got.Cautions) != 0 {
		t.Errorf("a full syringe: %+v, %v", got, err)
	}
}

// What is drawn holds the dose, before and after dilution.
func TestDrawHoldsTheDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := DrawInput{
			Dose:     Amount{rapid.Float64Range(1, 30_000).Draw(t, "dose"), IU},
			Strength: Amount{rapid.SampledFrom([]float64{100, 1000, 5000, 10_000, 25_000}).Draw(t, "strength"), IUPerMl},
			DiluteTo: new(ml(rapid.Float64Range(1, 100).Draw(t, "to"))),
		}
		got, err := Draw(in)
		if in.Dose.Value/in.Strength.Value > in.DiluteTo.Float() {
			if err == nil {
				t.Fatal("a dose that does not fit was drawn")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*b }
		if !near(got.DrawMl*in.Strength.Value, in.Dose.Value) || !near((got.DrawMl+*got.DiluentMl)*got.Final.Value, in.Dose.Value) {
			t.Fatalf("%v in %+v, final %+v", in.Dose, got, got.Final)
		}
	})
}
