package water

import (
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"ebbline/unit"
)

// An Op says how a laboratory's figure is meant.
type Op string

const (
	Equal   Op = "=" // measured
	Less    Op = "<" // below the least that the method sees
	Greater Op = ">" // above the most that it sees
)

// A Unit is one that laboratories give results in.
type Unit string

const (
	MgPerL   Unit = "mg/L"
	UgPerL   Unit = "ug/L"
	PPM      Unit = "ppm" // 1 mg/L, in water
	PPB      Unit = "ppb" // 1 µg/L, in water
	CFUPerML Unit = "CFU/mL"
	EUPerML  Unit = "EU/mL"
	IUPerML  Unit = "IU/mL" // of endotoxin; 1 EU = 1 IU (WHO standard, from memory)
)

// Units lists those accepted.
func Units() []Unit { return []Unit{MgPerL, UgPerL, PPM, PPB, CFUPerML, EUPerML, IUPerML} }

// A Basis says what a mass of nitrate counts: its nitrogen or the whole ion.
type Basis string

const (
	AsN   Basis = "N"
	AsNO3 Basis = "NO3"
)

// Grams of nitrogen in a gram of nitrate, 14.007/62.004, from the standard
// atomic weights N 14.007 and O 15.999 (IUPAC, from memory). So the limit of
// 2 mg/L as N is 8.85 mg/L as NO3, printed as 8.9.
var nitrogenInNitrate = big.NewRat(14_007, 62_004)

// A Result is one figure from a laboratory, as reported.
type Result struct {
	What  Substance `json:"what"`
	Op    Op        `json:"op"`
	Value float64   `json:"value"`
	Unit  Unit      `json:"unit"`
	Basis Basis     `json:"basis,omitempty"` // of nitrate only
}

// in gives the value in the limit's unit and basis, exactly: a figure on the
// limit must not fall beside it by a rounding in binary.
func (r Result) in(l Limit) (*big.Rat, error) {
	if !slices.Contains(Units(), r.Unit) {
		return nil, unit.Refuse("unit", strconv.Quote(string(r.Unit)), unitsFor(l.Unit))
	}
	v := exact(r.Value)
	switch {
	case r.Unit == l.Unit:
	case l.Unit == MgPerL && r.Unit == PPM:
	case l.Unit == MgPerL && (r.Unit == UgPerL || r.Unit == PPB):
		v.Quo(v, big.NewRat(1000, 1))
	case l.Unit == EUPerML && r.Unit == IUPerML:
	default:
		return nil, unit.Refuse("unit", strconv.Quote(string(r.Unit)), unitsFor(l.Unit))
	}
	switch {
	case r.What == Nitrate && r.Basis == AsN:
	case r.What == Nitrate && r.Basis == AsNO3:
		v.Mul(v, nitrogenInNitrate)
	case r.What == Nitrate:
		return nil, unit.Refuse("basis", strconv.Quote(string(r.Basis)), `"N" or "NO3": the two differ by 4.4 times`)
	case r.Basis != "":
		return nil, unit.Refuse("basis", strconv.Quote(string(r.Basis)), "no basis, which only nitrate has")
	}
	return v, nil
}

func (r Result) check() error {
	switch {
	case r.Op != Equal && r.Op != Less && r.Op != Greater:
		return unit.Refuse("op", strconv.Quote(string(r.Op)), `"=", "<" or ">"`)
	case !(r.Value >= 0 && r.Value <= 1e12):
		return unit.Refuse("value", r.Value, "a number from 0 to 1e12")
	case r.Op == Less && r.Value == 0:
		return unit.Refuse("value", "< 0", "the least that the method sees, above 0")
	}
	return nil
}

func unitsFor(table Unit) string {
	switch table {
	case CFUPerML:
		return "CFU/mL"
	case EUPerML:
		return "EU/mL or IU/mL"
	}
	return "mg/L, ug/L, ppm or ppb"
}

// exact gives the decimal number that was written, which the nearest binary
// number is not.
func exact(v float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(v, 'g', -1, 64))
	if !ok { // NaN and infinities are refused before
		return new(big.Rat)
	}
	return r
}

// ParseFigure reads a result as people copy it from a laboratory's paper: a
// number, or one after "<" or ">". Decimal point or comma. Words that hide a
// number ("nil", "not detected", "TNTC") are refused with what to ask the
// laboratory for, because no count and a count below ten are not the same.
func ParseFigure(s string) (Op, float64, error) {
	text := strings.TrimSpace(s)
	op := Equal
	for _, o := range []Op{Less, Greater} {
		if rest, found := strings.CutPrefix(text, string(o)); found {
			op, text = o, strings.TrimSpace(rest)
		}
	}
	switch strings.ToLower(strings.Trim(text, ". ")) {
	case "nil", "none", "nd", "n.d", "not detected", "neg", "negative", "bdl", "absent":
		return "", 0, unit.Refuse("value", strconv.Quote(s), `the least that the method sees, written as "<1"; ask the laboratory for it`)
	case "tntc", "too numerous to count", "overgrown", "confluent":
		return "", 0, unit.Refuse("value", strconv.Quote(s), `the most that the plate can count, written as ">300"; ask the laboratory for it`)
	}
	digits := strings.Replace(text, ",", ".", 1)
	plain := strings.Trim(digits, "0123456789.") == "" && strings.Count(digits, ".") <= 1 && strings.Trim(digits, ".") == digits
	v, err := strconv.ParseFloat(digits, 64)
	if !plain || err != nil || math.IsInf(v, 0) || v > 1e12 {
		return "", 0, unit.Refuse("value", strconv.Quote(s), `a number such as 0.05, or "<1", or ">300"`)
	}
	if op == Less && v == 0 {
		return "", 0, unit.Refuse("value", strconv.Quote(s), "the least that the method sees, above 0")
	}
	return op, v, nil
}
