package session

import (
	"time"

	"ebbline/unit"
)

// MachineCare is what the record knows of the machine beside its sessions.
// Zero values mean that nothing is known.
type MachineCare struct {
	Idle          IdleRule
	ResidueWanted bool      // a chemical cycle has run since the last negative test for what it leaves
	ResidueTested time.Time // the last negative test outside a session
	Waiting       []Waiting
	Doubted       bool // a notice about the water is open: works, a burst main, a smell
}

// Waiting is something of water or round that was put on the start line: the
// unit or the household wants it seen to before the next session.
type Waiting struct {
	Words string
	On    unit.Date // it holds up the start from this day on; zero: whatever the day
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
			v.ring(nil, "waiting", w.Words)
		}
	}
}

// limit says how long, and whose figure it is.
func (r IdleRule) limit() string {
	whose := ownDefault
	if r.SetBy != "" {
		whose = "set by " + r.SetBy + " on " + r.SetOn.Long()
	}
	return hoursText(unit.Minutes(r.Longest/time.Minute)) + ", " + whose
}

// idle finds a machine that has stood longer than it may: it stops where the
// unit set how long, and is said where only the program's own figure is passed.
func (l startLine) idle(v *verdict) {
	rule, stood := l.h.Idle, l.at.Sub(l.h.CleanedAt)
	if rule.Longest <= 0 || l.h.Cleaned == nil || stood <= rule.Longest {
		return
	}
	hours := int(stood / time.Hour)
	if rule.SetBy == "" {
		v.look(nil, "idle_own", hours).against(rule.limit())
		return
	}
	v.stop(nil, "idle_unit", hours).against(rule.limit())
}

// residueWanted reports whether a test for disinfectant is to be done before the
// start: after a chemical programme, and after a later one of heat too.
func (l startLine) residueWanted(tested bool) bool {
	if tested || l.h.Cleaned == nil {
		return false
	}
	last := l.h.Cleaned.Programme == "chemical" && !l.h.ResidueTested.After(l.h.CleanedAt)
	return last || l.h.ResidueWanted
}
