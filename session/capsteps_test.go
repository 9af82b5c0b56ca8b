package session

import (
	"slices"
	"strings"
	"testing"
)

// Masks and clamps that were not ticked are named, each until it is; a tick that was taken
// back, of another part or after the moment counts for nothing (H-141).
func TestStepsBeforeACapComesOff(t *testing.T) {
	both := []string{MaskStep, ClampStep}
	tick := func(phase, step, state string) *StepDone { return &StepDone{Phase: phase, Step: step, State: state} }
	for _, tt := range []struct {
		name  string
		sheet []string
		log   []any
		want  CheckState
		words string
	}{
		{"none ticked", both, nil, Look, "Not ticked: masks, clamps shut before a cap comes off."},
		{"masks ticked", both, []any{tick(SetUp, MaskStep, StepIsDone)}, Look, "Not ticked: clamps shut before a cap comes off."},
		{"both ticked", both, []any{tick(SetUp, MaskStep, StepIsDone), tick(SetUp, ClampStep, StepIsDone)}, Ready, "as ordered."},
		{"taken back", both, []any{tick(SetUp, MaskStep, StepIsDone), tick(SetUp, ClampStep, StepIsDone), tick(SetUp, MaskStep, "undone")}, Look, "Not ticked: masks."},
		{"left out", both, []any{tick(SetUp, MaskStep, StepNotDone), tick(SetUp, ClampStep, StepIsDone)}, Look, "Not ticked: masks."},
		{"of coming off", both, []any{tick(SetUp, MaskStep, StepIsDone), tick(TakeOff, ClampStep, StepIsDone)}, Look, "Not ticked: clamps"},
		{"a sheet of their own", nil, nil, Ready, "as ordered."},
		{"a sheet with one of them", []string{ClampStep}, nil, Look, "Not ticked: clamps shut before a cap comes off."},
	} {
		s, h := byCatheter(t), known()
		put(s, evening.Add(mins(28)), inHand(t))
		for _, body := range tt.log {
			put(s, evening.Add(mins(30)), body)
		}
		put(s, evening.Add(mins(50)), tick(SetUp, MaskStep, StepIsDone)) // after the moment
		put(s, evening.Add(mins(50)), tick(SetUp, ClampStep, StepIsDone))
		h.Shut = tt.sheet
		checks := StartLine(s, h, evening.Add(mins(40)))
		if c := check(t, checks, CheckLock); c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		}
		if held := HoldingUp(checks); slices.ContainsFunc(held, func(c Check) bool { return c.ID == CheckLock }) {
			t.Errorf("%s: it holds the start up", tt.name)
		}
	}
	s, h := byCatheter(t), known() // who never wrote of cuff or old lock starts as before
	put(s, evening.Add(mins(28)), inHand(t))
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { _, is := e.Body.(*LockDrawn); return is })
	edit(s, func(b *AccessCheck) { b.Cuff, b.Length = "", "" })
	h.Shut = both
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckLock); c.State != Ready {
		t.Errorf("of before: %s %q", c.State, c.Words)
	}
	rx := &Prescription{Access: "catheter"}
	if got := CapSteps(DefaultSheet(SetUp, rx, Machine{})); !slices.Equal(got, both) {
		t.Errorf("the program’s own sheet: %q", got)
	}
	if got := CapSteps(DefaultSetUp()); got != nil {
		t.Errorf("of needles: %q", got)
	}
}
