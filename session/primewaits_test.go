package session

import (
	"slices"
	"testing"

	"ebbline/unit"
)

// The prime fills by the clock only when the machine passed its test, the water is
// good and the bath was read; and a test that failed ticks no step.
func TestPrimeWaitsForTheMachine(t *testing.T) {
	water := func(ugL int, point string) *Chlorine {
		return &Chlorine{Result: unit.Concentration(ugL), ReadsDown: 20, Point: point}
	}
	good, passed, failed, bath := water(20, atMachine), &SelfTest{Passed: true, Tries: 1}, &SelfTest{Tries: 1}, &BathLabel{K: 200, Ca: 150}
	for _, tt := range []struct {
		name            string
		log             []any
		test, wet, fill string // self-test, chlorine, prime
	}{
		{"all well", []any{passed, good, bath}, StepIsDone, StepIsDone, StepIsDone},
		{"self-test failed", []any{failed, good, bath}, StepRunning, StepIsDone, StepWaiting},
		{"failed, then passed", []any{failed, good, bath, passed}, StepIsDone, StepIsDone, StepIsDone},
		{"passed, then failed", []any{passed, good, bath, failed}, StepRunning, StepIsDone, StepWaiting},
		{"self-test missing", []any{good, bath}, StepRunning, StepIsDone, StepWaiting},
		{"chlorine missing", []any{passed, bath}, StepIsDone, StepReady, StepWaiting},
		{"chlorine over", []any{passed, bath, water(150, atMachine)}, StepIsDone, StepReady, StepWaiting},
		{"good, then over", []any{passed, bath, good, water(150, atMachine)}, StepIsDone, StepReady, StepWaiting},
		{"over, one good", []any{passed, bath, water(150, atMachine), good}, StepIsDone, StepReady, StepWaiting},
		{"over, two good", []any{passed, bath, water(150, atMachine), good, good}, StepIsDone, StepIsDone, StepIsDone},
		{"first carbon over", []any{passed, bath, water(150, firstCarbon)}, StepIsDone, StepReady, StepWaiting},
		{"first carbon over, second good", []any{passed, bath, water(150, firstCarbon), water(20, secondCarbon)}, StepIsDone, StepIsDone, StepIsDone},
		{"bath not read", []any{passed, good}, StepIsDone, StepIsDone, StepWaiting},
	} {
		s := newSession(t)
		put(s, evening, &Opened{Place: "home"})
		put(s, evening, &Fitness{})
		for _, id := range []string{"hands_clean", "water_on", "machine_on"} {
			tick(s, evening.Add(mins(1)), id, "done")
		}
		for i, body := range tt.log {
			put(s, evening.Add(mins(12+i)), body)
		}
		put(s, evening.Add(mins(18)), &Supply{Item: "lines", Lot: "l1"})
		got := states(Progress(DefaultSetUp(), s, evening.Add(mins(90))))
		if got["self_test"] != tt.test || got["chlorine"] != tt.wet || got["prime"] != tt.fill {
			t.Errorf("%s: self-test %s, chlorine %s, prime %s; want %s, %s, %s", tt.name, got["self_test"], got["chlorine"], got["prime"], tt.test, tt.wet, tt.fill)
		}
		// By hand it is ticked all the same: who saw it full says so.
		tick(s, evening.Add(mins(80)), PrimeStep, "done")
		if got := states(Progress(DefaultSetUp(), s, evening.Add(mins(90)))); got["prime"] != StepIsDone {
			t.Errorf("%s: ticked by hand, the prime is %s", tt.name, got["prime"])
		}
	}
	// A sheet of the household's own whose water is tested after the prime has no ring.
	own := DefaultSetUp()
	i := own.index("chlorine")
	own.Steps[i].After = append(own.Steps[i].After, PrimeStep)
	if last := own.primesLast(Machine{}); len(last.ring()) > 0 || slices.Contains(last.waits(PrimeStep), "chlorine") || !slices.Contains(last.waits(PrimeStep), "bath") {
		t.Errorf("%v", last.waits(PrimeStep))
	}
	if none := DefaultTakeOff(); len(none.primesLast(Machine{}).Steps) != len(none.Steps) {
		t.Error("a sheet without a prime changed")
	}
}
