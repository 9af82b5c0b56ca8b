package session

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

// again is a reading after the machine's count began at zero again.
func again(ml int) *Reading { return &Reading{Removed: ref(unit.Volume(ml)), Again: true} }

// What the count showed before it began again is added from then on, wherever
// the removal is used.
func TestCountThatBeganAgain(t *testing.T) {
	for _, tt := range []struct {
		name                   string
		log                    []happened
		removed, shown, before unit.Volume
	}{
		{"never", []happened{{60, removedAt(650)}}, 650, 650, 0},
		{"twice read", []happened{{60, removedAt(650)}, {90, removedAt(975)}}, 975, 975, 650},
		{"began again", []happened{{60, removedAt(650)}, {90, again(200)}}, 850, 200, 650},
		{"and went on", []happened{{60, removedAt(650)}, {90, again(200)}, {120, removedAt(520)}}, 1170, 520, 850},
		{"and again", []happened{{60, removedAt(650)}, {90, again(200)}, {120, again(100)}}, 950, 100, 850},
		{"said with no count", []happened{{60, removedAt(650)}, {90, &Reading{Systolic: mm(120), Again: true}}, {120, removedAt(300)}}, 950, 300, 650},
		{"struck out", []happened{{60, removedAt(650)}, {90, again(200)}, {91, nil}, {120, removedAt(1300)}}, 1300, 1300, 650},
		{"before anything was read", []happened{{60, again(600)}}, 600, 600, 0},
	} {
		s := fallen(t)
		for _, h := range tt.log {
			if h.body == nil {
				s.Log[len(s.Log)-1].Struck = &Strike{Reason: "misread"}
				continue
			}
			put(s, on(h.at), h.body)
		}
		c := Counted(s, on(130))
		if c.Removed != tt.removed || c.Shown != tt.shown || c.Before != tt.before {
			t.Errorf("%s: %+v", tt.name, c)
		}
		if r := follow(t, s, on(130)); r.Removed == nil || *r.Removed != tt.removed || !r.RemovedAt.Equal(c.At) {
			t.Errorf("%s: the run says %v", tt.name, r.Removed)
		}
		if e, _ := EbbOf(s, on(130)); e.Actual[len(e.Actual)-1].Removed != tt.removed {
			t.Errorf("%s: the ebb says %+v", tt.name, e.Actual)
		}
	}
}

// On the line is on the line, whatever the count shows, and the total at the end
// is of all counts.
func TestTotalsOfACountThatBeganAgain(t *testing.T) {
	s := fallen(t)
	s.Rx.CheckEvery = ref(unit.Minutes(240))
	put(s, on(60), removedAt(650))
	put(s, on(120), again(650))
	put(s, on(180), removedAt(1300))
	if got := codes(s, on(181)); len(got) != 0 {
		t.Errorf("on the line: %v", got)
	}
	if n := setNow(t, s, 180); n.Removed != 1950 || n.Options[0].Rate != 650 {
		t.Errorf("%+v", n)
	}
	if got := RemovedInAll(s); got != nil {
		t.Errorf("before the end: %s", got)
	}
	put(s, on(240), &CameOff{Returned: "all", Washback: ref(unit.Volume(300)), Removed: ref(unit.Volume(1950))})
	put(s, on(270), &WeighOut{Weight: 58_500, Clothing: 500, Scale: "bath"})
	if got := RemovedInAll(s); got == nil || *got != 2600 {
		t.Errorf("%v", got)
	}
	// 60.0 − 58.0 kg by scale; 2,600 − 300 by fluid.
	if b, _ := BalanceOf(s); b.ByFluid != 2300 || b.Difference != -300 {
		t.Errorf("%+v", b)
	}
	edit(s, func(b *CameOff) { b.Removed = ref(unit.Volume(2700)) })
	if got := codes(s, on(241)); !slices.Contains(got, "goal_exceeded") {
		t.Errorf("650 + 2,700 of 2,600: %v", got)
	}
	edit(s, func(b *CameOff) { b.Removed = nil })
	if got := RemovedInAll(s); got != nil {
		t.Errorf("none was typed: %s", got)
	}
}

func TestRemovalOffs(t *testing.T) {
	off, onAgain := &RemovalOff{Why: "cramp"}, &RemovalOn{}
	rate := func(mlh int) *Reading { return &Reading{Rate: ref(unit.Rate(mlh))} }
	both := func(mlh, ml int) *Reading {
		return &Reading{Rate: ref(unit.Rate(mlh)), Removed: ref(unit.Volume(ml))}
	}
	for _, tt := range []struct {
		name string
		log  []happened
		want [][2]int // −1: it is off still
	}{
		{"never", []happened{{60, rate(650)}}, nil},
		{"off and on", []happened{{60, off}, {80, onAgain}}, [][2]int{{60, 80}}},
		{"off still", []happened{{60, off}}, [][2]int{{60, -1}}},
		{"twice off is once", []happened{{60, off}, {65, off}, {80, onAgain}}, [][2]int{{60, 80}}},
		{"on without off", []happened{{60, onAgain}}, nil},
		{"a rate was read", []happened{{60, off}, {80, rate(600)}}, [][2]int{{60, 80}}},
		{"a rate, but the count stood still", []happened{{60, removedAt(650)}, {60, off}, {80, both(650, 650)}, {90, both(650, 700)}}, [][2]int{{60, 90}}},
		{"a goal was changed: it is off still", []happened{{60, off}, {70, &GoalChanged{Goal: 2000}}, {80, onAgain}}, [][2]int{{60, 80}}},
		{"counted on at the smallest rate", []happened{{60, removedAt(650)}, {60, off}, {100, removedAt(720)}, {110, onAgain}}, [][2]int{{60, 110}}},
		{"read as 0", []happened{{60, rate(0)}, {80, rate(600)}}, [][2]int{{60, 80}}},
		{"read as 0 twice", []happened{{60, rate(0)}, {70, rate(0)}, {80, rate(600)}}, [][2]int{{60, 80}}},
		{"read as 0, then off is said", []happened{{60, rate(0)}, {61, off}, {70, &GoalChanged{Goal: 2000}}, {80, onAgain}}, [][2]int{{60, 80}}},
		{"read as 0, then said to be on", []happened{{60, rate(0)}, {80, onAgain}}, [][2]int{{60, 80}}},
		{"read as 0, then another goal", []happened{{60, rate(0)}, {70, &GoalChanged{Goal: 2000}}}, [][2]int{{60, 70}}},
		{"read as 0, the count grew by 50", []happened{{60, both(0, 650)}, {90, removedAt(700)}}, [][2]int{{60, -1}}},
		{"read as 0, the count grew by 51", []happened{{60, both(0, 650)}, {90, removedAt(701)}}, [][2]int{{60, 90}}},
		{"to the end", []happened{{60, off}, {200, &CameOff{Returned: "all"}}, {210, onAgain}}, [][2]int{{60, 200}}},
		{"two of them", []happened{{60, off}, {80, onAgain}, {100, rate(0)}, {110, rate(600)}}, [][2]int{{60, 80}, {100, 110}}},
	} {
		s := fallen(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		var got [][2]int
		for _, p := range RemovalOffs(s) {
			end := -1
			if !p.End.IsZero() {
				end = int(p.End.Sub(on(0)).Minutes())
			}
			got = append(got, [2]int{int(p.From.Sub(on(0)).Minutes()), end})
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
		since, off := RemovalIsOff(s, on(75))
		if want := len(tt.want) > 0 && tt.want[0][0] <= 75 && (tt.want[0][1] < 0 || tt.want[0][1] > 75); off != want || off && !since.Equal(on(tt.want[0][0])) {
			t.Errorf("%s: at 75 min off %v since %v", tt.name, off, since)
		}
	}
	if got := RemovalOffs(ready(t)); got != nil {
		t.Errorf("before connecting: %v", got)
	}
}

// While removal is off the line is flat, and behind it lower by as much: that is
// neither behind nor made good.
func TestRemovalOffLeavesTheLine(t *testing.T) {
	s := fallen(t) // 650 mL/h
	s.Rx.CheckEvery = ref(unit.Minutes(240))
	put(s, on(60), &RemovalOff{})
	put(s, on(90), &RemovalOn{})
	for m, want := range map[int]unit.Volume{60: 650, 75: 650, 90: 650, 120: 975, 240: 2275, 300: 2275} {
		if r := follow(t, s, on(m)); r.Expected == nil || *r.Expected != want {
			t.Errorf("at %d min %v, want %s", m, r.Expected, want)
		}
	}
	put(s, on(120), removedAt(975))
	if got := codes(s, on(121)); len(got) != 0 {
		t.Errorf("on the line: %v", got)
	}
	n := setNow(t, s, 120)
	if o := n.Options[0]; n.Hold != nil || n.Lost != 325 || o.Goal != 2270 || o.Rate != 648 || o.LeftOver != 330 || !n.Ask || len(n.Options) != 1 {
		t.Errorf("%+v", n)
	}
	if want := "Removal was off: about 325\u00a0mL of the goal did not come off then and is not made good. Ask your unit."; !slices.Contains(n.Said, want) {
		t.Errorf("%q", n.Said)
	}
	// A drink beyond the plan still comes off.
	put(s, on(121), &Drink{Volume: 500})
	if o := setNow(t, s, 121).Options[0]; o.Goal != 2470 {
		t.Errorf("with 200 beyond the plan: %+v", o)
	}
	// Another goal begins another line.
	put(s, on(122), &GoalChanged{Goal: 2270})
	if n := setNow(t, s, 122); n.Lost != 0 || n.Options[0].Goal != 2270 || n.Options[0].Changed {
		t.Errorf("%+v", n)
	}
	e, _ := EbbOf(s, on(122))
	if last := e.Planned[len(e.Planned)-1]; last.Removed != 2270 {
		t.Errorf("%+v", e.Planned)
	}
}

// Ahead of the line by as much as was lost, nothing is left to make good: the
// rate of before goes on.
func TestRemovalOffWhenAhead(t *testing.T) {
	s := fallen(t)
	put(s, on(120), removedAt(1500)) // 200 ahead
	put(s, on(120), &RemovalOff{})
	put(s, on(140), &RemovalOn{})
	put(s, on(140), removedAt(1500))
	if o := setNow(t, s, 140).Options[0]; o.Goal != 2580 || o.Rate != 648 {
		t.Errorf("%+v", o)
	}
	s = fallen(t)
	put(s, on(238), &Reading{Removed: ref(unit.Volume(2600)), Rate: ref(unit.Rate(0))})
	if o := setNow(t, s, 239).Options[0]; o.Goal != 2600 || o.LeftOver != 0 {
		t.Errorf("the goal was reached: %+v", o)
	}
}

// Off in a pause takes nothing more from the line than the pause does.
func TestRemovalOffInAPause(t *testing.T) {
	s := fallen(t)
	put(s, on(60), &Pause{})
	put(s, on(65), &RemovalOff{})
	put(s, on(80), &RemovalOn{})
	put(s, on(90), &Resume{})
	if r := follow(t, s, on(150)); *r.Expected != 1300 || r.Treated != 2*time.Hour {
		t.Errorf("%v after %v", r.Expected, r.Treated)
	}
}

// A removal off the line is carried on from where it was read, through a change
// of goal too.
func TestCarriedOverAChangedGoal(t *testing.T) {
	s := fallen(t)
	put(s, on(60), removedAt(300))           // 350 behind
	put(s, on(60), &GoalChanged{Goal: 2100}) // 600 mL/h from here
	if n := setNow(t, s, 120); n.Removed != 900 {
		t.Errorf("%s, want 900", n.Removed)
	}
	s = fallen(t)
	put(s, on(30), removedAt(100))
	put(s, on(60), &GoalChanged{Goal: 2225}) // 425 by then: 600 mL/h
	if n := setNow(t, s, 120); n.Removed != 1025 {
		t.Errorf("%s, want 1025", n.Removed)
	}
}
