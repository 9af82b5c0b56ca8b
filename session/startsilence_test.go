package session

import (
	"fmt"
	"strings"
	"testing"

	"ebbline/unit"
)

// What must not pass in silence, found by people who did not build it: each is an
// ordinary evening with one thing in it, and the state and words of its check.
func TestNothingPassesInSilence(t *testing.T) {
	mm := func(v unit.Pressure) *unit.Pressure { return &v }
	vitals := func(upper, lower unit.Pressure) *VitalsBefore {
		return &VitalsBefore{SitSystolic: mm(upper), SitDiastolic: mm(lower), StandSystolic: mm(upper), StandDiastolic: mm(lower), Pulse: ref(unit.Pulse(70)), Temperature: ref(unit.Temperature(366))}
	}
	for _, tt := range []struct {
		name  string
		check string
		want  CheckState
		words string
		set   func(*Session)
	}{
		{"hot fluid, then a check without a temperature", CheckConduct, StopHere, "Fluid 41\u00a0°C", func(s *Session) {
			put(s, evening.Add(mins(29)), &FluidCheck{MachineConduct: 1400, MeterConduct: 1390, MeterTemp: ref(unit.Temperature(410))})
		}},
		{"hot fluid, then a good temperature", CheckConduct, Look, "Fluid 41\u00a0°C", func(s *Session) {
			put(s, evening.Add(mins(29)), &FluidCheck{MachineConduct: 1400, MeterConduct: 1390, MeterTemp: ref(unit.Temperature(410))})
			put(s, evening.Add(mins(31)), &FluidCheck{MachineConduct: 1400, MeterConduct: 1390, MeterTemp: ref(unit.Temperature(365))})
		}},
		{"a wrong pH, then a check without one", CheckConduct, StopHere, "pH 5.00", func(s *Session) {
			put(s, evening.Add(mins(29)), &FluidCheck{MachineConduct: 1400, MeterConduct: 1390, PH: ref(unit.PH(500))})
		}},
		{"both instruments wrong, then right: both stay", CheckConduct, Look, "Meter 12.80", func(s *Session) {
			s.Rx.SetConduct = nil
			put(s, evening.Add(mins(29)), &FluidCheck{MachineConduct: 1260, MeterConduct: 1280})
		}},
		{"two strengths read off one vial", CheckHeparin, StopHere, "then 5\u00a0000", func(s *Session) {
			edit(s, func(b *HeparinDrawn) { b.LabelRead = ref(unit.Strength(5000)) })
		}},
		{"a low pressure by the program's own figure, then a good one", CheckVitals, Look, "70", func(s *Session) {
			put(s, evening.Add(mins(5)), vitals(70, 45))
		}},
		{"below dry weight, no plan yet", CheckPlan, StopHere, "0.6\u00a0kg below your dry weight", func(s *Session) {
			s.Log = s.Log[:0:0]
			put(s, evening, &Opened{Place: "home", Source: "live"})
			put(s, evening.Add(mins(4)), &WeighIn{Weight: 57_400, Scale: "bath", ReadIn: "kg"})
		}},
		{"an expired lot, then one in date", CheckLots, Look, "lot d0 expired 1 March 2026", func(s *Session) {
			put(s, evening.Add(mins(21)), &Supply{Item: "dialyser", Lot: "d0", Expiry: date(t, "2026-03-01")})
		}},
		{"an expired lot after one in date", CheckLots, StopHere, "Dialyser expired 1 March 2026", func(s *Session) {
			put(s, evening.Add(mins(33)), &Supply{Item: "dialyser", Lot: "d0", Expiry: date(t, "2026-03-01")})
		}},
	} {
		s := ready(t)
		tt.set(s)
		if c := check(t, StartLine(s, known(), evening.Add(mins(40))), tt.check); c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: %s %q, want %s with %q", tt.name, c.State, c.Words, tt.want, tt.words)
		}
	}
}

// The self-test that a disinfection asks for again is no second try.
func TestSelfTestAfterADisinfectionIsNoSecondTry(t *testing.T) {
	s := ready(t)
	put(s, evening.Add(mins(14)), &Disinfection{Programme: "heat", Result: "passed"})
	put(s, evening.Add(mins(38)), &SelfTest{Passed: true, Tries: 1})
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckSelfTest); c.State != Ready {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// A call that answers several stops of one check is named once.
func TestCallIsNamedOnce(t *testing.T) {
	s := ready(t)
	s.Rx.SetConduct = nil
	put(s, evening.Add(mins(31)), &FluidCheck{MachineConduct: 1260, MeterConduct: 1280})
	put(s, evening.Add(mins(33)), &Rang{Whom: "the technician", Said: "another canister"})
	c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckConduct)
	if n := strings.Count(c.Words, "You rang"); n != 1 || c.State != Look {
		t.Errorf("%d times: %s %q", n, c.State, c.Words)
	}
}

// Of one moment the order of writing decides: a call or a reason that was written
// before the value does not answer it.
func TestOneMomentGoesByTheOrderOfWriting(t *testing.T) {
	at := evening.Add(mins(20))
	for _, one := range stopping() {
		for name, first := range map[string]any{
			"a call": &Rang{Whom: "Nurse Berg", Said: "come in slowly"}, "a reason": &Override{Check: one.check, Reason: "nobody reached, tried at 22:10"},
		} {
			s := newSession(t)
			s.Rx.SystolicLow = ref(unit.Pressure(90))
			put(s, evening, &Opened{Place: "home", Source: "live"})
			for place, body := range []any{first, one.bad} {
				s.Add(Event{ID: fmt.Sprint(name, one.check, place), Kind: kindOf(body), At: at, Written: at, Body: body, Place: place + 2})
			}
			if c := check(t, StartLine(s, known(), evening.Add(mins(40))), one.check); c.State != StopHere || c.Passed() {
				t.Errorf("%s before %s %q: %s %q", name, one.check, one.says, c.State, c.Words)
			}
		}
	}
}

// Chlorine over its limit is not answered by starting over with one good sample.
func TestChlorineIsCarriedOver(t *testing.T) {
	test := func(result unit.Concentration) *Chlorine {
		return &Chlorine{Result: result, ReadsDown: 20, Method: "reagent", Lot: "c1", Expiry: date(t, "2027-01-31"), Point: "product"}
	}
	broken := newSession(t)
	put(broken, evening.Add(-mins(40)), &Opened{Place: "home", Source: "live"})
	put(broken, evening.Add(-mins(30)), test(500))
	h := known()
	h.Broken = []*Session{broken}
	s := newSession(t)
	put(s, evening, &Opened{Place: "home", Source: "live"})
	put(s, evening.Add(mins(10)), test(20))
	now := evening.Add(mins(20))
	if c := check(t, StartLine(s, h, now), CheckChlorine); c.State != StopHere {
		t.Errorf("%s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(15)), &Rang{Whom: "the technician", Said: "carbon changed, test again"})
	if c := check(t, StartLine(s, h, now), CheckChlorine); c.State != Look {
		t.Errorf("rang: %s %q", c.State, c.Words)
	}
}

// Words that begin with another letter than those of English stay whole.
func TestCapitalOfAnyLetter(t *testing.T) {
	for in, want := range map[string]string{"": "", "épingle": "Épingle", "überleitung": "Überleitung", "lines": "Lines"} {
		if got := capital(in); got != want {
			t.Errorf("%q: %q", in, got)
		}
	}
}
