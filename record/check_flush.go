package record

import (
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// flushes keeps the volume and the interval of flushes together: one alone orders none.
func flushes(c *Checker, p *session.Prescription) {
	switch {
	case p.FlushML != nil && p.FlushEvery == nil:
		c.Refuse("flush_every_min", "is still blank, but a flush is written; write every how many minutes")
	case p.FlushML == nil && p.FlushEvery != nil:
		c.Refuse("flush_ml", "is still blank, but its minutes are written; write how much each is")
	}
}

// noHeparin asks about heparin that was drawn up though none is ordered. What was drawn up
// is written down all the same: the start line stops for it.
func (c *Checker) noHeparin(b *session.HeparinDrawn) {
	for _, one := range []struct {
		key  string
		dose unit.Dose
	}{{"bolus_iu", b.Bolus}, {"line_iu", b.Line}} {
		if one.dose > 0 {
			c.askRight(one.key, "%s is drawn up, but your unit ordered no heparin. Do not give it", one.dose.Text())
		}
	}
}

// checkSaline asks about a flush that is not as ordered: where none is, so soon after the
// one before that it may be the same, or of another volume by half.
func checkSaline(c *Checker) {
	b := c.Entry.Body.(*session.Saline)
	if !b.Flush || c.Session == nil || c.paper() {
		return
	}
	rx := c.Session.Rx
	if !rx.Flushes() {
		c.askRight("volume_ml", "is ticked as a flush, but your unit ordered none")
		return
	}
	if b.Volume > *rx.FlushML*3/2 || b.Volume < *rx.FlushML/2 {
		c.askRight("volume_ml", "%s as a flush, ordered are %s", b.Volume.Text(), rx.FlushML.Text())
		return
	}
	var last time.Time
	session.Each(c.Session, func(one *session.Saline, e *session.Event) {
		if one.Flush && e.ID != c.Entry.Corrects && !e.At.After(c.Entry.At) {
			last = e.At
		}
	})
	soon := time.Duration(*rx.FlushEvery) * time.Minute / 2
	if !last.IsZero() && c.Entry.At.Sub(last) < soon {
		c.askRight("volume_ml", "a flush is written at %s already, one is ordered every %d min", c.clock(last), *rx.FlushEvery)
	}
}

// checkFlushLeftOut refuses one where none is ordered, or where the session has no such
// flush.
func checkFlushLeftOut(c *Checker) {
	if c.Session == nil || c.paper() {
		return
	}
	rx, length := c.Session.Rx, unit.Minutes(0)
	if run, ok := session.Follow(c.Session, c.Entry.At); ok {
		length = run.Length
	}
	switch of := rx.FlushCount(length); {
	case !rx.Flushes():
		c.Refuse("number", "is one of the flushes that are ordered, but your unit ordered none")
	case c.Entry.Body.(*session.FlushLeftOut).Number > of:
		c.Refuse("number", "is more than the %d flushes of this session", of)
	}
}
