package session

import (
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
		{"behind, and no limit", nil, []happened{{120, removedAt(1000)}}, 120, ToSet{2600, 800, 120, 0, false}},
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
		{"a fall on the line asks for nothing", nil, []happened{{120, &Reading{Systolic: mm(80), Removed: ref(unit.Volume(1300))}}, {125, &Reading{Systolic: mm(120), Removed: ref(unit.Volume(1354))}}}, 125, ToSet{2590, 645, 115, 10, false}},

		{"at the planned end", nil, []happened{{230, removedAt(2400)}}, 240, ToSet{2500, 0, 0, 100, true}},
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
