package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

func mmHg(v int) *unit.Pressure { return ref(unit.Pressure(v)) }

// measuredAs is a ready session whose vitals are these alone.
func measuredAs(t *testing.T, bodies ...*VitalsBefore) *Session {
	s := ready(t)
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "vitals_before" })
	for i, b := range bodies {
		put(s, evening.Add(mins(9+i)), b)
	}
	return s
}

// well are vitals with nothing amiss, changed as set says.
func well(set func(*VitalsBefore)) *VitalsBefore {
	b := &VitalsBefore{SitSystolic: mmHg(138), SitDiastolic: mmHg(80), StandSystolic: mmHg(130), StandDiastolic: mmHg(76),
		Pulse: ref(unit.Pulse(72)), Temperature: ref(unit.Temperature(366))}
	if set != nil {
		set(b)
	}
	return b
}

func vitalsOf(t *testing.T, s *Session, h History) Check {
	t.Helper()
	return atALook(t, check(t, StartLine(s, h, evening.Add(mins(40))), CheckVitals))
}

// Each of the four values, there or not, in all sixteen ways, and not there for
// any reason that may be written: only what is really not measured is open.
func TestNotMeasuredIsNotReady(t *testing.T) {
	parts := []struct {
		key, words string
		take       func(*VitalsBefore)
	}{
		{"sitting_systolic_mmhg", "Sitting pressure", func(b *VitalsBefore) { b.SitSystolic, b.SitDiastolic = nil, nil }},
		{"standing_systolic_mmhg", "Standing pressure", func(b *VitalsBefore) { b.StandSystolic, b.StandDiastolic = nil, nil }},
		{"pulse_per_min", "Pulse", func(b *VitalsBefore) { b.Pulse = nil }},
		{"temperature_c", "Temperature", func(b *VitalsBefore) { b.Temperature = nil }},
	}
	for _, why := range []Missing{"", NotDone, NotRecorded, DoesNotApply, AsleepByPlan} {
		for gone := range 1 << len(parts) {
			b := well(nil)
			missing := map[string]Missing{}
			for i, p := range parts {
				if gone&(1<<i) != 0 {
					p.take(b)
					if missing[p.key] = why; why == "" {
						delete(missing, p.key)
					}
				}
			}
			s := measuredAs(t, b)
			_, e := Last[VitalsBefore](s)
			e.Missing = missing
			c := vitalsOf(t, s, History{})
			if want := map[bool]CheckState{true: Ready, false: OpenYet}[gone == 0]; c.State != want {
				t.Errorf("%04b, %q: %s %q", gone, why, c.State, c.Words)
			}
			words := map[Missing]string{"": "not written"}[why]
			if why != "" {
				words = missingWords[why]
			}
			for i, p := range parts {
				if said := strings.Contains(c.Words, p.words+" "+words+"."); said != (gone&(1<<i) != 0) {
					t.Errorf("%04b, %q: %s said: %v, %q", gone, why, p.key, said, c.Words)
				}
			}
		}
	}
	if c := vitalsOf(t, measuredAs(t), History{}); c.State != OpenYet || c.Words != "Not measured yet." {
		t.Errorf("nothing: %s %q", c.State, c.Words)
	}
}

// A bound and its neighbours, by the unit's figure and by the program's own.
func TestBoundsOfTheVitals(t *testing.T) {
	type set = func(*VitalsBefore)
	sit := func(v int) set {
		return func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(v), mmHg(max(v, 100)) }
	}
	stand := func(v int) set {
		return func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(max(v, 100)), mmHg(v) }
	}
	lower := func(v int) set {
		return func(b *VitalsBefore) { b.SitDiastolic, b.StandDiastolic = mmHg(v), mmHg(v) }
	}
	pulse := func(v int) set { return func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(v)) } }
	temp := func(v int) set { return func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(v)) } }
	unitsOwn := func(rx *Prescription) {
		rx.SystolicLow, rx.SystolicHi, rx.PulseLow, rx.PulseHigh, rx.TempHigh =
			mmHg(110), mmHg(170), ref(unit.Pulse(55)), ref(unit.Pulse(110)), ref(unit.Temperature(375))
	}
	for _, tt := range []struct {
		name  string
		rx    func(*Prescription)
		set   set
		want  CheckState
		words string
		limit string
	}{
		{"sitting 99", nil, sit(99), Look, "Sitting 99\u00a0mmHg, under 100.", "100\u00a0mmHg, " + ownDefault},
		{"sitting 100", nil, sit(100), Ready, "", ""},
		{"sitting 179", nil, func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(179), mmHg(165) }, Ready, "", ""},
		{"sitting 180", nil, func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(180), mmHg(165) }, Look, "at or over 180", "180\u00a0mmHg, " + ownDefault},
		{"lower 109", nil, lower(109), Ready, "", ""},
		{"lower 110", nil, lower(110), Look, "Lower pressure 110\u00a0mmHg, at or over 110", ""},
		{"standing 89", nil, stand(89), Look, "Standing 89\u00a0mmHg, under 90.", "90\u00a0mmHg, " + ownDefault},
		{"standing 90", nil, stand(90), Ready, "", ""},
		{"pulse 49", nil, pulse(49), Look, "Pulse 49\u00a0/min, under 50", ""},
		{"pulse 50", nil, pulse(50), Ready, "", ""},
		{"pulse 120", nil, pulse(120), Ready, "", ""},
		{"pulse 121", nil, pulse(121), Look, "over 120", ""},
		{"37.7 °C", nil, temp(377), Ready, "", ""},
		{"37.8 °C", nil, temp(378), StopHere, "Temperature 37.8\u00a0°C, at or over 37.8.", "37.8\u00a0°C, " + ownDefault},

		{"the unit's, sitting 109", unitsOwn, sit(109), StopHere, "under 110", "110\u00a0mmHg, set by Dr Lind on 3 March 2026"},
		{"the unit's, sitting 110", unitsOwn, func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(110), mmHg(110) }, Ready, "", ""},
		{"the unit's, standing 109", unitsOwn, func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(118), mmHg(109) }, StopHere,
			"Standing 109\u00a0mmHg, under 110.", "110\u00a0mmHg, set by Dr Lind on 3 March 2026"},
		{"the unit's, standing 110", unitsOwn, func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(118), mmHg(110) }, Ready, "", ""},
		{"the unit's, sitting 170", unitsOwn, func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(170), mmHg(160) }, StopHere, "at or over 170", ""},
		{"the unit's, pulse 54", unitsOwn, pulse(54), StopHere, "under 55", ""},
		{"the unit's, pulse 111", unitsOwn, pulse(111), StopHere, "over 110", ""},
		{"the unit's, 37.4 °C", unitsOwn, temp(374), Ready, "", ""},
		{"the unit's, 37.5 °C", unitsOwn, temp(375), StopHere, "at or over 37.5", ""},
		// The unit's figure for standing takes the place of the program's own.
		{"the unit's under 85, standing 86", func(rx *Prescription) { rx.SystolicLow = mmHg(85) }, stand(86), Ready, "", ""},
	} {
		s := measuredAs(t, well(tt.set))
		if tt.rx != nil {
			tt.rx(s.Rx)
		}
		h := History{Drops: []bool{true, true, true}} // a drop is nothing new here
		c := vitalsOf(t, s, h)
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) || tt.limit != "" && c.Limit != tt.limit {
			t.Errorf("%s: %s %q, limit %q", tt.name, c.State, c.Words, c.Limit)
		}
	}
}

// A pressure has two numbers: where the lower one is left out, the check is open.
// Written alone afterwards it belongs to the upper one of before.
func TestLowerPressureIsMeasuredToo(t *testing.T) {
	for _, tt := range []struct {
		name  string
		set   func(*VitalsBefore)
		words string
	}{
		{"sitting", func(b *VitalsBefore) { b.SitDiastolic = nil }, "Lower pressure sitting: not written. Measure it."},
		{"standing", func(b *VitalsBefore) { b.StandDiastolic = nil }, "Lower pressure standing: not written. Measure it."},
		{"lying", func(b *VitalsBefore) {
			b.CannotStand, b.LieSystolic, b.StandSystolic, b.StandDiastolic = true, mmHg(135), nil, nil
		}, "Lower pressure lying: not written. Measure it."},
	} {
		s := measuredAs(t, well(tt.set))
		if c := vitalsOf(t, s, History{}); c.State != OpenYet || c.Words != tt.words && !strings.HasPrefix(c.Words, tt.words) {
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		}
		put(s, evening.Add(mins(12)), &VitalsBefore{SitDiastolic: mmHg(80), StandDiastolic: mmHg(76), LieDiastolic: mmHg(82)})
		if c := vitalsOf(t, s, History{}); c.State != Ready {
			t.Errorf("%s, written afterwards: %s %q", tt.name, c.State, c.Words)
		}
	}
}

// Standing, or lying, over the upper limit that the unit set is not inside it.
func TestOverTheUnitsLimitStanding(t *testing.T) {
	for _, tt := range []struct {
		standing int
		want     CheckState
	}{{169, Ready}, {170, Look}, {171, Look}} {
		s := measuredAs(t, well(func(b *VitalsBefore) { b.StandSystolic = mmHg(tt.standing) }))
		s.Rx.SystolicLow, s.Rx.SystolicHi = mmHg(110), mmHg(170)
		c := vitalsOf(t, s, History{})
		inside := strings.Contains(c.Words, "Inside")
		if c.State != tt.want || inside != (tt.want == Ready) || tt.want == Look && (!strings.Contains(c.Words, "at or over 170") || !strings.HasPrefix(c.Limit, "170")) {
			t.Errorf("standing %d: %s %q, limit %q", tt.standing, c.State, c.Words, c.Limit)
		}
	}
	s := measuredAs(t, well(func(b *VitalsBefore) {
		b.CannotStand, b.LieSystolic, b.LieDiastolic, b.StandSystolic, b.StandDiastolic = true, mmHg(172), mmHg(84), nil, nil
		b.SitSystolic = mmHg(168)
	}))
	s.Rx.SystolicLow, s.Rx.SystolicHi = mmHg(110), mmHg(170)
	if c := vitalsOf(t, s, History{}); c.State != Look || !strings.Contains(c.Words, "Lying 172") {
		t.Errorf("lying: %s %q", c.State, c.Words)
	}
}

// What one entry leaves out counts from the ones before it; a stop that one
// entry found is not gone because the next says nothing of it.
func TestVitalsInSeveralEntries(t *testing.T) {
	sat := &VitalsBefore{SitSystolic: mmHg(138), SitDiastolic: mmHg(80)}
	rest := &VitalsBefore{StandSystolic: mmHg(131), StandDiastolic: mmHg(78), Pulse: ref(unit.Pulse(70)), Temperature: ref(unit.Temperature(365))}
	if c := vitalsOf(t, measuredAs(t, sat), History{}); c.State != OpenYet {
		t.Errorf("sitting alone: %s %q", c.State, c.Words)
	}
	if c := vitalsOf(t, measuredAs(t, sat, rest), History{}); c.State != Ready {
		t.Errorf("the rest after it: %s %q", c.State, c.Words)
	}
	struck := measuredAs(t, sat, rest)
	struck.Log[slices.IndexFunc(struck.Log, func(e Event) bool { return e.Body == any(rest) })].Struck = &Strike{}
	if c := vitalsOf(t, struck, History{}); c.State != OpenYet || !strings.Contains(c.Words, "Temperature not written") {
		t.Errorf("the rest struck out: %s %q", c.State, c.Words)
	}

	low := measuredAs(t, well(func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(100), mmHg(101) }), &VitalsBefore{Temperature: ref(unit.Temperature(366))})
	low.Rx.SystolicLow = mmHg(110)
	if c := vitalsOf(t, low, History{}); c.State != StopHere || !strings.Contains(c.Words, "Sitting 100") {
		t.Errorf("a temperature after a low pressure: %s %q", c.State, c.Words)
	}
	// A call after the pressure answers it, also when something else is measured later.
	put(low, evening.Add(mins(9)), &Rang{Whom: "the unit", Said: "start, take off less"})
	c := vitalsOf(t, low, History{})
	if c.State != Look || strings.Count(c.Words, "Sitting 100") != 1 {
		t.Errorf("rung about it: %s %q", c.State, c.Words)
	}
	// Measured again: both stand there, with their times.
	put(low, evening.Add(mins(20)), &VitalsBefore{SitSystolic: mmHg(120), SitDiastolic: mmHg(80), StandSystolic: mmHg(118), StandDiastolic: mmHg(76)})
	if c := vitalsOf(t, low, History{}); c.State != Look || !strings.Contains(c.Words, "At 17:09: Sitting 100") || !strings.Contains(c.Words, "At 17:20: Sitting 120") {
		t.Errorf("measured again: %s %q", c.State, c.Words)
	}
}

// A fever stays a stop until it was rung about; other stops stay in sight. Two
// kinds of stop do not hide one another.
func TestFeverStaysAStop(t *testing.T) {
	hot := well(func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(384)) })
	cool := well(nil)
	s := measuredAs(t, hot, cool)
	c := vitalsOf(t, s, History{})
	if c.State != StopHere || !strings.Contains(c.Words, "At 17:09: Temperature 38.4") || !strings.Contains(c.Words, "At 17:10: Sitting 138/80, standing 130/76, pulse 72, 36.6\u00a0°C.") {
		t.Errorf("a cooler reading: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(12)), &Rang{Whom: "the unit", Said: "a cold; start"})
	if c := vitalsOf(t, s, History{}); c.State != Look || !strings.Contains(c.Words, "38.4") || !strings.Contains(c.Words, "You rang the unit at 17:12: a cold; start.") {
		t.Errorf("rung about it: %s %q", c.State, c.Words)
	}

	// Under the unit's own stricter figure, but no fever: it stays in sight only.
	warm := measuredAs(t, well(func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(376)) }), well(nil))
	warm.Rx.TempHigh = ref(unit.Temperature(375))
	if c := vitalsOf(t, warm, History{}); c.State != Look || !strings.Contains(c.Words, "37.6") {
		t.Errorf("37.6 °C, then 36.6: %s %q", c.State, c.Words)
	}

	// A fever, and in the next entry no fever but a pressure out of the limits.
	both := measuredAs(t, hot, well(func(b *VitalsBefore) { b.SitSystolic, b.StandSystolic = mmHg(100), mmHg(111) }))
	both.Rx.SystolicLow = mmHg(110)
	c = vitalsOf(t, both, History{})
	if c.State != StopHere || !strings.Contains(c.Words, "Sitting 100") || !strings.Contains(c.Words, "Temperature 38.4") {
		t.Errorf("a low pressure after the fever: %s %q", c.State, c.Words)
	}
	// A fever and a low pressure, and in the next entry only a good temperature:
	// the pressure has the time at which it was measured.
	left := measuredAs(t, well(func(b *VitalsBefore) {
		b.Temperature, b.SitSystolic, b.StandSystolic = ref(unit.Temperature(384)), mmHg(100), mmHg(111)
	}), &VitalsBefore{Temperature: ref(unit.Temperature(366))})
	left.Rx.SystolicLow = mmHg(110)
	c = vitalsOf(t, left, History{})
	if c.State != StopHere || !strings.Contains(c.Words, "At 17:09: Sitting 100") || !strings.Contains(c.Words, "At 17:09: Temperature 38.4") {
		t.Errorf("a temperature alone: %s %q", c.State, c.Words)
	}
	// Both in one minute: the order of writing decides.
	same := measuredAs(t, hot)
	put(same, evening.Add(mins(9)), cool)
	if c := vitalsOf(t, same, History{}); c.State != StopHere || !strings.Contains(c.Words, "38.4") {
		t.Errorf("in one minute: %s %q", c.State, c.Words)
	}
}

// Standing up: both bounds with their neighbours, with and without a complaint,
// new and of old, for one who stands and for one who cannot.
func TestDropOnStanding(t *testing.T) {
	drops := func(n, of int) []bool {
		list := make([]bool, of)
		for i := range n {
			list[i] = true
		}
		return list
	}
	for _, tt := range []struct {
		upper, lower int // standing, after 140/80 sitting
		dropped      bool
	}{
		{121, 71, false}, {120, 71, true}, {121, 70, true}, {120, 70, true}, {150, 85, false}, {140, 69, true}, {119, 0, true}, {121, 0, false},
	} {
		for _, complaint := range []string{"", "faint", "fall", "stomach"} {
			for _, had := range []struct{ n, of int }{{0, 0}, {2, 2}, {3, 3}, {2, 6}, {3, 6}, {6, 6}} {
				for _, lies := range []bool{false, true} {
					from, to := posture{upper: mmHg(140), lower: mmHg(80)}, posture{upper: mmHg(tt.upper)}
					if tt.lower > 0 {
						to.lower = mmHg(tt.lower)
					}
					b := &VitalsBefore{SitSystolic: from.upper, SitDiastolic: from.lower, StandSystolic: to.upper, StandDiastolic: to.lower}
					if lies {
						b = &VitalsBefore{CannotStand: true, LieSystolic: from.upper, LieDiastolic: from.lower, SitSystolic: to.upper, SitDiastolic: to.lower}
					}
					b.Pulse, b.Temperature = ref(unit.Pulse(72)), ref(unit.Temperature(366))
					s := measuredAs(t, b)
					edit(s, func(f *Fitness) {
						f.Faint, f.Fall, f.Stomach = complaint == "faint", complaint == "fall", complaint == "stomach"
					})
					c := vitalsOf(t, s, History{Drops: drops(had.n, had.of)})
					felt := complaint == "faint" || complaint == "fall"
					want, code := Ready, ""
					if tt.lower == 0 { // a lower pressure left out is open, and hides no drop
						if c.State != OpenYet || !strings.Contains(c.Words, "not written. Measure it.") {
							t.Errorf("%d/–: %s %q", tt.upper, c.State, c.Words)
						}
						c.Codes = slices.DeleteFunc(c.Codes, func(code string) bool { return code == "vitals_no_lower" })
						if c.State = Ready; len(c.Codes) > 0 {
							c.State = Look
						}
						c.Limit = cmp.Or(c.Limit, "20 upper or 10 lower, ")
					}
					switch {
					case tt.dropped && felt:
						want, code = Look, "vitals_drop_felt"
					case tt.dropped && had.n < 3:
						want, code = Look, "vitals_drop_new"
					}
					if c.State != want || code != "" && !slices.Equal(c.Codes, []string{code}) {
						t.Errorf("%d/%d, %q, %d of %d, lying %v: %s %v %q", tt.upper, tt.lower, complaint, had.n, had.of, lies, c.State, c.Codes, c.Words)
					}
					words := fmt.Sprintf("Sitting 140/80, standing %s:", to.text())
					if lies {
						words = fmt.Sprintf("Lying 140/80, sitting %s:", to.text())
					}
					if want == Look && (!strings.Contains(c.Words, words) || !strings.HasPrefix(c.Limit, "20 upper or 10 lower, ")) {
						t.Errorf("%q, limit %q", c.Words, c.Limit)
					}
				}
			}
		}
	}
}

// The six sessions are the last six that could show a drop.
func TestDropsOfEarlierSessions(t *testing.T) {
	var earlier []*Session
	for i, standing := range []*unit.Pressure{mmHg(110), mmHg(110), mmHg(110), mmHg(135), nil, mmHg(135), mmHg(135), mmHg(110)} {
		s := measuredAs(t, well(func(b *VitalsBefore) { b.StandSystolic, b.StandDiastolic = standing, nil }))
		s.ID = fmt.Sprint("before-", i)
		earlier = append(earlier, s)
	}
	h := HistoryOf(earlier[:7])
	if !slices.Equal(h.Drops, []bool{true, true, true, false, false, false}) {
		t.Fatalf("%v", h.Drops)
	}
	now := measuredAs(t, well(func(b *VitalsBefore) { b.StandSystolic = mmHg(110) }))
	if c := vitalsOf(t, now, h); c.State != Ready {
		t.Errorf("three of six: %s %q", c.State, c.Words)
	}
	kept := slices.Clone(h.Drops)
	for i, want := range []CheckState{Ready, Look} { // one falls out at the front, then a second that had one
		h.Add(earlier[[]int{7, 6}[i]])
		if c := vitalsOf(t, now, h); c.State != want {
			t.Errorf("after %d more: %v, %s %q", i+1, h.Drops, c.State, c.Words)
		}
	}
	if again := HistoryOf(earlier[:7]); !slices.Equal(again.Drops, kept) {
		t.Errorf("%v became %v", kept, again.Drops)
	}
}

// Said once, it holds in later sessions until it is taken back by a measurement;
// no thermometer is asked about again after 30 days.
func TestSaidOnceForAPerson(t *testing.T) {
	lying := func(b *VitalsBefore) {
		b.StandSystolic, b.StandDiastolic, b.LieSystolic, b.LieDiastolic = nil, nil, mmHg(140), mmHg(82)
	}
	first := measuredAs(t, well(func(b *VitalsBefore) { lying(b); b.CannotStand = true }))
	if c := vitalsOf(t, first, History{}); c.State != Ready || !strings.Contains(c.Words, "Measured lying: you wrote on 12 March 2026 that you cannot stand.") {
		t.Errorf("in the session in which it was said: %s %q", c.State, c.Words)
	}
	h := HistoryOf([]*Session{first})
	for _, tt := range []struct {
		name  string
		set   func(*VitalsBefore)
		want  CheckState
		words string
	}{
		{"lying", lying, Ready, "Measured lying"},
		{"neither", func(b *VitalsBefore) { lying(b); b.LieSystolic, b.LieDiastolic = nil, nil }, OpenYet, "You cannot stand; lying pressure not written."},
		{"lying too low", func(b *VitalsBefore) {
			lying(b)
			b.LieSystolic, b.SitSystolic = mmHg(99), mmHg(101)
		}, Look, "Lying 99"},
		{"stands after all", nil, Ready, "Written down"},
	} {
		s := measuredAs(t, well(tt.set))
		if c := vitalsOf(t, s, h); c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		}
		next := h
		next.Add(s)
		if can := next.Unable.Stand.IsZero(); can != (tt.name == "stands after all") {
			t.Errorf("after %s: can stand %v", tt.name, can)
		}
	}
	if c := vitalsOf(t, measuredAs(t, well(lying)), History{}); c.State != OpenYet || !strings.Contains(c.Words, "Standing pressure not written") {
		t.Errorf("lying, though nobody said that they cannot stand: %s %q", c.State, c.Words)
	}
	stoodAfter := measuredAs(t, well(func(b *VitalsBefore) { lying(b); b.CannotStand = true }))
	put(stoodAfter, on(250), &VitalsAfter{LieSystolic: mmHg(130), StandSystolic: mmHg(120)})
	if h := HistoryOf([]*Session{stoodAfter}); !h.Unable.Stand.IsZero() {
		t.Error("stood up after the session, and still cannot stand")
	}
}

func TestNoThermometerForAMonth(t *testing.T) {
	without := func(b *VitalsBefore) { b.Temperature = nil }
	said := measuredAs(t, well(func(b *VitalsBefore) { without(b); b.NoThermometer = true })) // at 17:09 on 12 March
	if c := vitalsOf(t, said, History{}); c.State != Ready || !strings.Contains(c.Words, "you had no thermometer on 12 March 2026. Asked again on 11 April 2026.") {
		t.Errorf("in the session in which it was said: %s %q", c.State, c.Words)
	}
	h := HistoryOf([]*Session{said})
	from := evening.Add(mins(9))
	for _, tt := range []struct {
		after time.Duration
		want  CheckState
		words string
	}{
		{time.Hour, Ready, "No temperature: you had no thermometer on 12 March 2026."},
		{NoThermometerFor - time.Second, Ready, "No temperature"},
		{NoThermometerFor, OpenYet, "You had no thermometer on 12 March 2026. Take a temperature, or say it again."},
		{90 * 24 * time.Hour, OpenYet, "You had no thermometer"},
	} {
		now := from.Add(tt.after)
		s := newSession(t)
		put(s, now.Add(-mins(5)), &Opened{Place: "home", Source: "live"})
		put(s, now.Add(-mins(4)), well(without))
		at := func(h History) Check { return check(t, StartLine(s, h, now), CheckVitals) }
		if c := at(h); c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("after %s: %s %q", tt.after, c.State, c.Words)
		}
		if c := at(History{}); c.State != OpenYet || !strings.Contains(c.Words, "Temperature not written") {
			t.Errorf("never said: %s %q", c.State, c.Words)
		}
		put(s, now.Add(-mins(3)), &VitalsBefore{NoThermometer: true})
		if c := at(h); c.State != Ready {
			t.Errorf("said again after %s: %s %q", tt.after, c.State, c.Words)
		}
		put(s, now.Add(-mins(2)), &VitalsBefore{Temperature: ref(unit.Temperature(366))})
		next := h
		if next.Add(s); !next.Unable.Thermometer.IsZero() {
			t.Error("a temperature was written, and there is still no thermometer")
		}
	}
	// Connected in time, the start line stays as it stood then.
	s := measuredAs(t, well(without))
	put(s, on(0), &Connected{})
	if c := check(t, StartLine(s, History{Unable: Unable{Thermometer: on(0).Add(-NoThermometerFor).Add(time.Minute)}}, on(600)), CheckVitals); c.State != Ready {
		t.Errorf("after the start: %s %q", c.State, c.Words)
	}
}
