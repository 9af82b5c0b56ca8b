package record

import (
	"ebbline/session"
	"ebbline/unit"
)

// checkRang wants a call that was made: whom, and what was said.
func checkRang(c *Checker) {
	b := c.Entry.Body.(*session.Rang)
	if unit.Legible(b.Whom) < 2 {
		c.Refuse("whom", "is still blank: whom you rang, by name or by number")
	}
	c.said("said", b.Said, "what was said")
	c.reached("whom", b.Whom)
	c.reached("said", b.Said)
}

// reached refuses a call that reached nobody, by all that was written of it, and asks
// where only a part of the text does: such a call answers nothing (hazard H-140).
func (c *Checker) reached(key, text string) {
	switch session.ReachedBy(text) {
	case session.Nobody:
		c.Refuse(key, "Nobody was reached: that is a reason to go past it, with the time; not a call")
	case session.Unsure:
		c.Ask(key, "Was somebody reached? If so, type it again; if not, that is a reason to go past it, with the time")
	}
}

// checkDisinfection refuses a disinfection while blood lines are on the machine.
func checkDisinfection(c *Checker) {
	if c.paper() || c.Entry.Corrects != "" {
		return
	}
	c.refuseLines(c.Session)
}

// linesOff holds a disinfection of the round against the session that is being
// set up or runs on the machine.
func (c *Checker) linesOff() {
	if c.Entry.Corrects != "" {
		return
	}
	for _, m := range c.House.People {
		s := m.Open()
		if s == nil {
			continue
		}
		if o, at := s.Opened(); o.Source == "live" && o.Place == "home" && !c.Entry.At.Before(at) {
			c.refuseLines(s)
		}
	}
}

func (c *Checker) refuseLines(s *session.Session) {
	since, on := session.LinesOn(s, c.Entry.At)
	if !on {
		return
	}
	if began, running := s.Began(); running && !c.Entry.At.Before(began) {
		c.Refuse("kind", "The treatment runs since %s and the blood lines are on the machine: come off and take the lines off first", began.Format("15:04"))
		return
	}
	c.Refuse("kind", "The blood lines are on the machine since %s: take the lines off first. When they are off, write that first (“Lines are off again”), then this",
		since.Format("15:04"))
}
