package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// What stopped of a batch stays in sight when another one is named in its place, once,
// and is nothing while it is the one in use, or where nothing of it stopped.
func TestAnotherBatchLeavesATrace(t *testing.T) {
	for _, tt := range []struct {
		name, check string
		first       func(*Batch)
		words       string // of what stays; empty: nothing
	}{
		{"past its use-by", CheckBath, func(b *Batch) { b.Within = ref(unit.Hours(2400)) }, "past its use-by"},
		{"chlorine", CheckChlorine, func(b *Batch) { b.Log = nil; b.tested(-45*time.Hour, total(150, atMachine)) }, "0.15"},
		{"out of its range", CheckConduct, func(b *Batch) { b.CondHigh = ref(unit.Conductivity(1370)) }, "outside the batch’s"},
		{"nothing was wrong", CheckBath, func(*Batch) {}, ""},
	} {
		s := ready(t)
		h := known()
		s.Machine.Kind, h.FluidOn.Kind = "batch", "batch"
		from(aBatch(tt.first))(s, &h)
		at := evening.Add(mins(40))
		before := check(t, StartLine(s, h, at), tt.check)
		if tt.words != "" && (before.State != StopHere || strings.Contains(before.Words, "was named until")) {
			t.Errorf("%s: before it %s %q", tt.name, before.State, before.Words)
		}
		h.Batches = append(h.Batches, aBatch(func(b *Batch) { b.ID, b.Name = "batch-2", "8" }))
		put(s, evening.Add(mins(20)), &BatchUsed{Batch: "batch-2"})
		c := check(t, StartLine(s, h, at), tt.check)
		switch {
		case tt.words == "" && (c.State != Ready || slices.Contains(c.Codes, "batch_before")):
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		case tt.words != "" && (c.State != Look || !strings.Contains(c.Words, tt.words) || strings.Count(c.Words, "was named until ") != 1):
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		}
		// Named again, it stops as it did.
		put(s, evening.Add(mins(25)), &BatchUsed{Batch: "batch-1"})
		if c := check(t, StartLine(s, h, at), tt.check); c.State != before.State || slices.Contains(c.Codes, "batch_before") {
			t.Errorf("%s, named again: %s %q", tt.name, c.State, c.Words)
		}
	}
}
