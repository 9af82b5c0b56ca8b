package record

import (
	"math"
	"slices"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A Household is the state that all entries fold into. It is read by pages and
// commands and changed only by [Household.Apply].
type Household struct {
	Demo      bool
	Unit      Versions[KidneyUnit]
	Machine   Versions[session.Machine]
	People    []*Member // in the order they were entered
	Upkeep    Upkeep    // water, machine, round and shelf
	LastAt    time.Time // the latest moment anything was written
	asOf      time.Time // the moment it is folded for; zero for the present
	entries   map[string]place
	byPerson  map[string]*Member
	bySession map[string]*session.Session
	newer     map[string]string      // what was corrected, and by which entry
	uses      map[string]*sessionUse // what each closed session takes off the shelf

	undone map[string][]session.Undone // by session: stops that striking out or correcting took away
}

// A Member is one person of the household with all that is kept of them.
type Member struct {
	ID            string
	Person        Versions[Person]
	Prescriptions []*Rx // in the order they were written
	Cards         Versions[Card]
	TroubleSteps  []Dated[TroubleSteps] // of the unit, in the order they were written, of every trouble
	SetUpSheet    Versions[session.RunSheet]
	TakeOffSheet  Versions[session.RunSheet]
	Stays         []Dated[HospitalStay]
	Questions     []Dated[Question]
	Sessions      []*session.Session // in order of their beginning
	papers        []Dated[PaperConfirms]
	seen          []Dated[ChangeSeen]
	past          []session.History // before each session, as far as it is gathered
	LabBook
	house *Household // for what belongs to all
}

// Machine is the household's machine as it is described now; the zero value without one.
func (m *Member) Machine() session.Machine {
	if m.house == nil {
		return session.Machine{}
	}
	machine, _ := m.house.Machine.Now()
	return machine
}

// A Dated value is an entry's body with the entry's own facts.
type Dated[T any] struct {
	ID      string
	At      time.Time
	Written time.Time
	Since   time.Time // when it was first written down; before Written when this is a correction
	By      string
	Struck  *session.Strike
	Value   T
	place   int // in the order of writing; a correction stands where the first version stood
	own     int // of this very version
}

// Versions are all versions of one thing, oldest first. None is ever lost.
type Versions[T any] []Dated[T]

// Now returns the version in force: the latest that is not struck out.
func (v Versions[T]) Now() (T, bool) {
	for i := len(v) - 1; i >= 0; i-- {
		if v[i].Struck == nil {
			return v[i].Value, true
		}
	}
	var none T
	return none, false
}

// An Rx is a prescription version with what became of it.
type Rx struct {
	Dated[session.Prescription]
	Paper *Dated[PaperConfirms] // the paper for a phoned change
	Seen  *Dated[ChangeSeen]
}

// Unconfirmed reports whether the version was phoned and the paper has not confirmed
// it yet.
func (r *Rx) Unconfirmed() bool { return r.Value.How == "phone" && r.Paper == nil }

// NewHousehold returns an empty one.
func NewHousehold() *Household {
	return &Household{entries: map[string]place{}, byPerson: map[string]*Member{}, bySession: map[string]*session.Session{}, newer: map[string]string{}, uses: map[string]*sessionUse{}, undone: map[string][]session.Undone{}}
}

// Has reports whether an entry with this id was folded in.
func (h *Household) Has(id string) bool { _, ok := h.entries[id]; return ok }

// Entries returns how many entries were folded in.
func (h *Household) Entries() int { return len(h.entries) }

// Member returns the person with this id, or nil.
func (h *Household) Member(id string) *Member { return h.byPerson[id] }

// Session returns the session with this id, or nil.
func (h *Household) Session(id string) *session.Session { return h.bySession[id] }

// Prescription returns the version in force on a day: the one with the latest
// beginning that is not after it, and of two that begin on one day the one
// written later.
func (m *Member) Prescription(day unit.Date) *Rx { return m.inForce(day, math.MaxInt) }

// inForce is [Member.Prescription] of what was written before a place.
func (m *Member) inForce(day unit.Date, before int) *Rx {
	var in *Rx
	for _, r := range m.Prescriptions {
		if r.Struck != nil || r.place >= before || day.Before(r.Value.ValidFrom) {
			continue
		}
		if in == nil || !r.Value.ValidFrom.Before(in.Value.ValidFrom) {
			in = r
		}
	}
	return in
}

// Rx returns the prescription version with this id, or nil.
func (m *Member) Rx(id string) *Rx { return among(m.Prescriptions, id) }

// Open returns the session that was begun and not yet closed, the latest
// first, or nil.
func (m *Member) Open() *session.Session {
	for i := len(m.Sessions) - 1; i >= 0; i-- {
		if s := m.Sessions[i]; !s.Abandoned() && s.Phase() != session.Done {
			return s
		}
	}
	return nil
}

// Before returns the last session that came to treatment before this moment,
// or nil.
func (m *Member) Before(t time.Time) *session.Session {
	for i := len(m.Sessions) - 1; i >= 0; i-- {
		s := m.Sessions[i]
		if _, at := s.Opened(); at.Before(t) && !s.Abandoned() && s.Treated() {
			return s
		}
	}
	return nil
}

// DialysedBefore returns the last session before this moment that was a dialysis: one
// that only removed fluid takes nobody's turn. Nil where there is none.
func (m *Member) DialysedBefore(t time.Time) *session.Session {
	for s := m.Before(t); s != nil; {
		if !s.RemovalOnly() {
			return s
		}
		_, t = s.Opened()
		s = m.Before(t)
	}
	return nil
}

// Sheet returns the run sheet in force for one part of a session: the
// household's own, or the program's default.
func (m *Member) Sheet(phase string) session.RunSheet {
	return m.SheetFor(m.Open(), phase)
}

// SheetFor is [Member.Sheet] in a session, by its own prescription; nil stands for none,
// and for the prescription in force.
func (m *Member) SheetFor(s *session.Session, phase string) session.RunSheet {
	versions := m.SetUpSheet
	if phase == session.TakeOff {
		versions = m.TakeOffSheet
	}
	if own, ok := versions.Now(); ok && !own.IsGeneral() {
		return own
	}
	return m.GeneralFor(s, phase)
}

// GeneralFor gives the program's own steps for one part of a session, as the access and
// the machine ask for them; nil is as in [Member.SheetFor].
func (m *Member) GeneralFor(s *session.Session, phase string) session.RunSheet {
	if s != nil {
		return session.DefaultSheet(phase, s.Rx, s.Machine)
	}
	machine, _ := m.house.Machine.Now()
	if in := m.Prescription(unit.DateOf(m.house.LastAt)); in != nil {
		return session.DefaultSheet(phase, &in.Value, machine)
	}
	return session.DefaultSheet(phase, nil, machine)
}

// SetUpFor returns the run sheet by which a session is set up, as [session.SheetFor]
// fits the one in force to it.
func (m *Member) SetUpFor(s *session.Session, now time.Time) session.RunSheet {
	own, _ := m.SetUpSheet.Now()
	return session.SheetFor(session.SetUp, own, s, now)
}

// Next gives the session that would be opened at home at a moment, on the machine and
// by the prescription of then. It is not in the record.
func (m *Member) Next(at time.Time, removalOnly bool) *session.Session {
	s := &session.Session{Person: m.ID}
	s.Add(session.Event{Kind: "session_opened", At: at, Body: &session.Opened{Place: "home", Source: "live", RemovalOnly: removalOnly}, Place: math.MaxInt})
	m.rest(s)
	return s
}

// addSession keeps the sessions in order of their beginning.
func (m *Member) addSession(s *session.Session) {
	place, at := openingOf(s)
	i := len(m.Sessions)
	for ; i > 0; i-- {
		if p, t := openingOf(m.Sessions[i-1]); t.Before(at) || t.Equal(at) && p <= place {
			break
		}
	}
	m.Sessions = slices.Insert(m.Sessions, i, s)
}

// moveSession puts a session in its place again after its opening was
// corrected; the histories from the earlier of the two places on are gathered
// again.
func (m *Member) moveSession(s *session.Session) {
	m.past = m.past[:min(len(m.past), len(m.Earlier(s))+1)]
	m.Sessions = slices.DeleteFunc(m.Sessions, func(one *session.Session) bool { return one == s })
	m.addSession(s)
}
