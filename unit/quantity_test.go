package unit

import (
	"encoding/json"
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestQuantityWrites(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{Mass(72_500).String(), "72.5"}, {Mass(72_000).String(), "72"}, {Mass(5).String(), "0.005"}, {Mass(0).String(), "0"},
		{Mass(72_500).Digits(1), "72.5"}, {Mass(72_000).Digits(1), "72.0"}, {Mass(72_050).Digits(1), "72.05"}, {Mass(72_500).Digits(4), "72.5000"},
		{Pressure(-120).String(), "-120"}, {Pressure(-120).Digits(1), "-120.0"}, {Temperature(-5).String(), "-0.5"},
		{Drawn(5).String(), "0.05"}, {Volume(3200).Digits(0), "3200"},
		{Mass(72_500).Text(), "72.5\u00a0kg"}, {Rate(800).Text(), "800\u00a0mL/h"}, {Conductivity(1_400).Text(), "14\u00a0mS/cm"},
		{Mass(math.MaxInt64).String(), "9223372036854775.807"}, {Mass(math.MinInt64).String(), "-9223372036854775.808"},
	} {
		if tt.got != tt.want {
			t.Errorf("written %q, want %q", tt.got, tt.want)
		}
	}
	if Mass(0).Symbol() != "kg" || Mass(0).Decimals() != 3 || Volume(0).Decimals() != 0 {
		t.Error("a mass is kg to 3 decimals, a volume is whole")
	}
}

// One row a measure: what one finest step is, in the trade's unit.
func TestQuantitySteps(t *testing.T) {
	for _, tt := range []struct {
		got        float64
		want       float64
		symbol, is string
	}{
		{Mass(1).Float(), 0.001, Mass(1).Symbol(), "kg"},
		{Volume(1).Float(), 1, Volume(1).Symbol(), "mL"},
		{Rate(1).Float(), 1, Rate(1).Symbol(), "mL/h"},
		{RatePerKg(1).Float(), 0.01, RatePerKg(1).Symbol(), "mL/h/kg"},
		{Flow(1).Float(), 1, Flow(1).Symbol(), "mL/min"},
		{Pressure(1).Float(), 1, Pressure(1).Symbol(), "mmHg"},
		{Pulse(1).Float(), 1, Pulse(1).Symbol(), "/min"},
		{Temperature(1).Float(), 0.1, Temperature(1).Symbol(), "°C"},
		{Conductivity(1).Float(), 0.01, Conductivity(1).Symbol(), "mS/cm"},
		{Concentration(1).Float(), 0.001, Concentration(1).Symbol(), "mg/L"},
		{Molar(1).Float(), 0.01, Molar(1).Symbol(), "mmol/L"},
		{Dose(1).Float(), 1, Dose(1).Symbol(), "IU"},
		{Strength(1).Float(), 1, Strength(1).Symbol(), "IU/mL"},
		{DoseRate(1).Float(), 1, DoseRate(1).Symbol(), "IU/h"},
		{Milligrams(1).Float(), 0.01, Milligrams(1).Symbol(), "mg"},
		{Minutes(1).Float(), 1, Minutes(1).Symbol(), "min"},
		{Litres(1).Float(), 0.001, Litres(1).Symbol(), "L"},
		{Drawn(1).Float(), 0.01, Drawn(1).Symbol(), "mL"},
		{Percent(1).Float(), 0.1, Percent(1).Symbol(), "%"},
		{Content(1).Float(), 0.01, Content(1).Symbol(), "%"},
		{Length(1).Float(), 0.1, Length(1).Symbol(), "cm"},
		{Area(1).Float(), 0.01, Area(1).Symbol(), "m²"},
		{PH(1).Float(), 0.01, PH(1).Symbol(), "pH"},
	} {
		if tt.got != tt.want || tt.symbol != tt.is {
			t.Errorf("one step is %v %s, want %v %s", tt.got, tt.symbol, tt.want, tt.is)
		}
	}
}

func TestQuantityJSON(t *testing.T) {
	type weighing struct {
		PreKg  Mass      `json:"pre_kg"`
		PostKg *Mass     `json:"post_kg"`
		Venous *Pressure `json:"venous_mmhg"`
	}
	in := weighing{PreKg: 74_600, Venous: new(Pressure(-120))}
	b, err := json.Marshal(in)
	if err != nil || string(b) != `{"pre_kg":74.6,"post_kg":null,"venous_mmhg":-120}` {
		t.Fatalf("written %s, %v", b, err)
	}
	var back weighing
	if err := json.Unmarshal(b, &back); err != nil || back.PreKg != in.PreKg || back.PostKg != nil || *back.Venous != -120 {
		t.Errorf("read back %+v, %v", back, err)
	}
	for _, bad := range []string{
		`"74.6"`, `74.6001`, `7.46e1`, `-74.6`, `true`, `[74.6]`, `{}`, `""`, `1234567890123`, `null`,
	} {
		var m Mass
		err := m.UnmarshalJSON([]byte(bad))
		if ie := (*InputError)(nil); !errors.As(err, &ie) || m != 0 {
			t.Errorf("%s was read as %d g, %v", bad, m, err)
		}
	}
	// Text stays text, with spaces before it too.
	if err := new(Mass).UnmarshalJSON([]byte(` "74.6"`)); err == nil {
		t.Error("text was read as a number")
	}
}

// A refused value leaves the field as it was.
func TestQuantityKeepsItsValueWhenRefused(t *testing.T) {
	m := Mass(72_000)
	if m.UnmarshalText([]byte("7.4.6")) == nil || m != 72_000 {
		t.Errorf("the field holds %d g", m)
	}
}

func TestNear(t *testing.T) {
	for _, tt := range []struct {
		v    float64
		want Mass
	}{
		{0, 0}, {72.5, 72_500}, {72.5004, 72_500}, {72.5006, 72_501}, {0.0005, 1}, {-0.0005, -1}, {0.00049, 0},
		// One step below a half: adding a half and cutting would give 1 g.
		{0.00049999999999999994, 0},
		{9e15, 9e18}, {9.3e15, math.MinInt64}, {math.Inf(1), math.MinInt64}, {math.Inf(-1), math.MinInt64}, {math.NaN(), math.MinInt64},
	} {
		if got := Mass(0).Near(tt.v); got != tt.want {
			t.Errorf("Near(%v) = %d g, want %d", tt.v, got, tt.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1e12, 1e12).Draw(t, "n")
		if got := Mass(0).Near(Mass(n).Float()); got != Mass(n) {
			t.Fatalf("%d g comes back as %d", n, got)
		}
	})
}

func TestInputError(t *testing.T) {
	for _, tt := range []struct {
		err  *InputError
		want string
	}{
		{Refuse("pre_weight_kg", Mass(19_900), "20 to 300 kg"), "pre_weight_kg: 19.9 is not accepted: needs 20 to 300 kg"},
		{Refuse("", "7.4.6", "a number"), "7.4.6 is not accepted: needs a number"},
		{Refuse("goal_ml", "", "a number"), "goal_ml: an empty field is not accepted: needs a number"},
	} {
		if got := tt.err.Error(); got != tt.want {
			t.Errorf("says %q, want %q", got, tt.want)
		}
	}
}
