package unit

import (
	"errors"
	"math"
	"testing"
)

func TestUreaUnits(t *testing.T) {
	for _, tt := range []struct {
		value        float64
		unit         string
		want, within float64 // mmol/L
		source       string
	}{
		{60, BUNMgPerDL, 21.418, 0.0005, "10/28.014 by atomic weights"},
		{1, BUNMgPerDL, 0.357, 0.0005, "a laboratory's printed factor"},
		{1, UreaMgPerDL, 0.1665, 0.00005, "a laboratory's printed factor"},
		{20, UreaMmolPerL, 20, 0, "definition"},
	} {
		got, err := NewUrea(tt.value, tt.unit)
		if err != nil || math.Abs(got.MmolPerL()-tt.want) > tt.within {
			t.Errorf("NewUrea(%v, %q) = %v, %v; want %v ± %v (%s)", tt.value, tt.unit, got, err, tt.want, tt.within, tt.source)
		}
	}
}

func TestUreaComesBack(t *testing.T) {
	for _, v := range []float64{0.01, 3.7, 21.4, 80} {
		u, err := NewUrea(v, UreaMmolPerL)
		if err != nil {
			t.Fatal(err)
		}
		for _, back := range []struct {
			value float64
			unit  string
		}{{u.MmolPerL(), UreaMmolPerL}, {u.BUNMgPerDL(), BUNMgPerDL}, {u.UreaMgPerDL(), UreaMgPerDL}} {
			again, err := NewUrea(back.value, back.unit)
			if err != nil || math.Abs(float64(again/u)-1) > 1e-15 {
				t.Errorf("%v mmol/L came back from %s as %v, %v", v, back.unit, again, err)
			}
		}
		if got := BUN(u.BUNMgPerDL()); math.Abs(float64(got/u)-1) > 1e-15 {
			t.Errorf("BUN(%v) = %v mmol/L, want %v", u.BUNMgPerDL(), got, u)
		}
	}
	if got, want := BUN(100).NitrogenMgPerML(), 1.0; math.Abs(got-want) > 1e-15 {
		t.Errorf("100 mg/dL of nitrogen is %v mg/mL, want %v", got, want)
	}
}

func TestUreaRefused(t *testing.T) {
	for _, tt := range []struct {
		value float64
		unit  string
	}{
		{20, ""}, {20, "mg/dl"}, {20, "mmol"}, {20, "g/L"},
		{0, UreaMmolPerL}, {-1, UreaMmolPerL}, {1500.1, UreaMmolPerL}, {4203, BUNMgPerDL},
		{math.NaN(), UreaMmolPerL}, {math.Inf(1), BUNMgPerDL},
	} {
		if u, err := NewUrea(tt.value, tt.unit); !errors.As(err, new(*InputError)) {
			t.Errorf("NewUrea(%v, %q) = %v, %v; want an InputError", tt.value, tt.unit, u, err)
		}
	}
	for _, unit := range UreaUnits() {
		if _, err := NewUrea(20, unit); err != nil {
			t.Errorf("the listed unit %q: %v", unit, err)
		}
	}
}
