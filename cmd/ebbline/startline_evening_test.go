package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/record"
)

// A scenario is one evening of an invented person up to a moment of the start
// line: an ordinary one, with something else in it.
type scenario struct {
	name  string
	house map[string]string // other values of the prescription or the machine: kind to JSON, joined in
	shelf []doing           // of the household, after the session before
	past  []doing           // in the ordinary session before, in the place of the same kinds
	leave []string          // kinds of the ordinary evening that are left out
	also  []doing           // what happens beside it, or in the place of a kind that is left out
	plan  string            // values to the plan's choices: JSON of length_min, set_goal_ml; "-" for no plan
	min   int               // the moment looked at, in minutes of the evening; 0 is the usual one
	wants map[string]want   // by check; the others must all be ready
	ago   int               // hours from the opening of the session before to that of this one; 48 when 0
}

// doing is one entry: minutes after the session was opened, its kind and values.
type doing struct {
	min    int
	kind   string
	values string // JSON
}

type want struct {
	state string
	words string // part of them, as a person reads them
}

// usual is the minute at which a start line is looked at.
const usualMinute = 45

// ordinary is an evening with nothing amiss, without its plan.
var ordinary = []doing{
	{1, "fitness", `{"none_of_these":true}`},
	{2, "access_check", `{"thrill":"present","bruit":"present","skin":"clean"}`},
	{4, "weigh_in", `{"weight_kg":60.3,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`},
	{9, "vitals_before", `{"sitting_systolic_mmhg":138,"sitting_diastolic_mmhg":79,"standing_systolic_mmhg":131,"standing_diastolic_mmhg":77,"pulse_per_min":68,"temperature_c":36.5}`},
	{12, "chlorine", `{"total_chlorine_mg_l":0.02,"below":true,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"first_carbon"}`},
	{14, "self_test", `{"passed":true,"tries":1}`},
	{16, "bath_label", `{"label_k_mmol_l":2,"label_ca_mmol_l":1.5,"lot":"B-220","expiry":"2027-01-31"}`},
	{20, "supply", `{"item":"dialyser","lot":"D-1031","expiry":"2028-05-31"}`},
	{20, "supply", `{"item":"lines","lot":"L-77","expiry":"2028-05-31"}`},
	{21, "supply", `{"item":"needles","lot":"N-12","expiry":"2028-05-31"}`},
	{21, "supply", `{"item":"saline","lot":"S-3","expiry":"2028-05-31"}`},
	{22, "flush_drawn", `{"count":2,"each_ml":10,"lot":"S-3","expiry":"2028-05-31"}`},
	{30, "fluid_check", `{"machine_conductivity_ms_cm":13.9,"meter_conductivity_ms_cm":13.95,"machine_temperature_c":36.5}`},
}

// before is an ordinary session two days earlier, with its end.
var before = []doing{
	{46, "connected", `{"blood_flow_ml_min":300}`},
	{52, "reading", `{"systolic_mmhg":134,"diastolic_mmhg":78,"pulse_per_min":69,"blood_flow_ml_min":300,"arterial_mmhg":-138,"venous_mmhg":141}`},
	{316, "came_off", `{"washback_ml":250,"removed_ml":2350,"returned":"all"}`},
	{340, "weigh_out", `{"weight_kg":58.5,"clothing_kg":0.2,"scale":"bathroom scale"}`},
	{350, "disinfection", `{"programme":"heat","result":"passed"}`},
	{355, "closed", `{"machine_treated_min":270}`},
}

const (
	scenarioPerson  = "p-maarja-tamm"
	scenarioSession = "s-scenario-now"
	scenarioPast    = "s-scenario-past"
)

// scenarioNow is when the evening was opened, in Tallinn.
var scenarioNow = time.Date(2026, 3, 4, 16, 0, 0, 0, time.UTC)

func (s scenario) at(min int) time.Time { return scenarioNow.Add(time.Duration(min) * time.Minute) }

func (s scenario) moment() time.Time {
	if s.min == 0 {
		return s.at(usualMinute)
	}
	return s.at(s.min)
}

// evening lists what happens in order, without the plan.
func (s scenario) evening() []doing {
	var list []doing
	for _, d := range ordinary {
		if !slices.Contains(s.leave, d.kind) {
			list = append(list, d)
		}
	}
	list = append(list, s.also...)
	slices.SortStableFunc(list, func(a, b doing) int { return a.min - b.min })
	return list
}

// line is the JSON of one entry.
func (s scenario) line(t *testing.T, id, of string, start time.Time, d doing) string {
	t.Helper()
	var values map[string]any
	dec := json.NewDecoder(strings.NewReader(d.values))
	dec.UseNumber()
	if err := dec.Decode(&values); err != nil {
		t.Fatalf("%s: %s: %v", s.name, d.values, err)
	}
	e := map[string]any{
		"id": id, "kind": d.kind, "at": start.Add(time.Duration(d.min) * time.Minute).Format(time.RFC3339),
		"zone": "Europe/Tallinn", "by": "Maarja Tamm",
	}
	if k, ok := record.Find(d.kind); !ok {
		t.Fatalf("%s: no kind %s", s.name, d.kind)
	} else if !k.House {
		e["person"] = scenarioPerson
		if k.Session {
			e["session"] = of
		}
	}
	again := map[string]string{}
	if missing, ok := values["missing"]; ok {
		e["missing"] = missing
		delete(values, "missing")
	}
	for key, v := range values {
		if text, is := askable(v); is {
			again[key] = text // what is asked about was meant
		}
	}
	if len(again) > 0 {
		e["again"] = again
	}
	e["values"] = values
	raw, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

// askable gives a value as it is typed again: a number or a date.
func askable(v any) (string, bool) {
	switch v := v.(type) {
	case json.Number:
		return v.String(), true
	case string:
		_, err := time.Parse(time.DateOnly, v)
		return v, err == nil
	}
	return "", false
}

// household is the household before the evening, with its session of two days
// before.
func (s scenario) household(t *testing.T) []string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "docs", "examples", "household.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for line := range strings.Lines(string(raw)) {
		var e map[string]any
		dec := json.NewDecoder(strings.NewReader(line))
		dec.UseNumber()
		if err := dec.Decode(&e); err != nil {
			t.Fatal(err)
		}
		if more, ok := s.house[e["kind"].(string)]; ok {
			dec := json.NewDecoder(strings.NewReader(more))
			dec.UseNumber()
			var values map[string]any
			if err := dec.Decode(&values); err != nil {
				t.Fatalf("%s: %s: %v", s.name, more, err)
			}
			for key, v := range values {
				if v == nil {
					delete(e["values"].(map[string]any), key)
				} else {
					e["values"].(map[string]any)[key] = v
				}
			}
			again := map[string]string{}
			for key, v := range values {
				if text, is := askable(v); is {
					again[key] = text
				}
			}
			if len(again) > 0 {
				e["again"] = again
			}
		}
		out, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, string(out))
	}
	hours := 48
	if s.ago > 0 {
		hours = s.ago
	}
	then := scenarioNow.Add(-time.Duration(hours) * time.Hour)
	add := func(d doing) {
		lines = append(lines, s.line(t, fmt.Sprintf("past-%02d-%s", len(lines), d.kind), scenarioPast, then, d))
	}
	add(doing{0, "session_opened", `{"place":"home","source":"paper","person_confirmed":true}`})
	list := slices.DeleteFunc(slices.Concat(ordinary, before), func(d doing) bool {
		return slices.ContainsFunc(s.past, func(p doing) bool { return p.kind == d.kind })
	})
	list = append(list, s.past...)
	slices.SortStableFunc(list, func(a, b doing) int { return a.min - b.min })
	for _, d := range slices.Concat(list, s.shelf) {
		add(d)
	}
	return lines
}
