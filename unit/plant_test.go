package unit

import (
	"errors"
	"testing"
)

func TestParseGauge(t *testing.T) {
	for _, tt := range []struct{ typed, in, want string }{
		{"2.4", "bar", "240"},
		{"2,45", "bar", "245"},
		{"35", "psi", "241.3"}, // 35 × 6.894757 = 241.316
		{"0", "psi", "0"},
		{"310.5", "kPa", "310.5"},
		{"14.5", "psi", "100"}, // 99.974
	} {
		got, err := ParseGauge(tt.typed, tt.in)
		if err != nil || got.String() != tt.want {
			t.Errorf("ParseGauge(%q, %q) = %s, %v; want %s", tt.typed, tt.in, got, err, tt.want)
		}
	}
	for _, tt := range [][2]string{{"2.4", "atm"}, {"2.4", ""}, {"-1", "bar"}, {"2.455", "bar"}, {"1,000.5", "kPa"}, {"", "bar"}} {
		if got, err := ParseGauge(tt[0], tt[1]); !errors.As(err, new(*InputError)) {
			t.Errorf("ParseGauge(%q, %q) = %s, %v; want a refusal", tt[0], tt[1], got, err)
		}
	}
}

// A grain is 17.1, a German degree 17.8, a French one 10 mg/L as CaCO3.
func TestParseHardness(t *testing.T) {
	for _, tt := range []struct{ typed, in, want string }{
		{"1", "gpg", "17.1"},
		{"1", "°dH", "17.8"},
		{"1.5", "°fH", "15"},
		{"17", "mg/L as CaCO3", "17"},
		{"0.05", "gpg", "0.9"}, // 0.855
	} {
		got, err := ParseHardness(tt.typed, tt.in)
		if err != nil || got.String() != tt.want {
			t.Errorf("ParseHardness(%q, %q) = %s, %v; want %s", tt.typed, tt.in, got, err, tt.want)
		}
	}
	for _, tt := range [][2]string{{"1", "mg/L"}, {"1", "ppm"}, {"x", "gpg"}} {
		if got, err := ParseHardness(tt[0], tt[1]); !errors.As(err, new(*InputError)) {
			t.Errorf("ParseHardness(%q, %q) = %s, %v; want a refusal", tt[0], tt[1], got, err)
		}
	}
	for _, u := range HardnessUnits() {
		if _, err := ParseHardness("1", u); err != nil {
			t.Errorf("the listed unit %s is refused: %v", u, err)
		}
	}
	for _, u := range GaugeUnits() {
		if _, err := ParseGauge("1", u); err != nil {
			t.Errorf("the listed unit %s is refused: %v", u, err)
		}
	}
}
