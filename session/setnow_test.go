package session

import (
	"testing"
	"time"

	"ebbline/unit"
)

func setNow(t *testing.T, s *Session, minutes int) Settings {
	t.Helper()
	n, err := SetNow(s, on(minutes))
	if err != nil {
		t.Fatal(err)
	}
	if len(n.Options) == 0 {
		t.Fatal("no option")
	}
	return n
}

func TestSetNowWithNothingChanged(t *testing.T) {
	s := connected(t)
	put(s, on(60), &Reading{Removed: ref(unit.Volume(650))})
	n := setNow(t, s, 60)
	o := n.Options[0]
	if o.Changed || o.Goal != 2600 || o.Length != 240 || !o.End.Equal(on(240)) || n.Estimated || len(n.Options) != 1 {
		t.Errorf("%+v", n)
	}
	if o.Rate != 650 || o.RatePerKg != 1121 { // 1950 mL in 3 h; /58 kg
		t.Errorf("rate %v, %v", o.Rate, o.RatePerKg)
	}
}

// The plan is cut to 10 mL/h/kg: 2.32 L in 4 h at 58 kg. This one lies under it.
func light(t *testing.T) *Session {
	s := newSession(t)
	s.Rx.Rate = ref(unit.RatePerKg(1000))
	put(s, evening, &Opened{Place: "home", Source: "live"})
	put(s, evening, &WeighIn{Weight: 59_200, Scale: "bath"})
	p, err := MakePlan(s, Choices{}, History{}, evening)
	if err != nil {
		t.Fatal(err)
	}
	put(s, evening, &p.AgreedPlan) // 1.80 L
	put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(300))})
	return s
}

func TestSetNowAfterADrink(t *testing.T) {
	s := light(t)
	put(s, on(120), &Reading{Removed: ref(unit.Volume(900))})
	put(s, on(120), &Drink{Volume: 450}) // 300 planned: 150 beyond
	n := setNow(t, s, 120)
	if o := n.Options[0]; o.Goal != 1950 || o.GoalShown != "1.95\u00a0L" || o.Rate != 525 || !o.Changed || !o.Within || n.Added != 150 {
		t.Errorf("%+v", n)
	}
	// Once the machine has the new goal, the drink is in it and not added again.
	put(s, on(121), &GoalChanged{Goal: 1950})
	n = setNow(t, s, 121)
	if o := n.Options[0]; o.Goal != 1950 || o.Changed || n.Added != 0 {
		t.Errorf("after setting it: %+v", n)
	}
	put(s, on(125), &Saline{Volume: 100, Why: "to see the dialyser"})
	if o := setNow(t, s, 125).Options[0]; o.Goal != 2050 {
		t.Errorf("saline after that: goal %v, want 2050", o.Goal)
	}
}

// More than the limit lets through in the time left is cut, and said.
func TestSetNowWithinTheLimit(t *testing.T) {
	s := light(t)
	put(s, on(180), &Reading{Removed: ref(unit.Volume(1000))}) // 350 behind
	put(s, on(180), &Drink{Volume: 300})
	n := setNow(t, s, 180)
	o := n.Options[0]
	// One hour at 10 mL/h/kg · 58 kg lets 580 mL through: 1.58 L in all.
	if o.Goal != 1580 || o.LeftOver != 220 || !o.Within || o.Rate != 580 || o.RatePerKg != 1000 {
		t.Errorf("%+v", o)
	}
	if n.Needed == nil || *n.Needed != 83 { // 800 mL at 580 mL/h is 82.76 min
		t.Errorf("minutes needed %v, want 83", n.Needed)
	}
	if len(n.Options) != 2 {
		t.Fatalf("%d options, want the whole time and all of it", len(n.Options))
	}
	if l := n.Options[1]; l.Code != "longer" || l.Goal != 1800 || l.LeftOver != 0 || l.Length != 263 || !l.End.Equal(on(263)) || l.Rate != 578 ||
		!l.HeparinStop.Equal(on(203)) || !o.HeparinStop.Equal(on(180)) || l.Title != "All of it: off at 22:08, 23\u00a0min longer" {
		t.Errorf("%+v", l)
	}
}

func TestSetNowAfterAPause(t *testing.T) {
	s := light(t)
	put(s, on(60), &Reading{Removed: ref(unit.Volume(450))})
	put(s, on(60), &Pause{Why: "alarm"})
	put(s, on(90), &Resume{})
	n := setNow(t, s, 90)
	if len(n.Options) != 2 {
		t.Fatalf("%d options, want whole time and first end", len(n.Options))
	}
	keep, end := n.Options[0], n.Options[1]
	if keep.Code != "keep_length" || !keep.End.Equal(on(270)) || keep.Rate != 450 || keep.Changed {
		t.Errorf("whole time: %+v", keep)
	}
	if end.Code != "keep_end" || !end.End.Equal(on(240)) || end.Length != 210 || end.Rate != 540 || !end.Changed || !end.Within {
		t.Errorf("first end: %+v", end)
	}
	if n.Removed != 450 { // nothing comes off during a pause
		t.Errorf("removed %v, want the 450 mL of before the pause", n.Removed)
	}
}

// Without a fresh reading the removal is carried on along the line, and said
// to be.
func TestSetNowEstimates(t *testing.T) {
	s := light(t)
	put(s, on(60), &Reading{Removed: ref(unit.Volume(420))})
	if n := setNow(t, s, 120); !n.Estimated || n.Removed != 870 || !n.RemovedAt.Equal(on(60)) {
		t.Errorf("%+v", n)
	}
	if n := setNow(t, s, 61); n.Estimated {
		t.Errorf("a minute after the reading: %+v", n)
	}
	if n := setNow(t, light(t), 30); !n.Estimated || n.Removed != 225 || !n.RemovedAt.IsZero() {
		t.Errorf("never read: %+v", n)
	}
}

func TestSetNowRefuses(t *testing.T) {
	if _, err := SetNow(ready(t), on(1)); err == nil {
		t.Error("before connecting")
	}
	if _, err := SetNow(light(t), on(240)); err == nil {
		t.Error("at the planned end")
	}
	s := light(t)
	put(s, on(100), &CameOff{Returned: "all"})
	if _, err := SetNow(s, on(101)); err == nil {
		t.Error("after coming off")
	}
}

// No option ever lies over the unit's limits, whatever happened.
func TestSetNowNeverOverTheLimit(t *testing.T) {
	dice := lcg(7)
	for range 2000 {
		s := light(t)
		s.Machine.GoalDecimals = dice.next(4)
		if dice.next(3) == 0 {
			s.Rx.MaxRemoval = ref(unit.Volume(1500 + dice.next(1500)))
		}
		at := 10 + dice.next(200)
		put(s, on(dice.next(at)+1), &Reading{Removed: ref(unit.Volume(dice.next(1800)))})
		put(s, on(dice.next(at)+1), &Drink{Volume: unit.Volume(dice.next(1500))})
		from := dice.next(at) + 1
		put(s, on(from), &Pause{})
		put(s, on(from+dice.next(25)), &Resume{})
		n, err := SetNow(s, on(at))
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range n.Options {
			if !o.Within || o.RatePerKg > 1000 {
				t.Fatalf("%+v", o)
			}
			if most := s.Rx.MaxRemoval; most != nil && o.Goal > *most && o.Goal > n.Removed {
				t.Fatalf("goal %v over the largest removal %v with %v removed", o.Goal, *most, n.Removed)
			}
			if o.Goal%s.Machine.FieldStep() != 0 {
				t.Fatalf("goal %v is not in steps of %v", o.Goal, s.Machine.FieldStep())
			}
		}
	}
}

// The end of what is to be set is the end that the run shows, to the second.
func TestSetNowEndsWithTheRun(t *testing.T) {
	s := connected(t)
	now := on(60).Add(20 * time.Second)
	n, err := SetNow(s, now)
	if err != nil {
		t.Fatal(err)
	}
	r := follow(t, s, now)
	if o := n.Options[0]; !o.End.Equal(r.PlannedEnd) || o.Title != "Whole time: off at "+clock(r.PlannedEnd) {
		t.Errorf("%s, off at %v; the run ends at %v", o.Title, o.End, r.PlannedEnd)
	}
}
