package session

import (
	"slices"
	"strings"
	"time"
)

// cleaned is the machine disinfected since it was used last, and what the last
// chemical left looked for.
func (l startLine) cleaned(v *verdict) {
	if opened, _ := l.s.Opened(); opened.Place == "elsewhere" {
		v.ready("cleaned_elsewhere")
		return
	}
	if l.h.InUseBy != "" {
		v.stop(nil, "cleaned_in_use", l.h.InUseBy, l.when(l.h.InUseSince)).since(l.h.InUseSince)
	}
	last, there := l.lastCycle()
	switch setUp := !last.At.Before(l.opened()); {
	case !there && l.isNew():
		// What stands new was never used; it counts as chemical.
	case !there && l.h.Idle.SetBy != "":
		v.stop(nil, "cleaned_waiting_unit").since(l.h.Used).against(l.h.Idle.limit())
	case !there:
		v.look(nil, "cleaned_not_written").since(l.h.Used)
	case last.Programme == "":
		v.open(nil, "cleaned_ticked", l.when(last.At)).since(last.At)
	case last.Result == "failed":
		v.stop(nil, "cleaned_failed", l.when(last.At)).since(last.At)
	case last.Result == "running" && setUp:
		v.open(nil, "cleaned_runs", l.when(last.At)).since(last.At)
	case last.Result == "running":
		v.look(nil, "cleaned_running").since(last.At)
	case last.Programme == "chemical":
		v.ready("cleaned_chemical", l.when(last.At))
	default:
		v.ready("cleaned_passed", l.when(last.At))
	}
	if there {
		l.idle(v, last.At)
	}
	l.residue(v)
}

// lastCycle is the disinfection that counts: the last that was run since the
// machine was used, before this session or while it is set up.
func (l startLine) lastCycle() (Cycle, bool) {
	last, there := lastOf(l.cycles())
	if !there {
		last.At, last.Place, there = disinfectTicked(l.s, l.at)
	}
	if l.h.Cleaned != nil && (!there || last.At.Before(l.h.CleanedAt)) {
		return Cycle{Disinfection: *l.h.Cleaned, At: l.h.CleanedAt}, true
	}
	return last, there
}

// cycles are the disinfections of this session's setting up.
func (l startLine) cycles() []Cycle { return setUpCycles(l.s, l.h, l.at) }

// opened is when setting up began.
func (l startLine) opened() time.Time {
	_, at := l.s.Opened()
	return at
}

// when says a moment: the time of day where it was while setting up, else the
// date.
func (l startLine) when(at time.Time) string {
	if opened := l.opened(); opened.IsZero() || at.Before(opened.Add(-setUpSpan)) {
		return at.Format("2 January")
	}
	return clock(at)
}

// setUpSpan is how long before a session was opened a time of day still says
// enough. Ours.
const setUpSpan = 3 * time.Hour

// isNew reports whether no session of this record was treated on the machine.
func (l startLine) isNew() bool { return l.h.New || l.h.Treated == 0 && l.h.Used.IsZero() }

// A need is a reason to look for what a disinfectant left.
type need struct {
	at     time.Time
	code   string
	args   []any
	rinse  bool   // no programme rinsed it: a rinse is written too
	rinsed string // the code once that is written
}

// residueNeeds lists why a residue test is wanted, the latest last.
func (l startLine) residueNeeds() []need {
	var list []need
	if l.isNew() {
		list = append(list, need{at: l.h.NewSince, code: "residue_new", rinse: true, rinsed: "residue_new_rinsed"})
	}
	if !l.h.Chemical.IsZero() && !l.h.Chemical.After(l.at) {
		list = append(list, need{at: l.h.Chemical, code: "residue_chemical", args: []any{l.when(l.h.Chemical)}})
	}
	cycles := l.cycles()
	if c := l.h.Cleaned; c != nil {
		cycles = append(cycles, Cycle{Disinfection: *c, At: l.h.CleanedAt})
	}
	for _, c := range cycles {
		if c.Programme == "chemical" {
			list = append(list, need{at: c.At, code: "residue_chemical", args: []any{l.when(c.At)}})
		}
	}
	for _, u := range l.h.Upset {
		if !u.At.After(l.at) && !u.Unsure {
			list = append(list, need{
				at: u.At, code: "residue_upset", args: []any{capital(u.What), l.when(u.At)},
				rinse: !u.Disinfected, rinsed: "residue_upset_rinsed",
			})
		}
	}
	slices.SortStableFunc(list, func(a, b need) int { return a.at.Compare(b.at) })
	return list
}

// residue holds up the start after a chemical disinfection until a residue test
// was written that shows nothing, and on what is new or was serviced, moved, stored
// or preserved until a rinse was written as well. The step ticked alone shows
// nothing. What a test found before a better one stays in sight.
func (l startLine) residue(v *verdict) {
	for _, u := range l.h.Upset {
		tested := slices.ContainsFunc(l.h.Residues, func(t Residue) bool { return t.At.After(u.At) && !t.At.After(l.at) })
		if u.Unsure && !tested && !u.At.After(l.at) {
			v.look(nil, "residue_unsure", capital(u.What), l.when(u.At)).since(u.At)
		}
	}
	needs := l.residueNeeds()
	if len(needs) == 0 {
		return
	}
	rinse := l.rinseMissing(needs)
	tests := l.residueTests(needs)
	if len(tests) == 0 {
		l.residueUntested(v, needs, rinse)
		return
	}
	now := tests[len(tests)-1]
	was := false
	for _, t := range tests[:len(tests)-1] {
		if !t.Good && !t.Expired {
			was = true
			v.look(nil, "residue_was", l.when(t.At), t.Found, t.Bound).since(t.At)
		}
	}
	switch {
	case now.Expired:
		v.stop(nil, "residue_expired", l.when(now.At)).since(now.At)
	case !now.Good:
		v.stop(nil, "residue_left", l.when(now.At), now.Found, now.Bound).since(now.At).against(now.Limit)
	case now.Ticked:
	case was:
		v.look(nil, "residue_gone", l.when(now.At), now.Found).since(now.At)
	case upsetBy(needs) != "" && !rinse:
		v.ready("residue_done", upsetBy(needs), l.when(now.At), now.Found)
	default:
		v.ready("residue_gone", l.when(now.At), now.Found).always = rinse
	}
	if rinse {
		v.stop(nil, "residue_no_rinse").since(now.At)
	}
}

// upsetBy says what of some reasons asked for a rinse last; empty for nothing.
func upsetBy(needs []need) (what string) {
	for _, n := range needs {
		switch {
		case !n.rinse:
		case len(n.args) > 0:
			what = n.args[0].(string)
		default:
			what = "New here"
		}
	}
	return what
}

// residueTests gives the tests that were made since the last of some reasons. A
// tick of an earlier session counts only for a chemical disinfection, as it did
// when no result was asked for.
func (l startLine) residueTests(needs []need) (tests []Residue) {
	last := needs[len(needs)-1]
	upset := slices.ContainsFunc(needs, func(n need) bool { return n.rinse })
	for _, t := range l.h.Residues {
		if t.At.After(last.at) && !t.At.After(l.at) && !(t.Ticked && upset) {
			tests = append(tests, t)
		}
	}
	return tests
}

// residueUntested says what no test has followed: of several reasons the latest,
// and always that it is new. rinse is whether a rinse is missing as well.
func (l startLine) residueUntested(v *verdict, needs []need, rinse bool) {
	last := needs[len(needs)-1]
	say := func(n need) {
		code := n.code
		if n.rinse && !rinse {
			code = n.rinsed
		}
		v.stop(nil, code, n.args...).since(last.at)
	}
	if first := needs[0]; first.code == "residue_new" && last.code != first.code {
		say(first)
	}
	say(last)
	if rinse && !last.rinse {
		v.stop(nil, "residue_no_rinse").since(last.at)
	}
	if l.residueTicked() {
		v.stop(nil, "residue_ticked").since(last.at)
	}
}

// ResidueWanted says why the next start waits for a residue test or a rinse, by
// what is known before its session is opened, and whether the rinse comes next. It
// is empty where nothing is waited for, and for a machine that is new, of which the
// start line tells.
func ResidueWanted(h History) (words string, rinse bool) {
	l := lineAt(&Session{}, h, endOfTime)
	if l.isNew() {
		return "", false
	}
	var v verdict
	l.residue(&v)
	var list []string
	for _, f := range v.findings {
		if f.state == StopHere {
			list = append(list, f.words())
		}
	}
	return strings.Join(list, " "), l.rinseMissing(l.residueNeeds())
}

// endOfTime lies after everything that is known.
var endOfTime = time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)

// residueTicked reports whether the step of the residue test is ticked.
func (l startLine) residueTicked() (done bool) {
	Each(l.s, func(b *StepDone, e *Event) {
		if b.Phase == SetUp && b.Step == ResidueStep && !e.At.After(l.at) {
			done = b.State == "done"
		}
	})
	return done
}

// rinseMissing reports whether no rinse was written since the last reason that asks
// for one: by itself, or as a programme of the machine, which ends with one. The
// minutes that the water treatment runs before each session are no such rinse.
func (l startLine) rinseMissing(needs []need) bool {
	var from time.Time
	asked := false
	for _, n := range needs {
		if n.rinse {
			from, asked = n.at, true
		}
	}
	after := func(at time.Time) bool { return at.After(from) && !at.After(l.at) }
	if !asked || slices.ContainsFunc(l.h.Rinses, after) {
		return false
	}
	c, there := l.lastCycle()
	return !there || c.Result != "passed" || !after(c.At)
}

// selfTest is the machine's own test, with every try of it.
func (l startLine) selfTest(v *verdict) {
	if judged(l, v, startLine.selfTested) == nil {
		v.open(nil, "self_test_open")
	}
}

func (l startLine) selfTested(v *verdict, b *SelfTest, e *Event) {
	tries := 0                             // a test entered twice was tried as often as both say
	c := redone(l.s, l.h, l.at).of(e.Kind) // after a disinfection it has to be done again
	Each(l.s, func(b *SelfTest, e *Event) {
		if !e.At.After(l.at) && !c.follows(e) {
			tries += max(b.Tries, 1)
		}
	})
	switch {
	case v.blank(e, "passed"):
	case !b.Passed:
		v.ring(e, "self_test_failed").stays(looked)
	case tries >= 2:
		v.look(e, "self_test_tries", tries)
	default:
		v.ready("self_test_ready")
	}
}
