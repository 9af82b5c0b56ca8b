package session

import (
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// After a look at the batch, or at an answer of the start that was written otherwise, the
// next reading is due 15 minutes after the last one, once: the next reading answers it.
func TestNextCheckAfterALookOfTheHistory(t *testing.T) {
	batch := func(set ...func(*Batch)) func(*Session, *History) {
		return func(s *Session, h *History) {
			s.Machine.Kind = "batch"
			from(aBatch(set...))(s, h)
		}
	}
	struck := func(s *Session, h *History) {
		batch()(s, h)
		b := h.Batches[0]
		b.Struck = &Strike{At: on(40), By: "Ada", Reason: "wrong concentrate"}
		h.Batches, h.StruckBatches = nil, []Batch{b}
	}
	failed := batch(func(b *Batch) { b.tested(on(40).Sub(evening), total(150, atMachine)) })
	for _, tt := range []struct {
		name string
		set  func(*Session, *History)
		code string // of the look; empty for none
	}{
		{"nothing", batch(), ""},
		{"struck out", struck, "batch_struck"},
		{"ran out", batch(func(b *Batch) { b.At = on(40).Add(-72 * time.Hour) }), "batch_ran_out"},
		{"failed", failed, "batch_failed"},
		{"out of its range", batch(func(b *Batch) { b.tested(on(40).Sub(evening), &FluidCheck{MachineConduct: 1430, MeterConduct: 1430}) }), "batch_range"},
		{"the label written otherwise", func(s *Session, _ *History) {
			rewritten(s, on(40), timeOf[BathLabel](s, on(40), true), func(b *BathLabel) { b.K = 0 })
		}, "start_fluid_stops"},
	} {
		s, h := connected(t), known()
		tt.set(s, &h)
		put(s, on(30), &Reading{Systolic: mm(130)})
		due := func(now int) CheckDue { c, _ := NextCheckWith(s, h, on(now)); return c }
		usual, _ := NextCheck(s, on(41))
		if c := due(39); c != usual {
			t.Errorf("%s: before it %+v, want %+v", tt.name, c, usual)
		}
		c, run := due(41), Run{Began: on(0)}
		run.DueWith(s, h, on(41))
		if look := c.Why == DueLook && c.Every == 15 && c.At.Equal(on(45)); look != (tt.code != "") || tt.code == "" && c != usual {
			t.Errorf("%s: due %+v", tt.name, c)
		}
		if !run.NextCheck.Equal(c.At) || run.CheckWhy != c.Why {
			t.Errorf("%s: the run has %+v", tt.name, run)
		}
		found := false
		for _, r := range RemarksWith(s, h, on(41)) {
			found = found || r.Code == tt.code && r.At.Equal(on(40))
		}
		if found != (tt.code != "") {
			t.Errorf("%s: the look is not there", tt.name)
		}
		put(s, on(44), &Reading{Systolic: mm(130)})
		if c := due(46); c.Why != DueInterval || !c.At.Equal(on(44).Add(lasting(unit.Minutes(usual.Every)))) {
			t.Errorf("%s: once, then %+v", tt.name, c)
		}
	}
	s, h := connected(t), known()
	failed(s, &h)
	put(s, on(35), &Asleep{For: 120})
	put(s, on(45), &Reading{Systolic: mm(130)})
	if c, _ := NextCheckWith(s, h, on(46)); c.Why != DueInterval {
		t.Errorf("a look in a sleep by plan ends it at the next reading: %+v", c)
	}
}

// What the household wrote in the clock of the world is said in that of the session.
func TestLooksInTheZoneOfTheSession(t *testing.T) {
	zone := time.FixedZone("east", 3*60*60)
	s, h := connected(t), known()
	s.Machine.Kind = "batch"
	from(aBatch())(s, &h)
	for i := range s.Log {
		s.Log[i].At = s.Log[i].At.In(zone)
	}
	b := h.Batches[0]
	b.Struck = &Strike{At: on(40).UTC(), By: "Ada", Reason: "wrong concentrate"}
	h.StruckBatches = []Batch{b}
	h.Batches[0].tested(on(41).Sub(evening), total(150, atMachine))
	h.Batches[0].Log[len(h.Batches[0].Log)-1].At = on(41).UTC()
	told := toldRemarks(s, h, on(60))
	if len(told) != 2 {
		t.Fatalf("%+v", told)
	}
	for _, r := range told {
		if r.At.Location() != zone {
			t.Errorf("%s in %s", r.Code, r.At.Location())
		}
	}
	if want := clock(on(40).In(zone)); told[0].Code != "batch_struck" || !strings.Contains(told[0].Words, want) {
		t.Errorf("%q, want %s", told[0].Words, want)
	}
}
