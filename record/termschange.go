package record

import (
	"math"
	"reflect"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// Between the opening of a session and its start the terms of its checks may be written
// again: the prescription, the machine, the person, the unit's rules. Such an entry may
// take a stop away without touching the entry that stopped. The terms as they stood at
// the opening are kept beside those of now, and the start line says what they held up
// (hazard H-140).

// kindNamed is [Find]: a kind's own check asks for the history of a session, and cannot
// name the table of kinds that it stands in.
var kindNamed func(name string) (*Kind, bool)

func init() { kindNamed = Find }

// window is what was written between the opening of a session and the start of its
// treatment. It goes by the order of writing, not by clocks: they are set back, and a
// file that is taken in is written in one second.
type window struct {
	opened int // the place of the opening
	until  int // the place of the start; [math.MaxInt] before it
}

// windowOf gives the window of a session that is held live; false for any other.
func windowOf(s *session.Session) (window, bool) {
	_, e := session.First[session.Opened](s)
	if e == nil || !live(s) {
		return window{}, false
	}
	begun, _ := begunOf(s)
	return window{opened: e.Place, until: begun}, true
}

// begunOf gives where and when it was first written that the treatment of a session
// began, or that the session ended; [math.MaxInt] where neither was.
func begunOf(s *session.Session) (begun int, at time.Time) {
	begun = math.MaxInt
	for i := range s.Log {
		switch e := &s.Log[i]; e.Body.(type) {
		case *session.Connected, *session.CameOff, *session.Closed:
			if e.Struck == nil && e.Place < begun {
				begun, at = e.Place, e.FirstWritten()
			}
		}
	}
	return begun, at
}

// in reports whether a place of writing lies in the window.
func (w window) in(own int) bool { return own > w.opened && own <= w.until }

// there reports whether a version of something was there, and not struck out or
// corrected yet, when the session was opened.
func (w window) there(own int, struck *session.Strike) bool { return stoodAt(w.opened, own, struck) }

// stoodAt reports whether a version that was written at a place of its own stood, neither
// struck out nor corrected, when another entry was written.
func stoodAt(place, own int, struck *session.Strike) bool {
	return own < place && (struck == nil || struck.Place > place)
}

// A changed is the first change of something in a window; zero for none.
type changed struct {
	own int
	at  time.Time
}

// note keeps the earlier of what was there and a version that was written, struck out
// or corrected in the window.
func (w window) note(before changed, own int, written time.Time, struck *session.Strike) changed {
	take := func(own int, at time.Time) {
		if w.in(own) && (before.own == 0 || own < before.own) {
			before = changed{own, at}
		}
	}
	take(own, written)
	if struck != nil {
		take(struck.Place, struck.At)
	}
	return before
}

// stood gives the version of something that held when a session was opened, by a test
// of its own, and when it was changed in the window; zero for never.
func stood[T any](w window, list []Dated[T], holds func(T) bool) (then *T, at time.Time) {
	var first changed
	for i := range list {
		d := &list[i]
		if w.there(d.own, d.Struck) && holds(d.Value) {
			then = &d.Value
		}
		first = w.note(first, d.own, d.Written, d.Struck)
	}
	return then, first.at
}

// termsChange tells what the start line of a session was held against when it was
// opened, where that was written again before its start; nil for most.
func (m *Member) termsChange(s *session.Session, h session.History) *session.TermsChange {
	w, is := windowOf(s)
	if !is || s.Rx == nil {
		return nil
	}
	_, opened := s.Opened()
	now := h.Terms(s)
	c := &session.TermsChange{Then: now}
	note := func(at time.Time) {
		if c.Until.IsZero() || at.Before(c.Until) {
			c.Until = at.In(opened.Location())
		}
	}
	lines := func(kind string, was, is any, back func(session.Terms, any) session.Terms) {
		k, _ := kindNamed(kind)
		for _, f := range k.Fields {
			if a, b := f.withUnit(was), f.withUnit(is); a != b {
				one := reflect.New(reflect.TypeOf(is).Elem())
				one.Elem().Set(reflect.ValueOf(is).Elem())
				one.Elem().FieldByIndex(f.index).Set(reflect.ValueOf(was).Elem().FieldByIndex(f.index))
				c.Lines = append(c.Lines, session.TermLine{Label: f.Label, Was: a, Now: b, Back: back(now, one.Interface())})
			}
		}
	}

	if rx, at := m.rxAtOpening(w, unit.DateOf(opened)); rx != nil && rx.ID != s.PrescriptionID && !at.IsZero() {
		note(at)
		c.Then.Rx, c.By = &rx.Value, s.Rx.OrderedBy
		lines("prescription", &rx.Value, s.Rx, func(t session.Terms, b any) session.Terms {
			t.Rx = b.(*session.Prescription)
			return t
		})
	}
	if was, at := stood(w, m.house.Machine, func(session.Machine) bool { return true }); was != nil && !at.IsZero() {
		then := *was
		then.RemovedShows = now.Machine.RemovedShows // it is asked for, and stops nothing
		if then != now.Machine {
			note(at)
			c.Then.Machine = then
			lines("machine", &then, &now.Machine, func(t session.Terms, b any) session.Terms {
				t.Machine = *(b.(*session.Machine))
				return t
			})
		}
	}
	if was, at := stood(w, m.Person, func(Person) bool { return true }); was != nil && !at.IsZero() {
		then := m.personThen(w)
		who, child := whom(then), then != nil && then.Value.child(opened)
		if who != now.Who || child != now.Child {
			note(at)
			c.Then.Who, c.Then.Child = who, child
			back := now
			back.Who, back.Child = who, child
			c.Lines = append(c.Lines, session.TermLine{Label: "“Who”", Back: back})
		}
	}
	if was, at := stood(w, m.house.Upkeep.Rules, func(WaterRules) bool { return true }); !at.IsZero() {
		idle := idleRule(WaterRules{}, false)
		if was != nil {
			idle = idleRule(*was, true)
		}
		if idle != now.Idle {
			note(at)
			c.Then.Idle = idle
			back := now
			back.Idle = idle
			c.Lines = append(c.Lines, session.TermLine{Label: "How long the machine may stand", Was: idle.Text(), Now: now.Idle.Text(), Back: back})
		}
	}
	if c.Until.IsZero() {
		return nil
	}
	return c
}

// rxAtOpening is the prescription that held on a day by what was written when a session
// was opened, and when another was written in the window.
func (m *Member) rxAtOpening(w window, day unit.Date) (then *Rx, at time.Time) {
	var first changed
	for _, r := range m.Prescriptions {
		first = w.note(first, r.own, r.Written, r.Struck)
	}
	return m.stoodOn(day, w.opened), first.at
}

// personThen is the version of the person that was there when a session was opened.
func (m *Member) personThen(w window) (found *Dated[Person]) {
	for i := range m.Person {
		if d := &m.Person[i]; w.there(d.own, d.Struck) {
			found = d
		}
	}
	return found
}

// idleRule is how long the machine may stand by the rules of the unit.
func idleRule(rules WaterRules, set bool) session.IdleRule {
	if set && rules.MaxIdle != nil {
		return session.IdleRule{Longest: time.Duration(rules.MaxIdle.Float() * float64(time.Hour)), SetBy: rules.SetBy, SetOn: rules.SetOn}
	}
	return session.IdleRule{Longest: water.DefaultDisinfectionRule().MaxIdle}
}
