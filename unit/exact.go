package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// An Exact is a value of a measure to any number of decimals, for sums and
// comparisons that must fall on the right side of a limit. A recorded
// [Quantity] becomes one without loss; so does a number from a spreadsheet
// that is finer than the record. The zero Exact is 0.
type Exact[M Measure] struct {
	rat *big.Rat // in the written unit; never changed once set; nil is 0
}

// hour measures the stretch between sessions, which is reckoned from instants
// and never recorded as such.
type hour struct{}

func (hour) about() scale { return scale{symbol: "h", decimals: 2} }

// The exact forms of the measures that fluid is reckoned in.
type (
	ExactMass      = Exact[kilogram]
	ExactVolume    = Exact[millilitre]
	ExactMinutes   = Exact[minute]
	ExactHours     = Exact[hour]
	ExactRatePerKg = Exact[mlPerHourKg]
)

// Exact gives the recorded value as an exact one.
func (q Quantity[M]) Exact() Exact[M] {
	var m M
	return Exact[M]{big.NewRat(int64(q), pow10(m.about().decimals))}
}

// SetFloat sets e to the decimal that v was read from: the shortest one that
// reads back as v, which is the typed one up to 15 digits. So 0.1 is one tenth
// and not the binary fraction beside it. A NaN or an infinity is refused and
// leaves e as it was.
func (e *Exact[M]) SetFloat(v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Refuse("", v, "a finite number")
	}
	e.rat = Decimal(v)
	return nil
}

// Decimal gives the shortest decimal that reads back as v, which is the number
// as it was typed up to 15 digits. A NaN or an infinity has none and gives nil.
func Decimal(v float64) *big.Rat {
	r, _ := new(big.Rat).SetString(strconv.FormatFloat(v, 'e', -1, 64))
	return r
}

// Rat returns the value in the written unit. The caller may change it.
func (e Exact[M]) Rat() *big.Rat { return new(big.Rat).Set(e.read()) }

var zero = new(big.Rat)

// read gives the value to look at, not to change.
func (e Exact[M]) read() *big.Rat {
	if e.rat == nil {
		return zero
	}
	return e.rat
}

// Float returns the float64 nearest to the value, in the written unit.
func (e Exact[M]) Float() float64 {
	v, _ := e.read().Float64()
	return v
}

// Sign returns -1, 0 or +1.
func (e Exact[M]) Sign() int { return e.read().Sign() }

// Within reports whether the value lies from lo to hi, both included and both
// read as decimals: 0.1 lies within 0.1 to 1.
func (e Exact[M]) Within(lo, hi float64) bool {
	r := e.read()
	return r.Cmp(Decimal(lo)) >= 0 && r.Cmp(Decimal(hi)) <= 0
}

// String writes the value without its unit and without trailing zeros; a value
// that has no end in decimals is cut at twelve.
func (e Exact[M]) String() string {
	r := e.read()
	places, finite := r.FloatPrec()
	if !finite {
		places = 12
	}
	s := r.FloatString(places)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
