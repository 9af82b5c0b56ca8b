package session

import (
	"strings"
	"testing"
	"time"
)

// A disinfection written while setting up clears what was due and opens again what
// it undoes, by an entry of the session, by one of the round and by a tick.
func TestDisinfectionWhileSettingUp(t *testing.T) {
	at := evening.Add(mins(31)) // after self-test, bath and conductivity
	for name, tt := range map[string]struct {
		set  func(*Session, *History)
		want CheckState // of the disinfection itself
		word string
	}{
		"of the session": {func(s *Session, _ *History) { put(s, at, &Disinfection{Programme: "heat", Result: "passed"}) }, Ready, "Passed, 17:31."},
		"of the round": {func(_ *Session, h *History) {
			h.Meanwhile = []Cycle{{Disinfection: Disinfection{Programme: "heat", Result: "passed"}, At: at}}
		}, Ready, "Passed, 17:31."},
		"ticked":        {func(s *Session, _ *History) { tick(s, at, "disinfect", "done") }, OpenYet, "ticked at 17:31"},
		"still running": {func(s *Session, _ *History) { put(s, at, &Disinfection{Programme: "heat", Result: "running"}) }, OpenYet, "Disinfection runs since 17:31"},
		"failed":        {func(s *Session, _ *History) { put(s, at, &Disinfection{Programme: "heat", Result: "failed"}) }, StopHere, "failed, 17:31"},
	} {
		s, h := ready(t), known()
		h.Cleaned, h.CleanedAt = nil, time.Time{} // nothing was written after the last session
		h.Idle = IdleRule{Longest: mins(60), SetBy: "Dr Lind", SetOn: date(t, "2026-01-02")}
		if c := check(t, StartLine(s, h, at), CheckCleaned); c.State != StopHere {
			t.Fatalf("before: %s %q", c.State, c.Words)
		}
		tt.set(s, &h)
		now := evening.Add(mins(40))
		checks := StartLine(s, h, now)
		if c := check(t, checks, CheckCleaned); c.State != tt.want || !strings.Contains(c.Words, tt.word) {
			t.Errorf("%s: %s %q, want %s %q", name, c.State, c.Words, tt.want, tt.word)
		}
		for _, id := range []string{CheckSelfTest, CheckBath, CheckConduct} {
			if c := check(t, checks, id); c.State != OpenYet || c.Words != "Done before the disinfection at 17:31: do it again." {
				t.Errorf("%s, %s: %s %q", name, id, c.State, c.Words)
			}
		}
		for _, id := range []string{CheckChlorine, CheckFit, CheckPlan, CheckHeparin} {
			if c := check(t, checks, id); c.State != Ready {
				t.Errorf("%s, %s: %s %q", name, id, c.State, c.Words)
			}
		}
		// Done again, they count.
		for _, body := range []any{&SelfTest{Passed: true, Tries: 1}, &BathLabel{K: 200, Ca: 150, Expiry: date(t, "2027-01-31")}, &FluidCheck{MachineConduct: 1400, MeterConduct: 1390}} {
			put(s, evening.Add(mins(38)), body)
		}
		for _, id := range []string{CheckBath, CheckConduct} {
			if c := check(t, StartLine(s, h, now), id); c.State != Ready {
				t.Errorf("%s, %s done again: %s %q", name, id, c.State, c.Words)
			}
		}
	}
}

// What stopped before the disinfection is not forgotten with it.
func TestRedoKeepsWhatStopped(t *testing.T) {
	s := ready(t)
	edit(s, func(b *SelfTest) { b.Passed = false })
	put(s, evening.Add(mins(31)), &Disinfection{Programme: "heat", Result: "passed"})
	c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckSelfTest)
	if c.State != OpenYet || !strings.Contains(c.Words, "At 17:13: Not passed") || !strings.Contains(c.Words, "do it again") {
		t.Errorf("%s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(35)), &SelfTest{Passed: true, Tries: 1})
	c = check(t, StartLine(s, known(), evening.Add(mins(40))), CheckSelfTest)
	if c.State != Look || !strings.Contains(c.Words, "At 17:13: Not passed") {
		t.Errorf("passed since: %s %q", c.State, c.Words)
	}
}

// The steps that a disinfection undoes are to be done again, the prime too, which
// does not begin by itself.
func TestRedoneSteps(t *testing.T) {
	sheet := DefaultSetUp()
	steps := func(s *Session, h History, m int) map[string]string {
		got := map[string]string{}
		for _, st := range ProgressWith(sheet, s, h, evening.Add(mins(m))).Steps {
			got[st.ID] = st.State
		}
		return got
	}
	s := ready(t)
	for _, id := range []string{"hands_clean", "water_on", "machine_on"} {
		tick(s, evening.Add(mins(3)), id, "done")
	}
	tick(s, evening.Add(mins(34)), "residue", "done")
	tick(s, evening.Add(mins(34)), "air", "done")
	before := steps(s, History{}, 36)
	for _, id := range []string{"self_test", "bath", "lines", "prime", "air", "residue", "conductivity"} {
		if before[id] != StepIsDone {
			t.Fatalf("before: %s is %s", id, before[id])
		}
	}
	tick(s, evening.Add(mins(37)), LinesStep, "undone")
	off := steps(s, History{}, 37)
	for id, want := range map[string]string{"lines": StepReady, "prime": StepWaiting, "air": StepWaiting, "conductivity": StepIsDone} {
		if off[id] != want {
			t.Errorf("lines off: %s is %s, want %s", id, off[id], want)
		}
	}
	round := History{MachineCare: MachineCare{Meanwhile: []Cycle{{Disinfection: Disinfection{Programme: "heat", Result: "passed"}, At: evening.Add(mins(38)), Place: 900}}}}
	own := *s
	put(&own, evening.Add(mins(38)), &Disinfection{Programme: "heat", Result: "passed"})
	for name, got := range map[string]map[string]string{"of the round": steps(s, round, 60), "of the session": steps(&own, History{}, 60)} {
		for id, want := range map[string]string{"self_test": StepRunning, "bath": StepReady, "lines": StepWaiting, "prime": StepWaiting, "conductivity": StepWaiting, "weigh": StepIsDone} {
			if got[id] != want {
				t.Errorf("%s: %s is %s, want %s", name, id, got[id], want)
			}
		}
	}
	// With needles alone written down the step of the lines was ticked by their lot:
	// the prime is started by hand all the same.
	bare := newSession(t)
	put(bare, evening, &Opened{Place: "home"})
	put(bare, evening.Add(mins(2)), &Supply{Item: "needles", Lot: "n1"})
	for _, id := range []string{"hands_clean", "machine_on"} {
		tick(bare, evening.Add(mins(1)), id, "done")
	}
	again := func(m int) {
		put(bare, evening.Add(mins(m)), &SelfTest{Passed: true, Tries: 1})
		put(bare, evening.Add(mins(m)), &BathLabel{K: 200, Ca: 150})
	}
	again(1)
	put(bare, evening.Add(mins(1)), &Fitness{})
	put(bare, evening.Add(mins(1)), &Chlorine{Result: 20, ReadsDown: 20, Point: atMachine})
	if got := steps(bare, History{}, 30)["prime"]; got != StepIsDone {
		t.Fatalf("by the clock the prime is %s", got)
	}
	put(bare, evening.Add(mins(20)), &Disinfection{Programme: "heat", Result: "passed"})
	if got := steps(bare, History{}, 30)["prime"]; got != StepWaiting {
		t.Errorf("after the disinfection the prime is %s", got)
	}
	again(31)
	if got := steps(bare, History{}, 50)["prime"]; got != StepReady {
		t.Errorf("tested again, the prime is %s: nobody started it", got)
	}
}

// Blood lines are on the machine from their lot or their step on, until it is said
// that they are off again, or the treatment ends.
func TestLinesOn(t *testing.T) {
	lot := func(item string) any { return &Supply{Item: item, Lot: "l1"} }
	step := func(id, state string) any { return &StepDone{Phase: SetUp, Step: id, State: state} }
	for i, tt := range []struct {
		log  []any
		want bool
	}{
		{nil, false},
		{[]any{lot("needles"), lot("saline")}, false},
		{[]any{lot("Dialyser")}, true},
		{[]any{lot("lines")}, true},
		{[]any{lot("blood lines")}, true},
		{[]any{lot("needles and lines")}, true},
		{[]any{lot("saline-primed circuit")}, true},
		{[]any{lot("cartridge")}, true},
		{[]any{lot("bicarbonate cartridge"), lot("saline flush"), lot("chlorine strips")}, false},
		{[]any{step(LinesStep, "done")}, true},
		{[]any{step(PrimeStep, "started")}, true},
		{[]any{step(PrimeStep, "not_done")}, false},
		{[]any{lot("lines"), step(LinesStep, "undone")}, false},
		{[]any{lot("lines"), step(LinesStep, "undone"), lot("lines")}, true},
		{[]any{step(LinesStep, "undone"), lot("dialyser")}, true},
		{[]any{lot("lines"), &Connected{}}, true},
		{[]any{&Connected{}}, true},
		{[]any{lot("lines"), &Connected{}, &CameOff{Returned: "all"}}, false},
		{[]any{&StepDone{Phase: TakeOff, Step: LinesStep, State: "done"}}, false},
	} {
		s := newSession(t)
		for k, body := range tt.log {
			put(s, evening.Add(mins(k)), body)
		}
		if since, on := LinesOn(s, evening.Add(mins(20))); on != tt.want || on && since.Before(evening) {
			t.Errorf("%d: on %v since %v", i, on, since)
		}
		if _, on := LinesOn(s, evening.Add(-mins(1))); on {
			t.Errorf("%d: on before anything was written", i)
		}
	}
	s := newSession(t)
	put(s, evening, lot("lines")).Struck = &Strike{}
	if _, on := LinesOn(s, evening.Add(mins(20))); on {
		t.Error("a lot that was struck out is on the machine")
	}
}

// The disinfection after a treatment is not the one that came before it: neither
// for the next session, nor among what is still open.
func TestCleanedAfter(t *testing.T) {
	s := ready(t)
	put(s, evening.Add(mins(5)), &Disinfection{Programme: "heat", Result: "passed"})
	if b, _ := CleanedAfter(s); b == nil {
		t.Error("a session without a treatment: nothing")
	}
	if h := HistoryOf([]*Session{s}); h.Cleaned == nil {
		t.Error("a session that was never treated leaves the machine as it cleaned it")
	}
	put(s, on(0), &Connected{})
	put(s, on(240), &CameOff{Returned: "all"})
	open := func() (is bool) {
		for _, o := range OpenItems(s) {
			is = is || o.Kind == "disinfection"
		}
		return is
	}
	if b, _ := CleanedAfter(s); b != nil || HistoryOf([]*Session{s}).Cleaned != nil || !open() {
		t.Error("the disinfection before the treatment counts as one after it")
	}
	put(s, on(280), &Disinfection{Programme: "chemical", Result: "passed"})
	if b, _ := CleanedAfter(s); b == nil || HistoryOf([]*Session{s}).Cleaned.Programme != "chemical" || open() {
		t.Error("the disinfection after the treatment does not count")
	}
}
