package unit

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
)

// A Measure names what a [Quantity] counts. Only this package has any.
type Measure interface{ about() scale }

// scale is how a measure is written: its symbol as the trade writes it, how
// many decimals of that unit are recorded, and whether it can lie below zero.
type scale struct {
	symbol   string
	decimals int
	signed   bool
}

// A Quantity is a recorded value: a whole number of the finest recorded step
// of its measure, so that sums are exact and two measures never mix by
// accident. Mass counts grams and is written in kilograms; Volume counts
// millilitres.
//
// Its JSON form is a plain number in the written unit (a Mass of 72500 is
// 72.5), which is why every JSON key that holds one ends in that unit.
type Quantity[M Measure] int64

// Float returns the value in its written unit, for arithmetic that yields a
// derived figure.
func (q Quantity[M]) Float() float64 {
	var m M
	return float64(q) / float64(pow10(m.about().decimals))
}

// String writes the value in its unit's digits without the symbol and without
// trailing zeros: "72.5", "-120", "0.05".
func (q Quantity[M]) String() string {
	var m M
	return fixed(int64(q), m.about().decimals, 0)
}

// Digits writes the value with at least n decimals, for columns that must line
// up and for machines that show a set number of digits.
func (q Quantity[M]) Digits(n int) string {
	var m M
	return fixed(int64(q), m.about().decimals, n)
}

// Symbol returns the unit as the trade writes it, "kg" or "mL/h".
func (q Quantity[M]) Symbol() string {
	var m M
	return m.about().symbol
}

// Decimals returns how many decimals of the written unit are recorded.
func (q Quantity[M]) Decimals() int {
	var m M
	return m.about().decimals
}

// Text writes the value with its unit after a no-break space.
func (q Quantity[M]) Text() string {
	return q.String() + "\u00a0" + q.Symbol()
}

// MarshalJSON writes a plain number in the written unit.
func (q Quantity[M]) MarshalJSON() ([]byte, error) {
	return []byte(q.String()), nil
}

// UnmarshalJSON reads a plain number in the written unit. A number with more
// decimals than are recorded is refused, never rounded.
func (q *Quantity[M]) UnmarshalJSON(b []byte) error {
	var n json.Number
	if bytes.HasPrefix(bytes.TrimSpace(b), []byte(`"`)) {
		return Refuse("", string(b), "a number, not text")
	}
	if err := json.Unmarshal(b, &n); err != nil {
		return Refuse("", string(b), "a number")
	}
	return q.UnmarshalText([]byte(n))
}

// MarshalText is the form's way out: the same digits as [Quantity.String].
func (q Quantity[M]) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// UnmarshalText is the form's way in; see [Parse] for what is accepted.
func (q *Quantity[M]) UnmarshalText(b []byte) error {
	v, err := Parse[M](string(b))
	if err != nil {
		return err
	}
	*q = v
	return nil
}

// Near gives the recordable quantity nearest to v written units, halves away
// from zero; the receiver only names the measure. What no quantity can hold, a
// NaN or a number beyond int64, gives the least there is, which every bound
// refuses, and the same on every machine.
func (Quantity[M]) Near(v float64) Quantity[M] {
	var m M
	steps := math.Round(v * float64(pow10(m.about().decimals)))
	if !(math.Abs(steps) < 1<<63) {
		return math.MinInt64
	}
	return Quantity[M](steps)
}

func pow10(n int) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}

// fixed writes v·10^-decimals with at least atLeast decimals.
func fixed(v int64, decimals, atLeast int) string {
	s := strconv.FormatInt(v, 10)
	neg := strings.HasPrefix(s, "-")
	s = strings.TrimPrefix(s, "-")
	if len(s) <= decimals {
		s = strings.Repeat("0", decimals-len(s)+1) + s
	}
	whole, frac := s[:len(s)-decimals], s[len(s)-decimals:]
	for len(frac) > atLeast && strings.HasSuffix(frac, "0") {
		frac = frac[:len(frac)-1]
	}
	for len(frac) < atLeast {
		frac += "0"
	}
	if frac != "" {
		whole += "." + frac
	}
	if neg {
		whole = "-" + whole
	}
	return whole
}
