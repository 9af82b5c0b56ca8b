package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// A child's pressure and pulse before the start are judged by the unit's figures alone,
// and an adult's as ever. Pressure 78 over 45 and a pulse of 140 are said of no child
// by a figure of adults; that figures are not written is said once.
func TestVitalsOfAChild(t *testing.T) {
	vitals := func(sys, dia unit.Pressure, pulse unit.Pulse) func(*Session) {
		return func(s *Session) {
			b, _ := Last[VitalsBefore](s)
			b.SitSystolic, b.SitDiastolic, b.StandSystolic, b.StandDiastolic, b.Pulse = ref(sys), ref(dia), ref(sys), ref(dia), ref(pulse)
		}
	}
	nothing := func(*Limits) {}
	lacks := "figures for blood pressure before the start, pulse, low pressure while running are not written"
	for _, tt := range []struct {
		name  string
		child bool
		unit  func(*Limits)
		set   func(*Session)
		state CheckState
		codes []string
		says  string
	}{
		{"ordinary, nothing written", true, nothing, vitals(96, 60, 110), Look, []string{"vitals_unheld"}, lacks},
		{"ordinary, all written", true, childsFigures, vitals(96, 60, 110), Ready, nil, "Inside the limits your unit set"},
		{"78/45, nothing written", true, nothing, vitals(78, 45, 110), Look, []string{"vitals_unheld"}, lacks},
		{"78/45, all written", true, childsFigures, vitals(78, 45, 110), StopHere, []string{"vitals_sitting_out", "vitals_standing_out"}, "under 80"},
		{"pulse 140, nothing written", true, nothing, vitals(96, 60, 140), Look, []string{"vitals_unheld"}, lacks},
		{"pulse 140, all written", true, childsFigures, vitals(96, 60, 140), Ready, nil, "Inside"},
		{"pulse 151, all written", true, childsFigures, vitals(96, 60, 151), StopHere, []string{"vitals_pulse_out"}, "over 150"},
		{"190/115, nothing written", true, nothing, vitals(190, 115, 110), Look, []string{"vitals_unheld"}, lacks},
		{"141, all written", true, childsFigures, vitals(141, 115, 110), StopHere, []string{"vitals_sitting_out", "vitals_standing_out"}, "over 140"},
		{"78/45, only the lower one written", true, func(l *Limits) { l.SystolicLow = ref(unit.Pressure(80)) }, vitals(78, 45, 110), StopHere,
			[]string{"vitals_sitting_out", "vitals_standing_out", "vitals_unheld"}, "under 80"},
		{"no pulse and no fall set by the unit", true, func(l *Limits) {
			l.SystolicLow, l.SystolicHi, l.FallNoneBy, l.PulseNoneBy = ref(unit.Pressure(80)), ref(unit.Pressure(140)), "Dr Lind", "Dr Lind"
		}, vitals(96, 60, 140), Ready, nil, "Inside"},
		{"an adult of 78/45", false, nothing, vitals(78, 45, 110), Look, []string{"vitals_sitting_out", "vitals_standing_out"}, "under 100"},
		{"an adult with a pulse of 140", false, nothing, vitals(120, 70, 140), Look, []string{"vitals_pulse_out"}, "over 120"},
		{"a fever all the same", true, childsFigures, func(s *Session) {
			vitals(96, 60, 110)(s)
			b, _ := Last[VitalsBefore](s)
			b.Temperature = ref(unit.Temperature(379))
		}, StopHere, []string{"vitals_temperature_out"}, "37.9"},
	} {
		s := byPaper(t)
		s.Child = tt.child
		s.Rx.Limits = Limits{Rate: s.Rx.Rate}
		tt.unit(&s.Rx.Limits)
		tt.set(s)
		c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckVitals)
		words := strings.ReplaceAll(c.Words, "\u00a0", " ")
		codes := slices.DeleteFunc(slices.Clone(c.Codes), func(code string) bool {
			return code == "vitals_inside" || code == "vitals_written_down" || code == "vitals_values"
		})
		slices.Sort(codes)
		if c.State != tt.state || !strings.Contains(words, tt.says) || !slices.Equal(codes, tt.codes) {
			t.Errorf("%s: %s %v %q, want %s %v with %q", tt.name, c.State, codes, words, tt.state, tt.codes, tt.says)
		}
		if tt.child && tt.name != "a fever all the same" && strings.Contains(c.Limit, ownDefault) {
			t.Errorf("%s: held against %q", tt.name, c.Limit)
		}
	}
}

// A pulse as slow as potassium makes it stops a child too: under 50 is slow at any age.
func TestSlowPulseOfAChildStops(t *testing.T) {
	s := byPaper(t)
	childsFigures(&s.Rx.Limits)
	b, _ := Last[VitalsBefore](s)
	b.Pulse = ref(unit.Pulse(49))
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckGap); c.State != StopHere || !strings.Contains(c.Words, "Pulse 49") {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// The figures that alone judge a child are asked for until they are written, and no
// figure of adults asks for another one.
func TestAsksTheUnitForAChild(t *testing.T) {
	s := byPaper(t)
	b, _ := Last[VitalsBefore](s)
	b.SitSystolic, b.StandSystolic = ref(unit.Pressure(85)), ref(unit.Pressure(82))
	put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(200))})
	put(s, on(60), &Reading{Systolic: ref(unit.Pressure(84)), Pulse: ref(unit.Pulse(140))})
	put(s, on(240), &CameOff{Returned: "all"})
	sessions := []*Session{s, s, s, s, s, s}
	codes := func(l Limits) (list []string) {
		rx := *s.Rx
		rx.Limits = l
		for _, a := range AskedOfUnit(&rx, sessions, Asker{Child: true}) {
			list = append(list, a.Code)
			if !strings.HasPrefix(a.Words, "A child") || len(a.Keys) == 0 {
				t.Errorf("%s: %q, %v", a.Code, a.Words, a.Keys)
			}
			if only := strings.Contains(a.Words, "only your unit’s own figures judge"); only == (a.Code == AskFall) || a.Code == AskFall && !strings.Contains(a.Words, childFallWords) {
				t.Errorf("%s: %q; what is low while running has a rule", a.Code, a.Words)
			}
		}
		return list
	}
	if got := codes(Limits{}); !slices.Equal(got, []string{AskStart, AskPulse, AskFall}) {
		t.Errorf("nothing written: %v", got)
	}
	l := Limits{SystolicLow: ref(unit.Pressure(80)), PulseHigh: ref(unit.Pulse(150))}
	if got := codes(l); !slices.Equal(got, []string{AskStart, AskPulse, AskFall}) {
		t.Errorf("one side of each written: %v", got)
	}
	if childsFigures(&l); len(codes(l)) != 0 {
		t.Errorf("all written: %v", codes(l))
	}
	l.PulseLow, l.PulseHigh, l.PulseNoneBy = nil, nil, "Dr Lind"
	if got := codes(l); len(got) != 0 {
		t.Errorf("no pulse set: %v", got)
	}
}

// Who was sick and weighs less than the dry weight is short of water whatever the
// pressure; a pressure that is low by a figure of adults makes no child so.
func TestAChildBelowDryWeight(t *testing.T) {
	for _, tt := range []struct {
		child bool
		unit  *unit.Pressure
		want  int
	}{{false, nil, 1}, {true, nil, 0}, {true, ref(unit.Pressure(90)), 1}} {
		s := newSession(t)
		s.Child, s.Rx.SystolicLow, s.Rx.StandLow = tt.child, tt.unit, nil
		put(s, evening, &VitalsBefore{SitSystolic: ref(unit.Pressure(85))})
		if list, _ := unwell(s, evening); len(list) != tt.want {
			t.Errorf("%+v: %v", tt, list)
		}
	}
}
