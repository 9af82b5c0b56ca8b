package session

import (
	"strings"
	"testing"
)

// A low or a high blood sugar after the end stays a remark when a better one follows, with
// both values and times; nothing is said of those inside, and of a low one again only when
// it is a step lower.
func TestALowSugarAfterTheEndStays(t *testing.T) {
	hi := &Glucose{Shows: MeterHigh}
	for _, tt := range []struct {
		name string
		log  []any // from 245 on, every 5 minutes
		want []string
	}{
		{"none", nil, nil},
		{"inside", []any{sugarOf(400), sugarOf(600)}, nil},
		{"low", []any{sugarOf(260)}, []string{"Blood sugar 2.6 mmol/L, under 4 mmol/L"}},
		{"low, later inside", []any{sugarOf(260), sugarOf(500), sugarOf(600)}, []string{"Blood sugar 2.6 mmol/L at 21:50, under 4 mmol/L (" + ownDefault + "). Later 6 mmol/L at 22:00. Tell your unit."}},
		{"low, and not a step lower", []any{sugarOf(260), sugarOf(280)}, []string{"Blood sugar 2.6 mmol/L at 21:50, under 4 mmol/L (" + ownDefault + "). Later 2.8 mmol/L at 21:55. " + SugarSteps}},
		{"low, inside, low", []any{sugarOf(390), sugarOf(450), sugarOf(380)}, []string{"Blood sugar 3.9 mmol/L at 21:50", "Blood sugar 3.8 mmol/L, under"}},
		{"a step lower", []any{sugarOf(390), sugarOf(340)}, []string{"Blood sugar 3.9 mmol/L at 21:50", "Blood sugar 3.4 mmol/L, under"}},
		{"high, later inside", []any{hi, sugarOf(900)}, []string{"Blood sugar “Hi” on the meter at 21:50, 25 mmol/L or more"}},
	} {
		s := connected(t)
		put(s, on(100), sugarOf(300)) // of the run, which says it
		put(s, on(240), &CameOff{Returned: "all"})
		for i, body := range tt.log {
			put(s, on(245+5*i), body)
		}
		got := AfterSugars(s, on(400))
		if len(got) != len(tt.want) {
			t.Errorf("%s: %+v, want %q", tt.name, got, tt.want)
			continue
		}
		for i, r := range got {
			if words := strings.ReplaceAll(r.Words, "\u00a0", " "); !strings.HasPrefix(words, tt.want[i]) || r.Level != LevelLook || r.Entry == "" {
				t.Errorf("%s: %q, want %q", tt.name, words, tt.want[i])
			}
		}
		if len(tt.log) > 0 && len(AfterSugars(s, on(244))) != 0 {
			t.Errorf("%s: said before it was measured", tt.name)
		}
	}
	s := connected(t)
	put(s, on(100), sugarOf(300))
	if got := AfterSugars(s, on(200)); len(got) != 0 {
		t.Errorf("of a treatment that runs: %+v", got)
	}
}
