package session

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

// little is a sheet small enough to follow by hand.
func little() RunSheet {
	return RunSheet{Phase: SetUp, Steps: []Step{
		{ID: "water", Words: "Water on", Lane: LaneHands, Tick: TickDone, Usual: 1},
		{ID: "rinse", Words: "Rinses", Lane: LaneMachine, Tick: TickTimer, Timer: 10, Usual: 10, After: []string{"water"}},
		{ID: "weigh", Words: "Weigh", Lane: LaneHands, Tick: TickValue, Entry: "weigh_in", Usual: 2},
		{ID: "test", Words: "Test", Lane: LaneHands, Tick: TickValue, Entry: "chlorine", Usual: 3, After: []string{"rinse"}},
		{ID: "check", Words: "Self-test", Lane: LaneMachine, Tick: TickValue, Entry: "self_test", Usual: 12, After: []string{"water"}},
		{ID: "go", Words: "Go", Lane: LaneHands, Tick: TickDone, Usual: 1, After: []string{"test", "weigh", "check"}},
	}}
}

func states(p SheetState) map[string]string {
	m := map[string]string{}
	for _, s := range p.Steps {
		m[s.ID] = s.State
	}
	return m
}

func tick(s *Session, at time.Time, step, state string) {
	put(s, at, &StepDone{Phase: SetUp, Step: step, State: state})
}

func TestProgress(t *testing.T) {
	s := &Session{}
	at := func(m int) time.Time { return evening.Add(mins(m)) }
	want := func(m int, w map[string]string) {
		t.Helper()
		got := states(Progress(little(), s, at(m)))
		for id, state := range w {
			if got[id] != state {
				t.Errorf("at %d min %s is %s, want %s", m, id, got[id], state)
			}
		}
	}
	want(0, map[string]string{"water": StepReady, "rinse": StepWaiting, "weigh": StepReady, "test": StepWaiting, "go": StepWaiting})

	tick(s, at(1), "water", "done")
	want(1, map[string]string{"water": StepIsDone, "rinse": StepRunning, "check": StepRunning, "test": StepWaiting})
	p := Progress(little(), s, at(5))
	if timers := p.Timers(); len(timers) != 1 || !timers[0].Due.Equal(at(11)) {
		t.Errorf("timers at 5 min: %v", timers)
	}
	if st := p.Steps[5]; !slices.Equal(st.Waits, []string{"test", "weigh", "check"}) {
		t.Errorf("go waits for %v", st.Waits)
	}
	// The timer has run: it ticks itself, at the moment it was due.
	want(11, map[string]string{"rinse": StepIsDone, "test": StepReady})
	if p := Progress(little(), s, at(30)); !p.Steps[1].Finished.Equal(at(11)) {
		t.Errorf("the rinse ended %v, want %v", p.Steps[1].Finished, at(11))
	}

	put(s, at(12), &Chlorine{Result: 50})
	put(s, at(14), &SelfTest{Passed: true, Tries: 1})
	tick(s, at(15), "weigh", "done") // a value is not ticked without the value
	want(16, map[string]string{"test": StepIsDone, "check": StepIsDone, "weigh": StepReady, "go": StepWaiting})

	tick(s, at(16), "weigh", "not_done")
	want(17, map[string]string{"weigh": StepNotDone, "go": StepReady})
	tick(s, at(18), "go", "done")
	want(19, map[string]string{"go": StepIsDone})
	tick(s, at(20), "go", "undone")
	want(21, map[string]string{"go": StepReady})
	// What was entered later does not reach an earlier page.
	want(15, map[string]string{"go": StepWaiting})
	if p := Progress(little(), s, at(21)); p.Done != 5 || p.Total != 6 {
		t.Errorf("%d of %d, want 5 of 6", p.Done, p.Total)
	}
}

func TestStruckEntryTicksNothing(t *testing.T) {
	s := &Session{}
	put(s, evening, &WeighIn{Weight: 60_000})
	if got := states(Progress(little(), s, evening)); got["weigh"] != StepIsDone {
		t.Errorf("weigh is %s", got["weigh"])
	}
	s.Log[0].Struck = &Strike{At: evening, Reason: "wrong scale"}
	if got := states(Progress(little(), s, evening)); got["weigh"] != StepReady {
		t.Errorf("weigh is %s after the weight was struck out", got["weigh"])
	}
}

// A tick of the other sheet, or of a step that is gone, changes nothing.
// A read-back that differs from the plan leaves its step open, as it stops the
// start line; so does a plan agreed again after it.
func TestReadBackTicksOnlyAsPlanned(t *testing.T) {
	sheet := RunSheet{Phase: SetUp, Steps: []Step{
		{ID: "dial_in", Words: "Dial in", Lane: LaneHands, Tick: TickValue, Entry: "read_back", Usual: 1},
	}}
	at := func(m int) time.Time { return evening.Add(mins(m)) }
	s := &Session{Machine: Machine{GoalUnit: "L", GoalDecimals: 2}}
	put(s, at(0), &AgreedPlan{SetGoal: 2400, Length: 240})
	for i, tt := range []struct {
		name string
		body any
		want string
	}{
		{"digits exchanged", &ReadBack{Goal: 4200, Shown: "4.20"}, StepReady},
		{"as planned", &ReadBack{Goal: 2400, Shown: "2.40"}, StepIsDone},
		{"another time", &ReadBack{Goal: 2400, Shown: "2.40", Length: ref(unit.Minutes(180))}, StepReady},
		{"goal and time as planned", &ReadBack{Goal: 2400, Shown: "2.40", Length: ref(unit.Minutes(240))}, StepIsDone},
		{"one in the last digit", &ReadBack{Goal: 2410, Shown: "2.41"}, StepIsDone},
		{"a new plan", &AgreedPlan{SetGoal: 2600, Length: 240}, StepReady},
		{"the old goal", &ReadBack{Goal: 2400, Shown: "2.40"}, StepReady},
		{"the new goal", &ReadBack{Goal: 2600, Shown: "2.60"}, StepIsDone},
	} {
		put(s, at(i+1), tt.body)
		if got := states(Progress(sheet, s, at(i+1)))["dial_in"]; got != tt.want {
			t.Errorf("%s: the step is %s, want %s", tt.name, got, tt.want)
		}
	}
}

func TestForeignTicks(t *testing.T) {
	s := &Session{}
	put(s, evening, &StepDone{Phase: TakeOff, Step: "water", State: "done"})
	tick(s, evening, "gone", "done")
	if p := Progress(little(), s, evening); p.Done != 0 {
		t.Errorf("%d steps done", p.Done)
	}
}

// The hands see first what the most waits for.
func TestLanes(t *testing.T) {
	s := &Session{}
	var ids []string
	for _, st := range Progress(little(), s, evening).Lane(LaneHands) {
		ids = append(ids, st.ID)
	}
	if !slices.Equal(ids, []string{"water", "weigh"}) {
		t.Errorf("hands: %v, want water before weigh", ids)
	}
	tick(s, evening, "water", "done")
	ids = nil
	for _, st := range Progress(little(), s, evening).Lane(LaneMachine) {
		ids = append(ids, st.ID)
	}
	if !slices.Equal(ids, []string{"rinse", "check"}) {
		t.Errorf("machine: %v", ids)
	}
}

func TestTimerStartedByHand(t *testing.T) {
	sheet := RunSheet{Phase: SetUp, Steps: []Step{{ID: "dry", Words: "Let it dry", Lane: LaneHands, Tick: TickTimer, Timer: 2, Usual: 2}}}
	s := &Session{}
	if got := states(Progress(sheet, s, evening.Add(time.Hour))); got["dry"] != StepReady {
		t.Errorf("nobody started it, yet it is %s", got["dry"])
	}
	tick(s, evening, "dry", "started")
	for after, want := range map[time.Duration]string{0: StepRunning, 119 * time.Second: StepRunning, 120 * time.Second: StepIsDone} {
		if got := states(Progress(sheet, s, evening.Add(after))); got["dry"] != want {
			t.Errorf("after %v it is %s, want %s", after, got["dry"], want)
		}
	}
}

// Timers are instants: a clock change while one runs does not move it.
func TestTimerAcrossTheClockChange(t *testing.T) {
	oslo := zone(t, "Europe/Oslo")
	started := time.Date(2026, 10, 25, 0, 55, 0, 0, time.UTC).In(oslo) // the first 02:55
	s := &Session{}
	tick(s, started, "water", "done")
	due := Progress(little(), s, started).Timers()[0].Due
	if due.Sub(started) != 10*time.Minute || due.In(oslo).Format("15:04 -0700") != "02:05 +0100" {
		t.Errorf("due %s, %v later", due.In(oslo).Format("15:04 -0700"), due.Sub(started))
	}
}

// A sheet that could not be run still ends: a page of a bad record must show.
func TestProgressOfARing(t *testing.T) {
	sheet := RunSheet{Phase: SetUp, Steps: []Step{
		{ID: "a", Words: "a", Lane: LaneHands, Tick: TickDone, After: []string{"b"}},
		{ID: "b", Words: "b", Lane: LaneHands, Tick: TickDone, After: []string{"a", "gone"}},
		{ID: "c", Words: "c", Lane: LaneHands, Tick: TickDone},
	}}
	p := Progress(sheet, &Session{}, evening)
	if got := states(p); got["a"] != StepWaiting || got["c"] != StepReady || p.Total != 3 {
		t.Errorf("%v", got)
	}
	if e := Expect(sheet, &Session{}, History{}, Pace{}, evening); e.Median.Before(evening) {
		t.Errorf("%v", e)
	}
}

func TestTimersInOrderOfDue(t *testing.T) {
	sheet := RunSheet{Phase: SetUp, Steps: []Step{
		{ID: "long", Words: "x", Lane: LaneHands, Tick: TickTimer, Timer: 9},
		{ID: "short", Words: "x", Lane: LaneHands, Tick: TickTimer, Timer: 4},
	}}
	s := &Session{}
	tick(s, evening, "long", "started")
	tick(s, evening.Add(mins(1)), "short", "started")
	timers := Progress(sheet, s, evening.Add(mins(2))).Timers()
	if len(timers) != 2 || timers[0].ID != "short" || timers[1].ID != "long" {
		t.Errorf("%v", timers)
	}
}

// Blood that stayed out is a step left out, not one that was done; a correction
// moves it, and what waits for it goes on either way.
func TestStepOfBloodThatStayedOut(t *testing.T) {
	for returned, want := range map[string]string{"all": StepIsDone, "part": StepIsDone, "none": StepNotDone} {
		for _, left := range []bool{false, true} {
			s := connected(t)
			put(s, on(199), &StepDone{Phase: TakeOff, Step: "lay_out", State: "done"})
			if left {
				put(s, on(199), &StepDone{Phase: TakeOff, Step: "wash_back", State: "not_done"})
			}
			put(s, on(200), &CameOff{Returned: returned})
			got := states(Progress(DefaultTakeOff(), s, on(201)))
			if got["wash_back"] != want || got["pressure"] != StepReady {
				t.Errorf("%s, left out by hand before it %t: %s, and the pressure after is %s", returned, left, got["wash_back"], got["pressure"])
			}
		}
	}
}
