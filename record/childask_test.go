package record

import (
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// A child's pressure and pulse are asked about as a slip of the finger by bounds of their
// own, an adult's as ever, and what cannot be is refused of both.
func TestWhatIsAskedOfAChild(t *testing.T) {
	for _, child := range []bool{true, false} {
		b := newBook(t)
		if child {
			b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 2014, Colour: "reed"})
		}
		b.open("session-01")
		asked := func(v session.VitalsBefore) int {
			n := 0
			for _, f := range Check(b.h, b.entry("vitals_before", "session-01", &v)) {
				if f.Step == Ask {
					n++
				}
			}
			return n
		}
		p := func(v unit.Pressure) *unit.Pressure { return &v }
		for _, tt := range []struct {
			sys, dia     unit.Pressure
			pulse        unit.Pulse
			child, adult int
		}{
			{78, 45, 140, 0, 2}, {60, 25, 180, 0, 3}, {59, 24, 181, 3, 3}, {160, 110, 50, 0, 0}, {161, 111, 49, 3, 2}, {120, 80, 70, 0, 0},
		} {
			want := tt.adult
			if child {
				want = tt.child
			}
			v := session.VitalsBefore{SitSystolic: p(tt.sys), SitDiastolic: p(tt.dia), Pulse: &tt.pulse}
			if got := asked(v); got != want {
				t.Errorf("child %v, %+v: %d asked", child, tt, got)
			}
		}
		found := Check(b.h, b.entry("vitals_before", "session-01", &session.VitalsBefore{SitSystolic: p(39)}))
		if !found.Refused() {
			t.Errorf("child %v: a pressure of 39 is taken: %v", child, found)
		}
	}
}
