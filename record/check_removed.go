package record

import "ebbline/session"

// removedSoFar asks about a count of what was removed that is less than before,
// more than the pump can have taken off since, or far ahead of the planned line.
// One question at a time. "The counter began again" answers the first; what it
// shows then is all new. Being behind is only remarked on.
func (c *Checker) removedSoFar(b *session.Reading) {
	if b.Removed == nil {
		return
	}
	s := c.without()
	before := session.Counted(s, c.Entry.At)
	if !b.Again && *b.Removed < before.Shown && !c.asks("removed_ml") {
		c.Ask("removed_ml", "%s is less than the %s of the last reading. Did the machine's count begin again? If not, and it is right, type it again", b.Removed, before.Shown)
		return
	}
	total, told := before.With(b)
	if !told || c.asks("removed_ml") {
		return // what came off is not known from this
	}
	from := before.At
	if began, ok := s.Began(); ok && from.Before(began) {
		from = began
	}
	most := session.PumpCould(s, from, c.Entry.At, b.Rate)
	planned, far := session.FarAhead(s, c.Entry.At, total)
	switch {
	case total-before.Removed > most:
		c.Ask("removed_ml", "%s is %s more than at %s, and the machine can have taken off about %s since. If it shows this, type it again",
			b.Removed, (total - before.Removed).Text(), from.Format("15:04"), most.Text())
	case far:
		c.Ask("removed_ml", "%s in all is far ahead of the %s planned by now. Look at rate and goal; if the machine shows it, type it again", total.Text(), planned.Text())
	}
}
