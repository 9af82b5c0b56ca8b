package main

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// A run of somebody whose blood sugar is marked, by the command: its hours, a low one, and
// what is missing after the end (hazard H-143).
func TestSugarByCommand(t *testing.T) {
	t.Setenv("EBBLINE_ZONE", "Europe/Tallinn")
	s := scenario{name: "a run with a low blood sugar", house: markedSugar, also: []doing{
		{30, "glucose", `{"glucose_mmol_l":6.4}`},
		{48, "connected", `{"blood_flow_ml_min":300}`},
		{53, "reading", `{"systolic_mmhg":134,"diastolic_mmhg":78,"pulse_per_min":69,"removed_ml":40}`},
		{110, "glucose", `{"glucose_mg_dl":79}`},
		{115, "glucose", `{"shows":"low"}`},
		{130, "glucose", `{"glucose_mmol_l":5.5}`},
		{300, "came_off", `{"washback_ml":250,"removed_ml":500,"returned":"all","why":"tired"}`},
		{310, "glucose", `{"glucose_mg_dl":66}`},
		{325, "glucose", `{"glucose_mmol_l":6}`},
	}}
	path := s.byCommand(t, "live")
	look := func(min int) (out, text string) {
		t.Helper()
		at := scenarioNow.Add(time.Duration(min) * time.Minute).Format(time.RFC3339)
		code, out, stderr := ran(t, "", "show", "-file", path, "session", scenarioSession, "--at", at, "--json")
		if code != 0 {
			t.Fatal(stderr)
		}
		_, text, _ = ran(t, "", "show", "-file", path, "session", scenarioSession, "--at", at)
		return out, text
	}
	if out, text := look(107); !strings.Contains(text, "Blood sugar due at 19:48 (every 60 min)") || strings.Contains(text, "is late") || !strings.Contains(out, `"sugar_due": {`) {
		t.Errorf("before its hour: %s", text)
	}
	s2 := s
	s2.also = s.also[:3]
	path2 := path
	path = s2.byCommand(t, "live")
	if _, text := look(124); !strings.Contains(text, "Blood sugar due at 19:48 (every 60 min), and is late") {
		t.Errorf("16 minutes past its hour: %s", text)
	}
	path = path2
	_, out := looked(t, path, 131)
	var said []string
	for _, r := range out.Remarks {
		if r.Code == "sugar_low" {
			said = append(said, r.At.Sub(scenarioNow).String())
			if r.Level != "look" || r.Entry == nil {
				t.Errorf("%+v", r)
			}
		}
	}
	if !slices.Equal(said, []string{"1h50m0s", "1h55m0s"}) {
		t.Errorf("said at %v", said)
	}
	if _, text := look(305); !strings.Contains(text, "Blood sugar after: open") || strings.Contains(text, "Blood sugar due") {
		t.Errorf("after the end: %s", text)
	}
	if out, text := look(320); strings.Contains(text, "Blood sugar after") || !strings.Contains(out, `"sugar_due": null`) || !strings.Contains(text, "The meter shows mg/dL: 66 mg/dL") {
		t.Errorf("measured after: %s", text)
	}
	if _, out := looked(t, path, 320); len(out.Remarks) == 0 || out.Remarks[len(out.Remarks)-1].Code != "sugar_low" || !out.Remarks[len(out.Remarks)-1].At.Equal(scenarioNow.Add(310*time.Minute)) {
		t.Errorf("low after the end is no remark: %+v", out.Remarks)
	}
	stays := "Later 6\u00a0mmol/L at "
	if _, out := looked(t, path, 330); !strings.Contains(out.Remarks[len(out.Remarks)-1].Words, stays) || !out.Remarks[len(out.Remarks)-1].At.Equal(scenarioNow.Add(310*time.Minute)) {
		t.Errorf("low after the end is gone when a better one follows: %+v", out.Remarks)
	}
	if _, sheet, _ := ran(t, "", "sheet", "-file", path, scenarioSession); !strings.Contains(sheet, stays) {
		t.Errorf("the sheet does not mark it: %s", sheet)
	}
}
