package session

import (
	"ebbline/unit"
)

// A lotSeen is one lot of the session with its expiry.
type lotSeen struct {
	what   string
	lot    string
	expiry unit.Date
	event  *Event
}

// lotsOf lists every lot written in a session, in order of time. The chlorine
// test and the bath have checks of their own.
func lotsOf(s *Session) []lotSeen {
	var out []lotSeen
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil {
			continue
		}
		switch b := e.Body.(type) {
		case *Supply:
			out = append(out, lotSeen{b.Item, b.Lot, b.Expiry, e})
		case *HeparinDrawn:
			out = append(out, lotSeen{"heparin", b.Lot, b.Expiry, e})
		case *AnaestheticDrawn:
			out = append(out, lotSeen{"local anaesthetic", b.Lot, b.Expiry, e})
		case *FlushDrawn:
			out = append(out, lotSeen{"saline flush", b.Lot, b.Expiry, e})
		}
	}
	return out
}

// lots are the things opened for this session, each in date.
func (l startLine) lots(v *verdict) {
	supplies, seen := 0, 0
	today := unit.DateOf(l.at)
	for _, lot := range lotsOf(l.s) {
		if lot.event.At.After(l.at) {
			continue
		}
		seen++
		if _, ok := lot.event.Body.(*Supply); ok {
			supplies++
		}
		switch {
		case !lot.expiry.IsZero() && lot.expiry.Before(today):
			v.stop(lot.event, "lots_expired", capital(lot.what), lot.expiry.Long())
		case lot.expiry.IsZero() && lot.event.Missing["expiry"] != DoesNotApply:
			v.open(lot.event, "lots_no_expiry", lot.what)
		}
	}
	if supplies == 0 {
		v.open(nil, "lots_none")
	}
	v.ready("lots_ready", seen)
}
