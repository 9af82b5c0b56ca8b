package record

import "ebbline/session"

// flushes keeps the volume and the interval of flushes together: one alone orders none.
func flushes(c *Checker, p *session.Prescription) {
	switch {
	case p.FlushML != nil && p.FlushEvery == nil:
		c.Refuse("flush_every_min", "is still blank, but a flush is written; write every how many minutes")
	case p.FlushML == nil && p.FlushEvery != nil:
		c.Refuse("flush_ml", "is still blank, but its minutes are written; write how much each is")
	}
}
