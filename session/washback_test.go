package session

import (
	"testing"

	"ebbline/unit"
)

func threeTicks() *WashbackChecked { return &WashbackChecked{Saline: true, Clamp: true, Venous: true} }

// What was looked at holds for one attempt, and for the pump to start half an hour.
func TestWashbackHoldsForOneAttempt(t *testing.T) {
	for name, tt := range map[string]struct {
		then        func(*Session)
		at          int
		ready, kept bool
	}{
		"at once":                   {nil, 200, true, true},
		"before it":                 {nil, 199, false, false},
		"half an hour":              {nil, 230, true, true},
		"a minute more":             {nil, 231, false, true},
		"something went wrong":      {func(s *Session) { put(s, on(203), &Trouble{Trouble: TroubleAlarm, State: TroubleOpen}) }, 204, false, false},
		"and is over":               {func(s *Session) { overAt(s, TroubleAir, 203, 206) }, 207, false, false},
		"paused":                    {func(s *Session) { put(s, on(203), &Pause{}) }, 204, false, false},
		"going on":                  {func(s *Session) { put(s, on(203), &Resume{}) }, 204, false, false},
		"another blood flow":        {func(s *Session) { put(s, on(203), &FlowChanged{BloodFlow: 300}) }, 204, false, false},
		"a pressure meanwhile":      {func(s *Session) { put(s, on(220), &Reading{Systolic: mm(121)}) }, 222, true, true},
		"a reading as it still ran": {func(s *Session) { put(s, on(231), &Reading{Systolic: mm(121)}) }, 232, false, false},
		"a hot fluid":               {func(s *Session) { put(s, on(205), &Reading{DialTemp: ref(unit.Temperature(391))}) }, 206, false, false},
		"struck out":                {func(s *Session) { s.Log[len(s.Log)-1].Struck = &Strike{Reason: "not yet"} }, 201, false, false},
		"looked at again":           {func(s *Session) { overAt(s, TroubleAir, 203, 206); put(s, on(208), threeTicks()) }, 209, true, true},
		"one of the three left out": {func(s *Session) {
			put(s, on(201), &Pause{})
			put(s, on(202), &WashbackChecked{Saline: true, Clamp: true})
		}, 203, false, false},
		"low before, and over by now": {func(s *Session) { put(s, on(205), &Trouble{Trouble: TroubleLow, State: TroubleOver}) }, 206, true, true},
	} {
		s := connected(t)
		put(s, on(190), &Trouble{Trouble: TroubleLow, State: TroubleOpen})
		put(s, on(200), threeTicks())
		if tt.then != nil {
			tt.then(s)
		}
		at, kept := WashbackLooked(s, on(tt.at))
		if ready := WashbackReady(s, on(tt.at)); ready != tt.ready || kept != tt.kept {
			t.Errorf("%s: ready %t, looked at %t; want %t, %t", name, ready, kept, tt.ready, tt.kept)
		}
		if kept != !at.IsZero() {
			t.Errorf("%s: looked at %s, but %t", name, at, kept)
		}
	}
}

func overAt(s *Session, code string, from, to int) {
	put(s, on(from), &Trouble{Trouble: code, State: TroubleOpen})
	put(s, on(to), &Trouble{Trouble: code, State: TroubleOver, Said: "Sister Holm: it was outside"})
}

// No trouble in which the blood stays out lets the pump start, and every other does.
func TestWashbackWaitsForTheBlood(t *testing.T) {
	out := 0
	for _, one := range Troubles() {
		s := connected(t)
		put(s, on(200), &Trouble{Trouble: one.Code, State: TroubleOpen})
		put(s, on(201), threeTicks())
		if got := WashbackReady(s, on(202)); got == one.StaysOut() {
			t.Errorf("%s: ready %t while the blood stays out %t", one.Code, got, one.StaysOut())
		}
		if one.StaysOut() {
			out++
		}
	}
	if out < 7 {
		t.Errorf("the blood stays out in %d kinds of trouble only", out)
	}
}

func TestGivesBack(t *testing.T) {
	for name, tt := range map[string]struct {
		off  CameOff
		want bool
	}{
		"all":            {CameOff{Returned: "all"}, true},
		"part":           {CameOff{Returned: "part"}, true},
		"none":           {CameOff{Returned: "none"}, false},
		"none, 0 mL":     {CameOff{Returned: "none", Washback: ref(unit.Volume(0))}, false},
		"none, but some": {CameOff{Returned: "none", Washback: ref(unit.Volume(10))}, true},
	} {
		if got := tt.off.GivesBack(); got != tt.want {
			t.Errorf("%s: %t", name, got)
		}
	}
}
