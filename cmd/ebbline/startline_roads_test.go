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
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/web"
	"ebbline/record"
	"ebbline/session"
)

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
			switch d.kind {
			case "round_done":
				at += form.Get("item")
			case "batch_tested":
				at += form.Get("batch_id") + "/test"
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
// the round ends with the item, that of a test with its batch.
var houseForms = map[string]string{"residual_test": "round/residual", "round_done": "round/done/", "batch_made": "round/batch", "batch_tested": "round/batch/"}

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
			s.byThreeRoads(t)
		})
	}
}

// byThreeRoads plays the evening on each road and holds the start lines against one
// another and against what is wanted.
func (s scenario) byThreeRoads(t *testing.T) {
	t.Helper()
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
}
