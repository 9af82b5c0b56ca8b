package record

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// AsOf folds entries, given in the order they were written, into the household
// as it stood at a moment: an entry counts when it happened by then, whenever it
// was written down; a correction counts from the time that it gives, a strike
// from its own. A correction of something that had not happened by then stands
// in its place when what it says had. Who a person is counts at any moment.
//
// What belongs to a session that had not been opened is left out with it.
func AsOf(entries []Entry, at time.Time) (*Household, error) {
	past := asOf{at: at, left: map[string]string{}, places: map[string]int{}}
	for i, e := range entries {
		past.take(i, e)
	}
	slices.SortStableFunc(past.taken, func(a, b numbered) int { return cmp.Compare(a.place, b.place) })
	h := NewHousehold()
	h.asOf = at
	for _, one := range past.taken {
		if one.Session != "" && one.Kind != "session_opened" && one.Kind != "struck" && h.Session(one.Session) == nil {
			continue
		}
		if err := h.Apply(one.Entry); err != nil {
			return nil, fmt.Errorf("as of %s: %w", at.Format(time.RFC3339), err)
		}
	}
	return h, nil
}

// asOf gathers the entries that count at a moment.
type asOf struct {
	at     time.Time
	taken  []numbered
	left   map[string]string // id of an entry that does not count, and of the one it corrects
	places map[string]int    // of every entry; a correction has that of what it corrects
}

// numbered is an entry with its place in the order of writing.
type numbered struct {
	Entry
	place int
}

func (p *asOf) take(i int, e Entry) {
	place := i
	if e.Corrects != "" {
		if of, ok := p.places[e.Corrects]; ok {
			place = of
		}
	}
	p.places[e.ID] = place
	if e.At.After(p.at) && e.Kind != "person" && e.Kind != "demonstration" {
		p.left[e.ID] = e.Corrects
		return
	}
	standing := true // what it corrects counts; else it takes its place
	if e.Corrects != "" {
		if e.Corrects = p.counting(e.Corrects); e.Corrects == "" {
			e.Reason, standing = "", false
		}
	}
	if b, is := e.Body.(*Struck); is {
		of := p.counting(b.Entry)
		if of == "" {
			return
		}
		e.Body = &Struck{Entry: of, Reason: b.Reason}
	}
	if standing {
		place = i
	}
	p.taken = append(p.taken, numbered{e, place})
}

// counting gives the entry that counts in the place of one that others name: it
// itself, or the last before it that it corrects; empty when none does.
func (p *asOf) counting(id string) string {
	for {
		before, left := p.left[id]
		if !left {
			return id
		}
		id = before
		if id == "" {
			return ""
		}
	}
}
