package unit

import (
	"strings"
	"unicode"
)

// Dial gives the number that a telephone is to dial for what is written as one: its
// digits, with a leading plus. Only the first run of digits, spaces, dots and hyphens
// counts, since a second number, an extension or words after it would be dialled along
// with it. Before it words may stand ("call 5550"). Where it is not plain where the
// number ends – signs before it, a bracket with digits or letters right behind it – it
// is empty, and whoever reads it dials by hand. whole reports that nothing else is
// written there, so that it is certain what is dialled.
func Dial(written string) (number string, whole bool) {
	written = strings.TrimSpace(written)
	from := strings.IndexFunc(written, func(r rune) bool { return r == '+' || isDigit(r) })
	if from < 0 || strings.ContainsFunc(written[:from], func(r rune) bool {
		return !unicode.IsLetter(r) && r != ' ' && r != '.' && r != ':'
	}) || from > 0 && strings.ContainsAny(written[from-1:from], ":.") {
		return "", false
	}
	rest := written[from:]
	plus := strings.HasPrefix(rest, "+")
	if plus {
		rest = rest[1:]
	}
	end := strings.IndexFunc(rest, func(r rune) bool { return !isDigit(r) && !strings.ContainsRune(" .-", r) })
	if end < 0 {
		end = len(rest)
	}
	run, after := rest[:end], rest[end:]
	number = strings.Map(func(r rune) rune {
		if isDigit(r) {
			return r
		}
		return -1
	}, run)
	if number == "" || goesOn(run, after) {
		return "", false
	}
	if plus {
		number = "+" + number
	}
	return number, from == 0 && after == ""
}

// goesOn reports whether a number may go on in what stands behind its run of digits.
func goesOn(run, after string) bool {
	if after == "" {
		return false
	}
	letters := []rune(after)
	switch first := letters[0]; {
	case unicode.IsLetter(first):
		return !strings.HasSuffix(run, " ") // 555-CALL
	case first == '(':
		return len(letters) < 2 || !unicode.IsLetter(letters[1]) // +000 (0)2 555
	case first == '/':
		return !strings.HasSuffix(run, " ") // 030/5550110
	default:
		return !strings.ContainsRune(",;+–", first)
	}
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }
