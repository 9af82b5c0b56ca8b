package record

import (
	"slices"
	"time"

	"ebbline/session"
)

// place is where the effect of an entry went, so that a correction or a strike
// finds it.
type place struct {
	kind, person, session string
	at                    int       // how many entries stood before it; a correction stands where the first version stood
	since                 time.Time // when that first version was written down
	when                  time.Time // of what it tells
	struck                bool      // by an entry of its own; not by a correction
}

// placed is an entry with where it stands.
type placed struct {
	Entry
	place int
	own   int // in the order of writing; another than place for a correction
	since time.Time
}

// placed finds where an entry stands: a correction in the place of what it
// corrects, all else at the end.
func (h *Household) placed(e Entry) placed {
	if old, ok := h.entries[e.Corrects]; ok {
		return placed{e, old.at, len(h.entries), old.since}
	}
	return placed{e, len(h.entries), len(h.entries), e.Written}
}

// Newest gives the entry that stands now in the place of one that others name:
// the last of its corrections, or itself.
func (h *Household) Newest(id string) string {
	for {
		next, corrected := h.newer[id]
		if !corrected {
			return id
		}
		id = next
	}
}

func dated[T any](e placed) Dated[T] {
	return Dated[T]{ID: e.ID, At: e.At, Written: e.Written, Since: e.since, By: e.By, Value: *(e.Body.(*T)), place: e.place, own: e.own}
}

func (d Dated[T]) standsAt() (place int, at time.Time) { return d.place, d.At }

func (d *Dated[T]) strike(id string, s *session.Strike) {
	if d.is(id) && d.Struck == nil {
		d.Struck = s
	}
}

// standing is anything kept with the facts of its entry.
type standing interface {
	standsAt() (place int, at time.Time)
}

// put adds to a list that is kept in the order of writing. A correction comes
// to stand where the first version stood: a slip in last year's entry that is
// put right today does not make it this year's.
func put[S standing](list []S, one S) []S {
	place, _ := one.standsAt()
	i := len(list)
	for ; i > 0; i-- {
		if before, _ := list[i-1].standsAt(); before <= place {
			break
		}
	}
	return slices.Insert(list, i, one)
}

// putByTime adds to a list that is kept in the order in which things happened,
// and what happened at one moment in the order of writing.
func putByTime[S standing](list []S, one S) []S {
	place, at := one.standsAt()
	i := len(list)
	for ; i > 0; i-- {
		if p, t := list[i-1].standsAt(); t.Before(at) || t.Equal(at) && p <= place {
			break
		}
	}
	return slices.Insert(list, i, one)
}

func (d *Dated[T]) is(id string) bool { return d.ID == id }

// among gives the one of a list that has this id, or nil.
func among[S interface{ is(id string) bool }](list []S, id string) S {
	for _, one := range list {
		if one.is(id) {
			return one
		}
	}
	var none S
	return none
}

// strikeIn strikes out what has this id in a list of values.
func strikeIn[S any, P interface {
	*S
	strike(id string, s *session.Strike)
}](list []S, id string, s *session.Strike) {
	for i := range list {
		P(&list[i]).strike(id, s)
	}
}

// strikeAmong is strikeIn for a list of pointers.
func strikeAmong[S interface {
	strike(id string, s *session.Strike)
}](list []S, id string, s *session.Strike) {
	for _, one := range list {
		one.strike(id, s)
	}
}
