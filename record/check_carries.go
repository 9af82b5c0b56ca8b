package record

import (
	"time"

	"ebbline/session"
)

// carries keeps the beginning of a treatment before what happened in it: it is not
// moved behind a reading or a trouble, and while the treatment runs neither it nor the
// opening of the session is struck out. Nothing that those tell would be looked at any
// more (hazard H-114).
func (c *Checker) carries() {
	b, strikes := c.Entry.Body.(*Struck)
	switch {
	case strikes:
		at, ok := c.House.entries[b.Entry]
		s := c.House.Session(at.session)
		if !ok || s == nil || at.struck || s.Phase() != session.Running || at.kind != "session_opened" && at.kind != "connected" {
			return
		}
		if e, kind := firstOfRun(s, c.Entry.Written.Add(time.Minute)); e != nil {
			c.Refuse("entry_id", "carries what this treatment holds: %s, %s. End the treatment first, or strike that out before it", kind, c.clock(e.At))
		}
	case c.Entry.Kind == "connected" && c.Entry.Corrects != "" && c.Session != nil:
		if e, kind := firstOfRun(c.Session, c.Entry.At.Truncate(time.Minute)); e != nil {
			c.Refuse("at", "lies after what this treatment holds: %s, %s. Put that right first", kind, c.clock(e.At))
		}
	}
}

// firstOfRun gives the first entry of a session before a moment that is of a kind there
// is only in a treatment, and its title; nil without one.
func firstOfRun(s *session.Session, before time.Time) (e *session.Event, title string) {
	for i := range s.Log {
		e := &s.Log[i]
		if kind, ok := Find(e.Kind); ok && (kind.Live || e.Kind == "trouble") && e.Struck == nil && e.At.Before(before) {
			return e, kind.Title
		}
	}
	return nil, ""
}
