package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// fallen is a run of 58 kg with 2.60 L in 4 h, 300 mL of drinks in it, and no
// limit of the unit's: 650 mL/h.
func fallen(t testing.TB) *Session {
	s := connected(t)
	s.Rx.Limits = Limits{}
	return s
}

func removedAt(ml int) *Reading { return &Reading{Removed: ref(unit.Volume(ml))} }

// The check value: 1,000 mL off at 1 h 40, 78 mmHg, saline 400 mL, still 1,000
// at 2 h 20. Catching up would be 1,020 mL/h; at most 650 may be.
func TestNothingIsCaughtUp(t *testing.T) {
	s := fallen(t)
	put(s, on(100), &Reading{Systolic: mm(78), Removed: ref(unit.Volume(1000))})
	put(s, on(102), &Saline{Volume: 400, Why: "by the unit's plan"})
	put(s, on(140), &Reading{Systolic: mm(121), Removed: ref(unit.Volume(1000))})
	n := setNow(t, s, 140)
	o := n.Options[0]
	if o.Rate > 650 || o.Goal != 2080 || o.LeftOver != 520 || o.Rate != 648 || n.Added != 0 || n.Saline != 400 {
		t.Errorf("%+v", n)
	}
	if len(n.Options) != 1 || n.Needed != nil {
		t.Errorf("a longer session is offered to catch up: %+v", n)
	}
	if len(n.Said) != 2 || !strings.Contains(n.Said[0], "no more than 650\u00a0mL/h, as it was set before") || n.Said[1] != "Saline 400\u00a0mL, not in the goal: ask your unit." {
		t.Errorf("%q", n.Said)
	}
	set, ok := ToSetNow(s, on(140))
	if want := (ToSet{Goal: 2080, Rate: 648, Left: 100, LeftOver: 520, Ask: true}); !ok || set != want {
		t.Errorf("%+v, want %+v", set, want)
	}
	// Without the fall all of it would be asked for.
	s.Log[len(s.Log)-3].Body = &Reading{Systolic: mm(121), Removed: ref(unit.Volume(1000))}
	if o := setNow(t, s, 140).Options[0]; o.Rate != 1020 || o.Goal != 2700 {
		t.Errorf("without a fall: %+v", o)
	}
}

// The rate set before the fall is the one that was set last: by the plan, by a
// changed goal, or as read off the machine.
func TestRateBeforeTheFall(t *testing.T) {
	for _, tt := range []struct {
		name string
		log  []happened
		want unit.Rate
	}{
		{"the plan's", nil, 650},
		{"read off the machine", []happened{{30, &Reading{Rate: ref(unit.Rate(500))}}}, 500},
		{"the last one read", []happened{{30, &Reading{Rate: ref(unit.Rate(500))}}, {40, &Reading{Rate: ref(unit.Rate(560))}}}, 560},
		{"removal off for the moment", []happened{{30, &Reading{Rate: ref(unit.Rate(500))}}, {58, &Reading{Rate: ref(unit.Rate(0))}}}, 500},
		// 600 off at 1 h, 1,500 more in 3 h.
		{"a goal changed", []happened{{30, &Reading{Rate: ref(unit.Rate(700))}}, {60, removedAt(600)}, {60, &GoalChanged{Goal: 2100}}}, 500},
		{"read after the goal was changed", []happened{{60, removedAt(600)}, {60, &GoalChanged{Goal: 2100}}, {61, &Reading{Rate: ref(unit.Rate(480))}}}, 480},
		{"a goal that stops removal", []happened{{60, removedAt(600)}, {60, &GoalChanged{Goal: 600}}}, 0},
		{"what was struck out sets none", []happened{{30, &Reading{Rate: ref(unit.Rate(500))}}, {31, nil}}, 650},
	} {
		s := fallen(t)
		for _, h := range tt.log {
			if h.body == nil {
				s.Log[len(s.Log)-1].Struck = &Strike{Reason: "not mine"}
				continue
			}
			put(s, on(h.at), h.body)
		}
		put(s, on(70), bp(80))
		put(s, on(75), bp(120))
		if n := setNow(t, s, 76); n.Hold == nil || n.Hold.Rate != tt.want {
			t.Errorf("%s: %+v, want %s", tt.name, n.Hold, tt.want)
		}
	}
}

// A rate that the reading of the fall itself shows holds where it is the lower one:
// nobody knows that it was set after the pressure fell. One of 0 sets none.
func TestRateReadWithTheFall(t *testing.T) {
	for read, want := range map[unit.Rate]unit.Rate{649: 649, 400: 400, 650: 650, 651: 650, 101: 101, 100: 650, 0: 650} {
		s := fallen(t)
		put(s, on(60), removedAt(600))
		put(s, on(65), &Reading{Systolic: mm(80), Rate: &read})
		put(s, on(70), bp(115))
		n := setNow(t, s, 70)
		if n.Hold == nil || n.Hold.Rate != want || n.Options[0].Rate > want {
			t.Errorf("%s read with the fall: %+v, %s to set; want %s", read, n.Hold, n.Options[0].Rate, want)
		}
	}
}

// Of several falls the lowest rate holds, and the unit's limit, or 13 mL/h/kg,
// holds where it is lower than all of them.
func TestLowestRateHolds(t *testing.T) {
	s := fallen(t)
	put(s, on(60), bp(80))
	put(s, on(65), bp(121))
	put(s, on(70), &Reading{Rate: ref(unit.Rate(400)), Removed: ref(unit.Volume(700))})
	if h := setNow(t, s, 80).Hold; h.Rate != 650 || !h.Before {
		t.Errorf("%+v", h)
	}
	put(s, on(90), &LowPressure{})
	if h := setNow(t, s, 91).Hold; h.Rate != 400 || !h.Before {
		t.Errorf("%+v", h)
	}
	s.Rx.Rate = ref(unit.RatePerKg(600)) // 6 · 58 = 348
	if h := setNow(t, s, 91).Hold; h.Rate != 348 || h.Before || !strings.HasPrefix(h.Whose, "set by") {
		t.Errorf("%+v", h)
	}
	s = fallen(t)
	put(s, on(55), &Reading{Rate: ref(unit.Rate(900))})
	put(s, on(60), bp(80))
	if h := setNow(t, s, 61).Hold; h.Rate != 754 || h.Before || h.Whose != ownDefault { // 13 · 58
		t.Errorf("%+v", h)
	}
	if h := setNow(t, s, 59).Hold; h != nil {
		t.Errorf("before the fall: %+v", h)
	}
}

// From a fall on removal may be off: until it was read again, and while a
// reading is low, nothing is taken to have come off.
func TestRemovedAfterAFall(t *testing.T) {
	for _, tt := range []struct {
		name string
		log  []happened
		want unit.Volume
	}{
		{"carried on, without a fall", []happened{{60, removedAt(600)}, {100, bp(121)}}, 1467}, // 650 mL/h for 80 min
		{"carried on to the fall", []happened{{60, removedAt(600)}, {72, bp(80)}}, 730},
		{"though a reading was inside since", []happened{{60, removedAt(600)}, {72, bp(80)}, {77, bp(121)}}, 730},
		{"read with the fall", []happened{{60, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(600))}}}, 600},
		{"read since, still low", []happened{{60, bp(80)}, {72, removedAt(610)}, {77, bp(82)}}, 610},
		{"read since, and inside", []happened{{60, bp(80)}, {72, removedAt(610)}, {77, bp(121)}}, 1347}, // 68 min
		{"never read", []happened{{72, &LowPressure{}}}, 780},
	} {
		s := fallen(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		if n := setNow(t, s, 140); n.Removed != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, n.Removed, tt.want)
		}
	}
}

// Saline given for a low pressure or a cramp is not in the goal, and takes no
// drink's place in it; drinks are added as before.
func TestSalineForEase(t *testing.T) {
	for _, tt := range []struct {
		name          string
		log           []happened
		added, saline unit.Volume
	}{
		{"no trouble", []happened{{30, &Drink{Volume: 300}}, {60, &Saline{Volume: 200}}}, 200, 0},
		{"low pressure", []happened{{30, &Drink{Volume: 300}}, {60, bp(80)}, {61, &Saline{Volume: 200}}}, 0, 200},
		{"cramp", []happened{{30, &Drink{Volume: 300}}, {60, &Cramp{}}, {61, &Saline{Volume: 200}}}, 0, 200},
		{"given first, written after", []happened{{30, &Drink{Volume: 300}}, {45, &Saline{Volume: 200}}, {60, &LowPressure{}}}, 0, 200},
		{"long before", []happened{{30, &Drink{Volume: 300}}, {44, &Saline{Volume: 200}}, {60, &LowPressure{}}}, 200, 0},
		{"lying back", []happened{{30, &Drink{Volume: 300}}, {60, &LieBack{}}, {61, &Saline{Volume: 200}}}, 0, 200},
		{"the trouble", []happened{{30, &Drink{Volume: 300}}, {60, &Trouble{Trouble: TroubleLow, State: TroubleOpen}}, {61, &Saline{Volume: 200}}}, 0, 200},
		{"another trouble", []happened{{30, &Drink{Volume: 300}}, {60, &Trouble{Trouble: TroubleHeart, State: TroubleOpen}}, {61, &Saline{Volume: 200}}}, 200, 0},
		{"faint", []happened{{30, &Drink{Volume: 300}}, {60, &Unwell{Words: " Faint"}}, {61, &Saline{Volume: 200}}}, 0, 200},
		{"felt faint", []happened{{30, &Drink{Volume: 300}}, {60, &Unwell{Words: "I felt faint"}}, {61, &Saline{Volume: 200}}}, 0, 200},
		{"itch", []happened{{30, &Drink{Volume: 300}}, {60, &Unwell{Words: "itch"}}, {61, &Saline{Volume: 200}}}, 200, 0},
		{"given for a fall, by its words", []happened{{30, &Drink{Volume: 300}}, {60, &Saline{Volume: 200, Why: "Low  pressure"}}, {61, &Saline{Volume: 50, Why: "rinse, no cramp"}}}, 50, 200},
		{"cramps", []happened{{30, &Drink{Volume: 300}}, {60, &Saline{Volume: 200, Why: "cramps in the calf"}}}, 0, 200},
		{"hypotension", []happened{{30, &Drink{Volume: 300}}, {60, &Saline{Volume: 200, Why: "hypotension"}}}, 0, 200},
		{"was dizzy", []happened{{30, &Drink{Volume: 300}}, {60, &Saline{Volume: 200, Why: "was dizzy"}}}, 0, 200},
		{"bp low", []happened{{30, &Drink{Volume: 300}}, {60, &Saline{Volume: 200, Why: "BP low"}}}, 0, 200},
		{"a drink beyond the plan", []happened{{30, &Drink{Volume: 450}}, {60, bp(80)}, {61, &Saline{Volume: 200}}}, 150, 200},
		{"drinks that were planned are not used up", []happened{{60, bp(80)}, {61, &Saline{Volume: 200}}, {70, &Drink{Volume: 300}}}, 0, 200},
		{"taken into a goal changed by the person", []happened{{30, &Drink{Volume: 450}}, {60, bp(80)}, {61, &Saline{Volume: 200}}, {65, &GoalChanged{Goal: 2750}}, {70, &Drink{Volume: 50}}}, 50, 200},
	} {
		s := fallen(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		if n := setNow(t, s, 100); n.Added != tt.added || n.Saline != tt.saline {
			t.Errorf("%s: added %s, kept out %s; want %s, %s", tt.name, n.Added, n.Saline, tt.added, tt.saline)
		}
	}
}

// A pressure that counts as low pressure of the session, by the unit's rule no fall,
// keeps its saline out of the goal too, and nothing is caught up after it.
func TestSalineAfterNadir(t *testing.T) {
	s := fallen(t)
	s.Rx.FallBelow = mm(80)
	put(s, on(30), &Drink{Volume: 300})
	put(s, on(60), bp(85))
	put(s, on(61), &Saline{Volume: 200})
	if n := setNow(t, s, 100); n.Added != 0 || n.Saline != 200 || n.Hold == nil || n.Hold.Rate != 650 || n.Options[0].Rate > 650 {
		t.Errorf("%+v", n)
	}
}

// One that is less than 20 under the start is how the person is, and holds nothing; one
// that fell is not followed by a figure to set while it stands.
func TestNadirThatFell(t *testing.T) {
	for _, tt := range []struct {
		start, sys int
		held, asks bool
	}{{104, 85, false, true}, {105, 85, true, false}, {86, 84, false, true}} {
		s := fallen(t)
		edit(s, func(b *VitalsBefore) { b.SitSystolic = mm(tt.start) })
		s.Rx.FallBelow = mm(80)
		put(s, on(30), removedAt(325))
		put(s, on(90), &Reading{Systolic: mm(tt.sys), Removed: ref(unit.Volume(600))}) // 375 behind
		if n := setNow(t, s, 90); (n.Hold != nil) != tt.held || n.Ask != tt.asks {
			t.Errorf("%d after %d: held %v, asks %v", tt.sys, tt.start, n.Hold, n.Ask)
		}
		put(s, on(100), &Reading{Systolic: mm(tt.start), Removed: ref(unit.Volume(650))})
		if n := setNow(t, s, 100); tt.held && n.Options[0].Rate > 650 {
			t.Errorf("%d after %d: %s to set", tt.sys, tt.start, n.Options[0].Rate)
		}
	}
}

// After any falls, with anything else that happens, no rate lies above the one
// set before each fall, the unit's limit, or 13 mL/h/kg where it set none.
func TestNoRateAboveTheOneBeforeAFall(t *testing.T) {
	dice := lcg(2026)
	held, bound := 0, map[string]int{}
	for range 400 {
		s := fallen(t)
		if dice.next(2) == 0 {
			s.Rx.Rate = ref(unit.RatePerKg(500 + dice.next(900)))
		}
		s.Machine.GoalDecimals = 1 + dice.next(3)
		rate, most := unit.Rate(650), unit.Rate(100_000)
		removed, fell := 0, false
		for m := 5 + dice.next(20); m < 230; m += 3 + dice.next(20) {
			switch dice.next(8) {
			case 0:
				put(s, on(m), bp(60+dice.next(28)))
			case 1:
				put(s, on(m), &LowPressure{})
			case 2:
				put(s, on(m), bp(112+dice.next(30)))
			case 3:
				rate = unit.Rate(100 + dice.next(1100))
				put(s, on(m), &Reading{Rate: ref(rate)})
			case 4:
				removed += dice.next(400)
				put(s, on(m), removedAt(removed))
			case 5:
				put(s, on(m), &Drink{Volume: unit.Volume(dice.next(400))})
			case 6:
				put(s, on(m), &Saline{Volume: unit.Volume(dice.next(400))})
			case 7:
				put(s, on(m), &Pause{})
				put(s, on(m+2), &Resume{})
			}
			for _, r := range Remarks(s, on(m+2)) {
				if r.Code == lp && r.At.Equal(on(m)) { // a fall, said
					most, fell = min(most, rate), true
				}
			}
			n, err := SetNow(s, on(m+2))
			if err != nil {
				break
			}
			if !fell {
				if n.Hold != nil {
					t.Fatalf("held without a fall: %+v", n.Hold)
				}
				continue
			}
			held++
			limit, name := 13.0*58, "13"
			if s.Rx.Rate != nil {
				limit, name = s.Rx.Rate.Float()*58, "unit"
			}
			if float64(most) < limit {
				limit, name = float64(most), "before"
			}
			bound[name]++
			left := minutesLeft(follow(t, s, on(m+2)))
			for _, o := range n.Options {
				minutes := float64(left)
				if o.Code == "keep_end" {
					minutes -= float64(unit.Minutes((follow(t, s, on(m+2)).Elapsed - follow(t, s, on(m+2)).Treated).Minutes()))
				}
				exact := max(o.Goal-n.Removed, 0).Float() * 60 / minutes
				if float64(o.Rate) > limit || exact > limit || o.Code == "longer" {
					t.Fatalf("at %d min %s asks for %s (%.1f mL/h) above %.1f (%s): %+v", m+2, o.Code, o.Rate, exact, limit, name, n)
				}
			}
			if got, ok := ToSetNow(s, on(m+2)); !ok || float64(got.Rate) > limit {
				t.Fatalf("%+v above %.1f", got, limit)
			}
		}
	}
	if held < 400 || bound["before"] == 0 || bound["unit"] == 0 || bound["13"] == 0 {
		t.Errorf("held %d times; by %v", held, bound)
	}
	t.Logf("held %d times; by %v", held, bound)
}
