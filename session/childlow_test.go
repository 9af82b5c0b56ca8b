package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// What is low in a run: of a child a fall from its own start where the unit wrote no
// figure, the unit's figure where it did, and never one of an adult.
func TestLowPressureOfAChild(t *testing.T) {
	nothing := func(*Limits) {}
	by := func(l *Limits) { l.FallBelow = ref(unit.Pressure(70)) }
	for _, tt := range []struct {
		name  string
		child bool
		unit  func(*Limits)
		start unit.Pressure
		read  unit.Pressure
		low   bool
		says  string
	}{
		{"84 of 85, nothing written", true, nothing, 85, 84, false, ""},
		{"69 of 85", true, nothing, 85, 69, false, ""},
		{"68 of 85: 20 %", true, nothing, 85, 68, true, "a fall of 20 % or 30 mmHg, " + ownDefault},
		{"121 of 150", true, nothing, 150, 121, false, ""},
		{"120 of 150: 30 mmHg", true, nothing, 150, 120, true, "you started at 150"},
		{"131 of 160", true, nothing, 160, 131, false, ""},
		{"130 of 160: 30 mmHg", true, nothing, 160, 130, true, "you started at 160"},
		{"70 of 100, the unit's figure 70", true, by, 100, 70, false, ""},
		{"69 of 100, the unit's figure 70", true, by, 100, 69, true, "Low by the figure set by"},
		{"an adult at 84 of 85", false, nothing, 85, 84, true, "Low by " + ownDefault},
	} {
		s := byPaper(t)
		s.Child = tt.child
		s.Rx.Limits = Limits{}
		tt.unit(&s.Rx.Limits)
		b, _ := Last[VitalsBefore](s)
		b.SitSystolic, b.StandSystolic = ref(tt.start), nil
		put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(200))})
		put(s, on(60), &Reading{Systolic: ref(tt.read), Pulse: ref(unit.Pulse(100))})
		var said []string
		words := ""
		for _, r := range Remarks(s, on(61)) {
			if r.Code == "low_pressure" || r.Code == "nadir" {
				said = append(said, r.Code)
				words += strings.ReplaceAll(r.Words, "\u00a0", " ")
			}
		}
		if slices.Equal(said, []string{"low_pressure"}) != tt.low || len(said) > 1 || tt.low && !strings.Contains(words, tt.says) {
			t.Errorf("%s: %v %q", tt.name, said, words)
		}
		if n, _ := NextCheck(s, on(61)); (n.Why == DueLow) != tt.low {
			t.Errorf("%s: next check %s", tt.name, n.Why)
		}
		if upper, _ := FallTold(s, ref(tt.read), nil, on(61)); upper != tt.low {
			t.Errorf("%s: a fall told %v", tt.name, upper)
		}
		put(s, on(240), &CameOff{Returned: "all"})
		c := Close(s, on(250))
		if want := tt.low || !tt.child; c.Low != want {
			t.Errorf("%s: counts as low %v", tt.name, c.Low)
		}
	}
}

// With no figure of the unit and no start known nothing is measured against, but what
// is felt is said, whatever the figure.
func TestWhatAChildFeelsIsSaid(t *testing.T) {
	for _, tt := range []struct {
		name string
		body any
		want string
	}{
		{"said low with a figure", &LowPressure{Systolic: ref(unit.Pressure(84)), Felt: "dizzy"}, "low_pressure"},
		{"said low without a figure", &LowPressure{}, "low_pressure"},
		{"faint", &Unwell{Words: "faint"}, "unwell"},
		{"the trouble", &Trouble{Trouble: TroubleLow, State: "there"}, "low_pressure"},
	} {
		s := byPaper(t)
		s.Rx.Limits = Limits{}
		b, _ := Last[VitalsBefore](s)
		b.SitSystolic = nil
		put(s, on(0), &Connected{})
		put(s, on(60), tt.body)
		if !slices.ContainsFunc(Remarks(s, on(61)), func(r Remark) bool { return r.Code == tt.want && r.Level == LevelLook }) {
			t.Errorf("%s: nothing said", tt.name)
		}
	}
}

// A child's pulse while running: quick by the unit's figure, else by the rise from the
// start, by 40 a minute or 40 %; slow at any age, irregular as ever.
func TestPulseOfAChild(t *testing.T) {
	for _, tt := range []struct {
		name  string
		child bool
		unit  *unit.Pulse
		start int // 0 for none written before
		b     Reading
		out   bool
	}{
		{"118 of 85", true, nil, 85, Reading{Pulse: ref(unit.Pulse(118))}, false},
		{"119 of 85, 40 %", true, nil, 85, Reading{Pulse: ref(unit.Pulse(119))}, true},
		{"125 of 85", true, nil, 85, Reading{Pulse: ref(unit.Pulse(125))}, true},
		{"159 of 120", true, nil, 120, Reading{Pulse: ref(unit.Pulse(159))}, false},
		{"160 of 120, by 40", true, nil, 120, Reading{Pulse: ref(unit.Pulse(160))}, true},
		{"the first one read", true, nil, 0, Reading{Pulse: ref(unit.Pulse(140))}, false},
		{"140, the unit's 130", true, ref(unit.Pulse(130)), 120, Reading{Pulse: ref(unit.Pulse(140))}, true},
		{"125 of 85, the unit's 130", true, ref(unit.Pulse(130)), 85, Reading{Pulse: ref(unit.Pulse(125))}, false},
		{"45", true, nil, 85, Reading{Pulse: ref(unit.Pulse(45))}, true},
		{"newly irregular", true, nil, 85, Reading{Pulse: ref(unit.Pulse(100)), Irregular: true}, true},
		{"an adult at 140", false, nil, 120, Reading{Pulse: ref(unit.Pulse(140))}, true},
		{"an adult at 119 of 85", false, nil, 85, Reading{Pulse: ref(unit.Pulse(119))}, false},
	} {
		s := byPaper(t)
		edit(s, func(b *VitalsBefore) {
			if b.Pulse = nil; tt.start > 0 {
				b.Pulse = ref(unit.Pulse(tt.start))
			}
		})
		s.Child, s.Rx.PulseLow, s.Rx.PulseHigh = tt.child, nil, tt.unit
		put(s, on(0), &Connected{})
		put(s, on(60), &tt.b)
		if got := slices.ContainsFunc(Remarks(s, on(61)), func(r Remark) bool { return r.Code == "pulse_out" }); got != tt.out {
			t.Errorf("%s: said %v", tt.name, got)
		}
		for _, l := range ReadingLeads(s, on(61)) {
			if l.Key == "pulse_per_min" && !tt.b.Irregular && l.Beyond(float64(*tt.b.Pulse)) != tt.out {
				t.Errorf("%s: the form leads %v", tt.name, !tt.out)
			}
		}
	}
}

// After the treatment: lying by the same rule, standing from 30 % under the start.
func TestAfterLowOfAChild(t *testing.T) {
	for _, tt := range []struct {
		name         string
		child        bool
		lying, stand unit.Pressure
		low          bool
	}{
		{"84 of 90 lying", true, 84, 80, false},
		{"72 of 90 lying", true, 72, 80, true},
		{"64 of 90 standing", true, 84, 64, false},
		{"63 of 90 standing", true, 84, 63, true},
		{"an adult at 79 of 90 lying", false, 79, 90, true},
	} {
		s := byPaper(t)
		s.Child, s.Rx.Limits = tt.child, Limits{}
		b, _ := Last[VitalsBefore](s)
		b.SitSystolic = ref(unit.Pressure(90))
		put(s, on(0), &Connected{})
		put(s, on(240), &CameOff{Returned: "all"})
		put(s, on(245), &VitalsAfter{LieSystolic: ref(tt.lying), StandSystolic: ref(tt.stand)})
		if words, low := AfterLow(s); low != tt.low {
			t.Errorf("%s: %v %q", tt.name, low, words)
		}
	}
}
