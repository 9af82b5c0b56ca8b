package calc

import (
	"math"
	"slices"
	"strings"
	"testing"
)

type weighedOut struct {
	Verdict  string
	Reasons  []string
	Likely   *float64 `json:"likely_kg"`
	Low      *float64 `json:"usual_low_kg"`
	High     *float64 `json:"usual_high_kg"`
	Cautions []struct{ Code string }
}

// A person of 72 kg who gains some 2.2 kg in two days and 3 in three.
const weighInHistory = `"history":[
	{"pre_kg":74.5,"previous_post_kg":72.2,"hours":44},{"pre_kg":74.3,"previous_post_kg":72.1,"hours":43.5},
	{"pre_kg":75.4,"previous_post_kg":72.3,"hours":68},{"pre_kg":74.2,"previous_post_kg":72.0,"hours":44},
	{"pre_kg":74.6,"previous_post_kg":72.4,"hours":44.5},{"pre_kg":75.1,"previous_post_kg":72.2,"hours":67.5}]`

func TestWeighIn(t *testing.T) {
	for _, tt := range []struct {
		entered, verdict, reason string
		likely                   float64
	}{
		{"74.7", "accept", "", 0},
		{"77.4", "ask", "digits_swapped", 74.7},
		{"84.7", "ask", "one_digit_off", 74.7},
		{"164.5", "ask", "pounds", 74.6},
		{"11.7", "refuse", "stone", 74.3},
		{"747", "refuse", "point_lost", 74.7},
		{"7.47", "refuse", "impossible", 74.7},
		{"71.6", "ask", "below_dry", 0},
		{"78", "ask", "unusual_gain", 0},
		{"0", "refuse", "impossible", 0},
	} {
		var out weighedOut
		roomAnswer(t, "weighin", `{"entered_kg":`+tt.entered+`,"dry_weight_kg":72,"last_post_kg":72.3,"hours_since_post":44,`+weighInHistory+`}`, &out)
		if out.Verdict != tt.verdict || (tt.reason == "") != (len(out.Reasons) == 0) || tt.reason != "" && !slices.Contains(out.Reasons, tt.reason) {
			t.Errorf("%s kg: %s %v, want %s because of %s", tt.entered, out.Verdict, out.Reasons, tt.verdict, tt.reason)
		}
		if tt.likely != 0 && (out.Likely == nil || math.Abs(*out.Likely-tt.likely) > 0.05) {
			t.Errorf("%s kg: likely %v, want %v", tt.entered, out.Likely, tt.likely)
		}
		if out.Low == nil || out.High == nil || !(*out.Low > 72.5 && *out.Low < *out.High && *out.High < 77) {
			t.Errorf("%s kg: usual %v to %v", tt.entered, out.Low, out.High)
		}
	}
}

func TestWeighInKeysInOrder(t *testing.T) {
	got := answerOf(t, "weighin", `{"entered_kg":74.6,"dry_weight_kg":72}`)
	want := `{"verdict":"accept","reasons":[],"likely_kg":null,"usual_low_kg":null,"usual_high_kg":null,"cautions":[],"sources":["`
	if !strings.HasPrefix(got, want) {
		t.Errorf("%s, want it to begin\n%s", got, want)
	}
}

func TestWeighInRefuses(t *testing.T) {
	interval := func(pre, post, hours string) string {
		return `[{"pre_kg":` + pre + `,"previous_post_kg":` + post + `,"hours":` + hours + `}]`
	}
	refusals(t, "weighin", map[string][]string{
		"entered_kg":       {`-1`, `1000001`},
		"dry_weight_kg":    {`0`, `19`, `301`},
		"last_post_kg":     {`0`, `301`},
		"hours_since_post": {`0`, `-44`, `2001`},
		"history": {`null`, `{}`, `"none"`, `[1]`, `[null]`,
			interval(`0`, `72`, `44`), interval(`74`, `301`, `44`), interval(`74`, `72`, `0`), interval(`"74"`, `72`, `44`),
			`[{"pre_kg":74,"previous_post_kg":72,"hours":44,"when":1}]`},
	})
	refusedFor(t, "weighin", `{"entered_kg":74,"dry_weight_kg":72,"history":`+interval(`74`, `72`, `0`)+`}`, "history[0].hours")
}
