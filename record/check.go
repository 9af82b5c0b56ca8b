package record

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"ebbline/session"
)

// A Checker holds an entry beside the record it would join.
type Checker struct {
	House   *Household
	Entry   Entry
	Kind    *Kind
	Member  *Member          // nil before the person exists
	Session *session.Session // nil for what belongs to no session, and before one is opened
	found   Findings
	unseen  []string // texts that may be left out and hold nothing that can be seen
}

// Check says what stands against taking an entry into the record. An asked
// value that was typed a second time, the same, is not in the answer. Nothing
// in the answer refuses or asks when the entry may be taken.
func Check(h *Household, e Entry) Findings {
	kind, ok := Find(e.Kind)
	if !ok {
		return Findings{{Field: "kind", Step: Refuse, Words: quote(e.Kind) + " is not a kind of entry"}}
	}
	c := &Checker{House: h, Entry: e, Kind: kind, Member: h.Member(e.Person), Session: h.Session(e.Session)}
	c.envelope()
	if c.found.Refused() {
		return c.found // what follows needs a person, a session and a moment
	}
	c.values()
	c.sugarUnit()
	c.order()
	c.carries()
	if kind.Check != nil && !c.found.Refused() {
		kind.Check(c)
	}
	if !c.found.Refused() {
		for _, key := range c.unseen {
			c.Refuse(key, "holds nothing that can be seen; leave it out, or type it again")
		}
	}
	if !c.found.Refused() {
		c.undoing()
	}
	return c.unanswered()
}

// Refuse notes that the entry cannot be taken.
func (c *Checker) Refuse(field, format string, args ...any) {
	c.found = append(c.found, Finding{Field: field, Step: Refuse, Words: fmt.Sprintf(format, args...)})
}

// Ask notes that a value is taken only when it is typed again.
func (c *Checker) Ask(field, format string, args ...any) {
	c.found = append(c.found, Finding{Field: field, Step: Ask, Words: fmt.Sprintf(format, args...)})
}

// askRight is Ask about a value that is typed again if it is right.
func (c *Checker) askRight(field, format string, args ...any) {
	why := fmt.Sprintf(format, args...)
	c.found = append(c.found, Finding{Field: field, Step: Ask, Words: why + ". If it is right, type it again", Why: why})
}

var goodID = regexp.MustCompile(`^[A-Za-z0-9._-]{8,64}$`)

// early is how far a moment may lie ahead of the writing of it: two clocks in
// one house differ by that much.
const early = 2 * time.Minute

// mostOff is how far an offset may lie, in seconds, from the one that this
// program's table of zones has: a country may have changed its time since.
const mostOff = 2 * 60 * 60

func (c *Checker) envelope() {
	e := c.Entry
	if c.facts(); c.found.Refused() {
		return // nothing more is said of an entry whose own facts cannot be read
	}
	if !goodID.MatchString(e.ID) {
		c.Refuse("id", "%s is not an id; needs 8 to 64 letters, digits, points, dashes", quote(e.ID))
	}
	if _, err := LoadZone(e.Zone); err != nil {
		c.Refuse("zone", "%s is not a time zone; needs a name such as Europe/Oslo", quote(e.Zone))
	}
	if zone, err := LoadZone(e.Zone); err == nil {
		_, sent := e.At.Zone()
		if _, own := e.At.In(zone).Zone(); sent-own > mostOff || own-sent > mostOff {
			c.Refuse("offset_min", "%d is not what clocks in %s showed then; leave it out", sent/60, e.Zone)
		}
	}
	if e.At.Year() < 1990 || e.At.Year() > 2200 {
		c.Refuse("at", "%s lies outside 1990 to 2200; look at the clock of this computer", e.At.Format(time.RFC3339))
	} else if e.Written.IsZero() {
		c.Refuse("written", "is missing")
	} else if e.At.After(e.Written.Add(early)) {
		c.Refuse("at", "%s has not come yet", e.At.Format("15:04 on 2 January 2006"))
	}
	switch {
	case c.ofTheHouse():
		if e.Person != "" && c.Member == nil {
			c.Refuse("person", "%s is nobody in this record; leave it out, or say whose it is", quote(e.Person))
		}
	case e.Kind == "person":
		if !goodID.MatchString(e.Person) {
			c.Refuse("person", "%s is not an id; needs 8 to 64 letters, digits, points, dashes", quote(e.Person))
		}
	default:
		if c.Member == nil {
			c.Refuse("person", "%s is nobody in this record", quote(e.Person))
		}
	}
	c.envelopeSession()
	c.envelopeCorrection()
}

// ofTheHouse reports whether the entry belongs to nobody of the household in
// particular: its kind does, or it strikes out an entry of such a kind.
func (c *Checker) ofTheHouse() bool {
	if b, is := c.Entry.Body.(*Struck); is && c.Entry.Person == "" {
		k, known := Find(c.House.entries[b.Entry].kind)
		return known && k.House
	}
	return c.Kind.House
}

func (c *Checker) envelopeSession() {
	e := c.Entry
	switch {
	case !c.Kind.Session && e.Kind != "struck" && e.Session != "":
		c.Refuse("session", "%s does not belong to a session", c.Kind.Title)
	case !c.Kind.Session:
	case e.Kind == "session_opened" && e.Corrects == "":
		if !goodID.MatchString(e.Session) {
			c.Refuse("session", "%s is not an id; needs 8 to 64 letters, digits, points, dashes", quote(e.Session))
		} else if c.Session != nil {
			c.Refuse("session", "was opened already")
		}
	case c.Session == nil:
		c.Refuse("session", "%s was never opened", quote(e.Session))
	case c.Session.Person != e.Person:
		c.Refuse("person", "this session belongs to somebody else")
	}
}

func (c *Checker) envelopeCorrection() {
	e := c.Entry
	if e.Corrects == "" {
		if e.Reason != "" {
			c.Refuse("reason", "is given without the entry that it corrects")
		}
		return
	}
	old, ok := c.House.entries[e.Corrects]
	switch {
	case !ok:
		c.Refuse("corrects", "%s is not in the record", quote(e.Corrects))
	case e.Kind == "struck":
		c.Refuse("corrects", strikeStands)
	case old.kind != e.Kind || old.session != e.Session || old.person != e.Person:
		c.Refuse("corrects", "names an entry of another kind, person or session")
	case c.House.Newest(e.Corrects) != e.Corrects:
		c.Refuse("corrects", "names an entry that was corrected before; correct the newer one")
	case old.struck:
		c.Refuse("corrects", "names an entry that was struck out. If it was right after all, write it down again")
	}
	if tooShort(e.Reason) {
		c.Refuse("reason", "is missing: say in a word or two why it is corrected")
	}
}

// values holds each value against the table.
func (c *Checker) values() {
	for _, f := range c.Kind.Fields {
		v, given := f.Of(c.Entry.Body)
		if !given {
			if why := c.Entry.Missing[f.Key]; why == "" && !f.Optional {
				c.Refuse(f.Key, "is still blank")
			}
			continue
		}
		if _, said := c.Entry.Missing[f.Key]; said {
			c.Refuse(f.Key, "is given and said to be missing")
		}
		if n, ok := f.number(c.Entry.Body); ok {
			c.bounds(c.boundsOf(f), n)
		}
		c.texts(f, reflect.ValueOf(v), !f.Optional)
		c.chosen(f, v)
	}
	for _, key := range sortedKeys(c.Entry.Missing) {
		f, ok := c.Kind.Field(key)
		switch why := c.Entry.Missing[key]; {
		case !ok:
			c.Refuse(clip(key), "is not a value of %s", c.Kind.Name)
		case !f.Measured || !f.Optional:
			c.Refuse(key, "cannot be left out")
		case !slices.Contains([]session.Missing{session.NotDone, session.NotRecorded, session.DoesNotApply, session.AsleepByPlan}, why):
			c.Refuse(key, "%s is not a way of missing; needs not_done, not_recorded, does_not_apply or asleep_by_plan", quote(string(why)))
		}
	}
	c.again()
}

func (c *Checker) bounds(f Field, n float64) {
	value, unit := f.Text(c.Entry.Body), f.Symbol()
	if f.Refuse != nil && (n < f.Refuse.Lo || n > f.Refuse.Hi) {
		c.Refuse(f.Key, "%s is not accepted: needs %s to %s%s", value, plain(f.Refuse.Lo), plain(f.Refuse.Hi), spaced(unit))
		return
	}
	if f.Ask != nil && (n < f.Ask.Lo || n > f.Ask.Hi) {
		c.askRight(f.Key, "%s%s is outside %s to %s", value, spaced(unit), plain(f.Ask.Lo), plain(f.Ask.Hi))
	}
}

// order holds the entry against how far the session has come.
func (c *Checker) order() {
	s := c.Session
	if s == nil || !c.Kind.Session || c.Entry.Kind == "session_opened" {
		return
	}
	corrects := c.Entry.Corrects != ""
	if c.Kind.Once && !corrects && s.Has(c.Entry.Kind) {
		c.Refuse("kind", "%s is in this session already; correct that one", c.Kind.Title)
	}
	if c.Kind.Live {
		begun, ok := s.Began()
		ended, over := s.Ended()
		switch {
		case !ok && !corrects:
			c.Refuse("kind", "the treatment has not begun")
		case corrects && !c.Entry.At.Before(begun.Truncate(time.Minute)) && !c.Entry.At.After(begun):
			// The clock on the form of a correction has no seconds.
		case ok && c.Entry.At.Before(begun):
			c.Refuse("at", "lies before the treatment began at %s", begun.Format("15:04"))
		case over && c.Entry.At.After(ended):
			c.Refuse("at", "lies after the treatment ended at %s", ended.Format("15:04"))
		}
	}
	c.belongs()
	c.isOver()
}

// TypedTwice is what is said of a value whose second typing differs.
func TypedTwice(first, again string) string {
	return "was typed as " + first + " and then as " + again + ". Type the right one twice"
}

// unanswered leaves out the questions that a second typing has answered. A
// second typing that differs from the first is a finding of its own.
func (c *Checker) unanswered() Findings {
	var left Findings
	for _, one := range c.found {
		again, typed := c.Entry.Again[one.Field]
		if one.Step != Ask || !typed {
			left = append(left, one)
			continue
		}
		first, _ := c.Kind.Typed(c.Entry.Body, one.Field)
		if f, _ := c.Kind.Field(one.Field); !sameTyped(f, c.Entry.Body, first, again) {
			left = append(left, Finding{Field: one.Field, Step: Ask, Words: TypedTwice(first, again), Twice: true})
		}
	}
	return left
}

// sameTyped compares a value with its second typing by what it means, so that
// "72,50" answers "72.5".
func sameTyped(f Field, body any, first, again string) bool {
	n, ok := 0.0, false
	if f.typ != nil {
		n, ok = f.number(body)
	}
	if !ok {
		return sameResult(first, again)
	}
	m, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(again), ",", ".", 1), 64)
	return err == nil && m == n
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func spaced(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}
