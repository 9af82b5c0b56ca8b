package calc

import "testing"

func TestFluid(t *testing.T) {
	const cautions = `"cautions":[],"sources":["Flythe JE et al., Kidney Int 2011;79:250–7","Assimon MM et al., Am J Kidney Dis 2016;68:911–22"]}`
	for _, tt := range []struct{ name, in, want string }{
		{"no limit", `{"pre_weight_kg":74,"dry_weight_kg":72,"session_min":240}`,
			`{"above_dry_ml":2000,"below_dry":false,"goal_ml":2000,"rate_ml_h":500,"rate_ml_per_kg_h":6.944444444444445,"within_limits":true,` +
				`"shortest_session_min":null,"largest_goal_ml":null,"left_over_ml":0,"expected_post_weight_kg":72,` + cautions},
		{"every key", `{"pre_weight_kg":75,"dry_weight_kg":72,"session_min":300,"intake_ml":250,"washback_ml":200,"saline_ml":50,
			"clothing_kg":1.5,"rate_limit_ml_per_kg_h":10,"max_removal_ml":1800,"step_ml":100}`,
			`{"above_dry_ml":1500,"below_dry":false,"goal_ml":2000,"rate_ml_h":400,"rate_ml_per_kg_h":5.555555555555555,"within_limits":false,` +
				`"shortest_session_min":167,"largest_goal_ml":1800,"left_over_ml":200,"expected_post_weight_kg":73.5,` + cautions},
	} {
		if got := answerOf(t, "fluid", tt.in); got != tt.want {
			t.Errorf("%s:\n%s, want\n%s", tt.name, got, tt.want)
		}
	}
}

func TestFluidBelowDry(t *testing.T) {
	var out struct {
		Above    float64 `json:"above_dry_ml"`
		Below    bool    `json:"below_dry"`
		Goal     float64 `json:"goal_ml"`
		Post     float64 `json:"expected_post_weight_kg"`
		Cautions []struct{ Code, Text string }
	}
	roomAnswer(t, "fluid", `{"pre_weight_kg":71.2,"dry_weight_kg":72,"session_min":240,"washback_ml":300}`, &out)
	if out.Above != -800 || !out.Below || out.Goal != 0 || out.Post != 71.5 || len(out.Cautions) != 1 || out.Cautions[0].Code != "below_dry" {
		t.Errorf("0.8 kg below: %+v", out)
	}
}

func TestFluidRefuses(t *testing.T) {
	refusals(t, "fluid", map[string][]string{
		"pre_weight_kg":          {`19.99`, `300.01`, `-74.6`, `0`},
		"dry_weight_kg":          {`19.99`, `300.01`, `0`},
		"session_min":            {`0`, `-240`, `1441`},
		"intake_ml":              {`-1`, `30001`},
		"washback_ml":            {`-1`, `30001`},
		"saline_ml":              {`-1`, `30001`},
		"clothing_kg":            {`-0.1`, `21`},
		"rate_limit_ml_per_kg_h": {`0`, `-10`, `101`},
		"max_removal_ml":         {`-1`, `30001`},
		"step_ml":                {`0`, `-1`, `5001`},
		"goal_ml":                {`3200`}, // an answer, not a key
	})
}
