package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// MachineCare is what the record knows of the machine beside its sessions.
// Zero values mean that nothing is known.
type MachineCare struct {
	Idle       IdleRule
	Used       time.Time   // when a treatment of any person ended last on it; zero for none
	New        bool        // no session of this record was treated on it, by its name
	NewSince   time.Time   // when it took another one's place; zero for the first
	Meanwhile  []Cycle     // what the round wrote of its disinfection since this session was opened
	Reworked   []Cycle     // what else it wrote that was done to machine or water treatment since then
	Chemical   time.Time   // the last chemical cycle before this session, of the last 60 days, that no good test followed
	Upset      []Upset     // oldest first: the water treatment's disinfection since it was used last, the others of the last 60 days; of service and membrane only those the machine is not in use since
	Residues   []Residue   // tests for disinfectant that was left, of the last 60 days, oldest first
	Rinses     []time.Time // of the last 60 days, in the order of writing
	Waiting    []Waiting
	CarbonOpen time.Time // when chlorine came through the first carbon, and nobody has seen to it since
	Doubted    bool      // a notice about the water is open: works, a burst main, a smell
}

// Upset is something after which machine or water treatment count as chemically
// disinfected: service, a move, a time in store, a preservative.
type Upset struct {
	At          time.Time
	What        string // "serviced", "moved"
	Disinfected bool   // by a programme, which rinses at its end
	Unsure      bool   // whether by a chemical is not said
}

// Residue is a test for disinfectant that was left.
type Residue struct {
	At      time.Time
	Found   string // "less than 0.05 mg/L chlorine"; empty for a tick
	Bound   string // the most that may be left
	Limit   string // the same, and whose it is
	Good    bool   // within the limit, by a test in date
	Expired bool
	Ticked  bool // a step ticked in an earlier session, without a result
}

// Waiting is something of water, round or bloods that was put on the start line: the
// unit or the household wants it seen to before the next session.
type Waiting struct {
	Words string
	Limit string    // that a value was held against, and whose it is; empty: none
	On    unit.Date // it holds up the start from this day on; zero: whatever the day
	Since time.Time // when it came about; a call before that was not about it
}

// IdleRule is how long the machine may stand between a passed disinfection and
// a start. The zero rule asks for nothing.
type IdleRule struct {
	Longest time.Duration
	SetBy   string // empty: the program's own figure
	SetOn   unit.Date
}

// waiting finds what was put on the start line and is due. Where nothing is, the
// start line has no such check.
func (l startLine) waiting(v *verdict) {
	v.skip = true
	for _, w := range l.h.Waiting {
		if !unit.DateOf(l.at).Before(w.On) {
			v.skip = false
			v.ring(nil, "waiting", w.Words).since(w.Since).against(w.Limit)
		}
	}
}

// Text says how long, and whose figure it is.
func (r IdleRule) Text() string { return r.limit() }

// limit says how long, and whose figure it is.
func (r IdleRule) limit() string {
	whose := ownDefault
	if r.SetBy != "" {
		whose = "set by " + r.SetBy + " on " + r.SetOn.Long()
	}
	return hoursText(unit.Minutes(r.Longest/time.Minute)) + ", " + whose
}

// StoodOver reports whether the machine had stood longer than the program's own figure
// before a session, as its start line says with that session's history.
func StoodOver(s *Session, h History, now time.Time) bool {
	var v verdict
	lineAt(s, h, now).cleaned(&v)
	return slices.ContainsFunc(v.findings, func(f finding) bool { return f.code == "idle_own" })
}

// idle finds a machine that has stood longer than it may since it was
// disinfected: it stops where the unit set how long, and is said where only the
// program's own figure is passed.
func (l startLine) idle(v *verdict, cleaned time.Time) {
	rule, stood := l.h.Idle, l.at.Sub(cleaned)
	if rule.Longest <= 0 || stood <= rule.Longest {
		return
	}
	hours := int(stood / time.Hour)
	if rule.SetBy == "" {
		v.look(nil, "idle_own", hours).since(cleaned).against(rule.limit())
		return
	}
	v.stop(nil, "idle_unit", hours).since(cleaned).against(rule.limit())
}
