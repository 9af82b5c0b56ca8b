package session

import (
	"slices"
	"time"
)

// Missing says why a value is not there. A blank is one of these or it is
// still open; it is never a zero.
type Missing string

// The four kinds of missing.
const (
	NotDone      Missing = "not_done"
	NotRecorded  Missing = "not_recorded"
	DoesNotApply Missing = "does_not_apply"
	AsleepByPlan Missing = "asleep_by_plan"
)

// An Event is one entry of a session after corrections: the body that counts
// now, what it was before, and whether it was struck out.
type Event struct {
	ID      string
	Kind    string
	At      time.Time // the instant it happened, in the zone it happened in
	Written time.Time // the instant it was written down
	By      string
	Body    any // one of this package's body types, as a pointer
	Missing map[string]Missing
	Struck  *Strike
	Was     []Version // earlier versions, oldest first
	Place   int       // where it stands in the order of writing; a correction stands where the first version stood
	added   bool      // of the batch that a session is from, and of no entry of that session
}

// A Version is what an event said before it was corrected.
type Version struct {
	ID      string
	At      time.Time
	Written time.Time
	By      string
	Body    any
	Missing map[string]Missing
	Reason  string // why it was replaced
}

// A Strike takes an event out of the count without taking it out of sight.
type Strike struct {
	At     time.Time
	By     string
	Reason string
	Place  int // of the entry that struck or corrected, in the order of writing
}

// Late reports whether the event was typed more than 15 minutes after it
// happened; the sheet then says how much later. A correction does not make it
// late: what counts is the first version.
func (e Event) Late() (time.Duration, bool) {
	at := e.At
	if len(e.Was) > 0 {
		at = e.Was[0].At
	}
	d := e.FirstWritten().Sub(at)
	return d, d > 15*time.Minute
}

// FirstWritten gives when the first version of the event was written down.
func (e Event) FirstWritten() time.Time {
	if len(e.Was) > 0 {
		return e.Was[0].Written
	}
	return e.Written
}

// A Session is one treatment as folded from its entries.
type Session struct {
	ID             string
	Person         string
	PrescriptionID string // pinned when the plan was agreed; before that, the one in force
	Rx             *Prescription
	Machine        Machine
	Child          bool         // the person may be under 18, and has no prescription of an adult: none of the program's figures of adults is used
	Shown          []ShownUntil // what the machine's figure for the fluid removed meant earlier in it, oldest first
	Log            []Event      // in order of At, struck ones included
}

// Add puts an event in its place by time; what happened at one moment stands in
// the order of writing, and in that of adding where that is not told.
func (s *Session) Add(e Event) {
	i := len(s.Log)
	for i > 0 && (s.Log[i-1].At.After(e.At) || s.Log[i-1].At.Equal(e.At) && s.Log[i-1].Place > e.Place) {
		i--
	}
	s.Log = slices.Insert(s.Log, i, e)
}

// Find returns the event with this id, or nil. The pointer is valid until the
// next Add.
func (s *Session) Find(id string) *Event {
	for i := range s.Log {
		if s.Log[i].ID == id {
			return &s.Log[i]
		}
	}
	return nil
}

// Last returns the latest body of type T that is not struck out, with its event.
func Last[T any](s *Session) (*T, *Event) {
	for i := len(s.Log) - 1; i >= 0; i-- {
		if b, ok := s.Log[i].Body.(*T); ok && s.Log[i].Struck == nil {
			return b, &s.Log[i]
		}
	}
	return nil, nil
}

// First returns the earliest body of type T that is not struck out.
func First[T any](s *Session) (*T, *Event) {
	for i := range s.Log {
		if b, ok := s.Log[i].Body.(*T); ok && s.Log[i].Struck == nil {
			return b, &s.Log[i]
		}
	}
	return nil, nil
}

// Each calls f for every body of type T that is not struck out, in order of time.
func Each[T any](s *Session, f func(*T, *Event)) {
	for i := range s.Log {
		if b, ok := s.Log[i].Body.(*T); ok && s.Log[i].Struck == nil {
			f(b, &s.Log[i])
		}
	}
}

// A Phase is how far a session has come.
type Phase string

// The phases in their order.
const (
	SettingUp Phase = "setting_up"
	Running   Phase = "running"
	ComingOff Phase = "coming_off"
	Done      Phase = "closed"
)

// Phase gives how far the session has come.
func (s *Session) Phase() Phase {
	if b, _ := Last[Closed](s); b != nil {
		return Done
	}
	if b, _ := Last[CameOff](s); b != nil {
		return ComingOff
	}
	if b, _ := Last[Connected](s); b != nil {
		return Running
	}
	return SettingUp
}

// Opened returns how and when the session began. When the opening was struck
// out, how is the zero value and when is what it said.
func (s *Session) Opened() (Opened, time.Time) {
	if b, e := First[Opened](s); b != nil {
		return *b, e.At
	}
	for i := range s.Log {
		if e := &s.Log[i]; e.Kind == "session_opened" {
			return Opened{}, e.At
		}
	}
	if len(s.Log) > 0 {
		return Opened{}, s.Log[0].At
	}
	return Opened{}, time.Time{}
}

// Remove takes the event with this id out of the log, so that its correction
// can stand in its place. Only the fold calls it.
func (s *Session) Remove(id string) {
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.ID == id })
}

// Treated reports whether the treatment ever began.
func (s *Session) Treated() bool {
	b, _ := First[Connected](s)
	return b != nil
}

// AtHome reports whether the session was held on the household's own machine and its
// opening was not struck out.
func (s *Session) AtHome() bool {
	b, _ := First[Opened](s)
	return b != nil && b.Place != "elsewhere"
}

// Abandoned reports whether the opening itself was struck out.
func (s *Session) Abandoned() bool {
	b, _ := First[Opened](s)
	return b == nil
}

// Has reports whether an entry of this kind is in the session and not struck out.
func (s *Session) Has(kind string) bool {
	return slices.ContainsFunc(s.Log, func(e Event) bool { return e.Kind == kind && e.Struck == nil })
}

// Began returns the moment the treatment began.
func (s *Session) Began() (time.Time, bool) {
	if b, e := First[Connected](s); b != nil {
		return e.At, true
	}
	return time.Time{}, false
}

// Ended returns the moment the treatment ended.
func (s *Session) Ended() (time.Time, bool) {
	if b, e := Last[CameOff](s); b != nil {
		return e.At, true
	}
	return time.Time{}, false
}
