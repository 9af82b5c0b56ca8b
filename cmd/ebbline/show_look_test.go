package main

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// looked is what `show session --at` prints of the scenario's evening.
func looked(t *testing.T, path string, min int) (keys []string, out struct {
	HoursSince *float64              `json:"hours_since_last"`
	StartLine  []checkOut            `json:"start_line"`
	Remarks    []remarkOut           `json:"remarks"`
	NextCheck  *checkDueOut          `json:"next_check"`
	ToSet      *toSetOut             `json:"to_set"`
	Plan       *planOut              `json:"plan"`
	Entries    []struct{ ID string } `json:"entries"`
}) {
	t.Helper()
	at := scenarioNow.Add(time.Duration(min) * time.Minute).Format(time.RFC3339)
	code, stdout, stderr := ran(t, "", "show", "-file", path, "session", scenarioSession, "--at", at, "--json")
	if code != 0 {
		t.Fatalf("%d %s", code, stderr)
	}
	var raw map[string]json.RawMessage
	for _, into := range []any{&raw, &out} {
		if err := json.Unmarshal([]byte(stdout), into); err != nil {
			t.Fatal(err)
		}
	}
	for key := range raw {
		keys = append(keys, key)
	}
	return keys, out
}

// A run as it is told from outside: before the start, in it, after a fall, after
// the end, and before the session was there.
func TestLookingAtARun(t *testing.T) {
	t.Setenv("EBBLINE_ZONE", "Europe/Tallinn")
	s := scenario{name: "a run with a fall", also: []doing{
		{48, "connected", `{"blood_flow_ml_min":300}`},
		{53, "reading", `{"systolic_mmhg":134,"diastolic_mmhg":78,"pulse_per_min":69,"removed_ml":40}`},
		{108, "reading", `{"systolic_mmhg":84,"diastolic_mmhg":50,"pulse_per_min":88,"removed_ml":500}`},
		{114, "reading", `{"systolic_mmhg":121,"diastolic_mmhg":70,"pulse_per_min":80,"removed_ml":500}`},
		{130, "reading", `{"systolic_mmhg":74,"diastolic_mmhg":41,"pulse_per_min":92,"removed_ml":500}`},
		{140, "came_off", `{"washback_ml":250,"removed_ml":500,"returned":"all","why":"low pressure"}`},
	}}
	path := s.byCommand(t, "paper")

	keys, before := looked(t, path, 40)
	for _, key := range []string{"hours_since_last", "start_line", "remarks", "next_check", "to_set", "plan"} {
		if !slices.Contains(keys, key) {
			t.Errorf("no key %s", key)
		}
	}
	if before.NextCheck != nil || before.ToSet != nil || len(before.Remarks) != 0 || before.Plan == nil {
		t.Errorf("before the start: %+v", before)
	}
	if h := before.HoursSince; h == nil || *h < 42.7 || *h > 42.8 { // from 316 min of two days before
		t.Errorf("hours since the last session: %v", h)
	}

	_, low := looked(t, path, 109)
	if n := low.NextCheck; n == nil || n.EveryMin != 5 || n.Why != "low_pressure" || !n.At.Equal(s.at(113)) {
		t.Errorf("next check after a fall: %+v", n)
	}
	if low.ToSet == nil || low.ToSet.Ask || low.ToSet.RateMlH > 522 {
		t.Errorf("to set after a fall: %+v", low.ToSet)
	}
	_, calm := looked(t, path, 115)
	if n := calm.NextCheck; n == nil || n.EveryMin != 15 || !n.At.Equal(s.at(129)) {
		t.Errorf("next check after the first reading inside: %+v", n)
	}
	_, again := looked(t, path, 131)
	falls := 0
	for _, r := range again.Remarks {
		if r.Code == "low_pressure" && r.Level == "look" {
			falls++
			if r.Entry == nil || !strings.Contains(*r.Entry, "reading") {
				t.Errorf("a remark without its entry: %+v", r)
			}
		}
	}
	if falls != 2 {
		t.Errorf("%d falls said of 2: %+v", falls, again.Remarks)
	}
	_, after := looked(t, path, 141)
	if after.NextCheck != nil || after.ToSet != nil || len(after.Remarks) < 2 {
		t.Errorf("after the end: %+v", after)
	}

	// It had not been opened: answered as one that is not there.
	at := scenarioNow.Add(-time.Minute).Format(time.RFC3339)
	if code, stdout, _ := ran(t, "", "show", "-file", path, "session", scenarioSession, "--at", at, "--json"); code != exitFailed || stdout != "" {
		t.Errorf("before it was opened: %d %q", code, stdout)
	}
	for _, bad := range []string{"17:30", "2026-03-04", "yesterday"} {
		if code, _, stderr := ran(t, "", "show", "-file", path, "session", scenarioSession, "--at", bad); code != exitRefused || !strings.Contains(stderr, "is not a moment") {
			t.Errorf("--at %s: %d %s", bad, code, stderr)
		}
	}
	if code, _, _ := ran(t, "", "show", "-file", filepath.Clean(path), "--at", at); code != exitRefused {
		t.Errorf("--at without a session: %d", code)
	}
}

// The unit's word, removal that was off, a pulse newly irregular and chills, as they
// are told from outside, for a live session and one from paper alike.
func TestLookingAtWhatTheUnitSaid(t *testing.T) {
	t.Setenv("EBBLINE_ZONE", "Europe/Tallinn")
	s := scenario{name: "the unit's word after a fall", also: []doing{
		{48, "connected", `{"blood_flow_ml_min":300}`},
		{53, "reading", `{"systolic_mmhg":134,"diastolic_mmhg":78,"pulse_per_min":69,"removed_ml":40}`},
		{108, "reading", `{"systolic_mmhg":84,"diastolic_mmhg":50,"pulse_per_min":88,"removed_ml":500,"pulse_irregular":true}`},
		{109, "removal_off", `{"why":"low pressure"}`},
		{114, "reading", `{"systolic_mmhg":121,"diastolic_mmhg":70,"pulse_per_min":80,"removed_ml":500}`},
		{120, "goal_changed", `{"goal_ml":1400,"unit_said":"Nurse Kask"}`},
		{121, "removal_on", `{}`},
		{130, "unwell", `{"words":"chills"}`},
		{150, "reading", `{"systolic_mmhg":118,"diastolic_mmhg":70,"pulse_per_min":80,"removed_ml":100,"counter_began_again":true}`},
	}}
	path := s.byCommand(t, "paper")
	_, held := looked(t, path, 119)
	_, word := looked(t, path, 122)
	if held.ToSet == nil || !held.ToSet.Ask || held.ToSet.LeftOverMl == 0 || held.ToSet.RateMlH > 522 {
		t.Errorf("before the word: %+v", held.ToSet)
	}
	if word.ToSet == nil || word.ToSet.Ask || word.ToSet.GoalMl < 1390 || word.ToSet.RateMlH >= held.ToSet.RateMlH {
		t.Errorf("after the word: %+v", word.ToSet)
	}
	_, last := looked(t, path, 151)
	said := map[string]string{}
	for _, r := range last.Remarks {
		said[r.Code] += r.Words
		if r.Level != "look" && r.Code != "check_late" {
			t.Errorf("%+v", r)
		}
	}
	for code, words := range map[string]string{"low_pressure": "84", "pulse_out": "Pulse 88, newly irregular.", "unwell": "“chills”", "fever": "“chills”: chills count as fever."} {
		if !strings.Contains(said[code], words) {
			t.Errorf("%s: %q, want %q", code, said[code], words)
		}
	}
	code, stdout, stderr := ran(t, "", "show", "-file", path, "session", scenarioSession, "--json")
	if code != 0 || !strings.Contains(stdout, `"removed_ml": 600`) {
		t.Errorf("500 and 100 since the count began again: %d %s", code, stderr)
	}
}
