package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// What is to be set, and whether the machine should be changed for it.
func TestToSet(t *testing.T) {
	unitRate := func(v int) func(*Prescription) {
		return func(rx *Prescription) { rx.Rate = ref(unit.RatePerKg(v)) }
	}
	for _, tt := range []struct {
		name string
		set  func(*Prescription)
		log  []happened
		now  int
		want ToSet
	}{
		{"as set", nil, nil, 0, ToSet{2600, 650, 240, 0, false}},
		{"on the line", nil, []happened{{120, removedAt(1300)}}, 120, ToSet{2600, 650, 120, 0, false}},
		{"a drink of 99 beyond", nil, []happened{{120, removedAt(1300)}, {120, &Drink{Volume: 394}}}, 120, ToSet{2690, 695, 120, 0, false}},
		{"a drink of 100 beyond", nil, []happened{{120, removedAt(1300)}, {120, &Drink{Volume: 400}}}, 120, ToSet{2700, 700, 120, 0, true}},
		// No limit of the unit's: 13 · 58 = 754 mL/h, 1,508 mL in 2 h and a step more.
		{"behind, and no limit", nil, []happened{{120, removedAt(1000)}}, 120, ToSet{2600, 800, 120, 0, true}},
		{"behind, just over 13 by less than the machine's step", nil, []happened{{120, removedAt(1082)}}, 120, ToSet{2600, 759, 120, 0, false}},
		{"behind, over 13 by more", nil, []happened{{120, removedAt(1081)}}, 120, ToSet{2600, 760, 120, 0, true}},
		{"a drink makes it more than 13", nil, []happened{{120, removedAt(1100)}, {120, &Drink{Volume: 350}}}, 120, ToSet{2650, 775, 120, 0, true}},
		{"half an hour left", nil, []happened{{210, removedAt(0)}}, 210, ToSet{2600, 5200, 30, 0, true}},
		{"air is open", nil, []happened{{120, removedAt(1000)}, {120, opens(TroubleAir)}}, 120, ToSet{2600, 800, 120, 0, false}},
		{"hot fluid, and the goal is reached", nil, []happened{{200, removedAt(2600)}, {200, fluidC(39)}}, 200, ToSet{2600, 0, 40, 0, false}},
		{"air is over", nil, []happened{{119, opens(TroubleAir)}, {120, removedAt(1000)}, {120, &Trouble{Trouble: TroubleAir, State: TroubleOver, Said: "Sister Berg: go on"}}}, 120, ToSet{2600, 800, 120, 0, true}},
		// 11.5 mL/h/kg · 58 kg = 667 mL/h: 1,334 mL in 2 h.
		{"behind, the machine keeps the limit", unitRate(1150), []happened{{120, removedAt(1266)}}, 120, ToSet{2600, 667, 120, 0, false}},
		{"behind, the machine would pass it by less than its step", unitRate(1150), []happened{{120, removedAt(1260)}}, 120, ToSet{2590, 665, 120, 10, false}},
		{"behind, the machine would pass it", unitRate(1150), []happened{{120, removedAt(1250)}}, 120, ToSet{2580, 665, 120, 20, true}},
		{"the goal is reached", nil, []happened{{200, removedAt(2600)}}, 200, ToSet{2600, 0, 40, 0, true}},
		{"the largest removal is reached", func(rx *Prescription) { rx.MaxRemoval = ref(unit.Volume(2590)) }, []happened{{200, removedAt(2590)}}, 200, ToSet{2590, 0, 40, 10, true}},
		{"a little is left", nil, []happened{{200, removedAt(2590)}}, 200, ToSet{2600, 15, 40, 0, false}},
		{"another length", nil, []happened{{120, removedAt(1300)}, {120, &GoalChanged{Goal: 2600, Length: ref(unit.Minutes(270))}}}, 120, ToSet{2600, 520, 150, 0, false}},

		{"low", nil, []happened{{120, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(900))}}}, 120, ToSet{2200, 650, 120, 400, false}},
		{"low, and the goal is reached", nil, []happened{{200, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(2600))}}}, 200, ToSet{2600, 0, 40, 0, false}},
		{"still low", nil, []happened{{120, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(900))}}, {125, &Reading{Systolic: mm(90), Removed: ref(unit.Volume(900))}}}, 125, ToSet{2140, 647, 115, 460, false}},
		{"inside again", nil, []happened{{120, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(900))}}, {125, &Reading{Systolic: mm(120), Removed: ref(unit.Volume(900))}}}, 125, ToSet{2140, 647, 115, 460, true}},
		// 650 mL/h are 1,300 in 2 h, and 10 an hour of rounding 20 more.
		{"after a fall, over by what the machine rounds", nil, []happened{{100, lowAt(1060)}, {105, wellAt(1110)}, {120, removedAt(1280)}}, 120, ToSet{2580, 650, 120, 20, false}},
		{"after a fall, over by one more", nil, []happened{{100, lowAt(1060)}, {105, wellAt(1110)}, {120, removedAt(1279)}}, 120, ToSet{2570, 646, 120, 30, true}},
		{"a fall on the line asks for nothing", nil, []happened{{120, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(1300))}}, {125, &Reading{Systolic: mm(120), Removed: ref(unit.Volume(1354))}}}, 125, ToSet{2590, 645, 115, 10, false}},

		{"at the planned end", nil, []happened{{230, removedAt(2400)}}, 240, ToSet{2500, 0, 0, 100, true}},
		{"at the planned end, air is open", nil, []happened{{230, removedAt(2400)}, {231, opens(TroubleAir)}}, 240, ToSet{2500, 0, 0, 100, false}},
		{"beyond it", nil, []happened{{230, removedAt(2600)}}, 260, ToSet{2600, 0, 0, 0, true}},
		{"at the planned end, low", nil, []happened{{230, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(2400))}}}, 240, ToSet{2400, 0, 0, 200, false}},
	} {
		s := fallen(t)
		if tt.set != nil {
			tt.set(s.Rx)
		}
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		if got, ok := ToSetNow(s, on(tt.now)); !ok || got != tt.want {
			t.Errorf("%s: %+v, %v; want %+v", tt.name, got, ok, tt.want)
		}
	}
}

func TestToSetOutsideTheRun(t *testing.T) {
	s := fallen(t)
	put(s, on(200), &CameOff{Returned: "all"})
	for m, want := range map[int]bool{-1: false, 0: true, 199: true, 200: false, 260: false} {
		if got, ok := ToSetNow(s, on(m)); ok != want {
			t.Errorf("at %d min: %+v, %v", m, got, ok)
		}
	}
	s = &Session{ID: "no plan"}
	put(s, on(0), &Connected{})
	if got, ok := ToSetNow(s, on(30)); ok {
		t.Errorf("without a plan: %+v", got)
	}
}

// A rate that would have to be above 13 mL/h/kg is not to be set, and that is said
// before anything else; nothing is cut for it.
func TestOverThirteen(t *testing.T) {
	s := fallen(t)
	put(s, on(210), removedAt(0))
	n := setNow(t, s, 210)
	if got := Withheld(s, on(210)); n.Over != (got != "") || n.Over && !strings.Contains(got, "13") {
		t.Errorf("withheld %q, over %v", got, n.Over)
	}
	if got := Withheld(s, on(10)); got != "" {
		t.Errorf("withheld on the line: %q", got)
	}
	const want = "2600\u00a0mL in 30\u00a0min would be 5200\u00a0mL/h, above 13\u00a0mL/h/kg (ours). Do not set that: more time, or less. Ask your unit."
	if !n.Over || !n.Options[0].Over || n.Options[0].Goal != 2600 || len(n.Lead) != 1 || n.Said[0] != want || n.Lead[0] != want {
		t.Errorf("%+v", n)
	}
	s.Rx.Rate = ref(unit.RatePerKg(1200)) // the unit's limit cuts it
	if n := setNow(t, s, 210); n.Over || n.Options[0].Over || len(n.Lead) != 0 || !n.Ask || n.Options[0].Rate > 696 {
		t.Errorf("%+v", n)
	}
	// Below the step nothing is asked for, and nothing is said to be too much.
	s = fallen(t)
	put(s, on(120), removedAt(1085))
	if n := setNow(t, s, 120); n.Ask || n.Over || len(n.Said) != 0 || !n.Options[0].Over {
		t.Errorf("%+v", n)
	}
}

// The machine read above what holds the removal, the unit's limit, or 13 mL/h/kg,
// is to be set down.
func TestRateReadTooHigh(t *testing.T) {
	at := func(rate, removed int) *Reading {
		return &Reading{Rate: ref(unit.Rate(rate)), Removed: ref(unit.Volume(removed))}
	}
	fell := []happened{{50, at(500, 500)}, {60, lowAt(600)}, {65, wellAt(640)}}
	for _, tt := range []struct {
		name string
		set  int // the unit's limit, hundredths of mL/h/kg
		log  []happened
		want string // empty where nothing is said
	}{
		{"no limit, at 13", 0, []happened{{60, at(754, 650)}}, ""},
		{"no limit, above 13", 0, []happened{{60, at(1400, 650)}}, "1400\u00a0mL/h at 18:45, above 13\u00a0mL/h/kg (ours)"},
		{"at the unit's limit", 1000, []happened{{60, at(580, 650)}}, ""},
		{"above the unit's limit", 1000, []happened{{60, at(581, 650)}}, "581\u00a0mL/h at 18:45, above 580\u00a0mL/h, the limit (set by Dr Lind on 1 March 2026)"},
		{"the unit's limit is above 13", 1500, []happened{{60, at(860, 650)}}, ""},
		{"after a fall, as before it", 1000, append(fell[:3:3], happened{70, at(500, 680)}), ""},
		{"after a fall, above", 1000, append(fell[:3:3], happened{70, at(900, 680)}), "900\u00a0mL/h at 18:55, above 500\u00a0mL/h as set before the low pressure"},
		{"after a fall, above by what the machine rounds", 1000, append(fell[:3:3], happened{70, at(510, 680)}), ""},
		{"after a fall, above by one more", 1000, append(fell[:3:3], happened{70, at(511, 680)}), "511\u00a0mL/h at 18:55, above 500\u00a0mL/h as set before the low pressure"},
		{"after a fall, rounded, and above the unit's limit", 870, append(fell[:3:3], happened{70, at(505, 680)}), "505\u00a0mL/h at 18:55, above 500\u00a0mL/h as set before the low pressure"},
		{"still low", 1000, append(fell[:2:2], happened{64, at(900, 640)}), ""},
		{"a trouble is open", 0, []happened{{60, at(1400, 650)}, {61, opens(TroubleWeak)}}, ""},
		{"removal is off", 0, []happened{{60, at(1400, 650)}, {61, &RemovalOff{}}}, ""},
		{"off by a reading", 0, []happened{{60, at(1400, 650)}, {61, at(0, 650)}}, ""},
		{"on again, not read since", 0, []happened{{60, at(1400, 650)}, {61, &RemovalOff{}}, {62, &RemovalOn{}}}, ""},
		{"set down", 0, []happened{{60, at(1400, 650)}, {61, at(650, 660)}}, ""},
		{"another goal since", 0, []happened{{60, at(1400, 650)}, {61, &GoalChanged{Goal: 2600}}}, ""},
		{"the unit's word", 0, append(fell[:3:3], happened{66, saidBy(2600, "Sister Berg")}, happened{70, at(700, 680)}), "700\u00a0mL/h at 18:55, above 672\u00a0mL/h as your unit said at 18:51"},
		{"the unit's word, rounded", 0, append(fell[:3:3], happened{66, saidBy(2600, "Sister Berg")}, happened{70, at(682, 680)}), ""},
		{"the unit's word, one more", 0, append(fell[:3:3], happened{66, saidBy(2600, "Sister Berg")}, happened{70, at(683, 680)}), "683\u00a0mL/h at 18:55, above 672\u00a0mL/h as your unit said at 18:51"},
		{"removal stays off on its word", 0, append(fell[:3:3], happened{66, saidBy(640, "Sister Berg")}, happened{70, at(1, 640)}), "1\u00a0mL/h at 18:55, above 0\u00a0mL/h as your unit said at 18:51"},
	} {
		s := fallen(t)
		if tt.set > 0 {
			s.Rx.Rate = ref(unit.RatePerKg(tt.set))
		}
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		n := setNow(t, s, 71)
		want := "The machine was read at " + tt.want + ". Set it down."
		switch {
		case tt.want == "" && len(n.Lead) != 0, tt.want != "" && (!n.Ask || len(n.Lead) != 1 || n.Lead[0] != want || n.Said[0] != want):
			t.Errorf("%s: asks %v, %q, %q; want %q", tt.name, n.Ask, n.Lead, n.Said, want)
		}
	}
}
