package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/web"
	"ebbline/record"
	"ebbline/session"
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

// planAt makes the values of the plan and of its read-back from the record.
func planAt(t *testing.T, path string, choices string, at time.Time) (plan, back doing) {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Tallinn")
	if err != nil {
		t.Fatal(err)
	}
	desk, err := household.OpenToRead(context.Background(), path, household.Options{Now: func() time.Time { return at }, Zone: zone})
	if err != nil {
		t.Fatal(err)
	}
	defer desk.Close()
	var made session.Plan
	desk.View(func(h *record.Household) {
		s := h.Session(scenarioSession)
		var c session.Choices
		if choices != "" {
			var picked session.AgreedPlan
			if err := json.Unmarshal([]byte(choices), &picked); err != nil {
				t.Fatal(err)
			}
			if picked.Length > 0 {
				c.Length = &picked.Length
			}
			if picked.SetGoal > 0 {
				c.SetGoal = &picked.SetGoal
			}
			if picked.Intake > 0 {
				c.Intake = &picked.Intake
			}
		}
		made, err = session.MakePlan(s, c, h.Member(scenarioPerson).History(s), at)
	})
	if err != nil {
		t.Fatal(err)
	}
	raw, err := json.Marshal(made.AgreedPlan)
	if err != nil {
		t.Fatal(err)
	}
	minutes := int(at.Sub(scenarioNow) / time.Minute)
	return doing{minutes, "plan", string(raw)},
		doing{minutes + 2, "read_back", fmt.Sprintf(`{"machine_goal_ml":%d,"machine_length_min":%d,"shown":"%s"}`, int(made.SetGoal), int(made.Length), made.GoalDigits)}
}

// planMinute is when the plan is agreed, unless a weight is taken later.
const planMinute = 35

// byCommand plays the evening with the command `record`: live, an entry at a
// time, or typed in from paper, as one file.
func (s scenario) byCommand(t *testing.T, source string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "house.ebb")
	clock := present
	defer func() { present = clock }()
	send := func(now time.Time, lines ...string) {
		t.Helper()
		present = func() time.Time { return now }
		if code, _, stderr := ran(t, strings.Join(lines, "\n")+"\n", "record", "-file", path, "-"); code != 0 {
			t.Fatalf("%s, %s: %s", s.name, source, stderr)
		}
	}
	send(scenarioNow.Add(-time.Hour), s.household(t)...)
	nextDay := scenarioNow.Add(24 * time.Hour)
	var held []string // for the file
	take := func(min int, line string) {
		if source == "live" {
			send(s.at(min), line)
		} else {
			held = append(held, line)
		}
	}
	take(0, s.line(t, "now-opened", scenarioSession, scenarioNow, doing{0, "session_opened", `{"place":"home","source":"` + source + `","person_confirmed":true}`}))
	agree := func() {
		if len(held) > 0 {
			send(nextDay, held...)
			held = nil
		}
		plan, back := planAt(t, path, s.plan, s.at(planMinute))
		take(planMinute, s.line(t, "now-plan", scenarioSession, scenarioNow, plan))
		take(planMinute+2, s.line(t, "now-back", scenarioSession, scenarioNow, back))
	}
	planned := s.plan == "-"
	for i, d := range s.evening() {
		if !planned && d.min >= planMinute {
			planned = true
			agree()
		}
		take(d.min, s.line(t, fmt.Sprintf("now-%02d-%s", i, d.kind), scenarioSession, scenarioNow, d))
	}
	if !planned {
		agree()
	}
	if len(held) > 0 {
		send(nextDay, held...)
	}
	return path
}

// byPage plays the evening on the pages, without script, with the clock of each
// entry; it returns the pages too, as they stand at the moment looked at.
func (s scenario) byPage(t *testing.T) (path, setUp, sheet string) {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Tallinn")
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "house.ebb")
	now := scenarioNow.Add(-time.Hour)
	desk, err := household.Open(context.Background(), path, household.Options{Now: func() time.Time { return now }, Zone: zone})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { desk.Close() })
	var entries []record.Entry
	for _, line := range s.household(t) {
		e, err := record.ReadEntry([]byte(line))
		if err != nil {
			t.Fatal(err)
		}
		entries = append(entries, e)
	}
	if out, err := desk.Record(context.Background(), entries...); err != nil || !out.Clear() {
		t.Fatalf("%s: the household was not taken: %v %v", s.name, err, out.Findings)
	}
	pages, err := web.New(desk, web.Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	base := "/p/" + scenarioPerson + "/session/" + scenarioSession
	see := func(at string) string {
		req := httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+at, nil)
		answer := httptest.NewRecorder()
		pages.ServeHTTP(answer, req)
		if answer.Code != http.StatusOK {
			t.Fatalf("%s: %s: %d", s.name, at, answer.Code)
		}
		return answer.Body.String()
	}
	n := 0
	send := func(at string, form url.Values) {
		t.Helper()
		n++
		if form.Get("id") == "" {
			form.Set("id", fmt.Sprintf("page-%04d", n))
		}
		if code, text := byPage(pages, at, form); code != http.StatusSeeOther {
			t.Fatalf("%s: %s: %d\n%s", s.name, at, code, problemsIn(text))
		}
	}
	agree := func() {
		now = s.at(planMinute)
		var choices map[string]any
		address := base + "/plan"
		if s.plan != "" {
			dec := json.NewDecoder(strings.NewReader(s.plan))
			dec.UseNumber()
			if err := dec.Decode(&choices); err != nil {
				t.Fatal(err)
			}
			query := url.Values{}
			for key, v := range choices {
				query.Set(key, fmt.Sprint(v))
			}
			address += "?" + query.Encode()
		}
		form := hiddenIn(t, see(address), base+"/plan")
		for key := range form {
			if key != "cautions" && form.Get(key) != "" && !strings.HasPrefix(key, "again.") && form.Get("again."+key) == "" {
				form.Set("again."+key, form.Get(key))
			}
		}
		send(base+"/plan", form)
		now = s.at(planMinute + 2)
		goal := form.Get("set_goal_ml")
		send(base+"/read_back", url.Values{"shown": {goal}, "machine_length_min": {form.Get("length_min")}})
	}
	now = scenarioNow
	send("/p/"+scenarioPerson+"/session", url.Values{"place": {"home"}, "source": {"live"}, "session": {scenarioSession}, "person_confirmed": {"yes"}})
	planned := s.plan == "-"
	for _, d := range s.evening() {
		if !planned && d.min >= planMinute {
			planned = true
			agree()
		}
		now = s.at(d.min)
		var values map[string]any
		dec := json.NewDecoder(strings.NewReader(d.values))
		dec.UseNumber()
		if err := dec.Decode(&values); err != nil {
			t.Fatal(err)
		}
		form := url.Values{}
		for key, v := range values {
			if missing, is := v.(map[string]any); is && key == "missing" {
				for k, why := range missing {
					form.Set("missing."+k, fmt.Sprint(why))
				}
				continue
			}
			form.Set(key, typedAs(v))
			if text, is := askable(v); is {
				form.Set("again."+key, text)
			}
		}
		at := base + "/" + d.kind
		if k, _ := record.Find(d.kind); !k.Session {
			at = "/p/" + scenarioPerson + "/" + houseForms[d.kind]
			if d.kind == "round_done" {
				at += form.Get("item")
			}
		}
		send(at, form)
	}
	if !planned {
		agree()
	}
	now = s.moment()
	return path, see(base), see(base + "/sheet")
}

// houseForms are the addresses of the household's forms that scenarios use; that of
// the round ends with the item.
var houseForms = map[string]string{"residual_test": "round/residual", "round_done": "round/done/"}

var hiddenInput = regexp.MustCompile(`<input[^>]*name="([^"]*)"[^>]*value="([^"]*)"`)

// hiddenIn gives the values of the form that goes to an address.
func hiddenIn(t *testing.T, text, action string) url.Values {
	t.Helper()
	v := url.Values{}
	for _, part := range strings.Split(text, "<form ")[1:] {
		body, _, _ := strings.Cut(part, "</form>")
		if !strings.Contains(body, `action="`+action+`"`) || !strings.Contains(body, `name="set_goal_ml"`) {
			continue
		}
		for _, m := range hiddenInput.FindAllStringSubmatch(body, -1) {
			v.Add(html.UnescapeString(m[1]), html.UnescapeString(m[2]))
		}
		return v
	}
	t.Fatalf("no form to %s on the page", action)
	return nil
}

var tags = regexp.MustCompile(`<[^>]*>`)

// plainOf is a page as a person reads it.
func plainOf(page string) string {
	return strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(page, ""))), " ")
}

func problemsIn(page string) string {
	text := plainOf(page)
	if i := strings.Index(text, "Look again at"); i >= 0 {
		return text[i:min(len(text), i+1500)]
	}
	if i := strings.Index(text, "not accepted"); i >= 0 {
		return text[max(0, i-300):min(len(text), i+300)]
	}
	return text[:min(len(text), 1500)]
}

// lineOf is the start line as `show session --json` prints it.
func (s scenario) lineOf(t *testing.T, path string) (raw string, line []checkOut) {
	t.Helper()
	t.Setenv("EBBLINE_ZONE", "Europe/Tallinn")
	code, stdout, stderr := ran(t, "", "show", "-file", path, "session", scenarioSession, "--at", s.moment().Format(time.RFC3339), "--json")
	if code != 0 {
		t.Fatalf("%s: show: %d %s", s.name, code, stderr)
	}
	var out struct {
		StartLine json.RawMessage `json:"start_line"`
	}
	if err := json.Unmarshal([]byte(stdout), &out); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out.StartLine, &line); err != nil {
		t.Fatal(err)
	}
	var small bytes.Buffer
	if err := json.Compact(&small, out.StartLine); err != nil {
		t.Fatal(err)
	}
	return small.String(), line
}

// Each row of the start line as an evening, played on the pages, with the
// command an entry at a time, and typed in from paper as one file: the start
// line is the same to the letter, the page says the same words, and so does the
// sheet of whatever is not ready.
func TestStartLineByThreeRoads(t *testing.T) {
	t.Setenv("EBBLINE_ZONE", "Europe/Tallinn")
	if len(scenarios) < 10 {
		t.Fatalf("only %d scenarios", len(scenarios))
	}
	for _, s := range scenarios {
		t.Run(s.name, func(t *testing.T) {
			path, setUp, sheet := s.byPage(t)
			page, line := s.lineOf(t, path)
			command, _ := s.lineOf(t, s.byCommand(t, "live"))
			paper, _ := s.lineOf(t, s.byCommand(t, "paper"))
			if page != command {
				t.Errorf("page and command differ:\n%s\n%s", page, command)
			}
			if page != paper {
				t.Errorf("page and paper differ:\n%s\n%s", page, paper)
			}
			onPage, onSheet := plainOf(setUp), plainOf(sheet)
			seen := map[string]bool{}
			for _, c := range line {
				seen[c.Check] = true
				w, expected := s.wants[c.Check]
				if !expected {
					w = want{state: "ready"}
				}
				words := strings.ReplaceAll(c.Words, "\u00a0", " ")
				if string(c.State) != w.state || !strings.Contains(words, w.words) {
					t.Errorf("%s: %s %q, want %s %q", c.Check, c.State, words, w.state, w.words)
				}
				if !strings.Contains(onPage, strings.Join(strings.Fields(words), " ")) {
					t.Errorf("%s: the page does not say %q", c.Check, words)
				}
				if c.State != session.Ready && !strings.Contains(onSheet, strings.Join(strings.Fields(words), " ")) {
					t.Errorf("%s: the sheet does not say %q", c.Check, words)
				}
			}
			if seen[session.CheckLock] != strings.Contains(s.house["prescription"], "catheter") {
				t.Errorf("the lock is asked about: %v", seen[session.CheckLock])
			}
			for check := range s.wants {
				if !seen[check] {
					t.Errorf("no check %s in the start line", check)
				}
			}
		})
	}
}
