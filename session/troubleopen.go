package session

import (
	"slices"
	"time"
)

// An OpenTrouble is one that was said, or that a value told, and that is not over.
type OpenTrouble struct {
	TroubleType
	Since time.Time
	Entry string // that opened it
}

// OpenTroubles lists the troubles that are open in a session at a moment, oldest
// first. A fluid too hot or too far from what it should be opens [TroubleFluid] by
// itself ([Remarks] says it); everything else is opened by the person.
//
// A trouble is over when that was written, by whomever it may be: see
// [TroubleType.StaysOut] for the word that this needs. It ends only what was
// written before it and did not happen after it, by the minute: what is said or
// read to be there later stays open, whatever time was typed for it, and so does
// what another screen sent late. Striking out the entry that opened it ends it
// too. In a session typed in afterwards the times alone count: its entries are
// typed in any order.
//
// [TroubleLow] alone is over by itself as well, with two readings running that are
// inside, taken and written after it. Ours.
func OpenTroubles(s *Session, now time.Time) []OpenTrouble {
	opened, over, told := troubleWords(s, now)
	var list []OpenTrouble
	for _, t := range troubles {
		first := -1
		for i, o := range opened {
			if o.code == t.Code && !slices.ContainsFunc(over, o.endedBy) && !o.eased(told) && (first < 0 || o.at.Before(opened[first].at)) {
				first = i
			}
		}
		if first >= 0 {
			list = append(list, OpenTrouble{t.For(s.Rx), opened[first].e.At, opened[first].e.ID})
		}
	}
	slices.SortStableFunc(list, func(a, b OpenTrouble) int { return a.Since.Compare(b.Since) })
	return list
}

// NeverOver lists the troubles that are still open after everything that was
// written of a session.
func NeverOver(s *Session) []OpenTrouble {
	var last time.Time
	for i := range s.Log {
		for _, at := range []time.Time{s.Log[i].At, s.Log[i].Written} {
			if at.After(last) {
				last = at
			}
		}
	}
	return OpenTroubles(s, last)
}

// BloodStaysOut gives the first open trouble in which the blood is not given back;
// ok is false where there is none.
func BloodStaysOut(s *Session, now time.Time) (t OpenTrouble, ok bool) {
	for _, t := range OpenTroubles(s, now) {
		if t.StaysOut() {
			return t, true
		}
	}
	return OpenTrouble{}, false
}

// A troubleWord is an entry that says of a trouble that it is there, or that it is
// over.
type troubleWord struct {
	e     *Event
	code  string
	at    time.Time // when it happened, by the minute; an entry dated ahead counts from its writing
	since time.Time // when this was first written of it, to the second
	later bool      // by a correction: it comes after what was written in the same second
	index int       // in the log
	times bool      // the session is typed in afterwards
}

// troubleWords gives what opened a trouble in a session up to now, what said that
// one is over, and the blood pressures that were told while it ran.
func troubleWords(s *Session, now time.Time) (opened, over []troubleWord, told []pressureTold) {
	how, _ := s.Opened()
	var hot []string
	if w, ok := watchRun(s, now.Add(ahead)); ok {
		hot = w.hot
		told = slices.DeleteFunc(w.pressures, func(p pressureTold) bool { return p.e.happened().After(now) })
	}
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.happened().After(now) {
			continue
		}
		w := troubleWord{e: e, index: i, times: how.Afterwards()}
		b, is := e.Body.(*Trouble)
		switch {
		case slices.Contains(hot, e.ID):
			w.code = TroubleFluid
		case is:
			w.code = b.Trouble
		default:
			continue
		}
		w.since, w.later = e.saidSince()
		w.at = e.At
		if !w.times && w.since.Before(w.at) {
			w.at = w.since
		}
		w.at = w.at.Truncate(time.Minute)
		if is && b.State == TroubleOver {
			over = append(over, w)
		} else {
			opened = append(opened, w)
		}
	}
	return opened, over, told
}

// easedAfter is how many readings running are inside when a low pressure is over.
const easedAfter = 2

// eased reports whether a low pressure is over by itself: so many readings running
// were inside, each taken after it and, but in a session typed in afterwards,
// written after it.
func (w troubleWord) eased(told []pressureTold) bool {
	row := 0
	for _, p := range told {
		since, _ := p.e.saidSince()
		switch {
		case w.code != TroubleLow || !p.e.At.After(w.e.At) || !w.times && since.Before(w.since):
		case !p.inside:
			row = 0
		default:
			row++
		}
		if row == easedAfter {
			return true
		}
	}
	return false
}

// ahead is how far a time may lie ahead of its writing: two clocks in one house
// differ by that much.
const ahead = 2 * time.Minute

// happened is the time of an event; of one dated ahead that of its writing.
func (e Event) happened() time.Time {
	if w := e.FirstWritten(); !w.IsZero() && w.Before(e.At) {
		return w
	}
	return e.At
}

// endedBy reports whether what was said to be there is over by another word.
func (w troubleWord) endedBy(over troubleWord) bool {
	switch {
	case over.code != w.code || over.at.Before(w.at):
		return false
	case w.times:
		return w.index < over.index
	case !w.since.Equal(over.since):
		return w.since.Before(over.since)
	case w.later:
		return false
	case w.e.Place != over.e.Place:
		return w.e.Place < over.e.Place
	}
	return w.index < over.index
}

// saidSince gives when an event was first written as it stands now, as far as a
// trouble goes: another word, or a slip put right in another value, says nothing
// new. A trouble that is moved to another time is said again; of one that is over
// the first writing counts, so that no correction ends what came after it.
func (e Event) saidSince() (at time.Time, corrected bool) {
	since, n := e.Written, len(e.Was)
	for n > 0 && sameTrouble(e, e.Was[n-1]) {
		n--
		since = e.Was[n].Written
	}
	if since.IsZero() {
		since = e.At
	}
	return since.Truncate(time.Second), n > 0
}

// sameTrouble reports whether an earlier version said the same of a trouble.
func sameTrouble(e Event, was Version) bool {
	switch b := e.Body.(type) {
	case *Trouble:
		old, is := was.Body.(*Trouble)
		return is && old.Trouble == b.Trouble && old.State == b.State && (b.State == TroubleOver || was.At.Equal(e.At))
	case *Reading:
		old, is := was.Body.(*Reading)
		return is && was.At.Equal(e.At) && same(old.DialTemp, b.DialTemp) && same(old.Conduct, b.Conduct)
	case *FluidCheck:
		old, is := was.Body.(*FluidCheck)
		return is && was.At.Equal(e.At) && same(old.MeterTemp, b.MeterTemp) && old.MeterConduct == b.MeterConduct
	}
	return false
}

func same[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }

// hotFluid gives the entries that told of a fluid too hot or too wrong to go on
// with.
func hotFluid(s *Session, now time.Time) []string {
	w, ok := watchRun(s, now)
	if !ok {
		return nil
	}
	return w.hot
}
