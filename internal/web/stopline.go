package web

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"ebbline/session"
)

// A stopLine names in one line what stands at stop, on every page of a session that
// is being set up.
type stopLine struct{ Words, Link string }

// stopLineLetters is how many letters the line has at most, but for a single long
// name: so many fit beside each other on a telephone 360 wide (measured).
const stopLineLetters = 32

// stopLineOf names what stands at stop, or gives nil where nothing does. base is the
// address of the session, empty on its own page.
func stopLineOf(checks []session.Check, base string) *stopLine {
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
			return &stopLine{words, base + "#stops"}
		}
	}
	return nil
}

// stopped gives the line for a page of a session that is being set up; nil for any
// other page.
func (v visit) stopped(made view) *stopLine {
	if v.session == nil || made.here != "session" || v.session.Phase() != session.SettingUp || fromPaper(v.session) {
		return nil
	}
	return stopLineOf(session.StartLine(v.session, v.member.History(v.session), v.now), sessionURL(v.Request))
}
