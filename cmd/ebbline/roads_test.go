package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/internal/web"
	"ebbline/record"
)

// lived makes the record of an invented month with a session running, in the
// present.
func lived(t *testing.T) (path string, life *simulate.Life, desk *household.Desk) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "house.ebb")
	life, err := simulate.Make(simulate.Options{Seed: 4, Months: 1, Until: time.Now().Add(-time.Minute), Open: true})
	if err != nil {
		t.Fatal(err)
	}
	desk, err = household.Open(context.Background(), path, household.Options{Now: time.Now, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	if out, err := desk.Record(context.Background(), life.Entries...); err != nil || !out.Clear() {
		t.Fatalf("the invented household was not taken: %v", err)
	}
	return path, life, desk
}

// A badValue is one value of an entry that stands outside a bound.
type badValue struct {
	kind  *record.Kind
	field record.Field
	value string
	step  record.Step
}

func (v badValue) String() string { return v.kind.Name + "." + v.field.Key + " = " + v.value }

// badValues steps just outside each bound of each number that belongs to a
// session; the bounds come from the table, so that a kind that is added is
// tried too.
func badValues() (list []badValue) {
	for _, k := range record.Kinds() {
		for _, f := range k.Fields {
			if !k.Session || f.Type() != record.TypeNumber && f.Type() != record.TypeWhole {
				continue
			}
			step := math.Pow(10, -float64(f.Decimals()))
			add := func(v float64, how record.Step) {
				if v >= 0 || f.Refuse != nil && f.Refuse.Lo < 0 {
					list = append(list, badValue{k, f, strconv.FormatFloat(v, 'f', f.Decimals(), 64), how})
				}
			}
			if f.Refuse != nil {
				add(f.Refuse.Lo-step, record.Refuse)
				add(f.Refuse.Hi+step, record.Refuse)
			}
			if f.Ask != nil && (f.Refuse == nil || f.Ask.Hi < f.Refuse.Hi) {
				add(f.Ask.Hi+step, record.Ask)
			}
			if f.Ask != nil && (f.Refuse == nil || f.Ask.Lo > f.Refuse.Lo) {
				add(f.Ask.Lo-step, record.Ask)
			}
		}
	}
	return list
}

// bodies are entries of every kind with honest values, to put one bad value in.
func bodies(t *testing.T, life *simulate.Life) map[string]map[string]any {
	t.Helper()
	all := map[string]map[string]any{
		"asleep": {"for_min": 60}, "blood_flow_changed": {"blood_flow_ml_min": 300}, "goal_changed": {"goal_ml": 2000},
		"drink": {"volume_ml": 100}, "saline": {"volume_ml": 100}, "low_pressure": {"systolic_mmhg": 95},
		"paper_plan":     {"goal_ml": 2000, "length_min": 180, "rate_ml_h": 700, "from": "Dr Lind (invented)"},
		"catheter_lock":  {"name": "citrate", "strength_percent": 4, "arterial_ml": 1.6, "venous_ml": 1.7, "lot": "K-1", "expiry": "2030-01-31"},
		"glucose":        {}, // one value alone
		"flush_left_out": {},
		"lock_drawn":     {"arterial": "drawn", "venous": "drawn", "arterial_ml": 1.6, "venous_ml": 1.7},
	}
	for _, e := range life.Entries {
		raw, err := json.Marshal(e.Body)
		if err != nil {
			t.Fatal(err)
		}
		var values map[string]any
		dec := json.NewDecoder(bytes.NewReader(raw))
		dec.UseNumber()
		if err := dec.Decode(&values); err != nil {
			t.Fatal(err)
		}
		all[e.Kind] = values
	}
	return all
}

// notByPage are values that a page works out itself, so that nobody types them
// there.
var notByPage = map[string]bool{"read_back.machine_goal_ml": true}

// Every value outside a bound gets the same answer, in the same words, whether
// it comes by a page, by the desk or by the command `record`; and nothing is
// kept of it (H-52).
func TestThreeRoadsOneRule(t *testing.T) {
	path, life, desk := lived(t)
	now := life.Entries[len(life.Entries)-1].At
	honest := bodies(t, life)
	list := badValues()
	entry := func(i int, v badValue, road string) map[string]any {
		values := map[string]any{}
		for key, one := range honest[v.kind.Name] {
			values[key] = one
		}
		values[v.field.Key] = json.Number(v.value)
		return map[string]any{
			"id": fmt.Sprintf("bad-%s-%04d", road, i), "kind": v.kind.Name, "at": now.UTC().Format(time.RFC3339), "zone": simulate.Zone().String(),
			"person": life.Person, "session": life.Open, "values": values,
		}
	}

	// By the desk: what the other two must say.
	pages, err := web.New(desk, web.Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	said := make([]string, len(list))
	for i, v := range list {
		if honest[v.kind.Name] == nil {
			t.Errorf("%s: no honest entry of this kind to put it in", v)
			continue
		}
		raw, err := json.Marshal(entry(i, v, "desk"))
		if err != nil {
			t.Fatal(err)
		}
		e, err := record.ReadEntry(raw)
		if err != nil {
			t.Errorf("%s: %v", v, err)
			continue
		}
		out, err := desk.Record(context.Background(), e)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range out.Findings[0] {
			if one.Field == v.field.Key && one.Step == v.step {
				said[i] = one.Words
			}
		}
		if said[i] == "" {
			t.Errorf("%s by the desk: %v, want it %s", v, out.Findings[0], v.step)
		}
	}

	// By the page.
	for i, v := range list {
		if said[i] == "" || notByPage[v.kind.Name+"."+v.field.Key] {
			continue
		}
		form := url.Values{"id": {fmt.Sprintf("bad-page-%04d", i)}}
		for key, one := range entry(i, v, "page")["values"].(map[string]any) {
			form.Set(key, typedAs(one))
		}
		code, text := byPage(pages, "/p/"+life.Person+"/session/"+life.Open+"/"+v.kind.Name, form)
		want := said[i]
		if v.kind.Name == "reading" && strings.Contains(text, ">yes, ") { // a low pressure: one tap keeps it there
			want = strings.TrimSuffix(want, ". If it is right, type it again")
		}
		if code != http.StatusUnprocessableEntity || !strings.Contains(text, want) {
			t.Errorf("%s by the page: %d, want it back with %q", v, code, want)
		}
	}
	entries := entriesIn(desk)
	if entries != len(life.Entries) {
		t.Errorf("%d entries were kept", entries-len(life.Entries))
	}
	if err := desk.Close(); err != nil {
		t.Fatal(err)
	}

	// By the command, in one file of all of them: each line has its answer.
	var file bytes.Buffer
	for i, v := range list {
		raw, err := json.Marshal(entry(i, v, "file"))
		if err != nil {
			t.Fatal(err)
		}
		file.Write(append(raw, '\n'))
	}
	code, stdout, stderr := ran(t, file.String(), "record", "-file", path, "-")
	if code != exitRefused || stdout != "" {
		t.Errorf("`record` of %d bad entries: exit %d, %q", len(list), code, stdout)
	}
	for i, v := range list {
		want := regexp.MustCompile(`(?m)^line ` + strconv.Itoa(i+1) + `: ` + v.field.Key + `: ` + regexp.QuoteMeta(said[i]) + `(; to answer, .*)?$`)
		if said[i] != "" && !want.MatchString(stderr) {
			t.Errorf("%s by the command: not answered with %q", v, said[i])
		}
	}
	_, after, _ := ran(t, "", "show", "-file", path)
	if !strings.Contains(after, fmt.Sprintf("Entries: %d\n", len(life.Entries))) {
		t.Errorf("after the command there are not %d entries any more", len(life.Entries))
	}
	t.Logf("%d values outside their bounds by each of three roads", len(list))
	if len(list) < 120 {
		t.Errorf("only %d values were tried", len(list))
	}
}

// typedAs is how a person types a value into a form.
func typedAs(v any) string {
	switch v := v.(type) {
	case bool:
		if v {
			return "yes"
		}
		return ""
	case []any:
		var words []string
		for _, one := range v {
			words = append(words, fmt.Sprint(one))
		}
		return strings.Join(words, " ")
	}
	return fmt.Sprint(v)
}

// byPage sends a form and gives the status and what the page says.
func byPage(pages http.Handler, path string, form url.Values) (int, string) {
	req := httptest.NewRequest(http.MethodPost, "http://127.0.0.1"+path, strings.NewReader(form.Encode()))
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Sec-Fetch-Site", "same-origin")
	answer := httptest.NewRecorder()
	pages.ServeHTTP(answer, req)
	return answer.Code, html.UnescapeString(answer.Body.String())
}

// A weight in pounds, stone or grams typed as kilograms is asked about by each
// of the three roads; none takes it in silence, and nothing is kept (H-01).
func TestWrongUnitsByThreeRoads(t *testing.T) {
	path, life, desk := lived(t)
	fresh := "s-wrong-units"
	if err := desk.Close(); err != nil {
		t.Fatal(err)
	}
	// A session to weigh for: the running one is ended and closed by a file.
	at := func(ago time.Duration) string { return time.Now().Add(-ago).UTC().Format(time.RFC3339) }
	line := func(id, kind, session, when, values string) string {
		return fmt.Sprintf(`{"id":%q,"kind":%q,"at":%q,"zone":"Europe/Ljubljana","person":%q,"session":%q,"again":{"removed_ml":"2000"},"values":%s}`+"\n", id, kind, when, life.Person, session, values)
	}
	setUp := line("wrong-off-1", "came_off", life.Open, at(30*time.Second), `{"returned":"all","washback_ml":250,"removed_ml":2000}`) +
		strings.ReplaceAll(line("wrong-close-1", "closed", life.Open, at(20*time.Second), `{}`)+
			line("wrong-open-1", "session_opened", fresh, at(10*time.Second), `{"place":"home","source":"live","person_confirmed":true}`), `"again":{"removed_ml":"2000"},`, "")
	if code, _, stderr := ran(t, setUp, "record", "-file", path, "-"); code != exitDone {
		t.Fatalf("setting up: %s", stderr)
	}

	var typed []string
	for kg := 61.0; kg <= 68; kg += 0.5 {
		typed = append(typed, fmt.Sprintf("%.1f", kg/0.45359237), fmt.Sprintf("%.1f", kg/6.35029318), fmt.Sprintf("%.0f", kg*1000), fmt.Sprintf("%.1f", kg*0.45359237))
	}
	var file strings.Builder
	for i, w := range typed {
		file.WriteString(strings.ReplaceAll(line(fmt.Sprintf("wrong-weight-%03d", i), "weigh_in", fresh, at(5*time.Second), `{"weight_kg":`+w+`,"clothing_kg":0,"scale":"bathroom scale","read_in":"kg"}`), `"again":{"removed_ml":"2000"},`, ""))
	}
	code, _, stderr := ran(t, file.String(), "record", "-file", path, "-")
	if code != exitRefused {
		t.Errorf("`record`: exit %d", code)
	}
	desk, err := household.Open(context.Background(), path, household.Options{Now: time.Now, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	defer desk.Close()
	pages, err := web.New(desk, web.Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	before := entriesIn(desk)
	for i, w := range typed {
		if !strings.Contains(stderr, fmt.Sprintf("line %d: weight_kg: ", i+1)) {
			t.Errorf("%s kg by the command: nothing is said", w)
		}
		form := url.Values{"id": {fmt.Sprintf("wrong-page-%03d", i)}, "weight_kg": {w}, "clothing_kg": {"0"}, "scale": {"bathroom scale"}, "read_in": {"kg"}}
		code, text := byPage(pages, "/p/"+life.Person+"/session/"+fresh+"/weigh_in", form)
		if code != http.StatusUnprocessableEntity || !strings.Contains(text, w[:2]) {
			t.Errorf("%s kg by the page: %d", w, code)
		}
		kind, _ := record.Find("weigh_in")
		body, found := kind.FromForm(func(key string) []string { return form[key] })
		if len(found) == 0 {
			out, err := desk.Record(context.Background(), record.Entry{ID: fmt.Sprintf("wrong-desk-%03d", i), Kind: "weigh_in", Person: life.Person, Session: fresh, Body: body})
			if err != nil {
				t.Fatal(err)
			}
			found = out.Findings[0]
		}
		if found.On("weight_kg") == "" {
			t.Errorf("%s kg by the desk: %v", w, found)
		}
	}
	if after := entriesIn(desk); after != before {
		t.Errorf("%d wrong weights were kept", after-before)
	}
}
