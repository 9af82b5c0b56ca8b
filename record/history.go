package record

import (
	"math"
	"slices"
	"time"

	"ebbline/fluid"
	"ebbline/session"
	"ebbline/unit"
)

// Earlier returns the person's sessions that began before this one, oldest
// first; for nil, all of them.
func (m *Member) Earlier(s *session.Session) []*session.Session {
	if s == nil {
		return m.Sessions
	}
	for i := len(m.Sessions) - 1; i >= 0; i-- { // it is most often the last
		if m.Sessions[i].ID == s.ID {
			return m.Sessions[:i]
		}
	}
	return m.Sessions
}

// History gathers what a session needs of the sessions before it and of the
// rest of the record.
func (m *Member) History(s *session.Session) session.History {
	h := m.before(s)
	for _, stay := range m.Stays {
		if stay.Struck == nil && h.Hospital.Before(stay.Value.To) {
			h.Hospital = stay.Value.To
		}
	}
	h.Stay = m.lastStay(m.house.momentOf(m, s))
	if s != nil {
		if rx := m.Rx(s.PrescriptionID); rx != nil {
			h.PaperCame = rx.Paper != nil
		}
		h.NewRx, h.NewRxBy = m.newerRx(s)
		h.Missed = m.missed(s)
		h.Broken = m.broken(s)
		h.Undone = m.house.undone[s.ID]
		h.Shut = session.CapSteps(m.SheetFor(s, session.SetUp))
	}
	m.machineCare(&h, s)
	h.Batches, h.StruckBatches = m.batches(s), m.struckBatches(s)
	h.Who = whom(m.personIn(s))
	if s != nil {
		h.Changed = m.termsChange(s, h)
	}
	return h
}

// who is what a session must know of the person, by the version that was there at a
// moment; by the first one where none was yet, as for paper typed in later.
func (m *Member) who(until time.Time) session.Whom {
	return whom(m.personAt(until))
}

// personAt is the version of the person that was there at a moment, or the first one
// where none was yet; nil where there is none at all.
func (m *Member) personAt(until time.Time) (found *Dated[Person]) {
	for i := range m.Person {
		if d := &m.Person[i]; d.Struck == nil && (found == nil || !d.At.After(until)) {
			found = d
		}
	}
	return found
}

// personIn is the version of the person that counts in a session; once it is closed, of
// those that stood then: what is written later, with whatever time, changes it no more.
func (m *Member) personIn(s *session.Session) (found *Dated[Person]) {
	until := m.house.momentOf(m, s)
	if s == nil || closedAt(s) == math.MaxInt {
		return m.personAt(until)
	}
	closed := closedAt(s)
	for i := range m.Person {
		if d := &m.Person[i]; stoodAt(closed, d.own, d.Struck) && (found == nil || !d.At.After(until)) {
			found = d
		}
	}
	return found
}

// Child reports whether the person may be under 18 at a moment, with no prescription
// of an adult.
func (m *Member) Child(at time.Time) bool {
	p := m.personAt(at)
	return p != nil && p.Value.child(at)
}

// childIn reports whether a session is one of a child, by the person as known at its
// start line and the age on the day it was opened.
func (m *Member) childIn(s *session.Session) bool {
	_, opened := s.Opened()
	p := m.personIn(s)
	return p != nil && p.Value.child(opened)
}

// children tells each session whether it is one of a child, after the person was written.
func (m *Member) children() {
	for _, s := range m.Sessions {
		s.Child = m.childIn(s)
	}
}

// whom is what one version of a person says; nil says nothing.
func whom(d *Dated[Person]) session.Whom {
	if d == nil {
		return session.Whom{}
	}
	return session.Whom{Pregnant: d.Value.Pregnant, Written: d.At}
}

// NoPlan gives why no plan would be made for a session that began at a moment; nil
// where one would.
func (m *Member) NoPlan(at time.Time) *session.NoPlan {
	rx := m.Prescription(unit.DateOf(at))
	if rx == nil {
		return nil
	}
	s := &session.Session{Rx: &rx.Value, Child: m.Child(at)}
	s.Add(session.Event{Kind: "session_opened", At: at, Body: &session.Opened{}})
	return session.NoPlanOf(s, session.History{Who: m.who(at), PregnantTold: m.before(nil).PregnantTold}, at)
}

// NoPlanFor gives why no plan is made for a session at a moment, by what the session
// itself goes by ([session.NoPlanOf]) or, of one typed in late above all, by a pregnancy
// that is told by that moment.
func (m *Member) NoPlanFor(s *session.Session, at time.Time) *session.NoPlan {
	h := m.History(s)
	if no := session.NoPlanOf(s, h, at); no != nil || !m.Pregnant(at) {
		return no
	}
	h.Who, h.PregnantTold = m.who(at), m.before(nil).PregnantTold
	return session.NoPlanOf(s, h, at)
}

// lastStay is the last day of the latest hospital stay that was over at a moment and
// written down for one before it; zero for none.
func (m *Member) lastStay(until time.Time) (last unit.Date) {
	for _, stay := range m.Stays {
		if to := stay.Value.To; stay.Struck == nil && !stay.At.After(until) && !unit.DateOf(until).Before(to) && last.Before(to) {
			last = to
		}
	}
	return last
}

// newerRx tells of a prescription that holds on the day of a session in place of
// the one that its plan was made from, while the treatment has not begun.
func (m *Member) newerRx(s *session.Session) (written time.Time, by string) {
	if s.Treated() || s.Phase() == session.Done {
		return time.Time{}, ""
	}
	_, at := s.Opened()
	rx, own := m.Prescription(unit.DateOf(at)), m.Rx(s.PrescriptionID)
	if rx == nil || own == nil || rx.ID == own.ID || rx.place < own.place {
		return time.Time{}, ""
	}
	return rx.At, rx.Value.OrderedBy
}

// brokenWithin is how long before a session one that was set up and never treated
// was opened for what stopped there to count. Ours: an evening.
const brokenWithin = 12 * time.Hour

// broken lists the sessions of the person that were set up at home shortly before
// this one and never came to treatment, struck ones included.
func (m *Member) broken(s *session.Session) []*session.Session {
	_, at := s.Opened()
	var list []*session.Session
	for _, one := range slices.Backward(m.Earlier(s)) {
		opened, began := one.Opened()
		if at.Sub(began) > brokenWithin {
			break
		}
		if !one.Treated() && opened.Place != "elsewhere" {
			list = append(list, one)
		}
	}
	slices.Reverse(list)
	return list
}

// Order gives what the unit ordered on each day.
func (m *Member) Order() session.Order {
	return func(day unit.Date) *session.Prescription {
		if rx := m.Prescription(day); rx != nil {
			return &rx.Value
		}
		return nil
	}
}

// Held lists when sessions took place, of those given, without those that only removed
// fluid: they are no dialysis, and the one that was ordered is missed all the same.
func Held(list []*session.Session) []session.Start {
	var held []session.Start
	for _, s := range list {
		if s.Treated() && !s.Abandoned() && !s.RemovalOnly() {
			held = append(held, session.StartOf(s))
		}
	}
	return held
}

// moved is how many sessions before are looked at to tell one that was moved by a
// day from one that was missed: a week of daily ones. Ours.
const moved = 7

// missed is how many sessions the order asked for between the last one that took
// place and this one.
func (m *Member) missed(s *session.Session) int {
	_, at := s.Opened()
	return m.Order().MissedBefore(m.HeldBefore(s), session.Start{Night: session.Night(s), Began: at})
}

// HeldBefore lists when the last sessions before one took place, as many as it takes
// to tell what was missed since; for nil, the last of all.
func (m *Member) HeldBefore(s *session.Session) []session.Start {
	var held []session.Start
	earlier := m.Earlier(s)
	for i := len(earlier) - 1; i >= 0 && len(held) < moved; i-- {
		held = append(held, Held(earlier[i:i+1])...)
	}
	slices.Reverse(held)
	return held
}

// before is the history of the sessions before s: from what was gathered while
// entries came in, and from there on session by session.
func (m *Member) before(s *session.Session) session.History {
	earlier := m.Earlier(s)
	var h session.History
	from := 0
	if n := min(len(m.past), len(earlier)+1); n > 0 {
		h, from = m.past[n-1], n-1
	}
	for _, one := range earlier[from:] {
		h.Add(one)
	}
	return h
}

// gather brings what is kept up to date after an entry of session s: the
// history before each session up to the last one, so that a page after ten
// years costs what it did in the first week.
func (m *Member) gather(s *session.Session) {
	held := len(m.Earlier(s)) + 1 // up to s itself nothing has changed
	m.past = m.past[:min(len(m.past), held)]
	for len(m.past) < len(m.Sessions) {
		var h session.History
		if n := len(m.past); n > 0 {
			h = m.past[n-1]
			h.Add(m.Sessions[n-1])
		}
		m.past = append(m.past, h)
	}
}

// learnFrom is how many earlier weighings the usual gain is learned from: long
// enough for every weekday to come often, short enough to follow a season.
const learnFrom = 60

// intervals gives the pairs of a weight after one session and the weight before the
// next, newest last, from which the usual gain is learned; each as it would be in
// the clothes worn.
func (m *Member) intervals(s *session.Session, worn unit.Mass) []fluid.Interval {
	var all []fluid.Interval
	var earlier []*session.Session
	for _, one := range slices.Backward(m.Earlier(s)) {
		if len(earlier) == learnFrom {
			break
		}
		if !one.Abandoned() {
			earlier = append(earlier, one)
		}
	}
	slices.Reverse(earlier)
	for i := 1; i < len(earlier); i++ {
		out, outAt := session.Last[session.WeighOut](earlier[i-1])
		in, inAt := session.Last[session.WeighIn](earlier[i])
		if out == nil || in == nil {
			continue
		}
		// A weight typed in after the next one, or months apart, teaches nothing.
		hours := inAt.At.Sub(outAt.At).Hours()
		if hours < fluid.GapHours().Low || hours > fluid.GapHours().High {
			continue
		}
		all = append(all, fluid.Interval{Pre: (in.Weight - in.Clothing + worn).Exact(), PreviousPost: (out.Weight - out.Clothing + worn).Exact(), Hours: hours})
	}
	return all
}

// judgeWeight holds a weight before a session against the dry weight and the
// person's usual gain. All are taken in today's clothes: a slip is made in the
// digits that the scale showed, which are lost once the clothes are taken off.
func (c *Checker) judgeWeight(w *session.WeighIn) (fluid.Weighed, error) {
	in := fluid.WeighInInput{
		Entered:   w.Weight.Exact(),
		DryWeight: (c.Session.Rx.DryWeight + w.Clothing).Exact(),
		History:   c.Member.intervals(c.Session, w.Clothing),
	}
	h := c.Member.History(c.Session)
	if h.LastPost != nil {
		post := (h.LastPost.Weight - h.LastPost.Clothing + w.Clothing).Exact()
		in.LastPost = &post
		// A weight after that was typed with a later time says nothing of the gap.
		if hours := c.Entry.At.Sub(h.LastPostAt).Hours(); hours >= fluid.GapHours().Low && hours <= fluid.GapHours().High {
			in.HoursSincePost = &hours
		}
	}
	return fluid.WeighIn(in)
}

// theUnit names the day the unit set something, for a sentence.
func theUnit(on unit.Date) string {
	if on.IsZero() {
		return "your unit"
	}
	return "your unit on " + on.Long()
}
