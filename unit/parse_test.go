package unit

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What people type and paste into a number field, and what is right in it.
func TestParseAccepts(t *testing.T) {
	for _, tt := range []struct {
		typed string
		grams Mass
	}{
		{"72.5", 72_500}, {"72,5", 72_500}, {"72", 72_000}, {"72.0", 72_000}, {"72.500", 72_500}, {"0", 0}, {"0.001", 1},
		{" 72.5 ", 72_500}, {"\t72.5\n", 72_500}, {"\u00a072.5\u202f", 72_500}, // spaces around it, of any width
		{"072.5", 72_500}, {"999999999.999", 999_999_999_999},
	} {
		if got, err := Parse[kilogram](tt.typed); err != nil || got != tt.grams {
			t.Errorf("Parse(%q) = %d g, %v; want %d", tt.typed, got, err, tt.grams)
		}
	}
	for _, tt := range []struct {
		typed string
		mmHg  Pressure
	}{
		{"-120", -120}, {"−120", -120}, {"120", 120}, {"-0", 0}, {"007", 7},
	} {
		if got, err := Parse[mmHg](tt.typed); err != nil || got != tt.mmHg {
			t.Errorf("Parse(%q) = %d mmHg, %v; want %d", tt.typed, got, err, tt.mmHg)
		}
	}
}

// The refusals, by what they say is needed.
const (
	plainDigits = "plain digits with at most one point or comma between them, such as 72.5"
	wholeDigits = "a whole number in plain digits, such as 240"
	noDecimals  = "a whole number"
	noSign      = "a number without a sign"
	threePlaces = "at most 3 decimals"
	twelve      = "at most 12 digits"
)

// Each of these hides, or could hide, a factor of ten or a thousand, or is no
// number at all. None is rounded, cut or guessed at.
var nasty = []struct{ typed, kg, mL string }{ // what is refused as a weight, and as whole mL
	{"", plainDigits, wholeDigits},
	{" ", plainDigits, wholeDigits},
	{".", plainDigits, wholeDigits},
	{",", plainDigits, wholeDigits},
	{"-", noSign, noSign},
	{"+", plainDigits, wholeDigits},
	{"72.", plainDigits, wholeDigits},
	{"72,", plainDigits, wholeDigits},
	{".5", plainDigits, wholeDigits},
	{",5", plainDigits, wholeDigits},
	{"72..5", plainDigits, wholeDigits},
	{"72.5.", plainDigits, wholeDigits},
	{"7.2.5", plainDigits, wholeDigits},
	{"7,2,5", plainDigits, wholeDigits},
	{"72,,5", plainDigits, wholeDigits},
	{"72.,5", plainDigits, wholeDigits},
	{"1.234,5", plainDigits, wholeDigits}, // thousands marks, as in Germany
	{"1,234.5", plainDigits, wholeDigits}, // and as in England
	{"1,234,567", plainDigits, wholeDigits},
	{"1.234.567", plainDigits, wholeDigits},
	{"1 234", plainDigits, wholeDigits},
	{"1\u00a0234", plainDigits, wholeDigits}, // no-break space
	{"1\u202f234", plainDigits, wholeDigits}, // narrow no-break space
	{"1\u2009234", plainDigits, wholeDigits}, // thin space
	{"1'234", plainDigits, wholeDigits},      // and as in Switzerland
	{"1’234", plainDigits, wholeDigits},
	{"1_234", plainDigits, wholeDigits},
	{"72·5", plainDigits, wholeDigits}, // a raised point
	{"72٫5", plainDigits, wholeDigits}, // an Arabic decimal mark
	{"72;5", plainDigits, wholeDigits},
	{"72:5", plainDigits, wholeDigits},
	{"7 2.5", plainDigits, wholeDigits},
	{"72 .5", plainDigits, wholeDigits},
	{"72. 5", plainDigits, wholeDigits},
	{"-72.5", noSign, noSign},
	{"−72.5", noSign, noSign},
	{"–72.5", plainDigits, wholeDigits}, // a dash
	{"+72.5", plainDigits, wholeDigits},
	{"--72", noSign, noSign},
	{"72-", plainDigits, wholeDigits},
	{"(72)", plainDigits, wholeDigits},
	{"7e1", plainDigits, wholeDigits},
	{"7.25e1", plainDigits, wholeDigits},
	{"7E+1", plainDigits, wholeDigits},
	{"1e400", plainDigits, wholeDigits},
	{"0x48", plainDigits, wholeDigits},
	{"0b1001000", plainDigits, wholeDigits},
	{"0o110", plainDigits, wholeDigits},
	{"72.5kg", plainDigits, wholeDigits},
	{"72.5 kg", plainDigits, wholeDigits},
	{"160 lb", plainDigits, wholeDigits},
	{"72½", plainDigits, wholeDigits},
	{"145/2", plainDigits, wholeDigits},
	{"72.5%", plainDigits, wholeDigits},
	{"~72", plainDigits, wholeDigits},
	{"<72", plainDigits, wholeDigits},
	{"≈72", plainDigits, wholeDigits},
	{"7O.5", plainDigits, wholeDigits}, // a capital O
	{"l72", plainDigits, wholeDigits},  // a small L
	{"seventy-two", plainDigits, wholeDigits},
	{"NaN", plainDigits, wholeDigits},
	{"Inf", plainDigits, wholeDigits},
	{"-Inf", noSign, noSign},
	{"null", plainDigits, wholeDigits},
	{"true", plainDigits, wholeDigits},
	{`"72.5"`, plainDigits, wholeDigits},
	{"７２", plainDigits, wholeDigits}, // full-width digits
	{"٧٢", plainDigits, wholeDigits}, // Arabic digits
	{"७२", plainDigits, wholeDigits}, // Devanagari digits
	{"⁷²", plainDigits, wholeDigits},
	{"𝟕𝟐", plainDigits, wholeDigits},
	{"72\x00", plainDigits, wholeDigits},
	{"72\u200b5", plainDigits, wholeDigits},  // a space of no width
	{"\u202e5.27", plainDigits, wholeDigits}, // written from right to left
	{"\ufeff72", plainDigits, wholeDigits},
	{"72\xff", plainDigits, wholeDigits},
	{"72.5\n74.6", plainDigits, wholeDigits},
	{"72.5\t74.6", plainDigits, wholeDigits},
	{"=72+1", plainDigits, wholeDigits},
	{"72.5001", threePlaces, noDecimals},
	{"72.5000", threePlaces, noDecimals},
	{"0.0001", threePlaces, noDecimals},
	{"1234567890123", twelve, twelve},
	{"99999999999999999999", twelve, twelve},
	{"1234567890.123", twelve, twelve},
	{strings.Repeat("9", 100_000), twelve, twelve},
}

func TestParseRefusesNasty(t *testing.T) {
	if len(nasty) < 60 {
		t.Fatalf("only %d nasty strings", len(nasty))
	}
	for _, tt := range nasty {
		asWeight, err := Parse[kilogram](tt.typed)
		wantRefusal(t, tt.typed, int64(asWeight), err, tt.kg)
		asVolume, err := Parse[millilitre](tt.typed)
		wantRefusal(t, tt.typed, int64(asVolume), err, tt.mL)
	}
}

func wantRefusal(t *testing.T, typed string, got int64, err error, want string) {
	t.Helper()
	var ie *InputError
	if !errors.As(err, &ie) || got != 0 || ie.Want != want || ie.Got != strings.TrimSpace(typed) {
		t.Errorf("%.40q = %d, %v; want a refusal that needs %s", typed, got, err, want)
	}
}

// A comma and three digits is one litre to one person and a thousand to
// another; in whole millilitres it is refused, in kilograms it is the decimal
// that is too small for any weight.
func TestParseCommaAndThreeDigits(t *testing.T) {
	if _, err := Parse[millilitre]("1,000"); err == nil {
		t.Error("1,000 mL was taken")
	}
	if got, err := Parse[kilogram]("1,000"); err != nil || got != 1000 {
		t.Errorf("1,000 kg = %d g, %v; want 1 kg", got, err)
	}
}

// Where a sign is right, only one of them is.
func TestParseSigned(t *testing.T) {
	for _, typed := range []string{"--5", "-−5", "−-5", "+-5", "- 5", "-", "−", "-+5", "5-"} {
		if got, err := Parse[mmHg](typed); err == nil {
			t.Errorf("%q = %d mmHg", typed, got)
		}
	}
}

func TestParseEveryMeasureKeepsItsDecimals(t *testing.T) {
	for name, err := range map[string]error{
		"RatePerKg to 0.01":     new(RatePerKg).UnmarshalText([]byte("10.001")),
		"Temperature to 0.1":    new(Temperature).UnmarshalText([]byte("36.55")),
		"Conductivity to 0.01":  new(Conductivity).UnmarshalText([]byte("13.995")),
		"Concentration to 1 µg": new(Concentration).UnmarshalText([]byte("0.0001")),
		"Strength whole":        new(Strength).UnmarshalText([]byte("1000.5")),
		"Dose whole":            new(Dose).UnmarshalText([]byte("1500.5")),
		"Drawn to 0.01 mL":      new(Drawn).UnmarshalText([]byte("1.555")),
		"Minutes whole":         new(Minutes).UnmarshalText([]byte("240.5")),
	} {
		if ie := (*InputError)(nil); !errors.As(err, &ie) {
			t.Errorf("%s: a finer value was taken: %v", name, err)
		}
	}
}

// What is printed reads back the same, with a point or a comma.
func TestParseReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(0, 999_999_999_999).Draw(t, "n")
		for _, s := range []string{Mass(n).String(), strings.Replace(Mass(n).Digits(3), ".", ",", 1)} {
			if got, err := Parse[kilogram](s); err != nil || got != Mass(n) {
				t.Fatalf("%d g prints %q and reads %d, %v", n, s, got, err)
			}
		}
		p := rapid.Int64Range(-999_999_999_999, 999_999_999_999).Draw(t, "p")
		if got, err := Parse[mmHg](Pressure(p).String()); err != nil || got != Pressure(p) {
			t.Fatalf("%d mmHg reads %d, %v", p, got, err)
		}
	})
}

//fuzz:runs 100000
func FuzzParse(f *testing.F) {
	for _, tt := range nasty {
		f.Add(tt.typed)
	}
	f.Add("72.5")
	f.Add("−120")
	f.Fuzz(func(t *testing.T, typed string) {
		check(t, typed, func(s string) (string, error) { q, err := Parse[kilogram](s); return q.Digits(3), err })
		check(t, typed, func(s string) (string, error) { q, err := Parse[mmHg](s); return q.String(), err })
		check(t, typed, func(s string) (string, error) { q, err := Parse[celsius](s); return q.Digits(1), err })
	})
}

// check wants a refusal or a value that is the typed digits and nothing else.
func check(t *testing.T, typed string, parse func(string) (string, error)) {
	written, err := parse(typed)
	if err != nil {
		if ie := (*InputError)(nil); !errors.As(err, &ie) || ie.Want == "" {
			t.Fatalf("%q: %v is no refusal", typed, err)
		}
		return
	}
	plain := strings.NewReplacer(",", ".", "−", "-").Replace(strings.TrimSpace(typed))
	if strings.Count(plain, ".") > 1 || strings.Trim(plain, "-.0123456789") != "" {
		t.Fatalf("%q was read as %s", typed, written)
	}
	// The same number once both are stripped to their significant digits.
	if bare(plain) != bare(written) {
		t.Fatalf("%q was read as %s", typed, written)
	}
}

// bare strips what does not change a number: zeros around it and a minus at 0.
func bare(s string) string {
	s, neg := strings.CutPrefix(s, "-")
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	s = strings.TrimLeft(s, "0")
	if neg && s != "" {
		s = "-" + s
	}
	return s
}
