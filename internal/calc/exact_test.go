package calc

import (
	"encoding/json"
	"errors"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// fluidTopics are those of the fluid room.
var fluidTopics = []string{"fluid", "replan", "weighin", "between", "drawup"}

func topicNamed(t testing.TB, name string) Topic {
	t.Helper()
	topic, ok := Find(name)
	if !ok {
		t.Fatalf("no topic %s", name)
	}
	return topic
}

// answerOf runs a topic and gives its answer as it is written.
func answerOf(t *testing.T, name, in string) string {
	t.Helper()
	a, err := topicNamed(t, name).Answer(strings.NewReader(in))
	if err != nil {
		t.Fatalf("%s of %s: %v", name, in, err)
	}
	b, err := a.JSON()
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// exampleOf gives a topic's example as keys, to change and write again.
func exampleOf(t testing.TB, name string) map[string]any {
	t.Helper()
	var m map[string]any
	if err := json.Unmarshal([]byte(topicNamed(t, name).Example), &m); err != nil {
		t.Fatalf("the example of %s: %v", name, err)
	}
	return m
}

// refusals tries each value in place of the example's key and wants one
// sentence that begins with that key.
func refusals(t *testing.T, name string, bad map[string][]string) {
	t.Helper()
	for _, key := range slices.Sorted(maps.Keys(bad)) {
		for _, value := range bad[key] {
			m := exampleOf(t, name)
			m[key] = json.RawMessage(value)
			in, err := json.Marshal(m)
			if err != nil {
				t.Fatalf("%s = %s is not JSON: %v", key, value, err)
			}
			refusedFor(t, name, string(in), key)
		}
	}
}

// refusedFor wants the input refused, with one sentence that names the key.
func refusedFor(t *testing.T, name, in, key string) {
	t.Helper()
	_, err := topicNamed(t, name).Answer(strings.NewReader(in))
	var said Problems
	if !errors.As(err, &said) {
		t.Errorf("%s of %s: %v, want a refusal", name, in, err)
		return
	}
	if len(said) != 1 || !strings.HasPrefix(said[0], key) {
		t.Errorf("%s of %s: %q, want one sentence on %s", name, in, []string(said), key)
	}
}

// What no number field takes, whatever its range.
var neverANumber = []string{`null`, `"3"`, `true`, `[]`, `{}`, `1e999`, `-1e999`}

func TestFluidTopicsRefuseWrongTypes(t *testing.T) {
	for _, name := range fluidTopics {
		for key, value := range exampleOf(t, name) {
			if _, number := value.(float64); number {
				refusals(t, name, map[string][]string{key: neverANumber})
			}
		}
		refusals(t, name, map[string][]string{"hours": {`1`}, "": {`1`}, "Dry_Weight_Kg": {`72`}})
	}
}

func TestFluidTopicsNeedTheirKeys(t *testing.T) {
	for name, needed := range map[string][]string{
		"fluid":   {"pre_weight_kg", "dry_weight_kg", "session_min"},
		"replan":  {"goal_ml", "removed_ml", "treated_min", "planned_min", "dry_weight_kg"},
		"weighin": {"entered_kg", "dry_weight_kg"},
		"between": {"last_post_kg", "dry_weight_kg", "hours_to_next", "session_min"},
		"drawup":  {"dose", "strength"},
	} {
		for _, key := range needed {
			m := exampleOf(t, name)
			delete(m, key)
			in, _ := json.Marshal(m)
			refusedFor(t, name, string(in), key+": is missing")
		}
		// The others may be left out, all at once.
		m := exampleOf(t, name)
		maps.DeleteFunc(m, func(key string, _ any) bool {
			return !slices.Contains(needed, key) && !(name == "between" && key == "rate_limit_ml_per_kg_h")
		})
		in, _ := json.Marshal(m)
		answerOf(t, name, string(in))
	}
}

// A number is taken as the decimal that was written, to any number of digits.
func TestFluidIsPlainArithmetic(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pre := rapid.Float64Range(72, 80).Draw(rt, "pre")
		minutes := rapid.Float64Range(60, 600).Draw(rt, "minutes")
		added := rapid.Float64Range(0, 1000).Draw(rt, "added")
		write := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
		var out struct {
			Above float64 `json:"above_dry_ml"`
			Goal  float64 `json:"goal_ml"`
			Rate  float64 `json:"rate_ml_h"`
			PerKg float64 `json:"rate_ml_per_kg_h"`
		}
		roomAnswer(t, "fluid", `{"pre_weight_kg":`+write(pre)+`,"dry_weight_kg":72,"session_min":`+write(minutes)+
			`,"intake_ml":`+write(added)+`,"step_ml":0.001}`, &out)
		goal := math.Round(((pre-72)*1000+added)*1000) / 1000
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(b)) }
		if !near(out.Above, (pre-72)*1000) || math.Abs(out.Goal-goal) > 0.0010001 || !near(out.Rate, out.Goal/minutes*60) || !near(out.PerKg, out.Rate/72) {
			rt.Fatalf("%+v for %v kg in %v min", out, pre, minutes)
		}
	})
}
