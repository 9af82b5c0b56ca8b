package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
)

// pregnantRx is what a unit writes for somebody who is pregnant, so that a plan can be
// made on the evening of the scenarios; a case leaves one thing out.
func pregnantRx(other string) string {
	return `{"limits_set_on":"2026-01-28","start_systolic_low_mmhg":100,"start_systolic_high_mmhg":180,"act_systolic_below_mmhg":95,` +
		`"act_systolic_none_by":null` + other + `}`
}

// light are the weights of somebody of 34 kg, in the session before and this evening.
var (
	lightPast = []doing{
		{4, "weigh_in", `{"weight_kg":35.4,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`},
		{340, "weigh_out", `{"weight_kg":34.2,"clothing_kg":0.2,"scale":"bathroom scale"}`},
	}
	lightNow = doing{4, "weigh_in", `{"weight_kg":35.3,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}
)

// refusals are evenings for which no plan is made: one for each reason.
var refusals = []struct {
	scenario
	code, says string
}{
	{scenario{name: "a child", house: map[string]string{"person": `{"adult":false,"birth_year":2015}`}}, "no_plan_child", "A child"},
	{scenario{name: "a removal profile", house: map[string]string{"prescription": `{"removal_profile":true}`}}, "no_plan_removal_profile", "removal profile"},
	{scenario{name: "a sodium profile", house: map[string]string{"prescription": `{"sodium_profile":true}`}}, "no_plan_sodium_profile", "sodium profile"},
	{scenario{name: "pregnant, no rate", house: map[string]string{"person": `{"pregnant":true}`,
		"prescription": pregnantRx(`,"dry_weight_set_on":"2026-02-01","rate_limit_ml_h_kg":null`)}}, "no_plan_pregnant_rate", "removal rate is not written"},
	{scenario{name: "pregnant, no pressures", house: map[string]string{"person": `{"pregnant":true}`}}, "no_plan_pregnant_pressures", "pressures are not all written"},
	{scenario{name: "pregnant, an old dry weight", house: map[string]string{"person": `{"pregnant":true}`, "prescription": pregnantRx("")}}, "no_plan_pregnant_dry", "28 January 2026 is older than 7 days"},
	{scenario{name: "34 kg and no rate", house: map[string]string{"prescription": `{"dry_weight_kg":34,"rate_limit_ml_h_kg":null,"max_removal_ml":null}`},
		past: lightPast, leave: []string{"weigh_in"}, also: []doing{lightNow}}, "no_plan_light", "Under 35"},
}

// runKinds are entries of every kind that can be written while a treatment runs, with
// the minute, in the order in which they can happen.
func runKinds() []doing {
	return []doing{
		{48, "reading", `{"systolic_mmhg":132,"diastolic_mmhg":76,"pulse_per_min":71,"blood_flow_ml_min":300,"arterial_mmhg":-150,"venous_mmhg":135,"removed_ml":20}`},
		{60, "asleep", `{"for_min":20}`}, {82, "drink", `{"volume_ml":100}`}, {84, "low_pressure", `{"systolic_mmhg":88,"diastolic_mmhg":50,"felt":"dizzy"}`},
		{85, "lie_back", `{}`}, {86, "removal_off", `{}`}, {87, "saline", `{"volume_ml":100}`}, {90, "cramp", `{"where":"left foot"}`}, {91, "unwell", `{"words":"cold feet"}`},
		{100, "reading", `{"systolic_mmhg":128,"diastolic_mmhg":74,"removed_ml":150}`}, {101, "removal_on", `{}`}, {102, "alarm", `{"words":"air"}`},
		{103, "pause", `{}`}, {105, "resume", `{}`}, {106, "blood_flow_changed", `{"blood_flow_ml_min":280}`}, {107, "goal_changed", `{"goal_ml":900}`},
		{108, "needle_adjusted", `{"which":"venous"}`}, {109, "medicine", `{"name":"iron","amount":"100 mg"}`}, {110, "heparin_off", `{}`},
		{111, "trouble", `{"trouble":"air","state":"open"}`}, {115, "trouble", `{"trouble":"air","state":"over","said":"the nurse: the bubble was mine, go on"}`},
		{116, "note", `{"words":"rain"}`}, {117, "rang", `{"whom":"the unit","said":"go on"}`},
		{286, "washback_checked", `{"saline_on_arterial_line":true,"its_clamp_open":true,"venous_line_to_me":true}`},
		{290, "came_off", `{"washback_ml":250,"removed_ml":900,"returned":"all"}`},
		{300, "holding", `{"arterial_min":10,"venous_min":10,"thrill":"present"}`},
		{305, "vitals_after", `{"lying_systolic_mmhg":120,"lying_diastolic_mmhg":65,"standing_systolic_mmhg":112,"standing_diastolic_mmhg":66}`},
		{310, "weigh_out", `{"weight_kg":%s,"clothing_kg":0.2,"scale":"bathroom scale"}`}, {312, "circuit", `{"grade_0_3":0}`},
		{350, "disinfection", `{"programme":"heat","result":"passed"}`}, {355, "closed", `{"machine_treated_min":242}`},
	}
}

// show gives what `show session --json --at` says of an evening at one of its minutes.
func (s scenario) show(t *testing.T, path string, min int) (out lookOut) {
	t.Helper()
	code, stdout, stderr := ran(t, "", "show", "-file", path, "session", scenarioSession, "--json", "--at", s.at(min).Format("2006-01-02T15:04:05Z07:00"))
	if code != 0 {
		t.Fatalf("%s: %s", s.name, stderr)
	}
	if err := json.Unmarshal([]byte(stdout), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// A whole session by the command for each reason for which no plan is made, to its
// sheet: the sentence stands on the start line, a plan is refused with it, the record
// takes entries of every kind, and nothing is computed to be set.
func TestWholeSessionWithoutPlanByCommand(t *testing.T) {
	const sentence = "Plan by your unit's paper. Everything you measure is kept here."
	for _, tt := range refusals {
		s, after := tt.scenario, "59.4"
		s.plan = "-"
		s.also = append(slices.Clone(s.also), doing{35, "paper_plan", `{"goal_ml":1000,"length_min":240,"rate_ml_h":300,"from":"Dr K. Saar (invented)"}`},
			doing{37, "read_back", `{"machine_goal_ml":1000,"machine_length_min":240,"shown":"1000"}`},
			doing{40, "needling", `{"arterial_site":"A1","venous_site":"V1","arterial_gauge":16,"venous_gauge":16,"arterial_tries":1,"venous_tries":1}`},
			doing{46, "connected", `{"blood_flow_ml_min":300}`})
		if tt.code == "no_plan_light" {
			after = "34.4"
		}
		written := map[string]bool{"flush_left_out": true} // it is refused where no flushes are ordered, as here
		for _, d := range runKinds() {
			if d.kind == "weigh_out" {
				d.values = fmt.Sprintf(d.values, after)
			}
			written[d.kind] = true
			s.also = append(s.also, d)
		}
		for _, k := range record.Kinds() {
			if k.Live && !written[k.Name] {
				t.Errorf("%s is not tried while the treatment runs", k.Name)
			}
		}
		path := s.byCommand(t, "live") // fails where an entry is not taken

		line := func(min int) checkOut {
			t.Helper()
			for _, c := range s.show(t, path, min).StartLine {
				if c.Check == session.CheckPlan {
					return c
				}
			}
			t.Fatalf("%s: no line of the plan", tt.name)
			return checkOut{}
		}
		read := session.Ready
		if tt.code == "no_plan_light" {
			read = session.Look // nothing that the unit wrote is there to hold the rate against
		}
		for min, state := range map[int]session.CheckState{34: session.OpenYet, 36: session.OpenYet, 45: read} {
			if c := line(min); c.State != state || !strings.HasPrefix(asRead(c.Words), sentence) && !strings.Contains(asRead(c.Words), sentence) || !strings.Contains(asRead(c.Words), tt.says) {
				t.Errorf("%s, minute %d: %s %q, want %s", tt.name, min, c.State, c.Words, state)
			}
		}
		for _, min := range []int{60, 84, 120} {
			if out := s.show(t, path, min); out.ToSet != nil || out.Plan != nil || out.NextCheck == nil {
				t.Errorf("%s, minute %d: to set %+v, plan %+v, next check %+v", tt.name, min, out.ToSet, out.Plan, out.NextCheck)
			}
		}
		codes := map[string]bool{}
		for _, r := range s.show(t, path, 290).Remarks {
			codes[r.Code] = true
		}
		if !codes["low_pressure"] || !codes["unwell"] {
			t.Errorf("%s: remarks %v", tt.name, codes)
		}
		code, sheet, stderr := ran(t, "", "sheet", "-file", path, scenarioSession)
		if code != 0 || !strings.Contains(sheet, "By the unit's paper") && !strings.Contains(sheet, "By the unit&#39;s paper") || !strings.Contains(sheet, "Dr K. Saar (invented)") {
			t.Errorf("%s: the sheet, %d: %s", tt.name, code, stderr)
		}
	}
}

// asRead is a text with ordinary blanks.
func asRead(words string) string { return strings.ReplaceAll(words, "\u00a0", " ") }

// A plan that is sent all the same is refused with the sentence and the reason, and
// paper is no way round a plan that can be made.
func TestPlanRefusedByCommand(t *testing.T) {
	clock := present
	defer func() { present = clock }()
	for _, tt := range refusals[:3] {
		s := tt.scenario
		s.plan = "-"
		path := s.byCommand(t, "live")
		line := s.line(t, "a-plan-all-the-same", scenarioSession, scenarioNow, doing{38, "plan", `{"prescription_id":"2026-02-01-prescription","weigh_in_id":"x","pre_weight_kg":60.3,"clothing_kg":0.2,"dry_weight_kg":58.2,` +
			`"above_dry_ml":1900,"below_dry":false,"intake_ml":200,"washback_ml":250,"saline_ml":0,"goal_ml":2350,"set_goal_ml":2350,"length_min":270,"rate_ml_h":522,"rate_ml_h_kg":8.97,"left_over_ml":0}`})
		code, _, stderr := ran(t, line+"\n", "record", "-file", path, "-")
		if code != exitRefused || !strings.Contains(stderr, "Plan by your unit's paper. Everything you measure is kept here.") || !strings.Contains(stderr, tt.says) {
			t.Errorf("%s: exit %d, %s", tt.name, code, stderr)
		}
	}
	s := scenario{name: "an adult with one rate", plan: "-"}
	path := s.byCommand(t, "live")
	line := s.line(t, "paper-all-the-same", scenarioSession, scenarioNow, doing{38, "paper_plan", `{"goal_ml":1000,"length_min":240,"from":"Dr K. Saar (invented)"}`})
	if code, _, stderr := ran(t, line+"\n", "record", "-file", path, "-"); code != exitRefused || !strings.Contains(stderr, "a plan can be made here") {
		t.Errorf("exit %d, %s", code, stderr)
	}
}
