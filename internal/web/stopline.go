package web

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"ebbline/session"
)

// stopLineLetters is how many letters the words for what stops have at most, but for
// a single long name: the bar shows them on every page (measured at 360 wide).
const stopLineLetters = 32

// stopLine names what stands at stop; empty where nothing does.
func stopLine(checks []session.Check) string {
	var names []string
	for _, c := range session.Stopped(checks) {
		names = append(names, c.Title)
	}
	for n := len(names); n > 0; n-- {
		words := "STOP: " + strings.Join(names[:n], ", ")
		if more := len(names) - n; more > 0 {
			words += " and " + strconv.Itoa(more) + " more"
		}
		if n == 1 && utf8.RuneCountInString(words) > stopLineLetters && len(names) > 1 {
			words = "STOP: " + names[0] + " +" + strconv.Itoa(len(names)-1)
		}
		if n == 1 || utf8.RuneCountInString(words) <= stopLineLetters {
			return words
		}
	}
	return ""
}
