package session

import (
	"strings"
	"testing"
	"time"
)

// A low blood sugar of the run that is taken back is told with its value and the reason;
// one that was not low, one that is low still, and one before the start are not.
func TestUndoneSugars(t *testing.T) {
	strike := func(e *Event) {
		e.Struck = &Strike{At: e.At.Add(mins(5)), By: "Ada", Reason: "it was my daughter's finger"}
	}
	correct := func(to *Glucose) func(*Event) {
		return func(e *Event) {
			e.Was = []Version{{ID: "old", At: e.At, Written: e.At, By: "Ada", Body: e.Body, Reason: "read the meter upside down"}}
			e.Body, e.Written, e.By = to, e.At.Add(mins(5)), "Ada"
		}
	}
	for _, tt := range []struct {
		name  string
		value *Glucose
		at    int
		undo  func(*Event)
		words string // empty: nothing is told
	}{
		{"struck out", sugarOf(320), 60, strike, "Struck out at "},
		{"corrected", sugarOf(320), 60, correct(sugarOf(820)), "Corrected at "},
		{"“Lo”, corrected", &Glucose{Shows: MeterLow}, 60, correct(sugarOf(820)), "Corrected at "},
		{"struck out a day later", sugarOf(320), 60, func(e *Event) {
			e.Struck = &Strike{At: e.At.Add(24 * time.Hour), By: "Ada", Reason: "it was my daughter's finger"}
		}, "Struck out at " + dayClock(on(60).Add(24*time.Hour))},
		{"low still", sugarOf(320), 60, correct(sugarOf(330)), ""},
		{"was not low", sugarOf(420), 60, strike, ""},
		{"before the start", sugarOf(320), -10, strike, ""},
		{"left as it is", sugarOf(320), 60, func(*Event) {}, ""},
	} {
		s := connected(t)
		e := put(s, on(tt.at), tt.value)
		tt.undo(e)
		list := UndoneSugars(s)
		var said []string
		for _, r := range Remarks(s, on(90)) {
			if r.Code == "sugar_undone" {
				said = append(said, r.Words)
			}
		}
		if tt.words == "" {
			if len(list)+len(said) > 0 {
				t.Errorf("%s: %+v %q", tt.name, list, said)
			}
			continue
		}
		if len(list) != 1 || list[0].By != "Ada" || len(list[0].Reason) < ReasonLength || !strings.HasPrefix(list[0].Words, "Blood sugar "+tt.value.Text()) {
			t.Errorf("%s: %+v", tt.name, list)
		}
		if len(said) != 1 || !strings.Contains(said[0], tt.words) || !strings.Contains(said[0], tt.value.Text()) || !strings.Contains(said[0], list[0].Reason) {
			t.Errorf("%s: %q", tt.name, said)
		}
	}
}
