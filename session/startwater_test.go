package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// Each place that water is drawn from is judged by its own samples: a failed one
// stops until two good samples in a row were drawn there and it was rung about; a
// first carbon may fail while the water behind the second is good.
func TestChlorineByPlace(t *testing.T) {
	type at struct {
		min   int
		place string // F, S, M: first carbon, second, machine; r: a call
		mgL   int    // thousandths
	}
	places := map[string]string{"F": firstCarbon, "S": secondCarbon, "M": atMachine}
	for i, tt := range []struct {
		samples []at
		now     int
		want    CheckState
		words   string
	}{
		// The first carbon.
		{[]at{{10, "F", 150}}, 20, StopHere, "Test after the second"},
		{[]at{{10, "F", 150}, {12, "S", 20}}, 20, Look, "First carbon: 0.15\u00a0mg/L, limit 0.1."},
		{[]at{{10, "F", 150}, {12, "M", 20}}, 20, Look, "First carbon: 0.15"},
		{[]at{{8, "S", 20}, {10, "F", 150}}, 20, Look, "First carbon: 0.15"},
		{[]at{{10, "F", 150}, {12, "S", 20}, {14, "F", 30}}, 20, Look, "First carbon: 0.15"},
		{[]at{{10, "F", 150}, {12, "S", 120}}, 20, StopHere, "0.12\u00a0mg/L, limit 0.1, after the second carbon"},
		{[]at{{10, "F", 150}, {12, "S", 20}, {14, "S", 120}}, 20, StopHere, "after the second carbon"},
		// An old good sample behind it does not help.
		{[]at{{10, "S", 20}, {68, "F", 150}}, 69, Look, "First carbon"},
		{[]at{{10, "S", 20}, {68, "F", 150}}, 70, StopHere, "Test after the second"},
		// Two good samples in a row at the place that failed, and a call.
		{[]at{{10, "F", 150}, {12, "F", 20}}, 20, StopHere, "one good since"},
		{[]at{{10, "F", 150}, {12, "F", 20}, {13, "r", 0}}, 20, StopHere, "one good since"},
		{[]at{{10, "F", 150}, {12, "F", 20}, {14, "F", 20}}, 20, StopHere, "Ring your unit first"},
		{[]at{{10, "F", 150}, {12, "F", 20}, {14, "F", 20}, {15, "r", 0}}, 20, Look, "You rang Nurse Berg"},
		{[]at{{10, "F", 150}, {11, "r", 0}, {12, "F", 20}, {14, "F", 20}}, 20, Look, "You rang Nurse Berg"},
		{[]at{{9, "r", 0}, {10, "F", 150}, {12, "F", 20}, {14, "F", 20}}, 20, StopHere, "Ring your unit first"},
		{[]at{{10, "M", 150}, {11, "r", 0}, {12, "M", 20}, {13, "M", 110}, {14, "M", 20}, {15, "M", 20}}, 20, StopHere, "0.11\u00a0mg/L"},
		{[]at{{10, "M", 150}, {12, "M", 20}, {13, "M", 110}, {14, "M", 20}, {15, "M", 20}, {16, "r", 0}}, 20, Look, "0.11\u00a0mg/L"},
		// Good water at one place says nothing of another.
		{[]at{{10, "S", 150}, {11, "r", 0}, {12, "F", 20}, {14, "F", 20}}, 20, StopHere, "after the second carbon"},
		{[]at{{10, "S", 150}, {11, "r", 0}, {12, "M", 20}, {14, "M", 20}}, 20, StopHere, "after the second carbon"},
		{[]at{{10, "M", 150}, {11, "r", 0}, {12, "S", 20}, {14, "S", 20}}, 20, StopHere, "at the machine"},
		{[]at{{10, "M", 150}, {11, "r", 0}, {12, "M", 20}, {14, "M", 20}}, 20, Look, "at the machine"},
		// A call alone takes nothing back, and nothing failed is nothing said.
		{[]at{{10, "F", 150}, {11, "r", 0}}, 20, StopHere, "Test after the second"},
		{[]at{{10, "F", 100}}, 20, Ready, "0.1\u00a0mg/L"},
		{[]at{{10, "F", 20}, {12, "S", 20}}, 20, Ready, "0.02\u00a0mg/L"},
	} {
		s := newSession(t)
		put(s, evening, &Opened{Place: "home", Source: "live"})
		for _, one := range tt.samples {
			when := evening.Add(mins(one.min))
			if one.place == "r" {
				put(s, when, &Rang{Whom: "Nurse Berg", Said: "go on"})
				continue
			}
			b := &Chlorine{Method: "DPD", ReadsDown: 20, Lot: "c1", Expiry: date(t, "2027-01-31"), Point: places[one.place]}
			b.Result = unit.Concentration(one.mgL)
			put(s, when, b)
		}
		c := check(t, StartLine(s, known(), evening.Add(mins(tt.now))), CheckChlorine)
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%d %v: %s %q, want %s %q", i, tt.samples, c.State, c.Words, tt.want, tt.words)
		}
		if c.State == Look && strings.Count(c.Words, "At 1") < 2 {
			t.Errorf("%d: %q does not hold both values with their times", i, c.Words)
		}
	}
}

// The sample that was over is held against the unit's limit, or the program's.
func TestChlorineOver(t *testing.T) {
	s := newSession(t)
	for _, tt := range []struct {
		set   int // thousandths; 0 for none
		mgL   int
		below bool
		want  bool
	}{{0, 100, false, false}, {0, 101, false, true}, {50, 60, false, true}, {50, 50, false, false}, {0, 500, true, false}} {
		s.Rx.Chlorine = nil
		if tt.set > 0 {
			s.Rx.Chlorine = ref(unit.Concentration(tt.set))
		}
		b := &Chlorine{Below: tt.below, Result: unit.Concentration(tt.mgL)}
		if over, limit := ChlorineOver(s, b, &Event{}); over != tt.want || tt.set == 0 && limit != ChlorineLimit {
			t.Errorf("%+v: over %v against %s", tt, over, limit)
		}
	}
}
