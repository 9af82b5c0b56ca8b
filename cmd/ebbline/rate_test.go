package main

import (
	"bytes"
	"encoding/json"
	"html"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ebbline/fluid"
)

// ratedFile is the household and the paper session of the examples, 58.2 kg and 3 h
// 30 min, with these limits and 3,950 mL dialled in.
func ratedFile(t *testing.T, limits map[string]any) string {
	t.Helper()
	plan := map[string]any{
		"clothing_kg": 0.2, "pre_weight_kg": 61.9, "above_dry_ml": 3500, "goal_ml": 3950, "set_goal_ml": 3950, "left_over_ml": 0,
		"length_min": 210, "rate_ml_h": 1129, "rate_ml_h_kg": 19.39, "cautions": []string{fluid.RateAbove10().Text, fluid.RateAbove13().Text},
	}
	var out bytes.Buffer
	lines := 0
	for _, name := range []string{"household.jsonl", "session.jsonl"} {
		file, err := os.ReadFile(filepath.Join("../../docs/examples", name))
		if err != nil {
			t.Fatal(err)
		}
		for line := range bytes.Lines(file) {
			var e map[string]any
			if err := json.Unmarshal(line, &e); err != nil {
				t.Fatal(err)
			}
			values, again := e["values"].(map[string]any), map[string]string{}
			switch e["kind"] {
			case "prescription":
				maps.DeleteFunc(values, func(key string, _ any) bool {
					return strings.HasPrefix(key, "limits_set") || key == "rate_limit_ml_h_kg" || key == "max_removal_ml"
				})
				maps.Copy(values, limits)
				values["length_min"] = 210
				again["rate_limit_ml_h_kg"] = "20"
			case "weigh_in":
				values["weight_kg"] = 61.9
				again["weight_kg"] = "61.9"
			case "plan":
				maps.Copy(values, plan)
			case "read_back":
				values["machine_goal_ml"], values["shown"], values["machine_length_min"] = 3950, "3950", 210
			case "came_off", "weigh_out", "closed", "reading", "holding", "circuit", "disinfection", "vitals_after", "drink":
				continue
			}
			e["again"] = again
			made, err := json.Marshal(e)
			if err != nil {
				t.Fatal(err)
			}
			out.Write(append(made, '\n'))
			lines++
		}
	}
	if lines < 15 {
		t.Fatalf("only %d lines", lines)
	}
	return out.String()
}

// A plan that comes by a file is judged as the one on the page: the whole check,
// key by key, and the codes beside the plan.
func TestRateByTheCommand(t *testing.T) {
	type check struct {
		Check, State, Words, Limit string
		Reason                     *string
	}
	stop := func(limit string) check {
		return check{Check: "plan", State: "stop", Limit: limit,
			Words: "19.4 mL/h/kg (1129 mL/h), above 13. Ring your unit: longer, or less? 5 h 14 min brings it to 13. In 3 h 30 min 2600 mL fits; 1350 mL stays on."}
	}
	set := func(key string, value any) map[string]any {
		return map[string]any{"limits_set_by": "Dr K. Saar (invented)", "limits_set_on": "2026-01-28", key: value}
	}
	both, own := []string{"rate_above_10", "rate_above_13"}, "13 mL/h/kg, the program's own default, not set by your unit"
	for _, tt := range []struct {
		name     string
		limits   map[string]any
		want     check
		cautions []string
		asked    bool
	}{
		{"nothing set", nil, stop(own), both, true},
		{"a greatest volume only", set("max_removal_ml", 4000), stop(own), both, true},
		{"the unit sets none", map[string]any{"rate_limit_none_by": "Nurse M. Oja (invented)", "rate_limit_none_on": "2026-01-28"},
			stop(own + ": it sets none (Nurse M. Oja (invented), 28 January 2026)"), both, false},
		{"inside the unit's own", set("rate_limit_ml_h_kg", 20),
			check{Check: "plan", State: "ready", Words: "3950 mL in 3 h 30 min, read back.", Limit: "20 mL/h/kg, set by Dr K. Saar (invented) on 28 January 2026"}, []string{}, false},
		{"over the unit's own", set("rate_limit_ml_h_kg", 12),
			check{Check: "plan", State: "stop", Limit: "12 mL/h/kg, set by Dr K. Saar (invented) on 28 January 2026",
				Words: "19.4 mL/h/kg (1129 mL/h), above your unit’s 12. Ring your unit: longer, or less? 5 h 40 min brings it to 12. In 3 h 30 min 2400 mL fits; 1550 mL stays on."},
			both, false},
	} {
		file := filepath.Join(t.TempDir(), "rate.ebb")
		if code, _, said := ran(t, ratedFile(t, tt.limits), "record", "-file", file, "-"); code != exitDone {
			t.Fatalf("%s: exit %d\n%s", tt.name, code, said)
		}
		code, out, said := ran(t, "", "show", "session", "-file", file, "2026-03-02", "-json", "--at", "2026-03-02T16:40:00Z")
		if code != exitDone {
			t.Fatalf("%s: exit %d\n%s", tt.name, code, said)
		}
		var got struct {
			StartLine []check `json:"start_line"`
			Plan      struct {
				Goal     int     `json:"goal_ml"`
				Rate     int     `json:"rate_ml_h"`
				PerKg    float64 `json:"rate_ml_per_kg_h"`
				Cautions []string
			}
		}
		if err := json.Unmarshal([]byte(strings.ReplaceAll(out, "\u00a0", " ")), &got); err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(got.StartLine, func(c check) bool { return c.Check == "plan" })
		if i < 0 || got.StartLine[i] != tt.want {
			t.Errorf("%s:\ngot  %+v\nwant %+v", tt.name, got.StartLine, tt.want)
		}
		rate := slices.DeleteFunc(got.Plan.Cautions, func(c string) bool { return !strings.HasPrefix(c, "rate_") })
		if !slices.Equal(rate, tt.cautions) || got.Plan.Goal != 3950 || got.Plan.Rate != 1129 || got.Plan.PerKg != 19.39 {
			t.Errorf("%s: the plan is %+v", tt.name, got.Plan)
		}
		_, due, _ := ran(t, "", "due", "-file", file, "--on", "2026-03-03")
		if strings.Contains(due, "SEE TO IT: No limit for the removal rate is written. Ask your unit, then write its limit, or that it sets none.\n") != tt.asked {
			t.Errorf("%s: due prints\n%s", tt.name, due)
		}
		// What an older plan kept beside it is not printed in red where the unit decided.
		_, sheet, _ := ran(t, "", "sheet", "-file", file, "2026-03-02")
		sheet = html.UnescapeString(strings.ReplaceAll(sheet, "\u00a0", " "))
		if strings.Contains(sheet, "▲ "+fluid.RateAbove13().Text) != (len(tt.cautions) > 0) {
			t.Errorf("%s: the sheet prints\n%s", tt.name, sheet)
		}
		if stops := tt.want.State == "stop"; strings.Contains(sheet, tt.want.Words+" Limit: "+tt.want.Limit+".") != stops {
			t.Errorf("%s: the sheet does not say it as the start line does\n%s", tt.name, sheet)
		}
	}
}

// One half of the pair, or the pair beside a rate, is refused by the command.
func TestNoRateByTheCommand(t *testing.T) {
	for name, tt := range map[string]struct {
		limits map[string]any
		words  string
	}{
		"who alone":     {map[string]any{"rate_limit_none_by": "Nurse M. Oja (invented)"}, "rate_limit_none_on: is still blank"},
		"when alone":    {map[string]any{"rate_limit_none_on": "2026-01-28"}, "rate_limit_none_by: is still blank"},
		"beside a rate": {map[string]any{"rate_limit_none_by": "Nurse M. Oja (invented)", "rate_limit_none_on": "2026-01-28", "limits_set_by": "Dr K. Saar (invented)", "limits_set_on": "2026-01-28", "rate_limit_ml_h_kg": 20}, "rate_limit_none_by: cannot stand beside"},
	} {
		file := filepath.Join(t.TempDir(), "rate.ebb")
		if code, _, said := ran(t, ratedFile(t, tt.limits), "record", "-file", file, "-"); code != exitRefused || !strings.Contains(said, tt.words) {
			t.Errorf("%s: exit %d, %s", name, code, said)
		}
	}
}
