package record

import (
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
	entries   map[string]place
	byPerson  map[string]*Member
	bySession map[string]*session.Session
	uses      map[string]*sessionUse // what each closed session takes off the shelf
}

// A Member is one person of the household with all that is kept of them.
type Member struct {
	ID            string
	Person        Versions[Person]
	Prescriptions []*Rx // in the order they were written
	Cards         Versions[Card]
	SetUpSheet    Versions[session.RunSheet]
	TakeOffSheet  Versions[session.RunSheet]
	Stays         []Dated[HospitalStay]
	Questions     []Dated[Question]
	Sessions      []*session.Session // in order of their beginning
	past          []session.History  // before each of them, as far as it is gathered
	LabBook
	house *Household // for what belongs to all
}

// A Dated value is an entry's body with the entry's own facts.
type Dated[T any] struct {
	ID      string
	At      time.Time
	Written time.Time
	By      string
	Struck  *session.Strike
	Value   T
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

// Amber tells whether the version was phoned and the paper has not confirmed
// it yet.
func (r *Rx) Amber() bool { return r.Value.How == "phone" && r.Paper == nil }

// place is where the effect of an entry went, so that a correction finds it.
type place struct {
	kind, person, session string
	corrected             bool // a newer entry stands in its place
}

// NewHousehold returns an empty one.
func NewHousehold() *Household {
	return &Household{entries: map[string]place{}, byPerson: map[string]*Member{}, bySession: map[string]*session.Session{}, uses: map[string]*sessionUse{}}
}

// Has tells whether an entry with this id was folded in.
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
func (m *Member) Prescription(day unit.Date) *Rx {
	var in *Rx
	for _, r := range m.Prescriptions {
		if r.Struck != nil || day.Before(r.Value.ValidFrom) {
			continue
		}
		if in == nil || !r.Value.ValidFrom.Before(in.Value.ValidFrom) {
			in = r
		}
	}
	return in
}

// Rx returns the prescription version with this id, or nil.
func (m *Member) Rx(id string) *Rx {
	for _, r := range m.Prescriptions {
		if r.ID == id {
			return r
		}
	}
	return nil
}

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

// Sheet returns the run sheet in force for one part of a session: the
// household's own, or the program's default.
func (m *Member) Sheet(phase string) session.RunSheet {
	versions := m.SetUpSheet
	if phase == session.TakeOff {
		versions = m.TakeOffSheet
	}
	if own, ok := versions.Now(); ok {
		return own
	}
	if phase == session.TakeOff {
		return session.DefaultTakeOff()
	}
	return session.DefaultSetUp()
}

// addSession keeps the sessions in order of their beginning.
func (m *Member) addSession(s *session.Session) {
	_, at := s.Opened()
	i := len(m.Sessions)
	for i > 0 {
		if _, before := m.Sessions[i-1].Opened(); !before.After(at) {
			break
		}
		i--
	}
	m.Sessions = slices.Insert(m.Sessions, i, s)
}

// moveSession puts a session in its place again after its opening was
// corrected; the histories from the earlier of the two places on are gathered
// anew.
func (m *Member) moveSession(s *session.Session) {
	m.past = m.past[:min(len(m.past), len(m.Earlier(s))+1)]
	m.Sessions = slices.DeleteFunc(m.Sessions, func(one *session.Session) bool { return one == s })
	m.addSession(s)
}

// followPrescription lets the sessions that are being set up rest on the
// version in force on their day. An agreed plan keeps the version it was made
// from, unless that was struck out; the start line then asks for a new plan.
func (m *Member) followPrescription() {
	for _, s := range m.Sessions {
		if s.Phase() != session.SettingUp {
			continue
		}
		pinned := m.Rx(s.PrescriptionID)
		if plan, _ := session.Last[session.AgreedPlan](s); plan != nil && pinned != nil && pinned.Struck == nil {
			continue
		}
		s.PrescriptionID, s.Rx = "", nil
		_, at := s.Opened()
		if rx := m.Prescription(unit.DateOf(at)); rx != nil {
			s.PrescriptionID, s.Rx = rx.ID, &rx.Value
		}
	}
}
