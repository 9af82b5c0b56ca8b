package session

import (
	"testing"

	"ebbline/unit"
)

// The most that a machine can have taken off follows from the highest rate that is
// known, whoever named it.
func TestPumpCould(t *testing.T) {
	rate := func(v int) *unit.Rate { return ref(unit.Rate(v)) }
	for _, tt := range []struct {
		name     string
		set      func(*Session)
		from, to int
		reads    *unit.Rate
		want     unit.Volume
	}{
		{"the plan's 650", nil, 0, 60, nil, 1075},
		{"in a quarter of an hour", nil, 60, 75, nil, 344}, // 243.75 up
		{"in the same minute", nil, 60, 60, nil, 100},
		{"backwards", nil, 60, 50, nil, 100},
		{"a higher rate is read now", nil, 60, 120, rate(900), 1450},
		{"a lower one", nil, 60, 120, rate(300), 1075},
		{"a higher one was read before", func(s *Session) { put(s, on(30), &Reading{Rate: rate(900)}) }, 60, 120, nil, 1450},
		{"only after it", func(s *Session) { put(s, on(130), &Reading{Rate: rate(900)}) }, 60, 120, nil, 1075},
		{"a goal changed", func(s *Session) { put(s, on(0), &GoalChanged{Goal: 4000}) }, 60, 120, nil, 1600},
		{"the unit's limit", func(s *Session) { s.Rx.Rate = ref(unit.RatePerKg(1300)) }, 60, 120, nil, 1231}, // 754 mL/h
	} {
		s := fallen(t)
		if tt.set != nil {
			tt.set(s)
		}
		if got := PumpCould(s, on(tt.from), on(tt.to), tt.reads); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
	s := &Session{}
	put(s, on(0), &Connected{})
	if got := PumpCould(s, on(0), on(60), nil); got != 2350 {
		t.Errorf("with no rate known: %s", got)
	}
}

// Far ahead is by more than 150 mL and more than 20 %, with pauses and removal that
// was off taken out, and not asked again for what was stood by.
func TestFarAhead(t *testing.T) {
	for _, tt := range []struct {
		name    string
		log     []happened
		at      int
		removed unit.Volume
		planned unit.Volume
		want    bool
	}{
		{"20 %", nil, 120, 1560, 1300, false},
		{"more than 20 %", nil, 120, 1561, 1300, true},
		{"150 of little", nil, 30, 475, 325, false},
		{"151 of little", nil, 30, 476, 325, true},
		{"behind", nil, 120, 500, 1300, false},
		{"a pause", []happened{{30, &Pause{}}, {60, &Resume{}}}, 120, 1300, 975, true},
		{"removal off", []happened{{30, &RemovalOff{}}, {60, &RemovalOn{}}}, 120, 1300, 975, true},
		{"a rate of 0", []happened{{30, &Reading{Rate: ref(unit.Rate(0))}}, {60, &Reading{Rate: ref(unit.Rate(650))}}}, 120, 1300, 975, true},
		{"stood by before", []happened{{60, removedAt(1000)}}, 120, 1650, 1300, false},
		{"further ahead by 150", []happened{{60, removedAt(1000)}}, 120, 1800, 1300, false},
		{"further ahead by 151", []happened{{60, removedAt(1000)}}, 120, 1801, 1300, true},
		{"on the line before", []happened{{60, removedAt(650)}}, 120, 1561, 1300, true},
		{"the goal was changed", []happened{{60, removedAt(650)}, {60, &GoalChanged{Goal: 3650}}}, 120, 1700, 1650, false},
	} {
		s := fallen(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		if planned, far := FarAhead(s, on(tt.at), tt.removed); far != tt.want || planned != tt.planned {
			t.Errorf("%s: %v of %s, want %v of %s", tt.name, far, planned, tt.want, tt.planned)
		}
	}
	if _, far := FarAhead(&Session{}, on(60), 5000); far {
		t.Error("without a plan")
	}
}

// Being ahead is remarked on before it is asked about, never the other way.
func TestAheadIsRemarkedOnFirst(t *testing.T) {
	asked := 0
	for ml := 0; ml < 2600; ml += 10 {
		for _, m := range []int{30, 60, 120, 200} {
			s := fallen(t)
			s.Rx.CheckEvery = ref(unit.Minutes(240))
			_, far := FarAhead(s, on(m), unit.Volume(ml))
			put(s, on(m), removedAt(ml))
			said := len(saidOf(s, on(m), "removal_ahead")) == 1
			if far {
				asked++
			}
			if far && !said {
				t.Fatalf("%d mL at %d min is asked about and not remarked on", ml, m)
			}
		}
	}
	if asked == 0 {
		t.Error("nothing was asked about")
	}
}
