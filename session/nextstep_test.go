package session

import "testing"

// The next step is one that nothing went on without: water and machine were on, ticked or
// not, once the self-test was written.
func TestNextStep(t *testing.T) {
	at := evening.Add(mins(20))
	for _, tt := range []struct {
		name string
		log  []any
		want string
	}{
		{"nothing yet", nil, "fit"},
		{"well", []any{&Fitness{}}, "water_on"},
		{"hands washed", []any{&Fitness{}, &StepDone{Phase: SetUp, Step: "hands_clean", State: StepIsDone}}, "water_on"},
		{"self-test passed, water not ticked", []any{&Fitness{}, &StepDone{Phase: SetUp, Step: "hands_clean", State: StepIsDone}, &SelfTest{Passed: true, Tries: 1}}, "lines"},
		{"lines on, hands not ticked", []any{&Fitness{}, &SelfTest{Passed: true, Tries: 1}, &Supply{Item: "lines", Lot: "l1", Expiry: date(t, "2027-01-31")}}, "vitals"},
	} {
		s := &Session{}
		put(s, evening, &Opened{Place: "home", Source: "live"})
		for _, body := range tt.log {
			put(s, evening.Add(mins(5)), body)
		}
		st, ok := Progress(DefaultSetUp(), s, at).Next(LaneHands)
		if !ok || st.ID != tt.want {
			t.Errorf("%s: %q %v, want %q", tt.name, st.ID, ok, tt.want)
		}
	}
	bare := SheetState{Steps: []StepState{{Step: Step{ID: "all", Lane: LaneHands}, State: StepIsDone}}}
	if st, ok := bare.Next(LaneHands); ok {
		t.Errorf("all of it is done: %+v", st)
	}
}
