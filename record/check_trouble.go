package record

import (
	"slices"
	"strings"
	"time"

	"ebbline/session"
)

// checkTrouble wants the unit's word before a trouble is over in which the blood
// was to stay out.
func checkTrouble(c *Checker) {
	b := c.Entry.Body.(*session.Trouble)
	t, ok := session.TroubleOf(b.Trouble)
	if !ok || b.State != session.TroubleOver {
		return // refused by another check
	}
	if t.StaysOut() {
		c.unitsWord("said", b.Said, "what your unit said, and who", "that it is over")
	}
}

// bloodBack asks about blood that was given back while something is wrong in which
// it stays out, then or when it is written down, and about a correction that says
// so first. What happened is written down all the same. A paper says what was: of it
// the times count alone.
func (c *Checker) bloodBack(b *session.CameOff) {
	if !b.GivesBack() {
		return
	}
	if old := c.corrected(); old != nil {
		if was, is := old.Body.(*session.CameOff); is && was.GivesBack() {
			return // asked about when it was first written
		}
	}
	t, out := c.staysOut()
	if !out {
		return
	}
	key, again := "returned", "choose"
	if b.Returned != "all" && b.Returned != "part" {
		key, again = "washback_ml", "type"
	}
	c.Ask(key, "says that blood was given back, and “%s” is open since %s. %s If it is right, %s it again",
		t.Title, c.clock(t.Since), t.Blood.Words(), again)
}

// clock gives a moment as the clock of the entry's household reads it.
func (c *Checker) clock(at time.Time) string { return at.In(c.Entry.At.Location()).Format("15:04") }

// corrected gives what the entry corrects in its session, or nil.
func (c *Checker) corrected() *session.Event {
	if c.Entry.Corrects == "" {
		return nil
	}
	return c.Session.Find(c.Entry.Corrects)
}

// staysOut gives the trouble in which the blood stays out at the entry's time or when
// it is written; in a session typed in afterwards at its time alone.
func (c *Checker) staysOut() (t session.OpenTrouble, out bool) {
	if t, out = session.BloodStaysOut(c.Session, c.Entry.At); !out && !c.paper() && c.Entry.Written.After(c.Entry.At) {
		t, out = session.BloodStaysOut(c.Session, c.Entry.Written)
	}
	return t, out
}

// endsTrouble gives a trouble in which the blood stays out that is open, and no
// longer after a strike or a correction of an entry of its session. A paper is
// written down, not guarded.
func (c *Checker) endsTrouble(id string) (t session.OpenTrouble, ends bool) {
	s := c.House.Session(c.House.entries[id].session)
	if s == nil || s.Find(id) == nil {
		return t, false
	}
	if o, _ := s.Opened(); o.Afterwards() {
		return t, false
	}
	then := *s
	then.Log = slices.Clone(s.Log)
	e := then.Find(id)
	e.Was = slices.Clip(e.Was) // a version more is no part of the record
	if c.Entry.Kind == "struck" {
		e.Struck = &session.Strike{At: c.Entry.Written}
	} else if err := correct(&then, c.House.placed(c.Entry)); err != nil {
		return t, false // refused by another check
	}
	left := session.OpenTroubles(&then, c.Entry.Written)
	for _, o := range session.OpenTroubles(s, c.Entry.Written) {
		if o.StaysOut() && !slices.ContainsFunc(left, func(l session.OpenTrouble) bool { return l.Code == o.Code }) {
			return o, true
		}
	}
	return t, false
}

// checkWashback refuses a tick that was left out: each is looked at. While the
// blood stays out there is nothing to look at.
func checkWashback(c *Checker) {
	b := c.Entry.Body.(*session.WashbackChecked)
	if t, out := c.staysOut(); out && !c.paper() && c.Entry.Corrects == "" {
		c.Refuse("kind", "the blood stays out: “%s” is open since %s. %s",
			t.Title, c.clock(t.Since), strings.TrimSuffix(t.Blood.Words(), "."))
	}
	for _, one := range []struct {
		ok  bool
		key string
	}{{b.Saline, "saline_on_arterial_line"}, {b.Clamp, "its_clamp_open"}, {b.Venous, "venous_line_to_me"}} {
		if !one.ok {
			c.Refuse(one.key, "is not ticked. Look at it before the pump starts; nothing is saved yet")
		}
	}
}

// checkRemovalOff refuses what was said already; after a reading of 0 mL/h alone it
// may be said.
func checkRemovalOff(c *Checker) {
	if off, said := c.removalOff(); off && said {
		c.Refuse("kind", "removal is off already")
	}
}

func checkRemovalOn(c *Checker) {
	if off, _ := c.removalOff(); !off {
		c.Refuse("kind", "removal is not off")
	}
}

// removalOff reports whether removal is off at the entry's moment, and whether an
// entry said so last: one before removal was on again, by whatever showed it, no
// longer does.
func (c *Checker) removalOff() (off, said bool) {
	var saidAt time.Time
	before := *c.Session
	before.Log = nil
	for _, e := range c.Session.Log {
		if e.Struck != nil || e.At.After(c.Entry.At) || e.ID == c.Entry.Corrects {
			continue
		}
		before.Log = append(before.Log, e)
		switch e.Body.(type) {
		case *session.RemovalOff:
			said, saidAt = true, e.At
		case *session.RemovalOn:
			said = false
		}
	}
	since, off := session.RemovalIsOff(&before, c.Entry.At)
	return off, off && said && !saidAt.Before(since)
}

// checkTroubleSteps wants words with letters in them, and a figure of a power cut
// only there.
func checkTroubleSteps(c *Checker) {
	b := c.Entry.Body.(*TroubleSteps)
	c.blank("words", b.Words)
	if b.BackIn != nil && b.Trouble != session.TroublePower {
		c.Refuse("blood_back_within_min", "belongs to a power cut only")
	}
	if !b.GivenOn.IsZero() && !b.ReviewBy.IsZero() && b.ReviewBy.Before(b.GivenOn) {
		c.Refuse("review_by", "lies before the day they were given")
	}
}
