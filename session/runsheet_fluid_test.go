package session

import (
	"slices"
	"testing"
	"time"
)

func stepIDs(r RunSheet) (ids []string) {
	for _, s := range r.Steps {
		ids = append(ids, s.ID)
	}
	return ids
}

// The general sheet is fitted to the fluid and to nothing else; no step waits for one
// that is not there.
func TestFitFluid(t *testing.T) {
	general := DefaultSetUp()
	own := DefaultSetUp()
	own.Marked = "our unit's steps"
	for _, tt := range []struct {
		kind  string
		sheet RunSheet
		gone  []string
		new   []string
	}{
		{"single_pass", general, nil, nil},
		{"low_volume", general, nil, nil},
		{"batch", general, []string{"water_on", "water_runs"}, []string{BatchStep}},
		{"bags", general, []string{"water_on", "water_runs", "chlorine", "conductivity"}, nil},
		{"batch", own, nil, nil},
		{"bags", own, nil, nil},
		{"bags", DefaultTakeOff(), nil, nil},
	} {
		was := stepIDs(tt.sheet)
		got := FitFluid(tt.sheet, Machine{Kind: tt.kind})
		if err := got.Validate(); err != nil {
			t.Errorf("%s: %v", tt.kind, err)
		}
		want := slices.DeleteFunc(slices.Clone(was), func(id string) bool { return slices.Contains(tt.gone, id) })
		have := slices.DeleteFunc(stepIDs(got), func(id string) bool { return slices.Contains(tt.new, id) })
		if !slices.Equal(have, want) || len(got.Steps) != len(want)+len(tt.new) {
			t.Errorf("%s: %v, want %v and %v", tt.kind, stepIDs(got), want, tt.new)
		}
		if !slices.Equal(stepIDs(tt.sheet), was) {
			t.Errorf("%s: the sheet that was given is changed", tt.kind)
		}
	}
	if again := DefaultSetUp(); !slices.Equal(stepIDs(general), stepIDs(again)) {
		t.Error("the general sheet is changed")
	}
}

// The prime waits for no test of water where the fluid is in bags, on a sheet of the
// household's own too.
func TestPrimeWithBags(t *testing.T) {
	for kind, waits := range map[string]bool{"single_pass": true, "batch": true, "low_volume": true, "bags": false} {
		last := DefaultSetUp().primesLast(Machine{Kind: kind})
		if is := slices.Contains(last.waits(PrimeStep), "chlorine"); is != waits {
			t.Errorf("%s: waits %v", kind, is)
		}
	}
}

// What was tested of the batch ticks the steps of a session from it, until the water
// failed; without the batch they are open.
func TestBatchTicksItsSteps(t *testing.T) {
	sheet := FitFluid(DefaultSetUp(), Machine{Kind: "batch"})
	state := func(h History, used bool, id string) string {
		s := newSession(t)
		s.Machine.Kind = "batch"
		put(s, evening, &Opened{Place: "home", Source: "live"})
		if used {
			put(s, evening.Add(mins(2)), &BatchUsed{Batch: "batch-1"})
		}
		for _, st := range ProgressWith(sheet, s, h, evening.Add(mins(5))).Steps {
			if st.ID == id {
				return st.State
			}
		}
		return ""
	}
	failed := aBatch(func(b *Batch) { b.Log = nil; b.tested(-45*time.Hour, total(150, atMachine)) })
	for _, tt := range []struct {
		name  string
		h     History
		used  bool
		step  string
		state string
	}{
		{"named", History{Batches: []Batch{aBatch()}}, true, BatchStep, StepIsDone},
		{"tested", History{Batches: []Batch{aBatch()}}, true, "chlorine", StepIsDone},
		{"its conductivity", History{Batches: []Batch{aBatch()}}, true, "conductivity", StepIsDone},
		{"its label", History{Batches: []Batch{aBatch()}}, true, "bath", StepIsDone},
		{"cleaned meanwhile", History{Batches: []Batch{aBatch()}, MachineCare: MachineCare{Meanwhile: []Cycle{{Disinfection: Disinfection{Programme: "heat", Result: "passed"}, At: evening.Add(mins(3))}}}}, true, "conductivity", StepIsDone},
		{"not named", History{Batches: []Batch{aBatch()}}, false, "chlorine", StepWaiting},
		{"failed", History{Batches: []Batch{failed}}, true, "chlorine", StepReady},
		{"of no record", History{}, true, "chlorine", StepReady},
	} {
		if got := state(tt.h, tt.used, tt.step); got != tt.state {
			t.Errorf("%s: %s is %q, want %q", tt.name, tt.step, got, tt.state)
		}
	}
}
