package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// ended makes sessions that ended so many kilograms above 58 kg.
func ended(t *testing.T, kg ...float64) []*Session {
	var out []*Session
	for i, v := range kg {
		s := newSession(t)
		put(s, evening.AddDate(0, 0, 2*i), &Opened{})
		put(s, evening.AddDate(0, 0, 2*i), &WeighOut{Weight: 58_400 + unit.Mass(0).Near(v), Clothing: 400})
		out = append(out, s)
	}
	return out
}

func times(n int, kg float64) []float64 {
	var out []float64
	for range n {
		out = append(out, kg)
	}
	return out
}

func TestTargetMissedForWeeks(t *testing.T) {
	for _, tt := range []struct {
		name  string
		kg    []float64
		flag  bool
		words string
	}{
		{"twelve near", times(12, 0.3), false, "ended near"},
		{"a mean of 1 kg", times(12, 1), true, "1.0\u00a0kg above"},
		{"just under it", times(12, 0.999), false, "ended near"},
		{"below by 1 kg", times(12, -1.2), true, "1.2\u00a0kg below"},
		{"four of twelve over 2 kg", append(times(8, 0), times(4, 2.5)...), true, "4 of the last 12"},
		{"three of twelve", append(times(9, 0), times(3, 2.5)...), false, "ended near"},
		{"exactly 2 kg is not over it", append(times(8, 0), times(4, 2)...), false, "ended near"},
		{"long ago", append(times(12, 2.5), times(12, 0)...), false, "ended near"},
		{"three sessions", times(3, 3), false, "Too few"},
		{"none", nil, false, "Too few"},
	} {
		if got := TargetOf(ended(t, tt.kg...)); got.Flagged != tt.flag || !strings.Contains(got.Words, tt.words) {
			t.Errorf("%s: %+v", tt.name, got)
		}
	}
	// A session without a weight after is left out, not taken as on target.
	all := ended(t, times(4, 1.5)...)
	all = append(all, newSession(t))
	miss[WeighOut](all[0], "weight_kg", NotRecorded)
	if got := TargetOf(all); got.Sessions != 3 || got.Flagged {
		t.Errorf("%+v", got)
	}
}
