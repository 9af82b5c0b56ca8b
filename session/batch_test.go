package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// A batchRow is a session on a machine of one kind: what is written, with which batch,
// and what the three checks of the fluid say.
type batchRow struct {
	name string
	kind string
	set  func(s *Session, h *History)
	want map[string]want // checks that are not named must be ready
}

type want struct {
	state CheckState
	words string
}

// noTests takes the tests of the fluid out of a session that is ready.
func noTests(s *Session, kinds ...string) {
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return slices.Contains(kinds, e.Kind) })
}

// aBatch is one made two days before the evening, tested and with a range, unless a row
// says something else.
func aBatch(set ...func(*Batch)) Batch {
	b := Batch{ID: "batch-1", At: evening.Add(-46 * time.Hour), BatchMade: BatchMade{
		Within: ref(unit.Hours(7200)), CondLow: ref(unit.Conductivity(1360)), CondHigh: ref(unit.Conductivity(1420)),
		K: ref(unit.Molar(200)), Ca: ref(unit.Molar(150)), Lot: "B7", Expiry: unit.DateOf(evening.Add(-24 * time.Hour)),
	}}
	b.tested(-45*time.Hour, &Chlorine{Below: true, Result: 20, ReadsDown: 20, Method: "DPD", Lot: "c1", Expiry: unit.DateOf(evening).Add(-1)})
	b.tested(-45*time.Hour, &FluidCheck{MachineConduct: 1390, MeterConduct: 1400, MeterTemp: ref(unit.Temperature(390))})
	for _, f := range set {
		f(&b)
	}
	return b
}

// rangeOf gives a batch another range.
func rangeOf(low, high int) func(*Batch) {
	return func(b *Batch) { b.CondLow, b.CondHigh = ref(unit.Conductivity(low)), ref(unit.Conductivity(high)) }
}

func (b *Batch) tested(at time.Duration, body any) {
	when := evening.Add(at)
	b.Log = append(b.Log, Event{ID: "out", Kind: kindOf(body), At: when, Written: when, Body: body})
}

// from is a session from a batch with no tests of its own.
func from(b Batch, also ...any) func(*Session, *History) {
	return func(s *Session, h *History) {
		noTests(s, "chlorine", "fluid_check", "bath_label")
		h.Batches = append(h.Batches, b)
		put(s, evening.Add(mins(3)), &BatchUsed{Batch: "batch-1"})
		for i, body := range also {
			put(s, evening.Add(mins(4+i)), body)
		}
	}
}

func total(mgL int, place string) *Chlorine {
	return &Chlorine{Result: unit.Concentration(mgL), ReadsDown: 20, Lot: "c1", Expiry: unit.DateOf(evening.Add(300 * 24 * time.Hour)), Point: place}
}

func without3(s *Session, _ *History) { noTests(s, "chlorine", "fluid_check") }

// What is written, on a machine of each kind.
func TestFluidOfEachKind(t *testing.T) {
	over := func(b *Batch) { b.Log = nil; b.tested(-45*time.Hour, total(150, atMachine)) }
	good := func(n int) func(*Batch) {
		return func(b *Batch) {
			for i := range n {
				b.tested(time.Duration(i-44)*time.Hour, total(20, atMachine))
			}
		}
	}
	rang := func(b *Batch) { b.tested(-30*time.Hour, &Rang{Whom: "Nurse Berg", Said: "two good samples will do"}) }
	notApply := func(s *Session, _ *History) {
		miss[Chlorine](s, "total_chlorine_mg_l", DoesNotApply)
		edit(s, func(b *FluidCheck) { b.MachineConduct, b.MeterConduct = 0, 0 })
		_, e := Last[FluidCheck](s)
		e.Missing = map[string]Missing{"machine_conductivity_ms_cm": DoesNotApply, "meter_conductivity_ms_cm": DoesNotApply}
	}
	seen := func(s *Session) { edit(s, func(b *BathLabel) { b.Seal, b.Clear = Yes, Yes }) }
	none := want{OpenYet, "None is written down"}
	rows := []batchRow{
		// Nothing written of water and conductivity.
		{"nothing", "single_pass", without3, map[string]want{CheckChlorine: {OpenYet, "Not tested"}, CheckConduct: {OpenYet, "Not compared"}}},
		{"nothing", "batch", without3, map[string]want{CheckChlorine: {OpenYet, "Not tested"}, CheckConduct: {OpenYet, "Not compared"}, CheckBath: none}},
		{"nothing", "low_volume", without3, map[string]want{CheckChlorine: {OpenYet, "Not tested"}, CheckConduct: {OpenYet, "Not compared"}}},
		{"nothing", "bags", func(s *Session, h *History) { without3(s, h); seen(s) }, nil},
		// "Does not apply".
		{"does not apply", "single_pass", notApply, map[string]want{CheckChlorine: {StopHere, "does not apply"}, CheckConduct: {StopHere, "does not apply"}}},
		{"does not apply", "batch", notApply, map[string]want{CheckChlorine: {StopHere, "does not apply"}, CheckConduct: {StopHere, "does not apply"}, CheckBath: none}},
		{"does not apply", "low_volume", notApply, map[string]want{CheckChlorine: {StopHere, "does not apply"}, CheckConduct: {StopHere, "does not apply"}}},
		{"does not apply", "bags", func(s *Session, h *History) { notApply(s, h); seen(s) }, nil},
		// All written and well: where it is not said which of the two it is, a household that
		// names no batch goes on as before.
		{"all well", "single_pass", func(*Session, *History) {}, nil},
		{"all well", "batch", func(*Session, *History) {}, map[string]want{CheckBath: none}},
		{"all well, one made later", "batch", func(_ *Session, h *History) {
			h.Batches = []Batch{aBatch(func(b *Batch) { b.At = evening.Add(mins(41)) })}
		}, map[string]want{CheckBath: none}},
		{"all well, one made later", "low_volume", func(_ *Session, h *History) {
			h.Batches = []Batch{aBatch(func(b *Batch) { b.At = evening.Add(mins(41)) })}
		}, nil},
		{"all well", "low_volume", func(*Session, *History) {}, nil},
		{"all well", "bags", func(s *Session, _ *History) { seen(s) }, nil},
		// What is out is said whatever the kind.
		{"chlorine over", "bags", func(s *Session, _ *History) {
			seen(s)
			edit(s, func(b *Chlorine) { b.Below, b.Result = false, 150 })
		}, map[string]want{CheckChlorine: {StopHere, "0.15"}}},
		{"conductivity far off", "bags", func(s *Session, _ *History) {
			seen(s)
			edit(s, func(b *FluidCheck) { b.MachineConduct, b.MeterConduct = 1580, 1580 })
		}, map[string]want{CheckConduct: {StopHere, "15.80"}}},
		{"one of the two, far off", "bags", func(s *Session, _ *History) {
			seen(s)
			edit(s, func(b *FluidCheck) { b.MachineConduct, b.MeterConduct = 1580, 0 })
		}, map[string]want{CheckConduct: {StopHere, "15.80"}}},
		{"one of the two, well", "bags", func(s *Session, _ *History) {
			seen(s)
			edit(s, func(b *FluidCheck) { b.MachineConduct = 0 })
		}, nil},
		{"too warm", "bags", func(s *Session, _ *History) {
			seen(s)
			edit(s, func(b *FluidCheck) { b.MachineTemp = ref(unit.Temperature(390)) })
		}, map[string]want{CheckConduct: {StopHere, "too warm"}}},
		{"pH of a bag", "bags", func(s *Session, _ *History) {
			seen(s)
			edit(s, func(b *FluidCheck) { b.PH = ref(unit.PH(540)) })
		}, nil},

		// The label of a bag.
		{"not looked at", "bags", func(*Session, *History) {}, map[string]want{CheckBath: {OpenYet, "not said"}}},
		{"clear not said", "bags", func(s *Session, _ *History) { edit(s, func(b *BathLabel) { b.Seal = Yes }) }, map[string]want{CheckBath: {OpenYet, "not said"}}},
		{"a leak", "bags", func(s *Session, _ *History) { edit(s, func(b *BathLabel) { b.Seal, b.Clear = No, Yes }) }, map[string]want{CheckBath: {StopHere, "seal"}}},
		{"cloudy", "bags", func(s *Session, _ *History) { edit(s, func(b *BathLabel) { b.Seal, b.Clear = Yes, No }) }, map[string]want{CheckBath: {StopHere, "not clear"}}},
		{"no lot", "bags", func(s *Session, _ *History) {
			edit(s, func(b *BathLabel) { b.Seal, b.Clear, b.Lot = Yes, Yes, "" })
		}, map[string]want{CheckBath: {OpenYet, "Lot of the bag"}}},
		{"expired", "bags", func(s *Session, _ *History) {
			edit(s, func(b *BathLabel) { b.Seal, b.Clear, b.Expiry = Yes, Yes, unit.DateOf(evening).Add(-1) })
		}, map[string]want{CheckBath: {StopHere, "expired"}}},
		{"another potassium", "bags", func(s *Session, _ *History) {
			edit(s, func(b *BathLabel) { b.Seal, b.Clear, b.K = Yes, Yes, 300 })
		}, map[string]want{CheckBath: {StopHere, "Label K 3"}}},
		{"a leak, then a good bag", "bags", func(s *Session, _ *History) {
			edit(s, func(b *BathLabel) { b.Seal, b.Clear = No, Yes })
			b, _ := Last[BathLabel](s)
			put(s, evening.Add(mins(22)), &BathLabel{K: b.K, Ca: b.Ca, Lot: "B9", Expiry: b.Expiry, Seal: Yes, Clear: Yes})
		}, map[string]want{CheckBath: {StopHere, "Bag b1 is not said to be off"}}},
		{"the first bag not looked at, the second good", "bags", func(s *Session, _ *History) {
			b, _ := Last[BathLabel](s)
			put(s, evening.Add(mins(22)), &BathLabel{K: b.K, Ca: b.Ca, Lot: "B9", Expiry: b.Expiry, Seal: Yes, Clear: Yes})
		}, map[string]want{CheckBath: {OpenYet, "not said"}}},
		{"the first lot again, whole", "bags", func(s *Session, _ *History) {
			b, _ := Last[BathLabel](s)
			put(s, evening.Add(mins(22)), &BathLabel{K: b.K, Ca: b.Ca, Lot: b.Lot, Expiry: b.Expiry, Seal: Yes, Clear: Yes})
		}, nil},

		// A batch, tested when it was made.
		{"made and tested", "batch", from(aBatch()), nil},
		{"made and tested, kind not said", "low_volume", from(aBatch()), nil},
		{"not tested", "batch", from(aBatch(func(b *Batch) { b.Log = nil })),
			map[string]want{CheckChlorine: {OpenYet, "not tested"}, CheckConduct: {OpenYet, "Not compared"}}},
		{"tested in this session", "batch", from(aBatch(func(b *Batch) { b.Log = nil }), total(20, atMachine), &FluidCheck{MachineConduct: 1390, MeterConduct: 1395}), nil},
		{"does not apply", "batch", func(s *Session, h *History) {
			from(aBatch(func(b *Batch) { b.Log = nil }), &Chlorine{}, &FluidCheck{MachineConduct: 1390, MeterConduct: 1395})(s, h)
			miss[Chlorine](s, "total_chlorine_mg_l", DoesNotApply)
		}, map[string]want{CheckChlorine: {StopHere, "does not apply"}}},
		{"failed", "batch", from(aBatch(over)), map[string]want{CheckChlorine: {StopHere, "Ring; then two good samples"}, CheckConduct: {OpenYet, ""}}},
		{"failed, one good since", "batch", from(aBatch(over, good(1), conducted)), map[string]want{CheckChlorine: {StopHere, "one good since"}}},
		{"failed, two good since", "batch", from(aBatch(over, good(2), conducted)), map[string]want{CheckChlorine: {StopHere, "Ring your unit first"}}},
		{"failed, two good since, rung in another session", "batch", from(aBatch(over, good(2), conducted, rang)), map[string]want{CheckChlorine: {Look, "You rang Nurse Berg"}}},
		{"failed, two good since, rung now", "batch", from(aBatch(over, good(2), conducted), &Rang{Whom: "Nurse Berg", Said: "go on"}), map[string]want{CheckChlorine: {Look, "You rang Nurse Berg"}}},
		{"rung, not two good", "batch", from(aBatch(over, good(1), conducted, rang)), map[string]want{CheckChlorine: {StopHere, "one good since"}}},
		{"used up as it ends", "batch", from(aBatch(func(b *Batch) { b.At = evening.Add(mins(40+240) - 72*time.Hour) })), nil},
		{"used up a minute before it ends", "batch", from(aBatch(func(b *Batch) { b.At = evening.Add(mins(39+240) - 72*time.Hour) })),
			map[string]want{CheckBath: {Look, "before the planned end"}}},
		{"at the last minute", "batch", from(aBatch(func(b *Batch) { b.At, b.Within = evening.Add(mins(41)-72*time.Hour), ref(unit.Hours(7200)) })),
			map[string]want{CheckBath: {Look, "before the planned end"}}},
		{"past its use-by", "batch", from(aBatch(func(b *Batch) { b.At = evening.Add(mins(40) - 72*time.Hour) })), map[string]want{CheckBath: {StopHere, "past its use-by"}}},
		{"use-by not written", "batch", from(aBatch(func(b *Batch) { b.Within = nil })), map[string]want{CheckBath: {OpenYet, "use-by not written"}}},
		{"conductivity at the low end of its range", "batch", from(aBatch(conductOf(1360, 1380))), nil},
		{"conductivity at the high end of its range", "batch", from(aBatch(conductOf(1400, 1420))), nil},
		{"under its range", "batch", from(aBatch(conductOf(1359, 1380))), map[string]want{CheckConduct: {StopHere, "outside the batch’s 13.60 to 14.20"}}},
		{"over its range", "batch", from(aBatch(conductOf(1400, 1421))), map[string]want{CheckConduct: {StopHere, "Meter 14.21"}}},
		{"range without the order", "batch", from(aBatch(conductOf(1545, 1550), rangeOf(1500, 1600))), map[string]want{CheckConduct: {Look, "15.00 to 16.00, does not hold the ordered 14.00"}}},
		{"range under the order", "batch", from(aBatch(conductOf(1380, 1390), rangeOf(1360, 1399))), map[string]want{CheckConduct: {Look, "does not hold the ordered 14.00"}}},
		{"range from the order on", "batch", from(aBatch(conductOf(1400, 1410), rangeOf(1400, 1440))), nil},
		{"range up to the order", "batch", from(aBatch(conductOf(1390, 1400), rangeOf(1360, 1400))), nil},
		{"range as wide as can be", "batch", from(aBatch(conductOf(1390, 1400), rangeOf(1300, 1500))), nil},
		{"range too wide", "batch", from(aBatch(conductOf(1390, 1400), rangeOf(1300, 1501))), map[string]want{CheckConduct: {Look, "13.00 to 15.01, is wide"}}},
		{"range too wide, nothing ordered", "batch", func(s *Session, h *History) {
			from(aBatch(conductOf(1390, 1400), rangeOf(1300, 1501)))(s, h)
			s.Rx.SetConduct = nil
		}, map[string]want{CheckConduct: {Look, "is wide"}}},
		{"one apart stops all the same", "batch", from(aBatch(conductOf(1505, 1530), rangeOf(1510, 1600))), map[string]want{CheckConduct: {StopHere, "15.05"}}},
		{"no range: as for tap water", "batch", from(aBatch(conductOf(1359, 1380), func(b *Batch) { b.CondLow, b.CondHigh = nil, nil })), map[string]want{CheckConduct: {Look, "set is 14.00"}}},
		{"machine and meter apart", "batch", from(aBatch(conductOf(1362, 1418))), map[string]want{CheckConduct: {StopHere, "disagree"}}},
		{"one instrument", "batch", from(aBatch(conductOf(1390, 0))), map[string]want{CheckConduct: {OpenYet, "Only one"}}},
		{"under, then within", "batch", from(aBatch(conductOf(1359, 1380), conducted)), map[string]want{CheckConduct: {Look, "13.59"}}},
		{"its label is another potassium", "batch", from(aBatch(func(b *Batch) { b.K = ref(unit.Molar(300)) })), map[string]want{CheckBath: {StopHere, "Label K 3"}}},
		{"made from what was expired that day", "batch", from(aBatch(func(b *Batch) { b.Expiry = unit.DateOf(b.At).Add(-1) })), map[string]want{CheckBath: {StopHere, "expired"}}},
		{"no label on it", "batch", from(aBatch(func(b *Batch) { b.K, b.Ca = nil, nil })), map[string]want{CheckBath: {OpenYet, "Label not read"}}},
		{"a notice when it was made", "batch", from(aBatch(func(b *Batch) { b.Doubted = true })), map[string]want{CheckChlorine: {Look, "a notice is open"}}},
		{"a notice since", "batch", func(s *Session, h *History) { from(aBatch())(s, h); h.Doubted = true }, nil},
		{"the carbon open when it was made", "batch", from(aBatch(func(b *Batch) { b.CarbonOpen = evening.Add(-90 * time.Hour) })), map[string]want{CheckChlorine: {Look, "first carbon"}}},
		{"none named, though there are", "batch", func(_ *Session, h *History) { h.Batches = []Batch{aBatch()} }, map[string]want{CheckBath: {OpenYet, "Not said from which batch"}}},
		{"one struck out since", "batch", func(s *Session, h *History) { from(aBatch())(s, h); h.Batches = nil },
			map[string]want{CheckBath: {OpenYet, "struck out"}, CheckChlorine: {OpenYet, ""}, CheckConduct: {OpenYet, ""}}},
		{"a new one begins with nothing", "batch", func(s *Session, h *History) {
			from(aBatch(), total(20, atMachine))(s, h)
			h.Batches = append(h.Batches, Batch{ID: "batch-2", At: evening.Add(mins(6)), BatchMade: aBatch(func(b *Batch) { b.Expiry = unit.DateOf(evening) }).BatchMade})
			put(s, evening.Add(mins(8)), &BatchUsed{Batch: "batch-2"})
		}, map[string]want{CheckChlorine: {OpenYet, "not tested"}, CheckConduct: {OpenYet, ""}}},
		{"the one that failed is put away", "batch", func(s *Session, h *History) {
			from(aBatch(func(b *Batch) { b.Log = nil }), total(150, atMachine))(s, h)
			b := aBatch()
			b.ID = "batch-2"
			h.Batches = append(h.Batches, b)
			put(s, evening.Add(mins(8)), &BatchUsed{Batch: "batch-2"})
		}, map[string]want{CheckChlorine: {Look, "in a batch that is not used now"}}},
		{"first carbon failed, good behind it, days ago", "batch", from(aBatch(func(b *Batch) {
			b.Log = b.Log[1:]
			b.tested(-45*time.Hour, total(150, firstCarbon))
			b.tested(-44*time.Hour, total(20, secondCarbon))
		})), map[string]want{CheckChlorine: {Look, "First carbon: 0.15"}}},
		{"water worked at since it was tested", "batch", func(s *Session, h *History) {
			from(aBatch(func(b *Batch) { b.Log = b.Log[1:] }), total(20, atMachine))(s, h)
			h.Reworked = []Cycle{{At: evening.Add(mins(20)), Did: "water treatment disinfected"}}
		}, nil},
		{"a bag's machine cleaned since its fluid was measured", "bags", func(s *Session, _ *History) {
			seen(s)
			put(s, evening.Add(mins(33)), &Disinfection{Programme: "heat", Result: "passed"})
		}, map[string]want{CheckBath: {OpenYet, ""}}},
		{"over, then well and rung about, long ago", "bags", func(s *Session, _ *History) {
			seen(s)
			noTests(s, "chlorine")
			put(s, evening.Add(mins(-90)), total(150, atMachine))
			put(s, evening.Add(mins(-80)), total(20, atMachine))
			put(s, evening.Add(mins(-70)), total(20, atMachine))
			put(s, evening.Add(mins(-60)), &Rang{Whom: "Nurse Berg", Said: "go on"})
		}, map[string]want{CheckChlorine: {Look, "You rang Nurse Berg"}}},
		{"the one that failed in a session broken off is put away", "batch", func(s *Session, h *History) {
			b := aBatch()
			b.ID = "batch-2"
			h.Batches, h.Broken = []Batch{aBatch(over)}, []*Session{brokenOff(t)}
			noTests(s, "chlorine", "fluid_check", "bath_label")
			h.Batches = append(h.Batches, b)
			put(s, evening.Add(mins(8)), &BatchUsed{Batch: "batch-2"})
		}, map[string]want{CheckChlorine: {Look, "0.15"}}},
	}
	for _, row := range rows {
		s, h := ready(t), known()
		s.Machine.Kind = row.kind
		row.set(s, &h)
		checks := StartLine(s, h, evening.Add(mins(40)))
		for _, id := range []string{CheckChlorine, CheckConduct, CheckBath} {
			c := check(t, checks, id)
			w, named := row.want[id]
			if !named {
				w.state = Ready
			}
			if c.State != w.state || !strings.Contains(c.Words, w.words) {
				t.Errorf("%s, %s: %s is %s %q, want %s %q", row.kind, row.name, id, c.State, c.Words, w.state, w.words)
			}
		}
		if row.kind == "bags" && len(row.want) == 0 {
			for _, id := range []string{CheckChlorine, CheckConduct} {
				if c := check(t, checks, id); !strings.Contains(c.Words, "ready bags") || c.Limit != "" {
					t.Errorf("bags, %s: %s says %q against %q", row.name, id, c.Words, c.Limit)
				}
			}
		}
	}
}

func conducted(b *Batch) {
	b.tested(-20*time.Hour, &FluidCheck{MachineConduct: 1390, MeterConduct: 1395})
}

func conductOf(machine, meter int) func(*Batch) {
	return func(b *Batch) {
		b.Log = b.Log[:1]
		b.tested(-44*time.Hour, &FluidCheck{MachineConduct: unit.Conductivity(machine), MeterConduct: unit.Conductivity(meter)})
	}
}

// brokenOff is a session from the first batch that failed its test and was never treated.
func brokenOff(t *testing.T) *Session {
	s := newSession(t)
	s.ID, s.Machine.Kind = "broken", "batch"
	put(s, evening.Add(-3*time.Hour), &Opened{Place: "home", Source: "live"})
	put(s, evening.Add(-170*time.Minute), &BatchUsed{Batch: "batch-1"})
	put(s, evening.Add(-160*time.Minute), total(150, atMachine))
	return s
}

// What failed in a session that was broken off, of the batch that is used now, is said
// once: with the batch.
func TestBrokenOffOnTheSameBatch(t *testing.T) {
	s, h := ready(t), known()
	s.Machine.Kind = "batch"
	from(aBatch(func(b *Batch) {
		b.Log = b.Log[1:]
		b.tested(-160*time.Minute, total(150, atMachine))
	}))(s, &h)
	h.Broken = []*Session{brokenOff(t)}
	c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckChlorine)
	if c.State != StopHere || strings.Count(c.Words, "0.15") != 1 {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// The concentrate of a batch was opened when it was made.
func TestOpeningsFromABatch(t *testing.T) {
	for _, named := range []bool{true, false} {
		s := newSession(t)
		s.Rx = byDays("mon", "wed", "fri")
		s.Machine.Kind = "batch"
		if named {
			put(s, evening.Add(mins(1)), &BatchUsed{Batch: "batch-1"})
		}
		var names []string
		for _, o := range Openings(s, History{Batches: []Batch{aBatch()}}, evening.Add(mins(3))) {
			names = append(names, o.Name)
		}
		if slices.Contains(names, "concentrate") == named || !slices.Contains(names, "dialyser") {
			t.Errorf("named %v: %v", named, names)
		}
	}
}
