package session

import (
	"fmt"
	"testing"
	"time"

	"ebbline/unit"
)

// A value beyond its bounds is one whose reading is said and leads to that trouble, and
// no other is.
func TestReadingLeadsAreTheRulesOfRemarks(t *testing.T) {
	for name, set := range map[string]func(*Prescription){
		"no figures of the unit": nil,
		"the unit's figures": func(rx *Prescription) {
			rx.SetConduct, rx.PulseLow, rx.PulseHigh = ref(unit.Conductivity(1380)), ref(unit.Pulse(45)), ref(unit.Pulse(100))
			rx.FallBelow = ref(unit.Pressure(95))
		},
	} {
		leads := map[string]Lead{}
		for _, l := range ReadingLeads(pressed(t, 128, set), on(30)) {
			leads[l.Key] = l
		}
		try := func(key string, typed float64, b *Reading) (said bool) {
			s := pressed(t, 128, set)
			put(s, on(30), b)
			for _, r := range Standing(s, on(30)) {
				said = said || r.Trouble() == leads[key].Trouble && r.Code != "temperature_out" || r.Code == "temperature_out" && r.Level == LevelLook
			}
			if got := leads[key].Beyond(typed); got != said {
				t.Errorf("%s, %s %v: beyond its bounds %v, said %v", name, key, typed, got, said)
			}
			return said
		}
		for _, one := range []struct {
			key      string
			from, to int
			of       float64
			reading  func(v int) *Reading
		}{
			{"dialysate_temp_c", 345, 400, 10, func(v int) *Reading { return &Reading{DialTemp: ref(unit.Temperature(v))} }},
			{"body_temperature_c", 360, 400, 10, func(v int) *Reading { return &Reading{BodyTemp: ref(unit.Temperature(v))} }},
			{"pulse_per_min", 35, 140, 1, func(v int) *Reading { return &Reading{Pulse: ref(unit.Pulse(v))} }},
		} {
			said := 0
			for v := one.from; v <= one.to; v++ {
				if try(one.key, float64(v)/one.of, one.reading(v)) {
					said++
				}
			}
			if said == 0 || said > one.to-one.from {
				t.Errorf("%s, %s: %d of %d lead on", name, one.key, said, one.to-one.from+1)
			}
		}
		s := pressed(t, 128, set)
		for v := 1100; v <= 1700; v++ {
			wrong, _ := FluidTold(s, ref(unit.Conductivity(v)), nil)
			if got := leads["conductivity_ms_cm"].Beyond(float64(v) / 100); got != wrong {
				t.Errorf("%s: %d is beyond %v, wrong %v", name, v, got, wrong)
			}
		}
		for v := 40; v <= 140; v++ {
			upper, _ := FallTold(s, mm(v), nil, on(30))
			_, lower := FallTold(s, nil, mm(v), on(30))
			if leads["systolic_mmhg"].Beyond(float64(v)) != upper || leads["diastolic_mmhg"].Beyond(float64(v)) != lower {
				t.Errorf("%s: %d as upper %v, as lower %v", name, v, upper, lower)
			}
		}
	}
	if got := ReadingLeads(pressed(t, 128, nil), on(0).Add(-time.Hour)); got != nil {
		t.Errorf("before the treatment: %v", got)
	}
}

// A pressure that recovers is no fall, wherever the last reading was; one that rises
// over the start is asked about as before.
func TestNoFall(t *testing.T) {
	for _, tt := range []struct {
		start, sys int
		want       bool
	}{
		{128, 118, true}, {128, 138, true}, {128, 139, false}, {128, 99, false}, {128, 98, false}, {0, 118, false}, {97, 91, true},
	} {
		s := pressed(t, tt.start, nil)
		if tt.start != 0 {
			put(s, on(20), &Reading{Systolic: mm(63)})
		}
		if got := NoFall(s, *mm(tt.sys), on(30)); got != tt.want {
			t.Error(fmt.Sprint(tt, got))
		}
	}
}
