package fonts

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Lost stands on paper where a character cannot be printed.
const Lost = '□'

// Clean makes a text fit for one line of paper. Every character that the
// fonts lack, and every byte that is not text, becomes [Lost]; line ends and
// tabs become a space; marks without a shape (joiners, direction marks,
// variation selectors, controls) are left out. lost reports whether anything
// was replaced, so that the sheet can say that the record holds more than
// the paper shows. A text that needs nothing is returned as it is.
func Clean(s string) (clean string, lost bool) {
	if plain(s) {
		return s, false
	}
	var b strings.Builder
	b.Grow(len(s))
	for len(s) > 0 {
		r, n := utf8.DecodeRuneInString(s)
		s = s[n:]
		switch {
		case r == utf8.RuneError && n == 1:
			b.WriteRune(Lost)
			lost = true
		case r == '\u00a0' || r == '\u202f':
			b.WriteRune('\u00a0') // a space that must not break
		case unicode.IsSpace(r):
			b.WriteByte(' ')
		case shapeless(r):
		case !Regular.Has(r) || !Bold.Has(r):
			b.WriteRune(Lost)
			lost = true
		default:
			b.WriteRune(r)
		}
	}
	return b.String(), lost
}

// plain reports whether every byte is printable ASCII.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// shapeless reports whether a character changes how others are shown but prints
// nothing by itself.
func shapeless(r rune) bool {
	return unicode.In(r, unicode.Cc, unicode.Cf) || unicode.Is(unicode.Variation_Selector, r)
}
