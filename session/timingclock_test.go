package session

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/unit"
)

// A timer that has run is done by the clock, and not any more once a step before
// it is opened again; its minutes run again, from when that step was done.
func TestTheClockTicksNothingWhileAStepBeforeIsOpen(t *testing.T) {
	at := func(m int) time.Time { return evening.Add(mins(m)) }
	sheet := RunSheet{Phase: SetUp, Steps: []Step{
		{ID: "water", Words: "Water on", Lane: LaneHands, Tick: TickDone},
		{ID: "rinse", Words: "Rinses", Lane: LaneMachine, Tick: TickTimer, Timer: 10, After: []string{"water"}},
		{ID: "dry", Words: "Dries", Lane: LaneHands, Tick: TickTimer, Timer: 3, After: []string{"water"}},
		{ID: "warm", Words: "Warms up", Lane: LaneMachine, Tick: TickDone, Usual: 5, After: []string{"rinse"}},
	}}
	s := &Session{}
	for _, one := range []struct {
		minute      int
		step, state string
	}{{0, "dry", "started"}, {1, "water", "done"}, {20, "water", "undone"}, {30, "water", "done"}, {31, "water", "done"}, {60, "rinse", "done"}, {61, "water", "undone"}} {
		tick(s, at(one.minute), one.step, one.state)
	}
	for _, tt := range []struct {
		minute           int
		rinse, dry, warm string
	}{
		{0, StepWaiting, StepWaiting, StepWaiting}, // started too early: it waits
		{1, StepRunning, StepRunning, StepWaiting},
		{3, StepRunning, StepRunning, StepWaiting}, // three minutes after it was started, two after it could be
		{4, StepRunning, StepIsDone, StepWaiting},
		{11, StepIsDone, StepIsDone, StepRunning},
		{19, StepIsDone, StepIsDone, StepRunning},
		{20, StepWaiting, StepWaiting, StepWaiting}, // the water is off again
		{29, StepWaiting, StepWaiting, StepWaiting},
		{30, StepRunning, StepRunning, StepWaiting},
		{33, StepRunning, StepIsDone, StepWaiting}, // a second tick of the water moved nothing
		{39, StepRunning, StepIsDone, StepWaiting},
		{40, StepIsDone, StepIsDone, StepRunning},
		{61, StepIsDone, StepWaiting, StepRunning}, // the rinse was ticked by hand
	} {
		got := states(Progress(sheet, s, at(tt.minute)))
		if got["rinse"] != tt.rinse || got["dry"] != tt.dry || got["warm"] != tt.warm {
			t.Errorf("at %d min: rinse %s, dry %s, warm %s; want %s, %s, %s", tt.minute, got["rinse"], got["dry"], got["warm"], tt.rinse, tt.dry, tt.warm)
		}
	}
}

// Over random sheets and ticks: what is done by the clock or runs has nothing open
// before it and began after all of that was done; and when a step before it is
// opened again, it is open too, however long one waits.
func TestClockAndOpenSteps(t *testing.T) {
	byClock, reopened := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		sheet := RunSheet{Phase: SetUp}
		for i := range rapid.IntRange(2, 7).Draw(rt, "steps") {
			step := Step{
				ID: fmt.Sprintf("s%d", i), Words: "w", Lane: rapid.SampledFrom([]string{LaneHands, LaneMachine}).Draw(rt, "lane"),
				Tick: rapid.SampledFrom([]string{TickDone, TickTimer, TickTimer}).Draw(rt, "tick"), Usual: 4,
			}
			if step.Tick == TickTimer {
				step.Timer = unit.Minutes(rapid.IntRange(1, 15).Draw(rt, "timer"))
			}
			for j := range i {
				if rapid.IntRange(0, 2).Draw(rt, "after") == 0 {
					step.After = append(step.After, fmt.Sprintf("s%d", j))
				}
			}
			sheet.Steps = append(sheet.Steps, step)
		}
		s, minute := &Session{}, 0
		for range rapid.IntRange(0, 14).Draw(rt, "ticks") {
			minute += rapid.IntRange(0, 9).Draw(rt, "wait")
			step := rapid.SampledFrom(sheet.Steps).Draw(rt, "step")
			tick(s, evening.Add(mins(minute)), step.ID, rapid.SampledFrom([]string{"started", "done", "undone", "not_done"}).Draw(rt, "state"))
		}
		now := evening.Add(mins(minute + rapid.IntRange(0, 20).Draw(rt, "now")))
		p := Progress(sheet, s, now)
		marked := marksOf(sheet, s, redoing{}, now)
		for _, st := range p.Steps {
			hand := marked[st.ID].state != ""
			if hand || st.State != StepIsDone && st.State != StepRunning {
				continue
			}
			if st.State == StepIsDone {
				byClock++
				if st.Tick != TickTimer || st.Finished.Sub(st.Began) != time.Duration(st.Timer)*time.Minute {
					rt.Fatalf("%s, a %s of %v, began %v and ended %v by itself", st.ID, st.Tick, st.Timer, st.Began, st.Finished)
				}
			}
			for _, a := range st.After {
				before := p.Steps[sheet.index(a)]
				if before.State != StepIsDone && before.State != StepNotDone {
					rt.Fatalf("%s is %s while %s is %s", st.ID, st.State, a, before.State)
				}
				if before.Finished.After(st.Began) {
					rt.Fatalf("%s began at %v, before %s was done at %v", st.ID, st.Began, a, before.Finished)
				}
				if before.State == StepNotDone || marked[a].state == "" {
					continue // by the clock itself: it cannot be taken back
				}
				again := &Session{Log: slices.Clone(s.Log)}
				tick(again, now, a, "undone")
				for _, later := range []time.Duration{0, time.Hour, 100 * time.Hour} {
					then := Progress(sheet, again, now.Add(later))
					open, self := then.Steps[sheet.index(a)], then.Steps[sheet.index(st.ID)]
					if open.State == StepIsDone {
						continue // a timer, or a step of the machine, that runs again
					}
					reopened++
					if self.State != StepWaiting {
						rt.Fatalf("%v after %s was opened again, %s is %s", later, a, st.ID, self.State)
					}
				}
			}
		}
	})
	if byClock == 0 || reopened == 0 {
		t.Errorf("only %d steps done by the clock and %d opened again before one were looked at", byClock, reopened)
	}
}
