package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// An Undone is a stop of the start line that is gone since an entry was struck out
// or corrected.
type Undone struct {
	Entry  string    // that was struck out, or that corrected it
	What   string    // what sort of entry that is, where it did not stop the start by itself
	Then   time.Time // when what stopped was from; zero where no entry of the session decided
	Check  string    // the check that stopped
	Words  string    // what the check said
	Struck bool      // else it was corrected
	Again  bool      // nothing was: what it is held against was written again
	At     time.Time // when it was undone
	By     string
	Reason string
	InLog  bool // the log of the session shows it too

	found finding
}

// Stops are what stops a start line at a moment, before calls and reasons.
type Stops []stop

type stop struct {
	check string
	finding
}

// StopsAt gives what stops the start of a session at a moment. A plan that a newer
// weight overtook is not among it: it only has to be made again.
func StopsAt(s *Session, h History, now time.Time) Stops {
	var list Stops
	l := lineAt(s, h, now)
	for _, c := range startChecks {
		for _, f := range l.found(c.id, c.judge).findings {
			if f.state == StopHere && f.code != "plan_weight" {
				list = append(list, stop{c.id, f})
			}
		}
	}
	// Of several reasons to look for residue the latest is said; each is one to undo.
	if needs := l.residueNeeds(); len(needs) > 0 && len(l.residueTests(needs)) == 0 {
		for _, n := range needs[:len(needs)-1] {
			list = append(list, stop{CheckCleaned, finding{state: StopHere, code: n.code, args: n.args, at: n.at}})
		}
	}
	return list
}

// Gone lists the stops that are there no more: of each check and matter as many as
// there are fewer.
func (before Stops) Gone(after Stops) []Undone {
	var list []Undone
	left := slices.Clone(after)
	of := func(same func(a stop) bool) bool {
		i := slices.IndexFunc(left, same)
		if i >= 0 {
			left = slices.Delete(left, i, i+1)
		}
		return i >= 0
	}
	rest := before
	for _, same := range []func(a, b stop) bool{
		func(a, b stop) bool { return a.finding.words() == b.finding.words() },
		func(a, b stop) bool { return a.entry != "" && a.entry == b.entry }, // it stops for another reason
		func(a, b stop) bool { return a.subject() == b.subject() },
	} {
		var still Stops
		for _, b := range rest {
			if !of(func(a stop) bool { return a.check == b.check && same(a, b) }) {
				still = append(still, b)
			}
		}
		rest = still
	}
	for _, b := range rest {
		list = append(list, Undone{Then: b.at, Check: b.check, Words: b.finding.words(), found: b.finding})
	}
	return list
}

// StoppedBy gives the check of the start line that an entry made stop as of its
// own time, and what was said; empty where it stopped none. An entry that was
// struck out is judged as if it had not been. Entries after the beginning of the
// treatment stop nothing.
func StoppedBy(s *Session, h History, id string) (check, words string) {
	e := s.Find(id)
	if e == nil {
		return "", ""
	}
	check, f := stopOf(s, h, *e)
	return check, f.words()
}

// UndoneStops lists what stopped the start and was struck out, or corrected so
// that it stopped no longer, in the order of the log; and after those what else
// is gone from the start line since something was struck out or corrected.
func UndoneStops(s *Session, h History) []Undone {
	var list []Undone
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck == nil && len(e.Was) == 0 {
			continue
		}
		now, is := stopOf(s, h, *e)
		if e.Struck != nil && now != "" {
			list = append(list, Undone{Entry: e.ID, Then: e.At, Check: now, Words: is.words(), Struck: true, At: e.Struck.At, By: e.Struck.By, Reason: e.Struck.Reason})
		}
		for k, was := range e.Was {
			then, f := stopOf(s, h, e.as(was))
			next := Version{Written: e.Written, By: e.By}
			after, g := now, is
			if k+1 < len(e.Was) {
				next = e.Was[k+1]
				after, g = stopOf(s, h, e.as(next))
			}
			if then == "" || then == after && f.subject() == g.subject() {
				continue
			}
			list = append(list, Undone{Entry: e.ID, Then: was.At, Check: then, Words: f.words(), At: next.Written, By: next.By, Reason: was.Reason})
		}
	}
	for _, u := range h.Undone {
		if !u.InLog {
			list = append(list, u)
		}
	}
	return list
}

// undone keeps in sight on its line what stopped a check and was struck out or
// corrected, with the reason that was typed.
func (l startLine) undone(check string, list []Undone, v *verdict) {
	for _, u := range list {
		if u.Check != check || u.found.code == "shelf_says" { // that is said by its own words, see shelfSaid
			continue
		}
		f, how := about("undone_corrected", nil), u.Reason
		switch {
		case u.Struck:
			f = about("undone_struck", nil)
		case u.Again:
			f, how = about("undone_again", nil), u.What
		}
		f.args, f.at, f.entry = []any{sentence(u.Words), u.when(l.opened()), sentence(how)}, u.At, u.Entry
		v.inSight(f)
	}
}

// when words the time at which it was undone, with the day of the week where that is not
// the day on which the session was opened.
func (u Undone) when(opened time.Time) string {
	at := u.At.In(opened.Location())
	if unit.DateOf(at) != unit.DateOf(opened) {
		return dayClock(at)
	}
	return clock(at)
}

// as is the event as it stood in an earlier version.
func (e Event) as(v Version) Event {
	e.At, e.Written, e.By, e.Body, e.Missing = v.At, v.Written, v.By, v.Body, v.Missing
	return e
}

// stopOf finds the stop that an event made as of its own time, in whatever check;
// the check is empty where it made none. A plan that a newer weight overtook is no
// fault of the weight.
func stopOf(s *Session, h History, one Event) (check string, stop finding) {
	if began, ok := s.Began(); ok && one.At.After(began) {
		return "", finding{}
	}
	then := *s
	then.Log = slices.Clone(s.Log)
	then.Remove(one.ID)
	one.Struck, one.Was = nil, nil
	then.Add(one)
	l := lineAt(&then, h, one.At)
	for _, c := range startChecks {
		var v verdict
		c.judge(l, &v)
		for _, f := range v.findings {
			if f.state == StopHere && f.entry == one.ID && !f.past && f.code != "plan_weight" {
				f.when = ""
				return c.id, f
			}
		}
	}
	return "", finding{}
}
