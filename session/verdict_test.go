package session

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// stopping are values that stop the start, each with a better one of its kind, and
// what is left of the stop when that follows.
func stopping() []stopper {
	vitals := func(sys unit.Pressure, temp unit.Temperature) *VitalsBefore {
		return &VitalsBefore{SitSystolic: &sys, SitDiastolic: ref(unit.Pressure(70)), StandSystolic: &sys, StandDiastolic: ref(unit.Pressure(70)),
			Pulse: ref(unit.Pulse(70)), Temperature: &temp}
	}
	thrill := func(is string) *AccessCheck { return &AccessCheck{Thrill: is, Bruit: is, Skin: "clean"} }
	label := func(k unit.Molar) *BathLabel {
		return &BathLabel{K: k, Ca: 150, Lot: "b1", Expiry: unit.NewDate(2027, 1, 31)}
	}
	return []stopper{
		{CheckFit, &Fitness{Fever: true}, &Fitness{}, "fever", keptAsStop, true},
		{CheckFit, &Fitness{ChestPain: true}, &Fitness{}, "chest pain", keptAsStop, true},
		{CheckFit, &Fitness{Breathless: true}, &Fitness{}, "breathless", looked, true},
		{CheckAccess, thrill("absent"), thrill("present"), "No thrill", keptAsStop, true},
		{CheckVitals, vitals(84, 366), vitals(130, 366), "84", looked, true},
		{CheckVitals, vitals(130, 391), vitals(130, 366), "39.1", keptAsStop, true},
		{CheckSelfTest, &SelfTest{Tries: 1}, &SelfTest{Passed: true, Tries: 1}, "Not passed", looked, true},
		{CheckConduct, &FluidCheck{MachineConduct: 1400, MeterConduct: 1460}, &FluidCheck{MachineConduct: 1400, MeterConduct: 1400}, "14.60", looked, true},
		{CheckBath, label(300), label(200), "K 3", looked, false},
		{CheckBath, &BathLabel{K: 200, Ca: 150, Lot: "b0", Expiry: unit.NewDate(2026, 1, 31)}, label(200), "Bath expired", looked, false},
	}
}

type stopper struct {
	check     string
	bad, good any
	says      string // of the bad one
	kept      keeping
	rings     bool // a call answers it
}

// What stopped is not wiped out by a better value, whatever the order in which the
// bad value, the better one and the call were written (hazard H-140).
func TestWhatStoppedStays(t *testing.T) {
	const bad, good, call = "bad", "good", "call"
	for _, one := range stopping() {
		afterCall := StopHere // of a bad value that stands
		if one.rings {
			afterCall = Look
		}
		uncalled := Look // of a bad value with a better one behind it
		if one.kept == keptAsStop {
			uncalled = StopHere
		}
		for _, tt := range []struct {
			order []string
			want  CheckState
			times []int // of the values that are shown
		}{
			{[]string{bad}, StopHere, nil},
			{[]string{bad, call}, afterCall, nil},
			{[]string{call, bad}, StopHere, nil},
			{[]string{bad, call, bad}, StopHere, nil},
			{[]string{good, bad}, StopHere, nil},
			{[]string{bad, good}, uncalled, []int{0, 1}},
			{[]string{bad, good, call}, Look, []int{0, 1}},
			{[]string{bad, call, good}, Look, []int{0, 2}},
			{[]string{call, bad, good}, uncalled, []int{1, 2}},
			{[]string{bad, call, bad, good}, uncalled, []int{2, 3}},
			{[]string{bad, good, good}, uncalled, []int{0, 2}},
		} {
			s := newSession(t)
			s.Rx.SystolicLow = ref(unit.Pressure(90))
			put(s, evening, &Opened{Place: "home", Source: "live"})
			clockOf := func(i int) time.Time { return evening.Add(mins(10 * (i + 1))) }
			for i, what := range tt.order {
				switch what {
				case bad:
					put(s, clockOf(i), one.bad)
				case good:
					put(s, clockOf(i), one.good)
				case call:
					put(s, clockOf(i), &Rang{Whom: "Nurse Berg", Said: "come in slowly"})
				}
			}
			c := check(t, StartLine(s, known(), evening.Add(mins(90))), one.check)
			name := fmt.Sprintf("%s %q: %s", one.check, one.says, strings.Join(tt.order, ", "))
			if c.State != tt.want || !strings.Contains(c.Words, one.says) {
				t.Errorf("%s: %s %q, want %s with %q", name, c.State, c.Words, tt.want, one.says)
			}
			for _, i := range tt.times {
				if at := clock(clockOf(i)); !strings.Contains(c.Words, at) {
					t.Errorf("%s: %q does not hold %s", name, c.Words, at)
				}
			}
			if c.State == Look && one.kept == keptAsStop && !strings.Contains(c.Words, "You rang Nurse Berg at") {
				t.Errorf("%s: %q does not name the call", name, c.Words)
			}
			if c.Rings != (c.State == StopHere && (one.rings || len(tt.times) > 0)) {
				t.Errorf("%s: a call is asked for: %v, at %s", name, c.Rings, c.State)
			}
		}
	}
}

// Two complaints are two: the call is asked for both, and neither hides behind the
// other.
func TestEarlierComplaintIsNotHidden(t *testing.T) {
	s := newSession(t)
	put(s, evening, &Opened{Place: "home"})
	put(s, evening.Add(mins(10)), &Fitness{Fever: true})
	put(s, evening.Add(mins(20)), &Fitness{Bleeding: true})
	c := check(t, StartLine(s, known(), evening.Add(mins(30))), CheckFit)
	if c.State != StopHere || !strings.Contains(c.Words, "fever") || !strings.Contains(c.Words, "bleeding") {
		t.Errorf("%s %q", c.State, c.Words)
	}
	// The call that "How am I?" tells of answers what that stopped before.
	put(s, evening.Add(mins(40)), &Fitness{Bleeding: true, Rang: "Nurse Berg: come in"})
	if c := check(t, StartLine(s, known(), evening.Add(mins(50))), CheckFit); c.State != Look || !strings.Contains(c.Words, "fever") {
		t.Errorf("rung about in “How am I?”: %s %q", c.State, c.Words)
	}
}

// A note with nothing ticked is not “nothing new”: it stands in the words, shortened,
// and stays when the next answer has none.
func TestANoteIsPutBeside(t *testing.T) {
	long := "fever 39, chills since midnight, the arm hurts\nand the left leg is thicker than the other one"
	for name, b := range map[string]*Fitness{"none of these": {None: true, Note: long}, "nothing ticked": {Note: long}} {
		s := ready(t)
		put(s, evening.Add(mins(10)), b)
		c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckFit)
		if c.State != Look || !strings.Contains(c.Words, "You wrote: “fever 39, chills since midnight, the arm hurts and the left…”.") || strings.Contains(c.Words, "Nothing new") {
			t.Errorf("%s: %s %q", name, c.State, c.Words)
		}
		put(s, evening.Add(mins(20)), &Fitness{None: true, Note: " "})
		if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckFit); c.State != Look || !strings.Contains(c.Words, "At 17:10: You wrote: “fever 39") {
			t.Errorf("%s, then none: %s %q", name, c.State, c.Words)
		}
	}
	s := ready(t)
	edit(s, func(b *Fitness) { b.Note = "slept badly" })
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckFit); c.State != Look || !strings.Contains(c.Words, "“slept badly”") {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// A retest for age alone leaves nothing behind.
func TestAnOldTestIsForgotten(t *testing.T) {
	s := ready(t) // tested 12 minutes in
	at := evening.Add(mins(80))
	if c := check(t, StartLine(s, known(), at), CheckChlorine); c.State != StopHere || !strings.Contains(c.Words, "Test again") {
		t.Fatalf("%s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(75)), &Chlorine{Result: 50, Below: true, ReadsDown: 50, Expiry: date(t, "2027-01-01"), Point: "first_carbon"})
	if c := check(t, StartLine(s, known(), at), CheckChlorine); c.State != Ready {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// A call answers what was there; what came about later wants a call of its own.
func TestCallBeforeTheMatter(t *testing.T) {
	s := ready(t)
	put(s, evening.Add(mins(20)), &Rang{Whom: "the technician", Said: "go on"})
	for since, want := range map[int]CheckState{10: Look, 30: StopHere} {
		h := known()
		h.Waiting = []Waiting{{Words: "Water over its limit: lead. Ring your unit.", Since: evening.Add(mins(since))}}
		if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckWaiting); c.State != want {
			t.Errorf("since %d min: %s %q", since, c.State, c.Words)
		}
	}
}

// What was rung about in the same answer stays in sight when a better one follows, in
// each check that it would have stopped.
func TestRungInTheSameAnswerStays(t *testing.T) {
	for _, tt := range []struct {
		check, says string
		bad         *Fitness
	}{
		{CheckFit, "At 17:10: Fever. You rang: the nurse: come in.", &Fitness{Fever: true}},
		{CheckFit, "At 17:10: Chest pain. You rang: the nurse: come in.", &Fitness{ChestPain: true}},
		{CheckFit, "At 17:10: Weak, hospital. You rang: the nurse: come in.", &Fitness{Weakness: true, Hospital: true}},
		{CheckGap, "At 17:10: Weak. You rang: the nurse: come in.", &Fitness{Weakness: true}},
		{CheckHeparin, "At 17:10: Hold heparin: bleeding.", &Fitness{Bleeding: true}},
		{CheckAccess, "Fever told. You rang: the nurse: come in.", &Fitness{Fever: true}},
	} {
		s := ready(t)
		tt.bad.Rang = "the nurse: come in"
		put(s, evening.Add(mins(10)), tt.bad)
		put(s, evening.Add(mins(20)), &Fitness{None: true})
		c := check(t, StartLine(s, twoDaysBefore(), evening.Add(mins(40))), tt.check)
		if c.State != Look || !strings.Contains(c.Words, tt.says) {
			t.Errorf("%s: %s %q, want look with %q", tt.check, c.State, c.Words, tt.says)
		}
		if tt.check == CheckFit && !strings.Contains(c.Words, "At 17:20: Nothing new.") {
			t.Errorf("the better answer is not beside it: %q", c.Words)
		}
	}
	s := ready(t) // a worse one that nobody was rung about is a stop beside it
	put(s, evening.Add(mins(10)), &Fitness{Fever: true, Rang: "the nurse: come in"})
	put(s, evening.Add(mins(20)), &Fitness{ChestPain: true})
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckFit); c.State != StopHere || !strings.Contains(c.Words, "Fever") {
		t.Errorf("%s %q", c.State, c.Words)
	}
}
