package stock

import (
	"errors"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

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
		{"a separator among brackets", "(10)AB-12␝(17)261130(01)09506000134352", whole},
		{"brackets after a prefix", "]C1(01)09506000134352(17)261130(10)AB-12", whole},
		{"two codes one after the other", "]C1010950600013435217261130]C110AB-12", whole},
		{"a lot that ends like a date, beside a date", "010950600013435217261130" + "10AB17250101", Label{GTIN: whole.GTIN, Lot: "AB17250101", Expires: end}},
		{"a lot that ends like a date, in brackets", "(01)09506000134352(10)AB17250101", Label{GTIN: whole.GTIN, Lot: "AB17250101"}},
		{"expiry with its hour", "(10)X(7003)2611301200", Label{Lot: "X", Expires: end, Passed: []string{"7003"}}},
		{"weight and price", "3103001250" + "392099\x1d10X", Label{Lot: "X", Passed: []string{"3103", "3920"}}},
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
		"unknown identifier":    "(88)X",
		"unknown, from scanner": "]C188X",
		"separator lost":        "0109506000134352" + "10AB-1217261130",
		"an hour cut short":     "(7003)26113",
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

// Whatever identifiers stand on a label, in whatever order, and however the
// scanner shows the separator, the same is read off it.
func TestLabelInAnyOrder(t *testing.T) {
	today := unit.NewDate(2026, time.March, 3)
	want := Label{GTIN: "09506000134352", Lot: "L-4.7/A", Made: unit.NewDate(2025, time.June, 30), Expires: unit.NewDate(2028, time.February, 29), Serial: "00017", Count: 24}
	known := map[string]string{"01": "09506000134352", "10": "L-4.7/A", "11": "250630", "17": "280200", "21": "00017", "30": "24"}
	var others []string
	for id := range identifiers {
		if _, kept := known[id]; !kept {
			others = append(others, id)
		}
	}
	slices.Sort(others)
	rapid.Check(t, func(t *rapid.T) {
		data := maps.Clone(known)
		want := want
		for _, id := range rapid.SliceOfNDistinct(rapid.SampledFrom(others), 0, 6, rapid.ID[string]).Draw(t, "others") {
			spec := identifiers[id]
			n := spec.length
			if !spec.fixed {
				n = rapid.IntRange(1, spec.length).Draw(t, "length")
			}
			if id == "7003" {
				n = 10
			}
			data[id] = strings.Repeat("7", n)
			want.Passed = append(want.Passed, id)
		}
		order := rapid.Permutation(slices.Sorted(maps.Keys(data))).Draw(t, "order")
		mark := rapid.SampledFrom([]string{"\x1d", "␝", "<GS>", "{GS}", "[FNC1]", "^", "|", "~", "#", "@", "^]", "è", `\x1d`, "]C1"}).Draw(t, "separator")
		var scanned, typed strings.Builder
		scanned.WriteString(rapid.SampledFrom([]string{"", "]C1", "]d2", "]Q3", "]e0"}).Draw(t, "prefix"))
		for i, id := range order {
			scanned.WriteString(id + data[id])
			if i+1 < len(order) && (!identifiers[id].fixed || rapid.IntRange(0, 4).Draw(t, "needless") == 0) {
				scanned.WriteString(mark)
			}
			typed.WriteString("(" + id + ")" + data[id] + rapid.SampledFrom([]string{"", " "}).Draw(t, "space"))
		}
		for _, in := range []string{scanned.String(), typed.String()} {
			got, err := ParseLabel(in, today)
			slices.Sort(got.Passed)
			slices.Sort(want.Passed)
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Fatalf("%q: %+v, %v; want %+v", in, got, err, want)
			}
		}
	})
}

func TestValidGTIN(t *testing.T) {
	for s, want := range map[string]bool{"09506000134352": true, "9506000134352": true, "9506000134353": false, "950600013435": false, "96385074": true, "": false, "0950600013435X": false, "614141007349": true} {
		if got := ValidGTIN(s); got != want {
			t.Errorf("ValidGTIN(%q) = %v", s, got)
		}
	}
}

//fuzz:runs 90000
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
