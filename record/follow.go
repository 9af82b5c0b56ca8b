package record

import (
	"math"
	"slices"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// follow brings up to date what hangs on an entry of the household or of a
// person beside the list that it stands in. old says that one was struck out
// or corrected, so that what was worked out long ago may change too.
func (h *Household) follow(at place, old bool) {
	m := h.byPerson[at.person]
	switch at.kind {
	case "person":
		m.children()
	case "prescription":
		m.confirm()
		for _, s := range m.Sessions {
			if old || s.Phase() == session.SettingUp {
				m.rest(s)
			}
		}
	case "paper_confirms", "change_seen":
		m.confirm()
	case "machine":
		for _, m := range h.People {
			again := false
			for _, s := range m.Sessions {
				over := s.Has("came_off")
				unsaid := s.Phase() == session.SettingUp && s.Machine.FluidUnsaid()
				if old || unsaid || s.ByFiltration() && (!over || s.RemovedShows() == "") {
					m.rest(s)
					again = true
				}
			}
			if again {
				m.past = nil // what was gathered rests on the machine too
				m.gather(m.Sessions[len(m.Sessions)-1])
			}
		}
	case "water_limit", "water_result", "task_closed":
		if old {
			h.Upkeep.judgeAgain()
		}
		h.closeTasks()
	case "recall", "recall_closed":
		h.closeRecalls()
	}
}

// confirm ties papers and what was read to the prescriptions they are about;
// of several the last counts.
func (m *Member) confirm() {
	for _, rx := range m.Prescriptions {
		rx.Paper = lastAbout(m.papers, func(b *PaperConfirms) bool { return b.Prescription == rx.ID })
		rx.Seen = lastAbout(m.seen, func(b *ChangeSeen) bool { return b.Prescription == rx.ID })
	}
}

// lastAbout gives the last of a list that counts and is about something, or
// nil.
func lastAbout[T any](list []Dated[T], about func(*T) bool) *Dated[T] {
	for i := len(list) - 1; i >= 0; i-- {
		if d := &list[i]; d.Struck == nil && about(&d.Value) {
			found := *d
			return &found
		}
	}
	return nil
}

// rest works out which machine and which version of the prescription a session
// rests on: the machine as it was described when the session was opened; the
// version its plan was made from; and without a plan the one in force on its
// day; while setting up it can still be said whether the fluid is bags or a batch. What is
// written, struck out or corrected after the treatment began no longer changes the
// prescription; what the machine shows is corrected until the session is closed. Which
// machine it was, by its name and its kind, is corrected ever after.
func (m *Member) rest(s *session.Session) {
	opening, day := openingOf(s)
	begun, _ := begunOf(s)
	closed := closedAt(s)
	s.Machine = m.machineOf(opening, begun, math.MaxInt)
	if closed < math.MaxInt {
		held := m.machineOf(opening, begun, closed)
		s.Machine.RemovedShows, s.Shown = m.shows(s, held)
		held.Name, held.Kind, held.RemovedShows = s.Machine.Name, s.Machine.Kind, s.Machine.RemovedShows
		s.Machine = held
	} else {
		s.Machine.RemovedShows, s.Shown = m.shows(s, s.Machine)
	}
	rx := m.plannedFrom(s, begun)
	if rx == nil {
		rx = m.stoodOn(unit.DateOf(day), begun)
	}
	s.PrescriptionID, s.Rx = "", nil
	if rx != nil {
		s.PrescriptionID, s.Rx = rx.ID, &rx.Value
	}
}

// machineOf is the machine of a session that was opened and begun at two places, by what
// stood at a third.
func (m *Member) machineOf(opening, begun, at int) (one session.Machine) {
	for i := range m.house.Machine {
		if d := &m.house.Machine[i]; stoodAt(at, d.own, d.Struck) && d.place < opening {
			one = d.Value
		}
	}
	for i := range m.house.Machine { // said since, which of the two it is
		d := &m.house.Machine[i]
		if said := stoodAt(at, d.own, d.Struck) && d.place > opening && d.place < begun && !d.Value.FluidUnsaid(); said && one.FluidUnsaid() && d.Value.IsOne(one) {
			one.Kind = d.Value.Kind
		}
	}
	return one
}

// plannedFrom gives the version that the last plan before the treatment was
// made from, or nil. One that is struck out counts no longer, unless the
// treatment had begun by then: it was dialled in all the same.
func (m *Member) plannedFrom(s *session.Session, begun int) *Rx {
	var from *Rx
	last := -1
	for i := range s.Log {
		e := &s.Log[i]
		plan, is := e.Body.(*session.AgreedPlan)
		if !is || e.Struck != nil || e.Place > begun || e.Place < last {
			continue
		}
		if rx := m.Rx(plan.PrescriptionID); rx != nil && stoodAt(begun, rx.own, rx.Struck) {
			from, last = rx, e.Place
		}
	}
	return from
}

// stoodOn is the prescription for a day as it stood when a treatment began; nil for none.
// What was struck out or corrected since is among it: the treatment began by it.
func (m *Member) stoodOn(day unit.Date, begun int) (in *Rx) {
	for _, r := range m.Prescriptions {
		if stoodAt(begun, r.own, r.Struck) && !day.Before(r.Value.ValidFrom) && (in == nil || !r.Value.ValidFrom.Before(in.Value.ValidFrom)) {
			in = r
		}
	}
	return in
}

// closedAt is where a session was closed in the order of writing; [math.MaxInt] before it.
func closedAt(s *session.Session) int {
	if _, e := session.First[session.Closed](s); e != nil {
		return e.Place
	}
	return math.MaxInt
}

// openingOf gives where and when a session was opened, even if that was struck
// out since.
func openingOf(s *session.Session) (place int, at time.Time) {
	for i := range s.Log {
		if e := &s.Log[i]; e.Kind == "session_opened" {
			return e.Place, e.At
		}
	}
	return 0, time.Time{}
}

// judgeAgain holds the results against the limits as they stood when each was
// written down. A limit that was struck out or corrected was never theirs.
func (u *Upkeep) judgeAgain() {
	for _, j := range u.Results {
		j.Judgements = u.judgementsOf(&j.Value, j.place)
	}
}

func (u *Upkeep) judgementsOf(r *WaterResult, place int) []water.Judgement {
	if len(r.Judged) > 0 {
		return r.Judged
	}
	list, _ := u.judge(r, place) // it was checked before it was taken
	return list
}

// closeTasks ties what was done about water results to the results. What was
// done about one that was corrected since counts for the correction where that
// is judged the same.
func (h *Household) closeTasks() {
	u := &h.Upkeep
	for _, j := range u.Results {
		j.Closed = nil
	}
	for i := range u.TasksClosed {
		d := u.TasksClosed[i]
		if d.Struck != nil {
			continue
		}
		for id := d.Value.Result; ; {
			j := u.Result(id)
			if j == nil {
				break
			}
			j.Closed = &d
			next := u.Result(h.newer[id])
			if next == nil || !slices.EqualFunc(j.Judgements, next.Judgements, sameVerdict) {
				break
			}
			id = next.ID
		}
	}
}

func sameVerdict(a, b water.Judgement) bool {
	return a.Result.What == b.Result.What && a.Result.Op == b.Result.Op && a.InUnit == b.InUnit && a.Verdict == b.Verdict
}

// closeRecalls ties what became of recalled pieces to the recalls, corrected
// ones included: the pieces are gone whatever the notice is called.
func (h *Household) closeRecalls() {
	u := &h.Upkeep
	for _, r := range u.Recalls {
		r.Closed = lastAbout(u.Closings, func(b *RecallClosed) bool { return h.Newest(b.Recall) == r.ID })
	}
}
