package calc

import (
	"strings"
	"testing"
)

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
	for _, tt := range []struct {
		in                string
		above, goal, post float64
		said              string
	}{
		{`{"pre_weight_kg":71.2,"dry_weight_kg":72,"session_min":240,"washback_ml":300}`, -800, 0, 71.5, "far_below_dry"},
		{`{"pre_weight_kg":71.6,"dry_weight_kg":72,"session_min":240,"washback_ml":300,"intake_ml":250}`, -400, 150, 72, "below_dry"},
		{`{"pre_weight_kg":71.99,"dry_weight_kg":72,"session_min":240,"saline_ml":100}`, -10, 90, 72, "below_dry"},
		{`{"pre_weight_kg":71.5,"dry_weight_kg":72,"session_min":240,"washback_ml":700}`, -500, 200, 72, "far_below_dry"},
		{`{"pre_weight_kg":71.50000001,"dry_weight_kg":72,"session_min":240}`, -499.99999, 0, 71.50000001, "below_dry"},
		{`{"pre_weight_kg":72.3,"clothing_kg":0.8,"dry_weight_kg":72,"session_min":240,"washback_ml":730,"step_ml":50}`, -500, 250, 72.78, "far_below_dry"},
	} {
		var out struct {
			Above    float64 `json:"above_dry_ml"`
			Below    bool    `json:"below_dry"`
			Goal     float64 `json:"goal_ml"`
			Post     float64 `json:"expected_post_weight_kg"`
			Cautions []struct{ Code, Text string }
		}
		roomAnswer(t, "fluid", tt.in, &out)
		if out.Above != tt.above || !out.Below || out.Goal != tt.goal || out.Post != tt.post || len(out.Cautions) != 1 || out.Cautions[0].Code != tt.said {
			t.Errorf("%s: %+v", tt.in, out)
		}
	}
}

// The steps say how far under with its minus, and what the sum is short of.
func TestFluidBelowDryExplained(t *testing.T) {
	for in, want := range map[string][]string{
		`{"pre_weight_kg":71.6,"dry_weight_kg":72,"session_min":240,"washback_ml":300,"intake_ml":250}`: {"below dry weight", "−400 mL", "150 mL", "not below 0"},
		`{"pre_weight_kg":71.2,"dry_weight_kg":72,"session_min":240,"washback_ml":300}`:                 {"−800 mL", "short of dry weight", "500 mL", "nothing is removed", "ring the unit"},
	} {
		told := explained(t, "fluid", in)
		for _, words := range want {
			if !strings.Contains(told, words) {
				t.Errorf("%s does not say %q:\n%s", in, words, told)
			}
		}
	}
	if told := explained(t, "fluid", `{"pre_weight_kg":72,"dry_weight_kg":72,"session_min":240,"washback_ml":300}`); strings.Contains(told, "below dry weight") {
		t.Errorf("at dry weight:\n%s", told)
	}
}

// explained joins the steps of an answer.
func explained(t *testing.T, topic, in string) string {
	t.Helper()
	found, _ := Find(topic)
	a, err := found.Answer(strings.NewReader(in))
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, s := range a.Steps {
		lines = append(lines, s.Term+" | "+s.Value+" | "+s.Formula)
	}
	return strings.Join(lines, "\n")
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
