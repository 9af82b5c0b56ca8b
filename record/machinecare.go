package record

import (
	"time"

	"ebbline/session"
)

// programmes are the items of the round that are disinfections, by the words a
// session has for them.
var programmes = map[string]string{"heat": "heat", "citric": "heat_citric", "chemical": "chemical"}

// cleanedBefore is as much of a session's history as it takes to tell how long the
// machine had stood before it.
func (m *Member) cleanedBefore(s *session.Session) session.History {
	h := m.before(s)
	m.idleAndCleaned(&h, s, m.house.momentOf(m, s))
	return h
}

// machineCare adds to a session's history what was done to the machine outside
// its person's sessions, whether disinfectant may still be in it, and how long
// the unit lets it stand.
func (m *Member) machineCare(to *session.History, s *session.Session) {
	h := m.house
	until := h.momentOf(m, s)
	to.Waiting = append(m.criticalAtStart(s, until), h.waiting(m, until)...)
	to.Doubted = h.doubtedAt(until)
	to.CarbonOpen = h.carbonOpen(to.CarbonOver, m, until)
	m.shelfOf(to, s, until)
	opened := m.idleAndCleaned(to, s, until)
	if s != nil {
		if o, _ := s.Opened(); o.Source == "live" && o.Place == "home" {
			to.InUseBy, to.InUseSince = h.inUse(m, until)
		}
		to.Reworked = h.Upkeep.reworked(opened, until)
	}
	h.residue(to, s, opened, until)
}

// idleAndCleaned adds how long the machine may stand, when it was used last, and its
// disinfections since. It gives the moment from which a session was set up.
func (m *Member) idleAndCleaned(to *session.History, s *session.Session, until time.Time) (opened time.Time) {
	h := m.house
	to.Idle = idleRule(h.Upkeep.rulesAt(until))
	to.Used = m.lastUse(to, s, until)
	if to.New, to.NewSince = h.isNew(s, until); to.CleanedAt.Before(to.NewSince) {
		to.Cleaned, to.CleanedAt = nil, time.Time{} // of another machine
	}
	opened = until // what was done from then on was done while setting up
	if s != nil {
		_, opened = openingOf(s)
	}
	from := to.Used
	if from.Before(to.NewSince) {
		from = to.NewSince
	}
	h.eachCycle(s, from, until, func(c session.Cycle) {
		if c.At.After(to.CleanedAt) && c.At.Before(opened) {
			cleaned := c.Disinfection
			to.Cleaned, to.CleanedAt = &cleaned, c.At
		}
	})
	for i := range h.Upkeep.Done {
		d := &h.Upkeep.Done[i]
		if !d.At.Before(until) || !d.At.After(from) {
			continue // nearly all of them, after years
		}
		c, is := roundCycle(*d)
		switch {
		case !is:
		case s != nil && !d.At.Before(opened):
			to.Meanwhile = append(to.Meanwhile, c)
		case d.At.After(to.CleanedAt):
			to.Cleaned, to.CleanedAt = &c.Disinfection, d.At
		}
	}
	return opened
}

// roundCycle is the disinfection of the machine that an entry of the round tells
// of, and false for one that tells of none.
func roundCycle(d Personal[RoundDone]) (session.Cycle, bool) {
	programme, is := programmes[d.Value.Item]
	if !is || d.Struck != nil {
		return session.Cycle{}, false
	}
	result := "passed"
	if d.Value.Outcome == "failed" {
		result = "failed"
	}
	return session.Cycle{Disinfection: session.Disinfection{Programme: programme, Result: result}, At: d.At, Place: d.place}, true
}

// eachCycle calls f for the disinfections that sessions on this machine wrote
// between two moments, but for one session; those of one person in order of time.
func (h *Household) eachCycle(but *session.Session, from, until time.Time, f func(session.Cycle)) {
	for _, m := range h.People {
		for _, s := range m.since(from) {
			if s == but || !s.AtHome() {
				continue
			}
			session.Each(s, func(b *session.Disinfection, e *session.Event) {
				if e.At.After(from) && e.At.Before(until) {
					f(session.Cycle{Disinfection: *b, At: e.At, Place: e.Place})
				}
			})
		}
	}
}

// longest is how long a session may last, from setting up to the last entry.
const longest = 48 * time.Hour

// since gives the person's sessions that may hold something from a moment on, in
// order of time.
func (m *Member) since(from time.Time) []*session.Session {
	i := len(m.Sessions)
	for ; i > 0; i-- {
		if _, at := openingOf(m.Sessions[i-1]); at.Before(from.Add(-longest)) {
			break
		}
	}
	return m.Sessions[i:]
}

// momentOf is when a session stood at the start line, or is about to: what was
// written after that belongs to later ones. What happened at that very moment
// counts, since paper knows no seconds.
func (h *Household) momentOf(m *Member, s *session.Session) time.Time {
	if s != nil {
		if began, ok := s.Began(); ok {
			return began.Add(time.Nanosecond)
		}
		if (s.Phase() == session.Done || m.latest() != s) && len(s.Log) > 0 {
			return s.Log[len(s.Log)-1].At.Add(time.Nanosecond)
		}
	}
	if !h.asOf.IsZero() {
		return h.asOf.Add(time.Nanosecond)
	}
	return h.LastAt.Add(early)
}

// latest is the session that was begun last, or nil.
func (m *Member) latest() *session.Session {
	for i := len(m.Sessions) - 1; i >= 0; i-- {
		if s := m.Sessions[i]; !s.Abandoned() {
			return s
		}
	}
	return nil
}

// lastUse gives the end of the last treatment on the machine, of any person. When
// it was somebody else's, what that session wrote of its disinfection is taken
// into the history: two people on one machine start after one another.
func (m *Member) lastUse(to *session.History, but *session.Session, until time.Time) time.Time {
	var used time.Time
	var last *session.Session
	var whose *Member
	for _, one := range m.house.People {
		list := one.Sessions
		if one == m {
			list = m.Earlier(but)
		}
		for i := len(list) - 1; i >= 0; i-- {
			s := list[i]
			at, ok := s.Ended()
			if !ok {
				at, ok = s.Began()
			}
			if !ok || s == but || !s.AtHome() || !at.Before(until) {
				continue
			}
			if at.After(used) {
				used, last, whose = at, s, one
			}
			break
		}
	}
	if whose != nil && whose != m {
		to.Cleaned, to.CleanedAt = nil, time.Time{}
		if b, e := session.CleanedAfter(last); b != nil && e.At.Before(until) {
			to.Cleaned, to.CleanedAt = b, e.At
		}
	}
	return used
}
