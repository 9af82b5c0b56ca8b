package session

import (
	"testing"

	"ebbline/unit"
)

// What is felt and is one for the ambulance keeps the program from asking for
// removal: until its trouble is over, or until a reading is inside and 15 minutes
// have passed, both after the last complaint.
func TestFeltHardAsksForNothing(t *testing.T) {
	felt := func(at int, words string) happened { return happened{at, &Unwell{Words: words}} }
	well := func(at int) happened { return happened{at, bp(121)} }
	over := func(at int, code string) happened {
		return happened{at, &Trouble{Trouble: code, State: TroubleOver, Said: "Sister Berg: go on"}}
	}
	for _, tt := range []struct {
		name string
		log  []happened
		now  int
		ask  bool
	}{
		{"nothing felt", nil, 130, true},
		{"chest pain", []happened{felt(120, "chest pain")}, 121, false},
		{"breathless, in other capitals", []happened{felt(120, " Breathless")}, 121, false},
		{"chills", []happened{felt(120, "chills")}, 121, false},
		{"shivering hard", []happened{felt(120, "shivering hard")}, 121, false},
		{"back pain", []happened{felt(120, "back pain")}, 121, false},
		{"itch or wheeze", []happened{felt(120, "itch or wheeze")}, 121, false},
		{"faint", []happened{felt(120, "faint")}, 121, false},
		{"confused", []happened{felt(120, "confused")}, 121, false},
		{"bored", []happened{felt(120, "bored")}, 121, true},
		{"before it was felt", []happened{felt(120, "chest pain")}, 119, true},
		{"struck out", []happened{felt(120, "chest pain"), {121, nil}}, 122, true},
		{"an hour on, nothing read", []happened{felt(120, "chest pain")}, 180, false},
		{"inside, 14 minutes on", []happened{felt(120, "chest pain"), well(125)}, 134, false},
		{"inside, 15 minutes on", []happened{felt(120, "chest pain"), well(125)}, 135, true},
		{"read before it only", []happened{well(119), felt(120, "chest pain")}, 140, false},
		{"a reading without a pressure", []happened{felt(120, "chest pain"), {125, removedAt(1000)}}, 140, false},
		{"low since", []happened{felt(120, "chest pain"), well(125), {130, bp(80)}}, 140, false},
		{"felt again", []happened{felt(120, "chest pain"), well(125), felt(130, "chest pain")}, 140, false},
		{"felt again, and read", []happened{felt(120, "chest pain"), well(125), felt(130, "chest pain"), well(131)}, 145, true},
		{"any complaint counts", []happened{felt(120, "chest pain"), well(125), felt(130, "still odd")}, 140, false},
		{"a cramp too", []happened{felt(120, "chest pain"), well(125), {130, &Cramp{}}, well(131)}, 144, false},
		{"a complaint of another kind later", []happened{felt(120, "chest pain"), well(125), felt(136, "bored")}, 137, true},
		{"its trouble is over", []happened{felt(120, "chest pain"), over(123, TroubleHeart)}, 123, true},
		{"another trouble is over", []happened{felt(120, "chest pain"), over(123, TroubleFever)}, 123, false},
		{"two, one of them over", []happened{felt(120, "chest pain"), felt(121, "chills"), over(123, TroubleHeart)}, 123, false},
		{"two, both over", []happened{felt(120, "chest pain"), felt(121, "chills"), over(123, TroubleHeart), over(124, TroubleFever)}, 124, true},
		{"its trouble opened, and over", []happened{felt(120, "chest pain"), {121, opens(TroubleHeart)}, over(123, TroubleHeart)}, 123, true},
	} {
		s := fallen(t)
		put(s, on(110), removedAt(500)) // far behind: the machine would be asked about
		for _, h := range tt.log {
			if h.body == nil {
				s.Log[len(s.Log)-1].Struck = &Strike{Reason: "not mine"}
				continue
			}
			put(s, on(h.at), h.body)
		}
		set, ok := ToSetNow(s, on(tt.now))
		if !ok || set.Ask != tt.ask || set.Goal == 0 {
			t.Errorf("%s: %+v, %v; asks should be %v", tt.name, set, ok, tt.ask)
		}
		if n := setNow(t, s, tt.now); n.Ask != tt.ask || !n.Ask && len(n.Lead) > 0 {
			t.Errorf("%s: %+v", tt.name, n)
		}
	}
}

// Nor is it asked for at the planned end, or with a rate read too high.
func TestFeltHardAtTheEnd(t *testing.T) {
	s := fallen(t)
	put(s, on(230), &Reading{Removed: ref(unit.Volume(2400)), Rate: ref(unit.Rate(1400))})
	for _, ask := range []bool{true, false} {
		if set, ok := ToSetNow(s, on(240)); !ok || set.Ask != ask {
			t.Errorf("%+v, want %v", set, ask)
		}
		if n := setNow(t, s, 235); n.Ask != ask || (len(n.Lead) > 0) != ask {
			t.Errorf("%+v, want %v", n, ask)
		}
		put(s, on(231), &Unwell{Words: "chest pain"})
	}
}

// What a machine rounds.
func TestRounding(t *testing.T) {
	for _, tt := range []struct {
		decimals int
		held     unit.Rate
		want     unit.Rate
	}{{2, 650, 10}, {2, 1200, 12}, {3, 400, 5}, {3, 700, 7}, {1, 650, 10}, {2, 0, 0}} {
		if got := rounding(Machine{GoalUnit: "L", GoalDecimals: tt.decimals}, tt.held); got != tt.want {
			t.Errorf("%+v: %d", tt, got)
		}
	}
}
