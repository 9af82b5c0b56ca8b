package session

import (
	"testing"

	"ebbline/unit"
)

// A shorter session has no time for the last flushes of the plan: they count as left out
// at once, unless the goal that is told with the new length has them off already. By hand:
// 240 minutes have 7 flushes of 100 mL, 180 have 5 (at 30 to 150), 150 have 4; the goal of
// 3300 mL holds 700 mL of them.
func TestFlushesOfAShorterSession(t *testing.T) {
	for _, tt := range []struct {
		name   string
		length int // told at minute 100
		goal   int
		drink  int // at minute 50
		want   unit.Volume
		added  unit.Volume
		out    unit.Volume
		beyond unit.Volume
		ask    bool
	}{
		{"only the length", 180, 3300, 0, 3100, 0, 200, -200, true},
		{"the goal with it", 180, 3100, 0, 3100, 0, 0, -200, false},
		{"a lower goal of another reason", 180, 2900, 0, 2900, 0, 0, -200, false},
		{"shorter by more", 150, 3300, 0, 3000, 0, 300, -300, true},
		{"no flush fewer", 225, 3300, 0, 3300, 0, 0, 0, false}, // the seventh is at 210
		{"with a drink, its goal for the old length", 180, 3600, 600, 3400, 0, 200, 100, true},
		{"with a drink, its goal for the new length", 180, 3400, 600, 3400, 0, 0, 100, false},
		{"longer", 300, 3300, 0, 3300, 0, 0, 0, false},
	} {
		s := flushed(t)
		for _, min := range []int{30, 60, 90} {
			put(s, on(min), flush(100))
		}
		if tt.drink > 0 {
			put(s, on(50), &Drink{Volume: unit.Volume(tt.drink)})
		}
		put(s, on(99), &Reading{Removed: ref(unit.Volume(2200))})
		put(s, on(100), &GoalChanged{Goal: unit.Volume(tt.goal), Length: ref(unit.Minutes(tt.length))})
		n := setNow(t, s, 101)
		if o := n.Options[0]; o.Goal != tt.want || n.Added != tt.added || n.Omitted != tt.out || n.Ask != tt.ask {
			t.Errorf("%s: goal %v added %v omitted %v ask %t; want %v %v %v %t", tt.name, o.Goal, n.Added, n.Omitted, n.Ask, tt.want, tt.added, tt.out, tt.ask)
		}
		if r, _ := Follow(s, on(101)); r.Beyond != tt.beyond {
			t.Errorf("%s: beyond the plan %v, want %v", tt.name, r.Beyond, tt.beyond)
		}
		fewer := max(7-(tt.length-1)/30, 0)
		if given, out := FlushesGiven(s, on(101)); given != 3 || out != fewer {
			t.Errorf("%s: %d given, %d left out; want 3 and %d", tt.name, given, out, fewer)
		}
	}
}

// What the new length has no flush for is taken off once: not again as its times pass,
// not again after another goal, and one given all the same goes back into the goal.
func TestFlushesOfAShorterSessionAreTakenOffOnce(t *testing.T) {
	s := flushed(t)
	for _, min := range []int{30, 60, 90, 120, 150} {
		put(s, on(min), flush(100))
	}
	put(s, on(100), &GoalChanged{Goal: 3300, Length: ref(unit.Minutes(180))})
	if n := setNow(t, s, 165); n.Omitted != 200 || n.Options[0].Goal != 3100 {
		t.Errorf("later: omitted %v, goal %v", n.Omitted, n.Options[0].Goal)
	}
	put(s, on(166), &GoalChanged{Goal: 3100})
	if n := setNow(t, s, 167); n.Omitted != 0 || n.Options[0].Goal != 3100 || n.Ask {
		t.Errorf("taken off twice: omitted %v, goal %v", n.Omitted, n.Options[0].Goal)
	}
	put(s, on(169), &Reading{Removed: ref(unit.Volume(3090))})
	put(s, on(170), flush(100))
	if n := setNow(t, s, 171); n.Added != 100 || n.Options[0].Goal != 3200 {
		t.Errorf("a sixth: added %v, goal %v", n.Added, n.Options[0].Goal)
	}
	// Made as long as before, what was taken off is due again.
	s = flushed(t)
	put(s, on(20), &GoalChanged{Goal: 3100, Length: ref(unit.Minutes(180))})
	put(s, on(25), &GoalChanged{Goal: 3100, Length: ref(unit.Minutes(240))})
	if n := setNow(t, s, 26); n.Added != 200 || n.Options[0].Goal != 3300 {
		t.Errorf("longer again: added %v, goal %v", n.Added, n.Options[0].Goal)
	}
}

// The way to go on that keeps the first end after a pause has the goal of its own length:
// 240 minutes, 45 of them stood still, leave 195, with 6 flushes.
func TestFlushesOfTheFirstEnd(t *testing.T) {
	s := flushed(t)
	put(s, on(30), flush(100))
	put(s, on(40), &Pause{})
	put(s, on(85), &Resume{})
	n := setNow(t, s, 90)
	if len(n.Options) != 2 || n.Options[1].Code != "keep_end" {
		t.Fatalf("%+v", n.Options)
	}
	if a, b := n.Options[0], n.Options[1]; a.Goal != 3300 || a.Length != 240 || b.Goal != 3200 || b.Length != 195 {
		t.Errorf("whole time %v in %v, first end %v in %v", a.Goal, a.Length, b.Goal, b.Length)
	}
	put(s, on(91), &GoalChanged{Goal: 3200, Length: ref(unit.Minutes(195))})
	if n := setNow(t, s, 92); n.Omitted != 0 || n.Options[0].Goal != 3200 {
		t.Errorf("as offered: omitted %v, goal %v", n.Omitted, n.Options[0].Goal)
	}
}

// What is still to come off falls as soon as the session is shorter, and the ebb with it.
func TestToComeOffOfAShorterSession(t *testing.T) {
	s := flushed(t)
	put(s, on(90), &Reading{Removed: ref(unit.Volume(1200))})
	for _, min := range []int{30, 60, 90} {
		put(s, on(min), flush(100))
	}
	to := func() unit.Volume {
		ebb, ok := EbbOf(s, on(110))
		if !ok {
			t.Fatal("no ebb")
		}
		return ebb.ToCome
	}
	if got := to(); got != 2100 {
		t.Errorf("before: %v", got)
	}
	put(s, on(100), &GoalChanged{Goal: 3300, Length: ref(unit.Minutes(180))})
	if got := to(); got != 1900 {
		t.Errorf("shorter: %v", got)
	}
	put(s, on(105), &Drink{Volume: 400}) // 300 of them are in the plan
	if got := to(); got != 2000 {
		t.Errorf("and a drink: %v", got)
	}
}
