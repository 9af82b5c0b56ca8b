package main

import (
	"strings"
	"testing"
	"time"
)

// A whole session without heparin by the command, to its sheet: the flushes are in the
// plan and have their times, one left out lowers what is to be set, and nothing of the
// session is missing for want of heparin.
func TestSessionWithoutHeparinByCommand(t *testing.T) {
	t.Setenv("EBBLINE_ZONE", "Europe/Tallinn")
	// Nothing is left for later, which would be lowered before the goal is.
	unlimited := map[string]string{"prescription": `{"heparin":"none","flush_ml":50,"flush_every_min":30,"rate_limit_ml_h_kg":15,"max_removal_ml":5000}`}
	s := scenario{name: "no heparin", house: unlimited, also: []doing{
		{48, "connected", `{"blood_flow_ml_min":300}`},
		{53, "reading", `{"systolic_mmhg":134,"diastolic_mmhg":78,"pulse_per_min":69,"removed_ml":40}`},
		{78, "saline", `{"volume_ml":50,"flush":true}`},
		{110, "saline", `{"volume_ml":50,"flush":true}`},
		{318, "came_off", `{"washback_ml":250,"removed_ml":2300,"returned":"all"}`},
	}}
	path := s.byCommand(t, "live")
	_, at60 := looked(t, path, 60)
	_, at80 := looked(t, path, 80)
	_, at190 := looked(t, path, 190) // the third and the fourth were due at 138 and 168, and their time was over at 183
	if at60.Plan == nil || at60.ToSet == nil || at80.ToSet.GoalMl != at60.ToSet.GoalMl || at60.ToSet.GoalMl != at190.ToSet.GoalMl+100 {
		t.Errorf("to set %+v, %+v, then %+v", at60.ToSet, at80.ToSet, at190.ToSet)
	}
	text := func(min int, more ...string) string {
		t.Helper()
		at := scenarioNow.Add(time.Duration(min) * time.Minute).Format(time.RFC3339)
		code, out, stderr := ran(t, "", append([]string{"show", "-file", path, "session", scenarioSession, "--at", at}, more...)...)
		if code != 0 {
			t.Fatal(stderr)
		}
		return out
	}
	for min, want := range map[int]string{60: "Flush 1 of 8, 50 mL, due at 19:18\n", 84: "Flush 2 of 8, 50 mL, due at 19:48\n", 144: "Flush 3 of 8, 50 mL, due at 20:18, and is late\n"} {
		if got := text(min); !strings.Contains(got, want) {
			t.Errorf("at %d: no %q in %s", min, want, got)
		}
	}
	if got := text(60, "--json"); !strings.Contains(got, `"flushes_ml": 400`) || !strings.Contains(got, `"flush_due": {`) {
		t.Errorf("%s", got)
	}
	end := text(330)
	_, missing, _ := strings.Cut(end, "Not there:")
	if strings.Contains(missing, "eparin") || strings.Contains(end, "Flush 3 of") {
		t.Errorf("after the end: %s", end)
	}
}
