package water

import (
	"errors"
	"testing"

	"ebbline/unit"
)

func TestParseFigure(t *testing.T) {
	for _, tt := range []struct {
		in    string
		op    Op
		value float64
	}{
		{"0.05", Equal, 0.05}, {" 12 ", Equal, 12}, {"0,05", Equal, 0.05}, {"0", Equal, 0},
		{"<1", Less, 1}, {"< 0,25", Less, 0.25}, {">300", Greater, 300}, {"> 300", Greater, 300},
	} {
		op, v, err := ParseFigure(tt.in)
		if err != nil || op != tt.op || v != tt.value {
			t.Errorf("ParseFigure(%q) = %s %v, %v; want %s %v", tt.in, op, v, err, tt.op, tt.value)
		}
	}
	for _, bad := range []string{
		"", "nil", "ND", "TNTC", "not detected", "<", ">", "<0", "-1", "+1", "1e3", "1.000,5", "1.2.3", "1,2,3",
		"≤1", "<=1", "about 5", "5 mg/L", "0x10", "١", "NaN", "inf", ".5", "5.", "<<1", "1_000",
	} {
		if op, v, err := ParseFigure(bad); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("ParseFigure(%q) = %s %v, %v; want an InputError", bad, op, v, err)
		}
	}
}

//fuzz:runs 100000
func FuzzParseFigure(f *testing.F) {
	for _, s := range []string{"<1", ">300", "0,05", "nil", "<"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		op, v, err := ParseFigure(s)
		if err != nil {
			return
		}
		if op == "" || !(v >= 0 && v <= 1e12) {
			t.Errorf("ParseFigure(%q) = %s %v", s, op, v)
		}
	})
}
