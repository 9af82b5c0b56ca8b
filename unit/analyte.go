package unit

import "strings"

// A LabUnit is one way in which laboratories state an analyte. A value v in it
// is Factor·v + Offset in the first unit of its [Analyte].
type LabUnit struct {
	Symbol   string
	Factor   float64
	Offset   float64 // only where two scales start at different points
	Decimals int     // as usually printed
}

// An Analyte is something measured in blood.
type Analyte struct {
	Code  string    // "phosphate": its name in records and files
	Name  string    // as a person reads it
	Note  string    // what a unit counts, where that is easily mistaken
	Units []LabUnit // the first is the one that values are compared and drawn in

	// Low and High bound what blood can hold, in the first unit: outside, the
	// value or its unit is wrong. Our own proposal, wide on purpose; they are
	// not ranges of health.
	Low, High float64
}

// Analytes lists the blood tests of home haemodialysis, in the order of a
// report.
func Analytes() []Analyte { return append([]Analyte(nil), analytes...) }

// FindAnalyte returns an analyte by its code.
func FindAnalyte(code string) (Analyte, bool) {
	for _, a := range analytes {
		if a.Code == code {
			return a, true
		}
	}
	return Analyte{}, false
}

// Unit returns one of the analyte's units by its symbol. The micro sign may be
// µ, μ or u, litres may be written small, as in mmol/l, and powers as 10^9 or
// 10*9; nothing else is guessed, since G/L and g/L differ by a factor of a thousand million. A unit
// that is not one of them is an [*InputError].
func (a Analyte) Unit(symbol string) (LabUnit, error) {
	plain := plainSymbol(symbol)
	for _, u := range a.Units {
		if u.Symbol == plain {
			return u, nil
		}
	}
	return LabUnit{}, Refuse(a.Code+" unit", `"`+symbol+`"`, "one of "+strings.Join(a.Symbols(), ", "))
}

// Symbols lists the analyte's units.
func (a Analyte) Symbols() []string {
	var list []string
	for _, u := range a.Units {
		list = append(list, u.Symbol)
	}
	return list
}

// Convert gives a value stated in one of the analyte's units in another:
//
//	(Factor·v + Offset − Offset') / Factor'
//
// with factors from molar masses, so that there and back is the same value to
// the last digits of a float64. An unknown unit, or a value outside what blood
// can hold, is an [*InputError]; the latter says which unit the number would
// fit.
func (a Analyte) Convert(value float64, from, to string) (float64, error) {
	f, err := a.Unit(from)
	if err != nil {
		return 0, err
	}
	t, err := a.Unit(to)
	if err != nil {
		return 0, err
	}
	v := f.Factor*value + f.Offset
	if !(v >= a.Low && v <= a.High) {
		return 0, a.refuse(value, f)
	}
	return (v - t.Offset) / t.Factor, nil
}

// Canonical gives a value in the analyte's first unit, see [Analyte.Convert].
func (a Analyte) Canonical(value float64, symbol string) (float64, error) {
	return a.Convert(value, symbol, a.Units[0].Symbol)
}

// Fits lists the analyte's units in which a number is one that blood can hold:
// where the stated unit is not among them and another is, that other was
// probably meant, and the person is asked.
func (a Analyte) Fits(value float64) []string {
	var list []string
	for _, u := range a.Units {
		if v := u.Factor*value + u.Offset; v >= a.Low && v <= a.High {
			list = append(list, u.Symbol)
		}
	}
	return list
}

func (a Analyte) refuse(value float64, u LabUnit) error {
	lo, hi := (a.Low-u.Offset)/u.Factor, (a.High-u.Offset)/u.Factor
	want := "a value from " + short(lo) + " to " + short(hi) + " " + u.Symbol
	if fits := a.Fits(value); len(fits) > 0 {
		want += "; the number would fit " + strings.Join(fits, " or ")
	}
	return Refuse(a.Code, short(value)+" "+u.Symbol, want)
}

// plainSymbol brings the spellings of one unit together.
func plainSymbol(s string) string {
	s = strings.TrimSpace(s)
	s = strings.ReplaceAll(s, "μ", "µ") // Greek mu, micro sign
	for _, p := range []string{"umol/", "ug/", "ukat/"} {
		if strings.HasPrefix(s, p) {
			s = "µ" + s[1:]
		}
	}
	for _, cells := range []string{"10*", "10^", "x10^", "×10^"} {
		if power, ok := strings.CutPrefix(s, cells); ok {
			s = strings.NewReplacer("9/", "×10⁹/", "3/u", "×10³/µ", "3/µ", "×10³/µ").Replace(power)
		}
	}
	for _, small := range []string{"/l", "/dl", "/ml"} {
		if strings.HasSuffix(s, small) {
			s = s[:len(s)-1] + "L"
		}
	}
	return s
}

// UCUM gives the symbol in the code of units that machines exchange.
func (u LabUnit) UCUM() string {
	s := strings.NewReplacer("µ", "u", "mEq", "meq", "mIU", "m[IU]", "×10⁹", "10*9", "×10³", "10*3").Replace(u.Symbol)
	if s == "IU/L" {
		return "[IU]/L"
	}
	s, _, _ = strings.Cut(s, " ") // "mg/dL urea": UCUM has no word for what is counted
	return s
}
