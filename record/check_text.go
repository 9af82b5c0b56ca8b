package record

import (
	"reflect"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"ebbline/unit"
)

// mostLines is how many things one list of an entry may hold: the lines of an
// order, the lots of a count, the steps of a run sheet.
const mostLines = 300

// mostAgain is how many characters the second typing of a number may have; that
// of a text may have as many as the text.
const mostAgain = 40

// facts are the longest texts that an entry's own facts may be, in characters.
var facts = []struct {
	key     string
	longest int
	of      func(e *Entry) string
}{
	{"id", 64, func(e *Entry) string { return e.ID }},
	{"zone", 64, func(e *Entry) string { return e.Zone }},
	{"by", 120, func(e *Entry) string { return e.By }},
	{"device", 40, func(e *Entry) string { return e.Device }},
	{"person", 64, func(e *Entry) string { return e.Person }},
	{"session", 64, func(e *Entry) string { return e.Session }},
	{"corrects", 64, func(e *Entry) string { return e.Corrects }},
	{"reason", defaultText, func(e *Entry) string { return e.Reason }},
}

// facts holds what an entry says of itself to its bounds.
func (c *Checker) facts() {
	for _, f := range facts {
		c.plainText(f.key, "", f.of(&c.Entry), f.longest)
	}
}

// again holds what was typed a second time to the bounds of the first.
func (c *Checker) again() {
	for _, key := range sortedKeys(c.Entry.Again) {
		if _, ok := c.Kind.Typed(c.Entry.Body, key); !ok {
			c.Refuse(clip(key), "is not a value of %s", c.Kind.Name)
			continue
		}
		longest := mostAgain
		if f, ok := c.Kind.Field(key); ok && f.Type() == TypeText {
			longest = f.Longest()
		}
		c.plainText(key, "as typed again ", c.Entry.Again[key], longest)
	}
}

// texts holds every text of a value, however deep it lies in lists, to the
// bounds of its field. needed says that it may not be left out.
func (c *Checker) texts(f Field, v reflect.Value, needed bool) {
	switch v.Kind() {
	case reflect.String:
		c.text(f.Key, "", v.String(), f.Longest())
		c.visible(f, v.String(), needed)
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			c.texts(f, v.Elem(), needed)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			c.texts(f, v.Field(i), false) // a unit may be a sign, such as %
		}
	case reflect.Slice:
		if v.Len() > mostLines {
			c.Refuse(f.Key, "are more than %d; write two entries", mostLines)
			return
		}
		for i := range v.Len() {
			c.texts(f, v.Index(i), needed)
		}
	}
}

// chosen refuses a word that is not in the closed list of its field.
func (c *Checker) chosen(f Field, v any) {
	s, is := v.(string)
	if !is || f.Choices == nil || slices.ContainsFunc(f.Choices, func(ch Choice) bool { return ch.Value == s }) {
		return
	}
	var all []string
	for _, ch := range f.Choices {
		all = append(all, ch.Value)
	}
	c.Refuse(f.Key, "%s is not one of %s", quote(s), strings.Join(all, ", "))
}

// text refuses what is too long or cannot be read. what names the one of several
// texts that is meant, and ends in a space.
func (c *Checker) text(key, what, text string, longest int) {
	switch {
	case !utf8.ValidString(text):
		c.Refuse(key, "%sholds bytes that are no text; type it again", what)
	case utf8.RuneCountInString(text) > longest:
		c.Refuse(key, "%sis longer than %d characters; shorten it", what, longest)
	case strings.ContainsFunc(text, func(r rune) bool { return Upsets(r) && r != '\n' && r != '\t' }):
		c.Refuse(key, "%sholds a control character; type it again", what)
	}
}

// plainText is text for what stands on one line.
func (c *Checker) plainText(key, what, text string, longest int) {
	if strings.ContainsAny(text, "\n\t") {
		c.Refuse(key, "%sholds a control character; type it again", what)
		return
	}
	c.text(key, what, text, longest)
}

// visible refuses a text that cannot be read: one that is needed holds a letter or a
// digit that can be seen, one that may be left out something that can be seen. Of the
// latter the kind's own sentence comes first.
func (c *Checker) visible(f Field, text string, needed bool) {
	switch {
	case f.Choices != nil || text == "":
	case needed && unit.Legible(text) == 0:
		c.Refuse(f.Key, "is still blank: it needs a letter or a digit that can be seen")
	case unit.AsSeen(text) == "":
		c.unseen = append(c.unseen, f.Key)
	}
}

// tooShort reports whether a text is too short to say anything.
func tooShort(text string) bool {
	return utf8.RuneCountInString(unit.AsSeen(text)) < 3 || unit.Legible(text) == 0
}

// said refuses a text too short to say anything.
func (c *Checker) said(key, text, what string) {
	if tooShort(text) {
		c.Refuse(key, "is too short: %s", what)
	}
}

// blank refuses a text of which nothing can be seen.
func (c *Checker) blank(key, text string) {
	if unit.AsSeen(text) == "" && c.found.On(key) == "" {
		c.Refuse(key, "is still blank")
	}
}

// Upsets tells of a character that has no place in a text: a control, or one
// that turns the direction of writing, with which 1.5 can look like 5.1.
func Upsets(r rune) bool {
	return unicode.IsControl(r) || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

// quote puts what was typed into a sentence, as much of it as it takes to know
// it again.
func quote(s string) string { return "“" + clip(s) + "”" }

// clip shortens what somebody sent, and leaves out what would upset a terminal
// or a page.
func clip(s string) string {
	const most = 60
	s = strings.ToValidUTF8(s[:min(len(s), 4*most+4)], "\ufffd")
	s = strings.Map(func(r rune) rune {
		if Upsets(r) {
			return '\ufffd'
		}
		return r
	}, s)
	if r := []rune(s); len(r) > most {
		return string(r[:most-3]) + "..."
	}
	return s
}
