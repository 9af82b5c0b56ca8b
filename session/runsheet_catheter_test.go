package session

import (
	"slices"
	"strings"
	"testing"
)

// waitsFor reports whether a step waits for another, by whatever way.
func waitsFor(r RunSheet, step, other string) bool {
	st, _ := r.Step(step)
	return slices.ContainsFunc(st.After, func(a string) bool { return a == other || waitsFor(r, a, other) })
}

// The steps of a catheter: none says needle, none is of a hold or of sharps, all the
// others stay under the ids they had; a cap comes off only after both clamps were shut,
// nothing is joined before the old lock was drawn and the start line looked at, and a
// line comes off only after the clamps (H-141).
func TestStepsOfACatheter(t *testing.T) {
	rx := &Prescription{Access: "catheter"}
	on, off := DefaultSheet(SetUp, rx, Machine{}), DefaultSheet(TakeOff, rx, Machine{})
	gone := map[string]bool{"arm": true, "needles": true, "hold": true, "sharps": true}
	for _, pair := range [][2]RunSheet{{DefaultSetUp(), on}, {DefaultTakeOff(), off}} {
		was, is := pair[0], pair[1]
		if err := is.Validate(); err != nil {
			t.Fatal(err)
		}
		if is.Marked != ReplaceMark {
			t.Errorf("marked %q", is.Marked)
		}
		for _, st := range was.Steps {
			if _, there := is.Step(st.ID); there == gone[st.ID] {
				t.Errorf("%s is there: %v", st.ID, there)
			}
		}
		for _, st := range is.Steps {
			said := strings.ToLower(st.Words + st.Caution + st.Stop)
			for _, word := range []string{"needle", "thrill", "sharps", "press each"} {
				if strings.Contains(said, word) {
					t.Errorf("%s says %q: %s", st.ID, word, said)
				}
			}
			if st.Entry == "needling" || st.Entry == "holding" {
				t.Errorf("%s is ticked by %s", st.ID, st.Entry)
			}
		}
	}
	for _, order := range [][2]string{
		{ClampStep, MaskStep}, {CapsOffStep, ClampStep}, {DrawnStep, CapsOffStep}, {"start_line", DrawnStep}, {"start_line", "lock_read"},
		{JoinedStep, "start_line"}, {"connect", JoinedStep}, {ClampStep, "access"}, {ClampStep, "chlorine"}, {ClampStep, "conductivity"},
	} {
		if !waitsFor(on, order[0], order[1]) {
			t.Errorf("%s does not wait for %s", order[0], order[1])
		}
	}
	for _, order := range [][2]string{
		{ClampStep, "wash_back"}, {LinesOffStep, ClampStep}, {LumenStep, LinesOffStep}, {LockStep, LumenStep}, {CapsStep, LockStep}, {ShutStep, CapsStep}, {"close", ShutStep},
	} {
		if !waitsFor(off, order[0], order[1]) {
			t.Errorf("%s does not wait for %s", order[0], order[1])
		}
	}
	for _, part := range []string{SetUp, TakeOff} {
		for _, other := range []*Prescription{nil, {}, {Access: "fistula"}, {Access: "graft"}} {
			if !DefaultSheet(part, other, Machine{}).IsGeneral() {
				t.Errorf("%s of %+v is not the ordinary sheet", part, other)
			}
		}
		if DefaultSheet(part, rx, Machine{}).IsGeneral() {
			t.Errorf("%s of a catheter is the ordinary sheet", part)
		}
	}
}

// The steps of a night are said without needles too, and only the program's own words
// are changed.
func TestNightOfACatheter(t *testing.T) {
	rx := &Prescription{Access: "catheter"}
	own := DefaultSheet(SetUp, rx, Machine{})
	own.Steps = append(own.Steps, Step{ID: NightArm, Words: "My needles are in the drawer", Lane: LaneHands, Tick: TickDone})
	for _, st := range WithNightFor(own, rx).Steps {
		if st.ID != NightArm && strings.Contains(strings.ToLower(st.Words), "needle") {
			t.Errorf("%s: %s", st.ID, st.Words)
		}
		if st.ID == NightArm && st.Words != "My needles are in the drawer" {
			t.Errorf("the household's own words were changed: %s", st.Words)
		}
	}
	if tape, _ := WithNightFor(DefaultSetUp(), nil).Step(NightTape); !strings.Contains(tape.Words, "Needles") {
		t.Errorf("of needles: %s", tape.Words)
	}
}

// The step of locking is ticked by a lock that was written once the treatment had
// ended, not by the one read before the start.
func TestLockStepIsTickedAtTheEnd(t *testing.T) {
	s, end := offCatheter(t)
	off := DefaultSheet(TakeOff, s.Rx, Machine{})
	if got := states(Progress(off, s, end.Add(mins(10)))); got[LockStep] == StepIsDone {
		t.Error("done by the lock that was read before the start")
	}
	put(s, end.Add(mins(12)), inHand(t))
	if got := states(Progress(off, s, end.Add(mins(13)))); got[LockStep] != StepIsDone {
		t.Errorf("the lock that was given ticks nothing: %s", got[LockStep])
	}
	for _, st := range Progress(off, s, end.Add(mins(13))).Steps {
		if st.ID == LockStep && !st.Finished.Equal(end.Add(mins(12))) {
			t.Errorf("finished at %s, when the lock was given is %s", st.Finished, end.Add(mins(12)))
		}
	}
	on := DefaultSheet(SetUp, s.Rx, Machine{})
	if got := states(Progress(on, s, end)); got["lock_read"] != StepIsDone || got[DrawnStep] != StepIsDone {
		t.Errorf("setting up: %s, %s", got["lock_read"], got[DrawnStep])
	}
	edit(s, func(b *LockDrawn) { b.Venous = CouldNot })
	if got := states(Progress(on, s, end)); got[DrawnStep] == StepIsDone {
		t.Error("a lumen that could not be drawn ticks the step")
	}
}
