package session

import (
	"slices"
	"testing"

	"ebbline/unit"
)

// What happens in a run, for the table of the next check: minutes after the
// beginning.
type happened struct {
	at   int
	body any
}

func bp(v int) *Reading    { return &Reading{Systolic: mm(v)} }
func venousOnly() *Reading { return &Reading{Venous: mm(140)} }

// The next check in each situation. The session began at 138 mmHg; a reading is
// due every hour.
func TestNextCheck(t *testing.T) {
	every := func(m int) func(*Prescription) {
		return func(rx *Prescription) { rx.CheckEvery = ref(unit.Minutes(m)) }
	}
	after := func(m int) func(*Prescription) {
		return func(rx *Prescription) { rx.AfterLow = ref(unit.Minutes(m)) }
	}
	for _, tt := range []struct {
		name  string
		set   func(*Prescription)
		log   []happened
		now   int
		at    int
		every unit.Minutes
		why   string
	}{
		{"at the beginning", nil, nil, 0, 60, 60, DueInterval},
		{"overdue", nil, nil, 95, 60, 60, DueInterval},
		{"the unit's interval", every(30), nil, 5, 30, 30, DueInterval},
		{"after a reading", nil, []happened{{20, bp(130)}}, 25, 80, 60, DueInterval},
		{"a reading of the machine alone", nil, []happened{{20, venousOnly()}}, 25, 80, 60, DueInterval},
		{"a reading to come", nil, []happened{{50, bp(130)}}, 45, 60, 60, DueInterval},

		{"a low reading", nil, []happened{{20, bp(88)}}, 20, 25, 5, DueLow},
		{"a low pressure tapped", nil, []happened{{20, &LowPressure{}}}, 21, 25, 5, DueLow},
		{"still low", nil, []happened{{20, bp(88)}, {25, bp(90)}}, 26, 30, 5, DueLow},
		{"low, then no pressure in the reading", nil, []happened{{20, bp(88)}, {24, venousOnly()}}, 24, 25, 5, DueLow},
		{"the first inside", nil, []happened{{20, bp(88)}, {25, bp(120)}}, 26, 40, 15, DueLow},
		{"the second inside", nil, []happened{{20, bp(88)}, {25, bp(120)}, {40, bp(122)}}, 41, 100, 60, DueInterval},
		{"low again between", nil, []happened{{20, bp(88)}, {25, bp(120)}, {40, bp(90)}, {45, bp(120)}}, 46, 60, 15, DueLow},
		{"the tap answered with a figure", nil, []happened{{20, &LowPressure{}}, {22, bp(121)}}, 23, 37, 15, DueLow},
		{"after low the unit says 10", after(10), []happened{{20, bp(88)}}, 21, 30, 10, DueLow},
		{"then 15", after(10), []happened{{20, bp(88)}, {30, bp(120)}}, 31, 45, 15, DueLow},
		{"after low the unit says 20", after(20), []happened{{20, bp(88)}, {40, bp(120)}}, 41, 60, 20, DueLow},
		{"the interval is shorter than 15", every(10), []happened{{20, bp(88)}, {25, bp(120)}}, 26, 35, 10, DueInterval},
		{"as long as 15: the low pressure is named", every(15), []happened{{20, bp(88)}, {25, bp(120)}}, 26, 40, 15, DueLow},
		{"the hour was nearly over", nil, []happened{{57, &LowPressure{}}}, 58, 60, 60, DueInterval},

		{"a look", nil, []happened{{20, pulse(130)}}, 21, 35, 15, DueLook},
		{"a look, once", nil, []happened{{20, pulse(130)}, {35, pulse(131)}}, 36, 95, 60, DueInterval},
		{"a look said again", nil, []happened{{20, pulse(130)}, {35, pulse(145)}}, 36, 50, 15, DueLook},
		{"a note calls for nothing", nil, []happened{{20, fluidC(33)}}, 21, 80, 60, DueInterval},
		{"unwell", nil, []happened{{20, bp(130)}, {30, &Unwell{Words: "itch"}}}, 31, 35, 15, DueLook},
		{"unwell, no reading before it: due at once", nil, []happened{{30, &Unwell{Words: "itch"}}, {40, &Unwell{Words: "itch"}}}, 41, 15, 15, DueLook},
		{"any reading answers a look", nil, []happened{{30, &Unwell{Words: "itch"}}, {40, venousOnly()}}, 41, 100, 60, DueInterval},
		{"a look and a low pressure at once", nil, []happened{{20, &Reading{Systolic: mm(88), Pulse: ref(unit.Pulse(130))}}}, 21, 25, 5, DueLow},
		{"a look with the interval", every(15), []happened{{20, pulse(130)}}, 21, 35, 15, DueLook},
		{"a pressure that counts as low, by the unit's rule not", actBelow(80), []happened{{20, bp(85)}}, 21, 35, 15, DueLook},
		{"which no other reading answers", actBelow(80), []happened{{20, bp(85)}, {30, venousOnly()}}, 31, 35, 15, DueLook},
		{"but a pressure does", actBelow(80), []happened{{20, bp(85)}, {35, bp(86)}}, 36, 95, 60, DueInterval},

		{"a low pressure as a trouble", nil, []happened{{20, opens(TroubleLow)}}, 21, 25, 5, DueLow},
		{"said by a tap too", nil, []happened{{20, &LowPressure{}}, {20, opens(TroubleLow)}}, 21, 25, 5, DueLow},
		{"a trouble that is felt", nil, []happened{{20, bp(130)}, {30, opens(TroubleHeart)}}, 31, 35, 15, DueLook},
		{"any other trouble: from when it was said", nil, []happened{{20, bp(130)}, {30, opens(TroubleAir)}}, 31, 45, 15, DueLook},
		{"while it is open every reading is due by then", nil, []happened{{20, bp(130)}, {30, opens(TroubleAir)}, {40, bp(130)}}, 41, 55, 15, DueLook},
		{"hot fluid that a reading told is a look, once", nil, []happened{{20, fluidC(38.9)}, {35, fluidC(36.5)}}, 36, 95, 60, DueInterval},
		{"one that is over", nil, []happened{{20, bp(130)}, {30, &Trouble{Trouble: TroubleAir, State: TroubleOver}}}, 31, 80, 60, DueInterval},

		{"asleep", nil, []happened{{30, &Asleep{For: 120}}}, 31, 150, 60, DueAsleep},
		{"to its last minute", nil, []happened{{30, &Asleep{For: 120}}}, 149, 150, 60, DueAsleep},
		{"over: the interval from the last reading", nil, []happened{{30, &Asleep{For: 120}}}, 150, 60, 60, DueInterval},
		{"woke, read, slept on", nil, []happened{{30, &Asleep{For: 120}}, {100, bp(130)}}, 101, 150, 60, DueAsleep},
		{"a low pressure in it", nil, []happened{{30, &Asleep{For: 120}}, {100, &LowPressure{}}}, 101, 105, 5, DueLow},
		{"which ends it with the next reading", nil, []happened{{30, &Asleep{For: 180}}, {100, &LowPressure{}}, {105, bp(130)}, {120, bp(130)}}, 121, 180, 60, DueInterval},
		{"a low reading ends it", nil, []happened{{30, &Asleep{For: 180}}, {100, bp(88)}, {105, bp(130)}, {120, bp(130)}}, 121, 180, 60, DueInterval},
		{"a look in it", nil, []happened{{30, &Asleep{For: 180}}, {100, pulse(130)}}, 101, 115, 15, DueLook},
		{"which ends it", nil, []happened{{30, &Asleep{For: 180}}, {100, pulse(130)}, {115, pulse(80)}}, 116, 175, 60, DueInterval},
		{"asleep again by a tap", nil, []happened{{30, &Asleep{For: 180}}, {100, pulse(130)}, {115, pulse(80)}, {116, &Asleep{For: 60}}}, 117, 176, 60, DueAsleep},
		{"asleep while a low pressure waits", nil, []happened{{20, bp(88)}, {21, &Asleep{For: 60}}}, 22, 25, 5, DueLow},
		{"asleep with the unit's interval", every(30), []happened{{30, &Asleep{For: 120}}}, 31, 150, 30, DueAsleep},
	} {
		s := connected(t)
		if tt.set != nil {
			tt.set(s.Rx)
		}
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		due, ok := NextCheck(s, on(tt.now))
		if !ok || !due.At.Equal(on(tt.at)) || due.Every != tt.every || due.Why != tt.why {
			t.Errorf("%s: %v min, every %s, %s; want %d, %s, %s", tt.name, due.At.Sub(on(0)).Minutes(), due.Every, due.Why, tt.at, tt.every, tt.why)
		}
		if r := follow(t, s, on(tt.now)); !r.NextCheck.Equal(due.At) || r.CheckEvery != due.Every || r.CheckWhy != due.Why || r.Asleep() != (due.Why == DueAsleep) {
			t.Errorf("%s: the run says %v, %s, %s", tt.name, r.NextCheck.Sub(on(0)), r.CheckEvery, r.CheckWhy)
		}
	}
}

func TestNextCheckOutsideTheRun(t *testing.T) {
	s := connected(t)
	put(s, on(240), &CameOff{Returned: "all"})
	if due, ok := NextCheck(s, on(-1)); ok {
		t.Errorf("before the beginning: %+v", due)
	}
	if due, ok := NextCheck(s, on(239)); !ok {
		t.Errorf("before the end: %+v", due)
	}
	for _, m := range []int{240, 250} {
		if due, ok := NextCheck(s, on(m)); ok {
			t.Errorf("at %d min: %+v", m, due)
		}
		if r := follow(t, s, on(m)); !r.NextCheck.IsZero() || r.CheckWhy != "" {
			t.Errorf("the run at %d min: %+v", m, r)
		}
	}
	if _, ok := NextCheck(ready(t), on(30)); ok {
		t.Error("of a session that never began")
	}
	s = connected(t)
	s.Rx.CheckEvery, s.Rx.AfterLow = ref(unit.Minutes(30)), ref(unit.Minutes(7))
	put(s, on(3), &LowPressure{})
	if due, _ := NextCheck(s, on(2)); due.Whose != "set by Dr Lind on 3 March 2026" || !due.Unit {
		t.Errorf("%+v", due)
	}
	if due, _ := NextCheck(s, on(3)); due.Whose != "set by Dr Lind on 3 March 2026" || !due.Unit || due.Every != 7 {
		t.Errorf("%+v", due)
	}
}

// A reading that does not come is remarked on a quarter of an hour after it was
// due, whatever it was due for; what was slept through by plan is late from the
// end of the sleep.
func TestLateByTheSameRule(t *testing.T) {
	for _, tt := range []struct {
		name string
		log  []happened
		late int // minutes after the beginning at which it is said
		due  string
	}{
		{"after the interval", nil, 75, "18:45"},
		{"after a low pressure", []happened{{20, bp(88)}}, 40, "18:10"},
		{"after a low pressure without a figure", []happened{{20, &LowPressure{}}, {22, venousOnly()}}, 40, "18:10"},
		{"after a look", []happened{{20, pulse(130)}}, 50, "18:20"},
		{"after a sleep", []happened{{30, &Asleep{For: 120}}}, 165, "20:15"},
		{"said before the sleep was tapped", []happened{{80, &Asleep{For: 120}}}, 75, "18:45"},
	} {
		s := connected(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		if got := saidOf(s, on(tt.late), "check_late"); len(got) != 0 {
			t.Errorf("%s: at %d min %q", tt.name, tt.late, got)
		}
		if got := saidOf(s, on(tt.late+1), "check_late"); len(got) != 1 || got[0] != "No reading since the one due at "+tt.due+"." {
			t.Errorf("%s: a minute later %q", tt.name, got)
		}
	}
}

// Whatever a record holds, a remark once made stays as time passes, and no
// check that is due moves back before the last reading.
func TestRemarksOnlyGrowWhateverHappens(t *testing.T) {
	for seed := range 300 {
		dice := lcg(7000 + seed)
		s := anything(t, &dice)
		var before []Remark
		for m := -60; m < 600; m += 7 {
			now := Remarks(s, evening.Add(mins(m)))
			for _, r := range before {
				if !slices.Contains(now, r) {
					t.Fatalf("seed %d: at %d min %+v is gone", seed, m, r)
				}
			}
			before = now
			if due, ok := NextCheck(s, evening.Add(mins(m))); ok && due.At.Before(s.Log[0].At) {
				t.Fatalf("seed %d: %+v", seed, due)
			}
		}
	}
}
