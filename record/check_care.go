package record

import (
	"slices"
	"unicode"

	"ebbline/session"
)

// legible reports whether a text holds two letters or digits that can be seen.
func legible(text string) bool {
	n := 0
	for _, r := range text {
		hidden := r == '\u115f' || r == '\u1160' || r == '\u3164' || r == '\uffa0' // letters that are drawn as nothing
		if !hidden && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			n++
		}
	}
	return n >= 2
}

// checkRang wants a call that was made: whom, and what was said.
func checkRang(c *Checker) {
	b := c.Entry.Body.(*session.Rang)
	if !legible(b.Whom) {
		c.Refuse("whom", "is still blank: whom you rang, by name or by number")
	}
	c.said("said", b.Said, "what was said")
	c.reached("whom", b.Whom)
	c.reached("said", b.Said)
}

// reached refuses a call that reached nobody, by all that was written of it, and asks
// where a part of the text says so: such a call answers nothing (hazard H-140).
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

// undoing wants a typed reason, as long as one to go on in spite of a check, for
// striking out or correcting what made a check of the start line stop: it stands
// on the sheet. What is typed in from paper is written down, not guarded.
func (c *Checker) undoing(id, reason string) {
	words := c.stopped(id)
	if words == "" || session.GoodReason(reason) {
		return
	}
	c.Refuse("reason", "is too short: this stopped the start (%s). Say in a sentence why it is undone, at least %d characters", words, session.ReasonLength)
}

// stopped says what an entry made a check of the start line say when it stopped
// it; empty where it stopped none, or belongs to paper.
func (c *Checker) stopped(id string) string {
	at := c.House.entries[id]
	if s := c.House.Session(at.session); s != nil {
		if o, _ := s.Opened(); o.Afterwards() {
			return ""
		}
		_, words := session.StoppedBy(s, c.House.byPerson[s.Person].History(s), id)
		return words
	}
	u := &c.House.Upkeep
	for _, d := range u.Residuals {
		if r := d.Value.residue(d.At); d.ID == id && !r.Good {
			return "residue test: " + r.Found
		}
	}
	i := slices.IndexFunc(u.Done, func(d Personal[RoundDone]) bool { return d.ID == id })
	if i < 0 {
		return ""
	}
	if cycle, is := roundCycle(u.Done[i]); is && cycle.Result == "failed" {
		return "disinfection failed"
	}
	return ""
}
