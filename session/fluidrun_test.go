package session

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

// What is said of the batch that a treatment runs on: the codes with their minute.
func TestBatchInTheRun(t *testing.T) {
	at := func(m int) time.Duration { return on(m).Sub(evening) }
	second := func(set ...func(*Batch)) Batch {
		b := aBatch(set...)
		b.ID = "batch-2"
		return b
	}
	untested := func(b *Batch) { b.Log = nil }
	usedUp := func(m int) func(*Batch) { // its use-by is so many minutes after connecting
		return func(b *Batch) { b.At = on(m).Add(-72 * time.Hour) }
	}
	late := func(m int, body any) func(*Batch) { // a test of before the start, written so much later
		return func(b *Batch) {
			b.tested(-10*time.Hour, body)
			b.Log[len(b.Log)-1].Written = on(m)
		}
	}
	struck := func(m int) func(*Session, *History) {
		return func(_ *Session, h *History) {
			b := h.Batches[0]
			b.Struck = &Strike{At: on(m), By: "Ada", Reason: "wrong concentrate"}
			h.Batches, h.StruckBatches = h.Batches[1:], []Batch{b}
		}
	}
	then := func(m int, body any) func(*Session, *History) {
		return func(s *Session, _ *History) { put(s, on(m), body) }
	}
	change := func(m int, to Batch) func(*Session, *History) {
		return func(s *Session, h *History) {
			h.Batches = append(h.Batches, to)
			put(s, on(m), &BatchUsed{Batch: to.ID})
		}
	}
	both := func(list ...func(*Session, *History)) func(*Session, *History) {
		return func(s *Session, h *History) {
			for _, f := range list {
				f(s, h)
			}
		}
	}
	check := func(machine, meter int) *FluidCheck {
		return &FluidCheck{MachineConduct: unit.Conductivity(machine), MeterConduct: unit.Conductivity(meter)}
	}
	for _, row := range []struct {
		name string
		b    Batch
		then func(*Session, *History)
		said []string
	}{
		{"all well", aBatch(), nil, nil},
		{"struck out", aBatch(), struck(50), []string{"batch_struck 50"}},
		{"struck out before the start", aBatch(), struck(-1), nil},
		{"struck out after now", aBatch(), struck(200), nil},
		{"use-by passes", aBatch(usedUp(90)), nil, []string{"batch_ran_out 90"}},
		{"use-by at the last minute", aBatch(usedUp(120)), nil, []string{"batch_ran_out 120"}},
		{"use-by after now", aBatch(usedUp(121)), nil, nil},
		{"use-by before the start", aBatch(usedUp(-1)), nil, nil},
		{"use-by not written", aBatch(func(b *Batch) { b.Within = nil }), nil, nil},
		{"its use-by passes once another one runs", aBatch(usedUp(90)), change(80, second()), nil},
		{"a test that failed since", aBatch(func(b *Batch) { b.tested(at(30), total(101, atMachine)) }), nil, []string{"batch_failed 30"}},
		{"a test since, at the limit", aBatch(func(b *Batch) { b.tested(at(30), total(100, atMachine)) }), nil, nil},
		{"one that failed before, written since", aBatch(late(40, total(150, atMachine))), nil, []string{"batch_failed 40"}},
		{"one that failed, written before", aBatch(late(-5, total(150, atMachine))), nil, nil},
		{"out of its range since", aBatch(func(b *Batch) { b.tested(at(30), check(1421, 1400)) }), nil, []string{"batch_range 30"}},
		{"fluid in the run: at both ends", aBatch(), then(30, check(1360, 1420)), nil},
		{"fluid in the run: machine under", aBatch(), then(30, check(1359, 1390)), []string{"batch_range 30"}},
		{"fluid in the run: meter over", aBatch(), then(30, check(1390, 1421)), []string{"batch_range 30"}},
		{"fluid in the run: one instrument", aBatch(), then(30, check(0, 1400)), nil},
		{"fluid in the run: each time", aBatch(), both(then(30, check(1390, 1421)), then(60, check(1390, 1421))), []string{"batch_range 30", "batch_range 60"}},
		{"no range", aBatch(func(b *Batch) { b.CondLow, b.CondHigh = nil, nil }), then(30, check(1359, 1421)), nil},
		{"a reading out, and still out, and again", aBatch(), both(then(30, &Reading{Conduct: ref(unit.Conductivity(1421))}), then(60, &Reading{Conduct: ref(unit.Conductivity(1422))}),
			then(70, &Reading{Conduct: ref(unit.Conductivity(1400))}), then(80, &Reading{Conduct: ref(unit.Conductivity(1350))})), []string{"batch_range 30", "batch_range 80"}},
		{"a reading at the minute of the change is of the next one", aBatch(), both(change(60, second(func(b *Batch) { b.CondLow, b.CondHigh = nil, nil })),
			then(60, &Reading{Conduct: ref(unit.Conductivity(1430))})), nil},
		{"the same one named again, its conductivity out at that minute", aBatch(), both(then(60, &BatchUsed{Batch: "batch-1"}), then(60, check(1430, 1400))), []string{"batch_wrong 60", "batch_range 60"}},
		{"another one, well", aBatch(), change(60, second()), nil},
		{"another one, not tested", aBatch(), change(60, second(untested)), []string{"batch_wrong 60"}},
		{"another one, failed", aBatch(), change(60, second(func(b *Batch) { b.tested(-20*time.Hour, total(150, atMachine)) })), []string{"batch_wrong 60"}},
		{"another one, past its use-by", aBatch(), change(60, second(usedUp(59))), []string{"batch_wrong 60"}},
		{"another one, no use-by", aBatch(), change(60, second(func(b *Batch) { b.Within = nil })), []string{"batch_wrong 60"}},
		{"another one, another potassium", aBatch(), change(60, second(func(b *Batch) { b.K = ref(unit.Molar(300)) })), []string{"batch_wrong 60"}},
		{"another one, out of its range", aBatch(), change(60, second(conductOf(1430, 1400))), []string{"batch_wrong 60"}},
		{"another one, conductivity not measured", aBatch(), change(60, second(func(b *Batch) { b.Log = b.Log[:1] })), []string{"batch_open 60"}},
		{"another one, its use-by passes", aBatch(), change(60, second(usedUp(100))), []string{"batch_ran_out 100"}},
	} {
		s, h := connected(t), known()
		s.Machine.Kind = "batch"
		from(row.b)(s, &h)
		if row.then != nil {
			row.then(s, &h)
		}
		var said []string
		for _, r := range FluidRemarks(s, h, on(120)) {
			said = append(said, r.Code+" "+unit.Minutes(r.At.Sub(on(0)).Minutes()).String())
			if note := r.Code == "batch_open"; r.Words == "" || (r.Level == LevelNote) != note {
				t.Errorf("%s: %+v", row.name, r)
			}
		}
		if !slices.Equal(said, row.said) {
			t.Errorf("%s: said %v, want %v", row.name, said, row.said)
		}
		all := RemarksWith(s, h, on(120))
		if len(all) != len(said)+len(Remarks(s, on(120))) || !slices.IsSortedFunc(all, func(a, b Remark) int { return a.At.Compare(b.At) }) {
			t.Errorf("%s: %d remarks in all", row.name, len(all))
		}
		for _, other := range []string{"single_pass", "bags"} {
			if s.Machine.Kind = other; len(FluidRemarks(s, h, on(120))) > 0 {
				t.Errorf("%s on %s: said", row.name, other)
			}
		}
		s.Machine.Kind = "batch"
		if o, _ := First[Opened](s); o != nil {
			if o.RemovalOnly = true; len(FluidRemarks(s, h, on(120))) > 0 {
				t.Errorf("%s, fluid only removed: said", row.name)
			}
		}
	}
}

// What is said of a batch stands until somebody was reached or another batch is named,
// and no longer than the treatment.
func TestWhatStandsOfABatch(t *testing.T) {
	began := func() (*Session, History) {
		s, h := connected(t), known()
		s.Machine.Kind = "batch"
		from(aBatch(func(b *Batch) { b.At = on(60).Add(-72 * time.Hour) }))(s, &h)
		return s, h
	}
	for _, row := range []struct {
		name string
		at   int
		body any
		want int
	}{
		{"nothing", 0, nil, 1},
		{"a reading", 70, &Reading{Systolic: mm(130)}, 1},
		{"rang before", 50, &Rang{Whom: "Nurse Berg", Said: "go on"}, 1},
		{"nobody reached", 70, &Rang{Whom: "the unit", Said: "nobody reached"}, 1},
		{"rang", 70, &Rang{Whom: "Nurse Berg", Said: "go on for an hour"}, 0},
		{"another batch", 70, &BatchUsed{Batch: "batch-2"}, 0},
	} {
		s, h := began()
		if row.body != nil {
			put(s, on(row.at), row.body)
		}
		if list := StandingFluid(s, h, on(90)); len(list) != row.want {
			t.Errorf("%s: %+v", row.name, list)
		}
	}
	s, h := began()
	put(s, on(50), &CameOff{Returned: "all"})
	if list := FluidRemarks(s, h, on(90)); len(list) > 0 {
		t.Errorf("after the end: %+v", list)
	}
}

// The machine's figure of a check in the run counts as the meter's does, and one that
// was not read is no figure.
func TestFluidCheckInTheRun(t *testing.T) {
	for _, row := range []struct {
		name           string
		machine, meter int
		want           int
	}{
		{"both well", 1400, 1400, 0}, {"meter not read", 1400, 0, 0}, {"machine not read", 0, 1400, 0},
		{"meter off", 1400, 1450, 1}, {"machine off", 1450, 1400, 1}, {"machine off, meter not read", 1450, 0, 1}, {"both off, alike", 1450, 1450, 1},
	} {
		s := fallen(t)
		put(s, on(30), &FluidCheck{MachineConduct: unit.Conductivity(row.machine), MeterConduct: unit.Conductivity(row.meter)})
		n := 0
		for _, r := range Remarks(s, on(31)) {
			if r.Code == "conductivity_out" {
				n++
			}
		}
		if n != row.want {
			t.Errorf("%s: said %d times, want %d", row.name, n, row.want)
		}
	}
}
