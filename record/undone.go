package record

import (
	"slices"
	"time"

	"ebbline/session"
)

// One rule guards every strike and every correction, of whatever kind: while a
// session is set up live, an entry after which a stop of its start line is gone
// takes a typed reason and stands on the sheet (hazard H-140). The start line is
// computed before and after the entry; no list of kinds says which may touch it.

// undoes gives the entry that an entry strikes out or corrects, and why; empty
// for one that does neither.
func (e Entry) undoes() (id, why string) {
	if b, is := e.Body.(*Struck); is {
		return b.Entry, b.Reason
	}
	return e.Corrects, e.Reason
}

// A watched session is one whose start line an entry may change.
type watched struct {
	s      *session.Session
	before session.Stops
	own    string // the check that the entry in question stopped by itself
}

// setsTerms are the kinds that are written again to change what a start line is held
// against, beside those of [Member.termsChange]: what a round asks for before the next
// session, and limits of bloods and water.
var setsTerms = map[string]bool{"round_item": true, "blood_range": true, "water_limit": true, "stock_item": true}

// watch notes what stops the sessions that are being set up live before a strike, a
// correction or one of [setsTerms] is folded in; and what stopped those whose treatment
// has begun, also closed ones, before anything from before their start that no longer
// says what it did, or is written down only now.
func (h *Household) watch(e Entry) []watched {
	id, _ := e.undoes()
	from := e.At
	if id != "" && (e.Kind == "struck" || h.entries[id].when.Before(from)) {
		from = h.entries[id].when
	}
	backdated := id == "" && e.Session == "" && !h.newest(e)
	if id == "" && !setsTerms[e.Kind] && !backdated {
		return nil
	}
	var list []watched
	of := h.bySession[h.entries[id].session]
	note := func(m *Member, s *session.Session) {
		known := m.History(s)
		one := watched{s: s, before: session.StopsAt(s, known, e.Written)}
		if s == of {
			one.own, _ = session.StoppedBy(s, known, id)
		}
		list = append(list, one)
	}
	for _, m := range h.People {
		for _, s := range m.Sessions {
			switch {
			case !live(s):
			case s.Phase() == session.SettingUp:
				if id != "" || setsTerms[e.Kind] {
					note(m, s)
				}
			case s == of:
				if beforeStart(s, id) {
					note(m, s)
				}
			case touched(s, from, e.Written):
				note(m, s)
			}
		}
	}
	return list
}

// newest reports whether an entry tells of what no treatment began after.
func (h *Household) newest(e Entry) bool {
	for _, m := range h.People {
		for _, s := range m.since(e.At) {
			if began, treated := s.Began(); treated && !began.Before(e.At) {
				return false
			}
		}
	}
	return true
}

// touched reports whether the start of a treatment may rest on something from a moment:
// it began since then, at most [batchesBack] after it or before it is written.
func touched(s *session.Session, from, written time.Time) bool {
	began, treated := s.Began()
	return treated && !began.Before(from) && (began.Sub(from) <= batchesBack || written.Sub(began) <= batchesBack)
}

// live reports whether a session's start line is guarded: it is held as it happens
// on the machine at home, and was not given up.
func live(s *session.Session) bool {
	o, _ := session.First[session.Opened](s)
	return o != nil && !o.Afterwards()
}

// beforeStart reports whether an entry of a session is from before its treatment
// began.
func beforeStart(s *session.Session, id string) bool {
	began, treated := s.Began()
	e := s.Find(id)
	return treated && e != nil && !e.At.After(began)
}

// notice keeps which stops are gone since an entry was folded in.
func (h *Household) notice(e Entry, before []watched) {
	id, why := e.undoes()
	for _, one := range before {
		if !live(one.s) {
			continue // given up: what stopped there is carried to the next
		}
		m := h.byPerson[one.s.Person]
		for _, u := range one.before.Gone(session.StopsAt(one.s, m.History(one.s), e.Written)) {
			u.At, u.By, u.Reason, u.Struck, u.Again = e.Written, e.By, why, e.Kind == "struck", id == ""
			if u.Entry = e.ID; u.Struck {
				u.Entry, _ = e.undoes()
			}
			if kind, known := Find(h.entries[u.Entry].kind); known {
				u.What = kind.Title
			}
			u.InLog = u.Check == one.own
			h.undone[one.s.ID] = append(h.undone[one.s.ID], u)
		}
	}
}

// undoing wants a typed reason, as long as one to go on in spite of a check, for
// striking out or correcting what made a check of the start line stop: it stands
// on the sheet. What is typed in from paper is written down, not guarded.
func (c *Checker) undoing() {
	id, reason := c.Entry.undoes()
	if id == "" || session.GoodReason(reason) {
		return
	}
	if t, ends := c.endsTrouble(id); ends {
		c.Refuse("reason", "is too short: “%s” is open since %s, and this ends it. %s Say in a sentence why it is undone, at least %d characters",
			t.Title, t.Since.In(c.Entry.At.Location()).Format("15:04"), t.Blood.Words(), session.ReasonLength)
		return
	}
	words := c.stopped(id)
	if words == "" {
		words = c.House.wouldUndo(c.Entry)
	}
	if words != "" {
		c.Refuse("reason", "is too short: this stopped the start (%s). Say in a sentence why it is undone, at least %d characters", words, session.ReasonLength)
	}
}

// wouldUndo says which stop of a session that is being set up would be gone after
// an entry; empty for none.
func (h *Household) wouldUndo(e Entry) string {
	if len(h.watch(e)) == 0 {
		return ""
	}
	then := h.copy()
	clear(then.undone)
	if err := then.Apply(e); err != nil {
		return ""
	}
	for _, list := range then.undone {
		for _, u := range list {
			return u.Words
		}
	}
	return ""
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
