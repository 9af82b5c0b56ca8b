package unit

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func TestMassOfPounds(t *testing.T) {
	for _, tt := range []struct {
		lb, kg, why string
	}{
		{"0", "0", "nothing"},
		{"1", "0.454", "0.45359237 kg by definition"},
		{"73", "33.112", "33.11226301"},
		{"160.9", "72.983", "72.983012333: the 73 kg that is 160.9 lb"},
		{"160.94", "73.001", "73.0011560278"},
		{"0.01", "0.005", "0.0045359237"},
		{"500000", "226796.185", "exact"},
	} {
		var lb Pounds
		if err := lb.UnmarshalText([]byte(tt.lb)); err != nil {
			t.Fatal(err)
		}
		if got := MassOfPounds(lb).String(); got != tt.kg {
			t.Errorf("%s lb = %s kg, want %s (%s)", tt.lb, got, tt.kg, tt.why)
		}
	}
}

func TestMassOfStone(t *testing.T) {
	for _, tt := range []struct {
		st Stone
		lb Pounds
		kg string
	}{
		{100, 0, "6.35"},        // 6.35029318
		{1100, 600, "72.575"},   // 160 lb = 72.5747792
		{1150, 0, "73.028"},     // 161 lb = 73.02837157
		{0, 16100, "73.028"},    // the same as pounds
		{1142, 0, "72.52"},      // 159.88 lb = 72.5203481156
		{2200, 1399, "146.052"}, // 321.99 lb = 146.0522072163
	} {
		if got := MassOfStone(tt.st, tt.lb).String(); got != tt.kg {
			t.Errorf("%s st %s lb = %s kg, want %s", tt.st, tt.lb, got, tt.kg)
		}
	}
}

// Outside values. The multiples of a pound as NIST Handbook 44, App. C, prints them
// to five decimals of a kilogram (from memory); a hundredweight, 112 lb, as
// 50.802 345 44 kg, and a stone as 6.350 293 18 kg, in a dictionary of units (read).
// Ours are those to the gram.
func TestMassAgainstPrintedTables(t *testing.T) {
	for _, tt := range []struct {
		lb      Pounds
		printed float64 // kg
		within  float64 // half a gram, and half of the last digit printed
	}{
		{100, 0.45359, 0.000505}, {200, 0.90718, 0.000505}, {300, 1.36078, 0.000505},
		{400, 1.81437, 0.000505}, {500, 2.26796, 0.000505}, {600, 2.72155, 0.000505},
		{700, 3.17515, 0.000505}, {800, 3.62874, 0.000505}, {900, 4.08233, 0.000505},
		{1400, 6.35029318, 0.0005}, {11200, 50.80234544, 0.0005},
	} {
		if off := math.Abs(MassOfPounds(tt.lb).Float() - tt.printed); off > tt.within {
			t.Errorf("%s is %s kg, printed %g", tt.lb.Text(), MassOfPounds(tt.lb), tt.printed)
		}
	}
	if got := MassOfStone(800, 0); got != MassOfPounds(11200) || got.String() != "50.802" {
		t.Errorf("eight stone, a hundredweight, are %s kg", got)
	}
}

// The conversion is the exact one to within half a gram, everywhere.
func TestImperialIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lb := rapid.Int64Range(-1e12, 1e12).Draw(t, "hundredths of lb")
		exact := new(big.Rat).Mul(big.NewRat(lb, 100), big.NewRat(45359237, 100000)) // g
		off := new(big.Rat).Sub(exact, big.NewRat(int64(MassOfPounds(Pounds(lb))), 1))
		if off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
			t.Fatalf("%d hundredths of lb are off by %s g", lb, off.FloatString(6))
		}
		if f := math.Abs(float64(lb) / 100 * KgPerPound); math.Abs(f-math.Abs(MassOfPounds(Pounds(lb)).Float())) > 0.000501+f*1e-12 {
			t.Fatalf("%d hundredths of lb differ from the constant", lb)
		}
	})
}

func TestImperialSymbols(t *testing.T) {
	if got := Pounds(16090).Text() + ", " + Stone(1150).Text(); got != "160.9\u00a0lb, 11.5\u00a0st" {
		t.Errorf("written %q", got)
	}
}
