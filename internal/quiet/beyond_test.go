package main

import (
	"slices"
	"testing"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// What lies beyond a figure of the unit is found from the values alone: each figure
// on both sides of its bound, and none where the unit wrote none.
func TestBeyondWhatTheUnitWrote(t *testing.T) {
	mm := func(v unit.Pressure) *unit.Pressure { return &v }
	rate := func(v unit.Pulse) *unit.Pulse { return &v }
	var rx session.Prescription
	rx.DryWeight = 72_000
	rx.SystolicLow, rx.SystolicHi, rx.StandLow, rx.FallBelow = mm(100), mm(185), mm(90), mm(90)
	rx.Rate, rx.Length, rx.Intake, rx.Washback = ref(unit.RatePerKg(1300)), ref(unit.Minutes(270)), 300, 250
	rx.PulseLow, rx.PulseHigh, rx.DryRing = rate(45), rate(120), ref(unit.Mass(1200))
	for _, c := range []struct {
		name   string
		change func(*evening)
		want   []string
		paper  bool
	}{
		{"nothing", func(*evening) {}, nil, false},
		{"sitting at the lower limit", func(e *evening) { e.vitals.SitSystolic = mm(100) }, nil, false},
		{"sitting under it", func(e *evening) { e.vitals.SitSystolic = mm(99) }, []string{"vitals"}, false},
		{"sitting under the upper one", func(e *evening) { e.vitals.SitSystolic = mm(184) }, nil, false},
		{"sitting at it", func(e *evening) { e.vitals.SitSystolic = mm(185) }, []string{"vitals"}, false},
		{"standing at its limit", func(e *evening) { e.vitals.StandSystolic = mm(90) }, nil, false},
		{"standing under it", func(e *evening) { e.vitals.StandSystolic = mm(89) }, []string{"vitals"}, false},
		{"pulse at the pair", func(e *evening) { e.vitals.Pulse, e.readings[0].Pulse = rate(45), rate(120) }, nil, false},
		{"slow before", func(e *evening) { e.vitals.Pulse = rate(44) }, []string{"vitals"}, false},
		{"fast in a reading", func(e *evening) { e.readings[1].Pulse = rate(121) }, []string{"pulse_out"}, false},
		{"1.1 kg under", func(e *evening) { e.weight = 70.9 }, nil, false},
		{"1.2 kg under", func(e *evening) { e.weight = 70.8 }, []string{"plan"}, false},
		{"a reading at the figure to act at", func(e *evening) { e.readings[1].Systolic = mm(90) }, nil, false},
		{"under it", func(e *evening) { e.readings[1].Systolic = mm(89) }, []string{"low_pressure"}, false},
		{"two running", func(e *evening) { e.readings[0].Systolic, e.readings[1].Systolic = mm(89), mm(88) }, []string{"low_pressure"}, false},
		{"one inside between", func(e *evening) { e.readings[0].Systolic, e.readings[2].Systolic = mm(89), mm(88) }, []string{"low_pressure", "low_pressure"}, false},
		{"a paper's 12.8 mL/h/kg", func(e *evening) { e.weight = 75.6 }, nil, true},
		{"13.1", func(e *evening) { e.weight = 75.7 }, []string{"plan"}, true},
		{"13.1, where the plan is cut", func(e *evening) { e.weight = 75.7 }, nil, false},
	} {
		e := &evening{weight: 74, vitals: session.VitalsBefore{SitSystolic: mm(138), StandSystolic: mm(130), Pulse: rate(72)}}
		for range 3 {
			e.readings = append(e.readings, reading{Reading: session.Reading{Systolic: mm(125), Pulse: rate(70)}})
		}
		c.change(e)
		var got []string
		for _, b := range e.beyondOf(&rx, c.paper) {
			got = append(got, b.rule)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		if list := e.beyondOf(&session.Prescription{DryWeight: rx.DryWeight, Length: rx.Length}, c.paper); len(list) > 0 {
			t.Errorf("%s: %v although the unit wrote nothing", c.name, list)
		}
	}
}

// A session in which something lies beyond is counted apart, and as said only when
// each rule that has to speak does, in the run on the very entry.
func TestBeyondIsCountedApart(t *testing.T) {
	look := func(code, entry string) session.Remark {
		return session.Remark{Code: code, Level: session.LevelLook, Entry: entry}
	}
	one := func(line []session.Check, list []session.Remark) *said {
		s := newSaid(7)
		s.beyond = []beyond{{rule: session.CheckVitals, row: before}, {rule: "low_pressure", row: 2}}
		s.start(line)
		s.startBeyond(line)
		s.runBeyond(2, record.Entry{ID: "the third"}, list)
		return s
	}
	vitals := []session.Check{{ID: session.CheckVitals, State: session.StopHere}}
	for _, c := range []struct {
		name string
		line []session.Check
		list []session.Remark
		want bool
	}{
		{"both", vitals, []session.Remark{look("low_pressure", "the third")}, true},
		{"not the check", []session.Check{{ID: session.CheckVitals, State: session.Ready}, {ID: session.CheckPlan, State: session.StopHere}}, []session.Remark{look("low_pressure", "the third")}, false},
		{"on another entry", vitals, []session.Remark{look("low_pressure", "the second")}, false},
		{"another remark", vitals, []session.Remark{look("nadir", "the third")}, false},
		{"a note", vitals, []session.Remark{{Code: "low_pressure", Level: session.LevelNote, Entry: "the third"}}, false},
	} {
		var all tally
		s := one(c.line, c.list)
		all.add(s)
		if s.saidAll() != c.want || all.chance != 1 || (all.chanceSaid == 1) != c.want {
			t.Errorf("%s: said %v, counted %d, %d said", c.name, s.saidAll(), all.chance, all.chanceSaid)
		}
		if all.sessions+all.looked+all.stopped > 0 {
			t.Errorf("%s: counted as uneventful too: %+v", c.name, all)
		}
	}
	var all tally
	all.add(newSaid(7))
	if all.sessions != 1 || all.chance != 0 {
		t.Errorf("nothing beyond: %+v", all)
	}
}

// The table of other scatters says what was counted: shares, stops, and what of the
// values beyond a figure was said.
func TestScatterIsWorded(t *testing.T) {
	for _, c := range []struct {
		of   *tally
		want string
	}{
		{nil, "–"},
		{&tally{sessions: 300, looked: 15}, "5.0 %"},
		{&tally{sessions: 300, looked: 15, stopped: 3}, "5.0 %, stop 1.0 % (3)"},
		{&tally{sessions: 200, looked: 5, chance: 4, chanceSaid: 3}, "2.5 %; beyond 3 of 4"},
	} {
		if got := c.of.spokeText(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.of, got, c.want)
		}
	}
}
