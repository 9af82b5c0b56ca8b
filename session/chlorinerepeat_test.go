package session

import (
	"testing"
	"time"

	"ebbline/unit"
)

// A night of eight hours with the test wanted every four: once at the middle,
// again four hours after the test that was made, and none so near the end that
// it would come after it. Clinics test before the first treatment and every
// four hours, Clin J Am Soc Nephrol 2015.
func TestChlorineAgainInALongSession(t *testing.T) {
	began := time.Date(2026, 3, 1, 22, 0, 0, 0, time.UTC)
	length := unit.Minutes(480)
	night := func(kind string, tests ...time.Duration) *Session {
		s := &Session{ID: "night", Rx: &Prescription{Length: &length}, Machine: Machine{Kind: kind}}
		s.Add(Event{ID: "before", Kind: "chlorine", At: began.Add(-30 * time.Minute), Body: &Chlorine{}})
		s.Add(Event{ID: "on", Kind: "connected", At: began, Body: &Connected{}})
		for _, d := range tests {
			s.Add(Event{ID: d.String(), Kind: "chlorine", At: began.Add(d), Body: &Chlorine{}})
		}
		return s
	}
	four := ChlorineRepeat{Every: 4 * time.Hour}
	for _, tt := range []struct {
		name string
		s    *Session
		rule ChlorineRepeat
		now  time.Duration
		want time.Duration // after the beginning; 0: none
		due  bool
	}{
		{"first hour", night("single_pass"), four, time.Hour, 4 * time.Hour, false},
		{"a minute before", night("single_pass"), four, 4*time.Hour - time.Minute, 4 * time.Hour, false},
		{"at four hours", night("single_pass"), four, 4 * time.Hour, 4 * time.Hour, true},
		{"late", night("single_pass"), four, 5 * time.Hour, 4 * time.Hour, true},
		{"tested at three and a half", night("single_pass", 210*time.Minute), four, 4 * time.Hour, 450 * time.Minute, false},
		{"tested at four: the next would be the end", night("single_pass", 4*time.Hour), four, 5 * time.Hour, 0, false},
		{"not asked", night("single_pass"), ChlorineRepeat{}, 5 * time.Hour, 0, false},
		{"bags", night("low_volume"), four, 5 * time.Hour, 0, false},
		{"a session of the usual length has none", night("single_pass"), ChlorineRepeat{Every: 8 * time.Hour}, time.Hour, 0, false},
	} {
		at, due := tt.rule.Next(tt.s, began.Add(tt.now))
		want := time.Time{}
		if tt.want > 0 {
			want = began.Add(tt.want)
		}
		if !at.Equal(want) || due != tt.due {
			t.Errorf("%s: %v, due %v; want %v, %v", tt.name, at, due, want, tt.due)
		}
	}
	over := night("single_pass")
	over.Add(Event{ID: "off", Kind: "came_off", At: began.Add(3 * time.Hour), Body: &CameOff{}})
	if at, _ := four.Next(over, began.Add(5*time.Hour)); !at.IsZero() {
		t.Errorf("after the end a test is due at %v", at)
	}
}
