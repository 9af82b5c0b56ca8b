package record

import (
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
