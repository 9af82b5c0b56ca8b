package session

import (
	"testing"

	"ebbline/unit"
)

// The pressure that pages show is the last one written, low by the same state as
// the remarks: a reading at the start's own height ends it, one that is only
// higher does not.
func TestLastPressure(t *testing.T) {
	none := fallen(t)
	none.Log = nil
	if p, ok := LastPressure(none, on(0)); ok {
		t.Errorf("nothing was written: %+v", p)
	}
	s := fallen(t)
	put(s, on(10), &Reading{Systolic: mm(121), Diastolic: mm(70), Pulse: ref(unit.Pulse(80))})
	put(s, on(15), &Reading{Venous: mm(140)})
	put(s, on(20), &LowPressure{Systolic: mm(84)})
	put(s, on(25), &Reading{Systolic: mm(92)})
	put(s, on(30), &Reading{Systolic: mm(121)})
	put(s, on(40), &LowPressure{})
	put(s, on(45), &Reading{Systolic: mm(121)})
	put(s, on(50), &Trouble{Trouble: TroubleAir, State: TroubleOpen})
	put(s, on(55), &Trouble{Trouble: TroubleLow, State: TroubleOpen})
	put(s, on(56), &Trouble{Trouble: TroubleLow, State: TroubleOver})
	s.Log[len(s.Log)-1].Struck = &Strike{Reason: "not over"}
	for _, tt := range []struct {
		now    int
		upper  unit.Pressure
		at     int
		before bool
		low    bool
		felt   int // 0: nothing was felt
	}{
		{-10, 138, -36, true, false, 0}, {5, 138, -36, true, false, 0},
		{10, 121, 10, false, false, 0}, {15, 121, 10, false, false, 0},
		{20, 84, 20, false, true, 0}, {25, 92, 25, false, true, 0}, {30, 121, 30, false, false, 0},
		{40, 121, 30, false, true, 40}, {45, 121, 45, false, false, 0}, {54, 121, 45, false, false, 0},
	} {
		p, ok := LastPressure(s, on(tt.now))
		felt := p.Felt.IsZero() && tt.felt == 0 || tt.felt > 0 && p.Felt.Equal(on(tt.felt))
		if !ok || *p.Upper != tt.upper || !p.At.Equal(on(tt.at)) || p.Before != tt.before || p.Low != tt.low || !felt {
			t.Errorf("at %d: %s of %s, before %v, low %v, felt %s; want %+v", tt.now, p.Upper, p.At, p.Before, p.Low, p.Felt, tt)
		}
	}
	if p, _ := LastPressure(s, on(60)); !p.Felt.Equal(on(55)) {
		t.Errorf("the trouble was said at 55: %+v", p)
	}
	if p, _ := LastPressure(s, on(12)); *p.Lower != 70 || *p.Pulse != 80 {
		t.Errorf("%+v", p)
	}
	s.Log = s.Log[len(s.Log)-2:] // nothing but what was felt
	if p, ok := LastPressure(s, on(60)); !ok || p.Upper != nil || !p.At.IsZero() {
		t.Errorf("felt without any figure: %+v, %v", p, ok)
	}
}

// After the treatment the pressure that was taken then is the last one: the lower of
// lying and standing.
func TestLastPressureAfterTheEnd(t *testing.T) {
	s := connected(t)
	put(s, on(60), bp(128))
	put(s, on(240), &CameOff{Returned: "all"})
	put(s, on(250), &VitalsAfter{LieSystolic: mm(110), LieDiastolic: mm(60), StandSystolic: mm(74), StandDiastolic: mm(40)})
	p, ok := LastPressure(s, on(251))
	if !ok || *p.Upper != *mm(74) || *p.Lower != *mm(40) || !p.At.Equal(on(250)) || p.Before {
		t.Errorf("%+v", p)
	}
	put(s, on(255), &VitalsAfter{LieSystolic: mm(105), LieDiastolic: mm(58)})
	if p, _ = LastPressure(s, on(256)); *p.Upper != *mm(105) {
		t.Errorf("%+v", p)
	}
	if p, _ = LastPressure(s, on(245)); *p.Upper != *mm(128) {
		t.Errorf("before it was taken: %+v", p)
	}
}
