package unit

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"
)

// A Printed is a number with the digits a laboratory printed: "5.40" stays
// 5.40, since the last nought says how finely it was measured. The zero value
// is "not given". Its JSON form is text, so that no reader rounds it on the
// way; a plain JSON number is read as well.
type Printed string

// ParsePrinted reads a number as it stands on a printed report: digits with at
// most one decimal mark, a point or a comma. It refuses signs, exponents,
// thousands marks and digits of other scripts. "1,234" is refused too: it is
// one and a bit to one reader and more than a thousand to another. The error is
// an [*InputError].
func ParsePrinted(s string) (Printed, error) {
	s = strings.TrimSpace(s)
	whole, frac, marked := cutMark(s)
	switch {
	case !allDigits(whole) || marked && !allDigits(frac):
		return "", Refuse("", s, "plain digits with at most one point or comma between them, such as 5.4")
	case len(whole)+len(frac) > maxDigits:
		return "", Refuse("", s, "at most "+strconv.Itoa(maxDigits)+" digits")
	case strings.Contains(s, ",") && len(frac) == 3 && len(whole) <= 3 && whole != "0":
		return "", Refuse("", s, "a number that reads one way only: write "+whole+"."+frac+" or "+whole+frac)
	}
	whole = strings.TrimLeft(whole[:len(whole)-1], "0") + whole[len(whole)-1:]
	if marked {
		return Printed(whole + "." + frac), nil
	}
	return Printed(whole), nil
}

// Float gives the number; that of a Printed that was not given is 0.
func (p Printed) Float() float64 {
	v, _ := strconv.ParseFloat(string(p), 64) // its digits were read by ParsePrinted
	return v
}

// Decimals gives how many digits were printed after the mark.
func (p Printed) Decimals() int {
	_, frac, _ := strings.Cut(string(p), ".")
	return len(frac)
}

// String gives the digits as printed, with a point.
func (p Printed) String() string { return string(p) }

// UnmarshalText reads as [ParsePrinted]; empty text is "not given".
func (p *Printed) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*p = ""
		return nil
	}
	v, err := ParsePrinted(string(b))
	if err != nil {
		return err
	}
	*p = v
	return nil
}

// UnmarshalJSON reads text, or a plain number with the digits it was written
// with.
func (p *Printed) UnmarshalJSON(b []byte) error {
	b = bytes.TrimSpace(b)
	if len(b) > 0 && b[0] != '"' {
		return p.UnmarshalText(b) // null and the like are no digits
	}
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return Refuse("", string(b), "a number as printed")
	}
	return p.UnmarshalText([]byte(s))
}
