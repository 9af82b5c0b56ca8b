package unit

import (
	"strings"
	"unicode"
)

// Shows reports whether a character leaves a mark on paper: not a space, not one
// that only steers how others are drawn, nor one of the letters and signs that are
// drawn as nothing.
func Shows(r rune) bool {
	switch r {
	case '\u034f', '\u115f', '\u1160', '\u17b4', '\u17b5', '\u2800', '\u3164', '\uffa0':
		return false
	}
	return !unicode.In(r, unicode.Cf, unicode.Cc, unicode.Z, unicode.Variation_Selector)
}

// Legible gives how many letters and digits of a text can be seen.
func Legible(text string) int {
	n := 0
	for _, r := range text {
		if Shows(r) && (unicode.IsLetter(r) || unicode.IsNumber(r)) {
			n++
		}
	}
	return n
}

// AsSeen gives a text as a reader sees it: without characters that are not drawn, but
// for the spaces between others.
func AsSeen(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if Shows(r) || unicode.IsSpace(r) {
			return r
		}
		return -1
	}, text))
}
