package web

import (
	"net/url"
	"slices"
	"strings"

	"ebbline/record"
)

// labelDates are the fields that hold a date as a label prints it. A form has
// three boxes for each, year, month and day, so that no date on a label can be
// typed in a way that is two days.
var labelDates = []string{"expiry", "expires"}

// dateBoxes is a date as a form asks for it. Without a day it is the month's
// last.
type dateBoxes struct {
	Name, ID         string // of the field, on this form and on this page
	Year, Month, Day string
	Problem          string // the id of what is said to it, or ""
}

// Boxes are the fields of a date off a label; nothing for any other field.
func (in input) Boxes() *dateBoxes { return in.boxes("", in.Value, in.typedDate) }

// AgainBoxes are those in which an asked date is typed again.
func (in input) AgainBoxes() *dateBoxes { return in.boxes("again.", "", [3]string{}) }

func (in input) boxes(prefix, value string, typed [3]string) *dateBoxes {
	if in.Type() != record.TypeDate || !slices.Contains(labelDates, in.Key) {
		return nil
	}
	b := boxesOf(prefix+in.Key, "f-"+in.Tag+"-"+prefix+in.Key, value, typed)
	if in.Problem != "" || in.Asked != "" {
		b.Problem = "p-" + in.Tag + "-" + in.Key
	}
	return &b
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
