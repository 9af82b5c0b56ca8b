package session

import (
	"slices"
	"time"
)

// The checks of the start line, in the order of the page.
const (
	CheckFit          = "fit"
	CheckAccess       = "access"
	CheckWeighed      = "weighed"
	CheckVitals       = "vitals"
	CheckGap          = "gap"
	CheckCleaned      = "disinfected"
	CheckChlorine     = "chlorine"
	CheckSelfTest     = "self_test"
	CheckConduct      = "conductivity"
	CheckBath         = "bath"
	CheckLots         = "lots"
	CheckHeparin      = "heparin"
	CheckLock         = "lock"
	CheckGlucose      = "glucose"
	CheckNight        = "night"
	CheckPlan         = "plan"
	CheckPrescription = "prescription"
	CheckWaiting      = "waiting"
)

// startChecks are all checks with how each is judged.
var startChecks = []struct {
	id, title string
	judge     func(startLine, *verdict)
}{
	{CheckFit, "Fit to start", startLine.fit},
	{CheckAccess, "Access", startLine.access},
	{CheckWeighed, "Weighed", startLine.weighed},
	{CheckVitals, "Blood pressure", startLine.vitals},
	{CheckGap, "Since last time", startLine.gap},
	{CheckCleaned, "Machine disinfected", startLine.cleaned},
	{CheckChlorine, "Total chlorine", startLine.chlorine},
	{CheckSelfTest, "Self-test", startLine.selfTest},
	{CheckConduct, "Conductivity", startLine.conductivity},
	{CheckBath, "Bath", startLine.bath},
	{CheckLots, "Lots in date", startLine.lots},
	{CheckHeparin, "Heparin", startLine.heparin},
	{CheckLock, "Catheter lock", startLine.lock},
	{CheckGlucose, "Blood sugar", startLine.glucose},
	{CheckNight, "Night", startLine.night},
	{CheckPlan, "Plan", startLine.plan},
	{CheckPrescription, "Prescription", startLine.prescription},
	{CheckWaiting, "Round, water and bloods", startLine.waiting},
}

// CheckTitle is the heading of a check, or its id where there is none.
func CheckTitle(id string) string {
	for _, c := range startChecks {
		if c.id == id {
			return c.title
		}
	}
	return id
}

// StartLine judges everything that should be ready before needling, as it
// stands at now. Once the person is connected it stays as it stood then.
//
// It holds what is known against the limits the unit set, or against the
// program's own where the unit set none, and names whose they are. It never
// says that a session may go on.
func StartLine(s *Session, h History, now time.Time) []Check {
	l := lineAt(s, h, now)
	var out []Check
	undone := UndoneStops(s, h)
	for _, one := range startChecks {
		v := l.found(one.id, one.judge)
		l.orderChanged(one.id, one.judge, &v)
		l.batchesBefore(one.id, one.judge, &v)
		l.undone(one.id, undone, &v)
		if v.skip {
			continue
		}
		v.answered(l.callsFor(one.id), l.at)
		c := v.check(one.id, one.title)
		v.override(&c, s, l.at)
		out = append(out, c)
	}
	return out
}

// found is all that a check found, before calls and reasons.
func (l startLine) found(check string, judge func(startLine, *verdict)) verdict {
	var v verdict
	if judge(l, &v); v.skip {
		return v
	}
	l.again(check, &v)
	for _, broken := range l.h.Broken {
		l.carry(check, judge, broken, &v)
	}
	l.shelfSaid(check, &v)
	return v
}

// again opens a check again when its latest entry is older than what was done to
// machine or water treatment while this session was set up.
func (l startLine) again(check string, v *verdict) {
	for i := len(l.s.Log) - 1; i >= 0; i-- {
		e := &l.s.Log[i]
		if opensAgain[e.Kind].check != check || e.Struck != nil || e.At.After(l.at) {
			continue
		}
		if check == CheckConduct && l.s.Machine.Fluid() == FluidBags {
			return // it is not asked for
		}
		if c := redone(l.s, l.h, l.at).of(e.Kind); c.follows(e) {
			v.redo(c)
		}
		return
	}
}

// carried are the checks whose stops outlast the session they were found in, when
// that one was never treated: starting over wipes nothing out.
var carried = []string{CheckFit, CheckAccess, CheckVitals, CheckChlorine, CheckSelfTest, CheckConduct, CheckBath, CheckGlucose}

// carry adds to a check what stopped it in a session that was set up shortly
// before and broken off, until it was rung about.
func (l startLine) carry(check string, judge func(startLine, *verdict), broken *Session, v *verdict) {
	if !slices.Contains(carried, check) {
		return
	}
	then := startLine{s: broken, h: l.h, rx: l.rx, at: l.opened()}
	var was verdict
	judge(then, &was)
	for i := range was.findings {
		f := &was.findings[i]
		f.asks = f.asks || f.kept == keptAsStop
	}
	was.answered(broken, then.at)
	same, other := l.brokenBatch(check, broken)
	for _, f := range was.findings {
		switch {
		case f.state != StopHere || f.kept == forgotten || same:
		case other:
			f.kept = looked
			v.add(f.left())
		default:
			v.add(f.left())
		}
	}
}

// startLine is what the checks are judged from.
type startLine struct {
	s  *Session
	h  History
	rx *Prescription
	at time.Time // now, or the moment of connecting

	made *Batch // that the fluid is from; see [startLine.ofBatch]

	called map[string]named // what names of things mean on h.Shelf, once each; nil: not kept
}

// lineAt is the start line of a session at a moment: once the person is connected
// it stays as it stood then. A session without a prescription has an empty one.
func lineAt(s *Session, h History, now time.Time) startLine {
	l := startLine{s: s, h: h, rx: s.Rx, at: now, called: map[string]named{}}
	if began, ok := s.Began(); ok && began.Before(now) {
		l.s, l.at = asItStood(s), began
	}
	if l.rx == nil {
		l.rx = &Prescription{}
	}
	return l
}

// lastBy returns the latest body of type T up to an instant, not struck out.
func lastBy[T any](s *Session, at time.Time) (*T, *Event) {
	for i := len(s.Log) - 1; i >= 0; i-- {
		e := &s.Log[i]
		if b, ok := e.Body.(*T); ok && e.Struck == nil && !e.At.After(at) {
			return b, e
		}
	}
	return nil, nil
}
