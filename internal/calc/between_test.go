package calc

import "testing"

func TestBetween(t *testing.T) {
	got := answerOf(t, "between", `{"last_post_kg":72.5,"dry_weight_kg":72,"hours_to_next":48,"session_min":240,"intake_ml":200,"washback_ml":300,"urine_ml_day":250,"max_removal_ml":2500}`)
	// 2500 − 500 − 500 + 500 in two days.
	want := `{"allowance_ml":2000,"allowance_ml_day":1000,"already_above_ml":500,"cautions":[{"code":"insensible_assumed",`
	if len(got) < len(want) || got[:len(want)] != want {
		t.Errorf("%s, want it to begin\n%s", got, want)
	}
	var out struct {
		Ml       float64 `json:"allowance_ml"`
		MlDay    float64 `json:"allowance_ml_day"`
		Cautions []struct{ Code string }
	}
	roomAnswer(t, "between", `{"last_post_kg":76,"dry_weight_kg":72,"hours_to_next":48,"session_min":240,"rate_limit_ml_per_kg_h":10}`, &out)
	if out.Ml != 0 || out.MlDay != 0 || len(out.Cautions) != 2 || out.Cautions[1].Code != "no_allowance" {
		t.Errorf("4 L above with room for 2.88: %+v", out)
	}
}

func TestBetweenRefuses(t *testing.T) {
	refusals(t, "between", map[string][]string{
		"last_post_kg":           {`19`, `301`},
		"dry_weight_kg":          {`19`, `301`},
		"hours_to_next":          {`0`, `-1`, `2001`},
		"session_min":            {`0`, `1441`},
		"intake_ml":              {`-1`},
		"washback_ml":            {`-1`},
		"urine_ml_day":           {`-1`, `20001`},
		"rate_limit_ml_per_kg_h": {`0`},
		"max_removal_ml":         {`-1`},
	})
	refusedFor(t, "between", `{"last_post_kg":72.5,"dry_weight_kg":72,"hours_to_next":48,"session_min":240}`, "rate_limit_ml_per_kg_h: is missing, and so is max_removal_ml")
}
