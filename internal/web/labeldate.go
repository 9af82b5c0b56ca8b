package web

import (
	"net/url"
	"regexp"
	"strings"
)

// labelDate is the field that holds a date as a label prints it. A form has
// three boxes for it, year, month and day, so that no date on a label can be
// typed in a way that is two days.
const labelDate = "expiry"

// plainDate is a date as the record writes it, with or without its day.
var plainDate = regexp.MustCompile(`^\d{4}-\d{2}(-\d{2})?$`)

// dateBoxes is a date as a form asks for it. Without a day it is the month's
// last.
type dateBoxes struct {
	Name, ID         string // of the field, on this form and on this page
	Year, Month, Day string
	Problem          string // the id of what is said to it, or ""
}

// Boxes are the fields of a date off a label; nothing for any other field.
func (in input) Boxes() *dateBoxes {
	if in.Key != labelDate {
		return nil
	}
	b := boxesOf(in.Key, "f-"+in.Tag+"-"+in.Key, in.Value, in.typedDate)
	if in.Problem != "" || in.Asked != "" {
		b.Problem = "p-" + in.Tag + "-" + in.Key
	}
	return &b
}

// AgainBoxes are those in which an asked date is typed again.
func (in input) AgainBoxes() dateBoxes {
	return boxesOf("again."+in.Key, "a-"+in.Tag+"-"+in.Key, "", [3]string{})
}

// boxesOf parts a date that was read, or gives back what was typed.
func boxesOf(name, id, value string, typed [3]string) dateBoxes {
	b := dateBoxes{Name: name, ID: id, Year: typed[0], Month: typed[1], Day: typed[2]}
	switch parts := strings.Split(value, "-"); {
	case plainDate.MatchString(value):
		b.Year, b.Month, b.Day = parts[0], parts[1], ""
		if len(parts) == 3 {
			b.Day = parts[2]
		}
	case typed == [3]string{}:
		b.Year = value // in another form, sent by something else than these boxes
	}
	return b
}

// typedBoxes is what was typed in the boxes of a date.
func typedBoxes(sent url.Values, name string) [3]string {
	box := func(part string) string { return strings.TrimSpace(sent.Get(name + "." + part)) }
	return [3]string{box("year"), box("month"), box("day")}
}

// joinBoxes puts the boxes of a date into the one field that everything else
// reads. What is in the first box alone may be a whole date, pasted or from a
// scanner.
func joinBoxes(sent url.Values, name string) {
	if !sent.Has(name+".year") || sent.Get(name) != "" {
		return
	}
	switch b := typedBoxes(sent, name); {
	case b[1] == "" && b[2] == "":
		sent.Set(name, b[0])
	case b[2] == "":
		sent.Set(name, b[0]+"-"+b[1])
	default:
		sent.Set(name, b[0]+"-"+b[1]+"-"+b[2])
	}
}
