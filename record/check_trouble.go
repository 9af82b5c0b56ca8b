package record

import (
	"strings"

	"ebbline/session"
)

// checkTrouble wants the unit's word before a trouble is over in which the blood
// was to stay out.
func checkTrouble(c *Checker) {
	b := c.Entry.Body.(*session.Trouble)
	t, ok := session.TroubleOf(b.Trouble)
	if !ok || b.State != session.TroubleOver {
		return // another finding says so
	}
	if t.StaysOut() {
		c.unitsWord("said", b.Said, "what your unit said, and who", "that it is over")
	}
}

// bloodBack asks about blood that was given back while something is wrong in which
// it stays out. What happened is written down all the same; a paper says what was,
// and a correction what it had to say.
func (c *Checker) bloodBack(b *session.CameOff) {
	if !b.GivesBack() || c.paper() || c.Entry.Corrects != "" {
		return
	}
	t, out := session.BloodStaysOut(c.Session, c.Entry.At)
	if !out {
		return
	}
	key, again := "returned", "choose"
	if b.Returned != "all" && b.Returned != "part" {
		key, again = "washback_ml", "type"
	}
	c.Ask(key, "says that blood was given back, and “%s” is open since %s. %s If it is right, %s it again",
		t.Title, t.Since.In(c.Entry.At.Location()).Format("15:04"), t.Blood.Words(), again)
}

// checkWashback refuses a tick that was left out: each is looked at. While the
// blood stays out there is nothing to look at.
func checkWashback(c *Checker) {
	b := c.Entry.Body.(*session.WashbackChecked)
	if t, out := session.BloodStaysOut(c.Session, c.Entry.At); out && !c.paper() && c.Entry.Corrects == "" {
		c.Refuse("kind", "the blood stays out: “%s” is open since %s. %s",
			t.Title, t.Since.In(c.Entry.At.Location()).Format("15:04"), strings.TrimSuffix(t.Blood.Words(), "."))
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
// entry said so last.
func (c *Checker) removalOff() (off, said bool) {
	before := *c.Session
	before.Log = nil
	for _, e := range c.Session.Log {
		if e.Struck != nil || e.At.After(c.Entry.At) || e.ID == c.Entry.Corrects {
			continue
		}
		before.Log = append(before.Log, e)
		switch e.Body.(type) {
		case *session.RemovalOff:
			said = true
		case *session.RemovalOn:
			said = false
		}
	}
	_, off = session.RemovalIsOff(&before, c.Entry.At)
	return off, said
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
