package session

import (
	"slices"
	"time"
)

// An Undone is a value that stopped the start and was struck out or corrected
// since.
type Undone struct {
	Event  *Event    // as it stands now
	Then   time.Time // when the value was from
	Check  string    // the check that it stopped
	Words  string    // what the check said of it
	Struck bool      // else it was corrected
	At     time.Time // when it was undone
	By     string
	Reason string
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
// that it stopped no longer, in the order of the log.
func UndoneStops(s *Session, h History) []Undone {
	var list []Undone
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck == nil && len(e.Was) == 0 {
			continue
		}
		now, is := stopOf(s, h, *e)
		if e.Struck != nil && now != "" {
			list = append(list, Undone{Event: e, Then: e.At, Check: now, Words: is.words(), Struck: true, At: e.Struck.At, By: e.Struck.By, Reason: e.Struck.Reason})
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
			list = append(list, Undone{Event: e, Then: was.At, Check: then, Words: f.words(), At: next.Written, By: next.By, Reason: was.Reason})
		}
	}
	return list
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
