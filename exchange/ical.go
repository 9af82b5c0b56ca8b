package exchange

import (
	"bytes"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"ebbline/unit"
)

// A Calendar is a set of events, to be written as an iCalendar file (RFC 5545).
type Calendar struct {
	Name   string
	Made   time.Time // the moment the file says it was made
	Events []Event
}

// An Event is one happening. It has either a Start and a Length, which are
// written as instants in UTC, so that no reader needs to know a zone or the
// rule of its clock changes, or a Day, which is written as that day wherever
// it is read. Times that recur are written out one by one.
type Event struct {
	UID         string // the same in every file for the same happening, and never a person's name
	Sequence    int    // rises when the happening changes
	Start       time.Time
	Length      time.Duration
	Day         unit.Date
	Summary     string
	Description string
	Free        bool            // it does not make anybody busy
	Alarms      []time.Duration // from the start; negative is before it
}

// Bytes writes the calendar: lines end in CRLF and are folded at 75 octets,
// never inside a character; text is escaped. An event without a UID or a
// summary, with the UID of another, or with both or neither of an instant and a
// day, is refused.
func (c Calendar) Bytes() ([]byte, error) {
	var w contentLines
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	w.line("PRODID", "-//Ebbline//Ebbline//EN")
	w.line("CALSCALE", "GREGORIAN")
	w.line("METHOD", "PUBLISH")
	if c.Name != "" {
		w.line("X-WR-CALNAME", escapeText(c.Name))
	}
	w.line("REFRESH-INTERVAL;VALUE=DURATION", "PT6H")
	w.line("X-PUBLISHED-TTL", "PT6H")
	seen := map[string]bool{}
	for _, e := range c.Events {
		if err := e.check(seen); err != nil {
			return nil, err
		}
		e.write(&w, c.Made)
	}
	w.line("END", "VCALENDAR")
	return w.Bytes(), nil
}

func (e Event) check(seen map[string]bool) error {
	switch {
	case e.UID == "" || strings.ContainsFunc(e.UID, func(r rune) bool { return r <= ' ' || r > '~' }):
		return fmt.Errorf("calendar: %q is no UID", e.UID)
	case seen[e.UID]:
		return fmt.Errorf("calendar: two events have the UID %q", e.UID)
	case strings.TrimSpace(e.Summary) == "":
		return fmt.Errorf("calendar: %s has no summary", e.UID)
	case e.Start.IsZero() == e.Day.IsZero():
		return fmt.Errorf("calendar: %s needs an instant or a day", e.UID)
	case e.Day.IsZero() && e.Length <= 0:
		return fmt.Errorf("calendar: %s lasts %s", e.UID, e.Length)
	}
	seen[e.UID] = true
	return nil
}

func (e Event) write(w *contentLines, made time.Time) {
	w.line("BEGIN", "VEVENT")
	w.line("UID", e.UID)
	w.line("DTSTAMP", instant(made))
	w.line("SEQUENCE", fmt.Sprint(e.Sequence))
	if e.Day.IsZero() {
		w.line("DTSTART", instant(e.Start))
		w.line("DTEND", instant(e.Start.Add(e.Length)))
	} else {
		w.line("DTSTART;VALUE=DATE", calendarDay(e.Day))
		w.line("DTEND;VALUE=DATE", calendarDay(e.Day.Add(1)))
	}
	w.line("SUMMARY", escapeText(e.Summary))
	if e.Description != "" {
		w.line("DESCRIPTION", escapeText(e.Description))
	}
	w.line("CLASS", "PRIVATE") // a wish, not a lock
	if e.Free {
		w.line("TRANSP", "TRANSPARENT")
	}
	for _, a := range e.Alarms {
		w.line("BEGIN", "VALARM")
		w.line("ACTION", "DISPLAY")
		w.line("DESCRIPTION", escapeText(e.Summary))
		w.line("TRIGGER", duration(a))
		w.line("END", "VALARM")
	}
	w.line("END", "VEVENT")
}

func instant(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

func calendarDay(d unit.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

// duration writes minutes: an hour is exact in RFC 5545 and a day is not.
func duration(d time.Duration) string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	return fmt.Sprintf("%sPT%dM", sign, int(d/time.Minute))
}

// escapeText writes a text value. Control characters have no place in one and
// are left out; what is no UTF-8 becomes the mark for it.
func escapeText(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	s = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(s)
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\t' {
			return -1
		}
		return r
	}, s)
}

// contentLines are the lines of a file in the making.
type contentLines struct{ bytes.Buffer }

// octets is how long a line may be, its end not counted (RFC 5545, section
// 3.1).
const octets = 75

func (w *contentLines) line(name, value string) {
	text := name + ":" + value
	room := octets
	for len(text) > room {
		cut := room
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		w.WriteString(text[:cut] + "\r\n ")
		text = text[cut:]
		room = octets - 1 // the space that begins the line counts
	}
	w.WriteString(text + "\r\n")
}
