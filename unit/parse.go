package unit

import (
	"fmt"
	"strings"
)

// Parse reads what a person typed into a number field.
//
// It accepts digits with at most one decimal mark, point or comma, and spaces
// around them; a minus sign only for a measure that can lie below zero. It
// refuses thousands marks, two marks, exponents, digits of other scripts, and
// more decimals than the measure records, because each of those can hide a
// factor of ten or a thousand. It never rounds. The error is an [*InputError].
func Parse[M Measure](s string) (Quantity[M], error) {
	var m M
	about := m.about()
	v, err := parseFixed(strings.TrimSpace(s), about.decimals, about.signed)
	if err != nil {
		return 0, err
	}
	return Quantity[M](v), nil
}

// maxDigits bounds a typed number well inside int64 at every scale.
const maxDigits = 12

func parseFixed(s string, decimals int, signed bool) (int64, error) {
	digits, neg := cutMinus(s)
	if neg && !signed {
		return 0, Refuse("", s, "a number without a sign")
	}
	whole, frac, marked := cutMark(digits)
	switch {
	case !allDigits(whole) || marked && !allDigits(frac):
		if decimals == 0 {
			return 0, Refuse("", s, "a whole number in plain digits, such as 240")
		}
		return 0, Refuse("", s, "plain digits with at most one point or comma between them, such as 72.5")
	case len(whole)+len(frac) > maxDigits:
		return 0, Refuse("", s, fmt.Sprintf("at most %d digits", maxDigits))
	case len(frac) > 0 && decimals == 0:
		return 0, Refuse("", s, "a whole number")
	case len(frac) > decimals:
		return 0, Refuse("", s, fmt.Sprintf("at most %d decimals", decimals))
	}
	v := int64(0)
	for _, c := range whole + frac {
		v = v*10 + int64(c-'0')
	}
	v *= pow10(decimals - len(frac))
	if neg {
		v = -v
	}
	return v, nil
}

// cutMinus takes off one minus sign, the typewriter's or the printer's.
func cutMinus(s string) (rest string, neg bool) {
	if rest, neg = strings.CutPrefix(s, "-"); neg {
		return rest, true
	}
	return strings.CutPrefix(s, "−")
}

// cutMark splits at the first point or comma; a second one stays in the
// fraction, where it is not a digit and so is refused.
func cutMark(s string) (whole, frac string, marked bool) {
	i := strings.IndexAny(s, ".,")
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+1:], true
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}
