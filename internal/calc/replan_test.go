package calc

import "testing"

func TestReplan(t *testing.T) {
	got := answerOf(t, "replan", `{"goal_ml":3000,"removed_ml":1000,"treated_min":120,"planned_min":240,"stop_in_min":100,"added_ml":100,"dry_weight_kg":70,"rate_limit_ml_per_kg_h":9}`)
	// 2100 mL in 100 min is 1260 mL/h, 18 mL/h/kg; 630 mL/h let 1050 mL through.
	want := `{"remaining_ml":2100,"remaining_min":100,"rate_ml_h":1260,"rate_ml_per_kg_h":18,"within_limits":false,"minutes_needed":200,"removable_ml":1050,"left_over_ml":1050,"cautions":[`
	if len(got) < len(want) || got[:len(want)] != want {
		t.Errorf("%s, want it to begin\n%s", got, want)
	}
	got = answerOf(t, "replan", `{"goal_ml":3000,"removed_ml":1000,"treated_min":120,"planned_min":240,"dry_weight_kg":100}`)
	want = `{"remaining_ml":2000,"remaining_min":120,"rate_ml_h":1000,"rate_ml_per_kg_h":10,"within_limits":true,"minutes_needed":null,"removable_ml":null,"left_over_ml":0,"cautions":[],"sources":["Flythe JE et al., Kidney Int 2011;79:250–7","Assimon MM et al., Am J Kidney Dis 2016;68:911–22"]}`
	if got != want {
		t.Errorf("%s, want\n%s", got, want)
	}
}

func TestReplanRefuses(t *testing.T) {
	refusals(t, "replan", map[string][]string{
		"goal_ml":                {`-1`, `30001`},
		"removed_ml":             {`-1`, `30001`},
		"treated_min":            {`-1`, `240`, `241`, `2881`}, // no time left of the 240 planned
		"planned_min":            {`0`, `1441`},
		"stop_in_min":            {`0`, `-5`, `2881`},
		"added_ml":               {`-1`},
		"dry_weight_kg":          {`0`, `301`},
		"rate_limit_ml_per_kg_h": {`0`, `101`},
	})
}
