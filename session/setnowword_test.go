package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// saidBy is a goal changed on the word of somebody of the unit.
func saidBy(goal int, who string) *GoalChanged {
	return &GoalChanged{Goal: unit.Volume(goal), Unit: who}
}

func lowAt(ml int) *Reading { return &Reading{Systolic: mm(78), Removed: ref(unit.Volume(ml))} }
func wellAt(ml int) *Reading {
	return &Reading{Systolic: mm(121), Removed: ref(unit.Volume(ml))}
}

// The unit's word lifts the hold of a fall: the rate that it named, goal over the
// rest, is the most from then on. Without it a changed goal changes nothing, and
// a fall after it holds again.
func TestUnitsWordLiftsTheHold(t *testing.T) {
	fell := []happened{{100, lowAt(1000)}, {140, wellAt(1000)}}
	for _, tt := range []struct {
		name  string
		log   []happened
		now   int
		limit int // hundredths of mL/h/kg; 0 for none of the unit's
		hold  unit.Rate
		said  string
		want  ToSet
	}{
		{"no word", nil, 140, 0, 650, "", ToSet{2080, 648, 100, 520, true}},
		{"a goal changed without it", []happened{{140, &GoalChanged{Goal: 2200}}}, 140, 0, 650, "", ToSet{2080, 648, 100, 120, true}},
		{"nobody answered", []happened{{140, saidBy(2200, "nobody answered, tried at 22:10")}}, 140, 0, 650, "", ToSet{2080, 648, 100, 120, true}},
		// 1,200 mL over 100 minutes.
		{"the word", []happened{{140, saidBy(2200, "Sister Berg")}}, 140, 0, 720, "Sister Berg", ToSet{2200, 720, 100, 0, false}},
		{"a lower rate than before", []happened{{140, saidBy(1500, "Sister Berg")}}, 140, 0, 300, "Sister Berg", ToSet{1500, 300, 100, 0, false}},
		{"removal stays off", []happened{{140, saidBy(1000, "Sister Berg")}}, 140, 0, 0, "Sister Berg", ToSet{1000, 0, 100, 0, true}},
		{"another length", []happened{{140, &GoalChanged{Goal: 2200, Length: ref(unit.Minutes(300)), Unit: "Sister Berg"}}}, 140, 0, 450, "Sister Berg", ToSet{2200, 450, 160, 0, false}},
		{"half an hour on, not read since", []happened{{140, saidBy(2200, "Sister Berg")}}, 170, 0, 720, "Sister Berg", ToSet{2200, 720, 70, 0, false}},
		{"half an hour on, behind", []happened{{140, saidBy(2200, "Sister Berg")}, {170, wellAt(1200)}}, 170, 0, 720, "Sister Berg", ToSet{2040, 720, 70, 160, true}},
		{"on again a minute late: the goal that was named stands", []happened{{139, &RemovalOff{}}, {140, saidBy(2200, "Sister Berg")}, {140, &RemovalOn{}}, {141, &RemovalOff{}}, {141, &RemovalOn{}}}, 142, 0, 720, "Sister Berg", ToSet{2200, 720, 98, 0, false}},
		{"on again two minutes late: more than a step is missing", []happened{{139, &RemovalOff{}}, {140, saidBy(2200, "Sister Berg")}, {142, &RemovalOn{}}}, 142, 0, 720, "Sister Berg", ToSet{2170, 716, 98, 30, true}},
		{"a drink since is not in it", []happened{{140, saidBy(2200, "Sister Berg")}, {150, &Drink{Volume: 500}}, {170, wellAt(1360)}}, 170, 0, 720, "Sister Berg", ToSet{2200, 720, 70, 200, false}},
		{"saline since is not in it", []happened{{140, saidBy(2200, "Sister Berg")}, {150, &Saline{Volume: 200}}, {170, wellAt(1360)}}, 170, 0, 720, "Sister Berg", ToSet{2200, 720, 70, 0, false}},
		{"a later goal without it", []happened{{140, saidBy(2200, "Sister Berg")}, {170, wellAt(1360)}, {171, &GoalChanged{Goal: 2600}}}, 171, 0, 720, "Sister Berg", ToSet{2200, 720, 69, 400, true}},
		{"a later word", []happened{{140, saidBy(2200, "Sister Berg")}, {170, wellAt(1360)}, {170, saidBy(1710, "Dr Lind")}}, 170, 0, 300, "Dr Lind", ToSet{1710, 300, 70, 0, false}},
		// 13 · 58 = 754 mL/h; the word named 960.
		{"over 13", []happened{{140, saidBy(2600, "Sister Berg")}}, 140, 0, 754, "Sister Berg", ToSet{2250, 750, 100, 350, true}},
		// 11.5 · 58 = 667.
		{"over the unit's own limit", []happened{{140, saidBy(2200, "Sister Berg")}}, 140, 1150, 667, "Sister Berg", ToSet{2110, 666, 100, 90, true}},
		{"a new fall", []happened{{140, saidBy(2200, "Sister Berg")}, {170, lowAt(1360)}, {175, wellAt(1360)}}, 175, 0, 720, "", ToSet{2140, 720, 65, 60, true}},
		{"a new fall at a lower rate", []happened{{140, saidBy(2200, "Sister Berg")}, {160, &Reading{Rate: ref(unit.Rate(400))}}, {170, lowAt(1360)}, {175, wellAt(1360)}}, 175, 0, 400, "", ToSet{1790, 397, 65, 410, true}},
		{"and a word after it", []happened{{140, saidBy(2200, "Sister Berg")}, {170, lowAt(1360)}, {175, wellAt(1360)}, {175, saidBy(1750, "Dr Lind")}}, 175, 0, 360, "Dr Lind", ToSet{1750, 360, 65, 0, false}},
		{"the word is struck out", []happened{{140, saidBy(2200, "Sister Berg")}, {141, nil}}, 140, 0, 650, "", ToSet{2080, 648, 100, 520, true}},
	} {
		s := fallen(t)
		if tt.limit > 0 {
			s.Rx.Rate = ref(unit.RatePerKg(tt.limit))
		}
		for _, h := range append(fell[:2:2], tt.log...) {
			if h.body == nil {
				s.Log[len(s.Log)-1].Struck = &Strike{Reason: "not what she said"}
				continue
			}
			put(s, on(h.at), h.body)
		}
		n := setNow(t, s, tt.now)
		if n.Hold == nil || n.Hold.Rate != tt.hold || n.Hold.Said != tt.said {
			t.Errorf("%s: held to %+v, want %s by %q", tt.name, n.Hold, tt.hold, tt.said)
		}
		if got, ok := ToSetNow(s, on(tt.now)); !ok || got != tt.want {
			t.Errorf("%s: %+v, %v; want %+v", tt.name, got, ok, tt.want)
		}
		if tt.said != "" && (len(n.Said) == 0 || !strings.Contains(n.Said[0], "“"+tt.said+"”")) {
			t.Errorf("%s: %q", tt.name, n.Said)
		}
	}
}

// A word before any fall is no word on the fall.
func TestUnitsWordBeforeTheFall(t *testing.T) {
	s := fallen(t)
	put(s, on(60), removedAt(650))
	put(s, on(60), saidBy(2000, "Sister Berg"))
	if n := setNow(t, s, 61); n.Hold != nil {
		t.Errorf("held without a fall: %+v", n.Hold)
	}
	put(s, on(100), lowAt(950))
	put(s, on(120), wellAt(950))
	if n := setNow(t, s, 120); n.Hold == nil || n.Hold.Rate != 450 || !n.Hold.Before {
		t.Errorf("%+v", n.Hold)
	}
}

// Whatever the unit names, and whatever happens after it, no rate lies above the
// limit, nor above the named one until another word.
func TestNoRateAboveTheUnitsWord(t *testing.T) {
	dice := lcg(77)
	named := 0
	for range 400 {
		s := fallen(t)
		limit := 13.0 * 58
		if dice.next(2) == 0 {
			s.Rx.Rate = ref(unit.RatePerKg(500 + dice.next(900)))
			limit = s.Rx.Rate.Float() * 58
		}
		s.Machine.GoalDecimals = 1 + dice.next(3)
		put(s, on(30), &Reading{Removed: ref(unit.Volume(300))})
		put(s, on(40), lowAt(400))
		put(s, on(50), wellAt(400))
		goal := unit.Volume(400 + dice.next(2600))
		put(s, on(50), &GoalChanged{Goal: goal, Unit: "Sister Berg"})
		most := min(limit, (goal-400).Float()/190*60)
		for m, removed := 53, 400; m < 235; m += 3 + dice.next(20) {
			switch dice.next(5) {
			case 0:
				removed += dice.next(200)
				put(s, on(m), removedAt(removed))
			case 1:
				put(s, on(m), &Drink{Volume: unit.Volume(dice.next(400))})
			case 2:
				put(s, on(m), &Saline{Volume: unit.Volume(dice.next(400))})
			case 3:
				put(s, on(m), &GoalChanged{Goal: unit.Volume(dice.next(3500))})
			case 4:
				put(s, on(m), &RemovalOff{})
				put(s, on(m+2), &RemovalOn{})
			}
			n, err := SetNow(s, on(m+2))
			if err != nil {
				break
			}
			named++
			if got := n.Options[0].Rate; float64(got) > most+0.5 {
				t.Fatalf("at %d min %s, above %.1f: %+v", m+2, got, most, n)
			}
		}
	}
	if named < 1000 {
		t.Errorf("tried %d times", named)
	}
}
