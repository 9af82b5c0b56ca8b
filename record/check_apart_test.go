package record

import (
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// An upper pressure more than 120 over the lower one is asked about while running, and
// taken when it is typed again; at 120 and under it is not.
func TestPressuresFarApartAreAsked(t *testing.T) {
	mm := func(v int) *unit.Pressure { return ptr(unit.Pressure(v)) }
	for _, tt := range []struct {
		upper, lower int
		asked        bool
	}{{174, 41, true}, {162, 41, true}, {161, 41, false}, {174, 54, false}, {174, 53, true}, {118, 66, false}} {
		b := newBook(t)
		began := b.planned("session-1")
		first := b.at(began, 30, "reading", "session-1", &session.Reading{Systolic: mm(tt.upper), Diastolic: mm(min(100, tt.upper-40))})
		if found := b.try(first); len(found) != 0 {
			t.Fatalf("the reading before: %v", found)
		}
		e := b.at(began, 60, "reading", "session-1", &session.Reading{Systolic: mm(tt.upper), Diastolic: mm(tt.lower)})
		found := Check(b.h, e)
		words := found.On("systolic_mmhg")
		if tt.asked != strings.Contains(words, "apart") {
			t.Errorf("%d/%d: %q", tt.upper, tt.lower, words)
		}
		e.Again = map[string]string{"systolic_mmhg": e.Body.(*session.Reading).Systolic.String()}
		if again := Check(b.h, e); again.On("systolic_mmhg") != "" {
			t.Errorf("%d/%d typed again: %v", tt.upper, tt.lower, again)
		}
	}
	// Far from the reading before it is one question, not two.
	b := newBook(t)
	began := b.planned("session-1")
	if found := b.try(b.at(began, 30, "reading", "session-1", &session.Reading{Systolic: mm(120), Diastolic: mm(70)})); len(found) != 0 {
		t.Fatal(found)
	}
	found := Check(b.h, b.at(began, 60, "reading", "session-1", &session.Reading{Systolic: mm(174), Diastolic: mm(41)}))
	if n := strings.Count(found.On("systolic_mmhg"), "type it again"); n != 1 {
		t.Errorf("asked %d times: %v", n, found)
	}
}
