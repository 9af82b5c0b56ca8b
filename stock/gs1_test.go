package stock

import (
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// The GTIN 09506000134352 is of the range kept for examples; its check digit
// by hand: 3·(0+5+6+0+1+4+5) + 9+0+0+0+3+3 + 2 = 63 + 15 + 2 = 80.
func TestParseLabel(t *testing.T) {
	today := unit.NewDate(2026, time.March, 3)
	end := unit.NewDate(2026, time.November, 30)
	whole := Label{GTIN: "09506000134352", Lot: "AB-12", Expires: end}
	for _, tt := range []struct {
		name, in string
		want     Label
	}{
		{"brackets", "(01)09506000134352(17)261130(10)AB-12", whole},
		{"brackets and spaces", " (01) 09506000134352 (17) 261130 (10) AB-12 ", whole},
		{"scanner", "]C1010950600013435217261130" + "10AB-12", whole},
		{"without its prefix", "01095060001343521726113010AB-12", whole},
		{"lot before the date", "]d20109506000134352" + "10AB-12\x1d17261130", whole},
		{"separator spelled out", "0109506000134352" + "10AB-12<GS>17261130", whole},
		{"separator shown as a sign", "0109506000134352" + "10AB-12␝17261130", whole},
		{"separator after fixed data too", "0109506000134352\x1d17261130\x1d10AB-12\x1d", whole},
		{"leading separator", "\x1d010950600013435217261130" + "10AB-12", whole},
		{"day 00 is the end of the month", "(17)261100", Label{Expires: end}},
		{"February", "(17)280200", Label{Expires: unit.NewDate(2028, time.February, 29)}},
		{"all of them", "(01)09506000134352(11)240105(17)261130(10)X(21)S9(30)24",
			Label{GTIN: "09506000134352", Made: unit.NewDate(2024, time.January, 5), Expires: end, Lot: "X", Serial: "S9", Count: 24}},
		{"the same twice", "(10)X(10)X", Label{Lot: "X"}},
		{"passed by", "(240)REF1(10)X", Label{Lot: "X", Passed: []string{"240"}}},
		{"a bracket in the lot", "(10)A(2)B(17)261130", Label{Lot: "A(2)B", Expires: end}},
		{"fifty years on", "(17)760101", Label{Expires: unit.NewDate(2076, time.January, 1)}},
		{"fifty-one is the last century", "(11)770101", Label{Made: unit.NewDate(1977, time.January, 1)}},
	} {
		got, err := ParseLabel(tt.in, today)
		if err != nil || !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%s: %+v, %v; want %+v", tt.name, got, err, tt.want)
		}
	}
	late := unit.NewDate(2080, time.March, 3)
	if got, err := ParseLabel("(17)100101", late); err != nil || got.Expires != unit.NewDate(2110, time.January, 1) {
		t.Errorf("in 2080, 10 = %+v, %v; want 2110", got, err)
	}

	for name, in := range map[string]string{
		"nothing":               "",
		"plain text":            "hello",
		"wrong check digit":     "(01)09506000134353",
		"short GTIN":            "(01)0950600013435",
		"letters in the date":   "(17)26113O",
		"thirteenth month":      "(17)261330",
		"31 November":           "(17)261131",
		"unknown identifier":    "(99)X",
		"unknown, from scanner": "]C199X",
		"lot too long":          "(10)" + strings.Repeat("A", 21),
		"empty lot":             "(10)(17)261130",
		"two lots":              "(10)A(10)B",
		"cut short":             "0109506000134352172611",
		"not a sign of a label": "(10)AB€",
		"only a prefix":         "]C1",
		"bracket left open":     "(10",
	} {
		if got, err := ParseLabel(in, today); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: %+v, %v; want an InputError", name, got, err)
		}
	}
	if _, err := ParseLabel("(10)A", unit.Date{}); err == nil {
		t.Error("a label was read without a day")
	}
}

// Identifiers are told apart from the left, so none may begin another.
func TestIdentifiersAreApart(t *testing.T) {
	for a := range identifiers {
		for b := range identifiers {
			if a != b && strings.HasPrefix(b, a) {
				t.Errorf("%s begins %s", a, b)
			}
		}
	}
}

func FuzzParseLabel(f *testing.F) {
	for _, s := range []string{"(01)09506000134352(17)261130(10)AB-12", "]C1010950600013435217261130" + "10AB-12\x1d3024", "(10", "]d2", "(17)261100"} {
		f.Add(s)
	}
	today := unit.NewDate(2026, time.March, 3)
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLabel(s, today)
		if err != nil {
			return
		}
		if l.GTIN != "" && (len(l.GTIN) != 14 || !checkDigit(l.GTIN)) || len(l.Lot) > 20 || len(l.Serial) > 20 {
			t.Errorf("ParseLabel(%q) = %+v", s, l)
		}
		for _, d := range []unit.Date{l.Made, l.Expires} {
			if years := d.Sub(today) / 365; !d.IsZero() && (years > 51 || years < -51) {
				t.Errorf("ParseLabel(%q) is %d years away", s, years)
			}
		}
	})
}
