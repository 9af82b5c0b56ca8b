package record

import (
	"ebbline/session"
	"ebbline/unit"
)

// mostRemoved and muchRemoved are the bounds of a figure for the fluid removed that has
// the substitution fluid in it: those of the net figure and of that fluid together.
var mostRemoved, muchRemoved = Range{0, 160_000}, Range{0, 86_000}

// boundsOf are the bounds of a value in this session: a machine that counts the
// substitution fluid as removed shows ten times as much.
func (c *Checker) boundsOf(f Field) Field { return f.In(c.Session) }

// In is the field with the bounds that it has in a session; nil is none.
func (f Field) In(s *session.Session) Field {
	if f.Key == "removed_ml" && s != nil && s.RemovedShows() == session.RemovedGross {
		f.Refuse, f.Ask = &mostRemoved, &muchRemoved
	}
	if s != nil && s.Child {
		f.Ask = childAsk(f)
	}
	return f
}

// filtration refuses terms of haemodiafiltration in an order of anything else.
func filtration(c *Checker, p *session.Prescription) {
	const unticked = "is written, but haemodiafiltration is not ticked. Tick it, or leave this blank"
	if p.ByFiltration() {
		return
	}
	if p.Substitution != nil {
		c.Refuse("substitution_l", unticked)
	}
	if p.SubstitutionPlace != "" {
		c.Refuse("substitution_place", unticked)
	}
}

// given holds a count of the substitution fluid against the session: a count that goes
// back is asked about as that of the fluid removed is, and one in a session that was not
// ordered so, or far over the order. Where the machine counts it as removed, more of it
// than that is asked.
func (c *Checker) given(given *unit.Litres, removed *unit.Volume, again bool) {
	if given == nil {
		return
	}
	before := session.Counted(c.without(), c.Entry.At)
	ml := unit.Volume(*given)
	switch {
	case c.asks("substitution_l"):
	case !c.Session.ByFiltration():
		c.askRight("substitution_l", "%s is written, but this session is not ordered as haemodiafiltration", given.Text())
	case !again && ml < before.GivenShown:
		c.Ask("substitution_l", "%s is less than the %s of the last reading. Did the machine's counts begin again? If not, and it is right, type it again",
			given.Text(), unit.Litres(before.GivenShown).Text())
	case removed != nil && c.Session.RemovedShows() == session.RemovedGross && (ml > *removed && !again || before.Cannot(c.Entry.Body)):
		c.askRight("substitution_l", "%s is more than the %s removed, though this machine's figure has the substitution fluid in it. Are the two the other way round, or is that answer wrong",
			given.Text(), removed.Text())
	case c.Session.SubstitutionOver(before.GivenWith(c.Entry.Body, again)):
		c.askRight("substitution_l", "%s is far over the %s that are ordered for a session", given.Text(), c.Session.Rx.Substitution.Text())
	}
}
