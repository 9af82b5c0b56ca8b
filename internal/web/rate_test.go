package web

import (
	"context"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// rated is a household of Ida, 58.2 kg and 3 h 30 min, whose unit set these limits.
func rated(t *testing.T, limits session.Limits) (*house, string) {
	t.Helper()
	h := home(t, 0, false)
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	h.keep("", &record.KidneyUnit{Name: "Unit by the mill (invented)", Day: "+000 1 23", Night: "+000 1 99", Ambulance: "112"})
	h.keep("", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
	length := unit.Minutes(210)
	rx.Length, rx.DryWeight, rx.Intake, rx.Washback, rx.Limits = &length, 58_200, 200, 250, limits
	e := record.Entry{ID: newID(), Kind: "prescription", Person: "person-ida", Body: &rx}
	if rx.Rate != nil {
		e.Again = map[string]string{"rate_limit_ml_h_kg": rx.Rate.String()}
	}
	if out, err := h.desk.Record(context.Background(), e); err != nil || !out.Clear() {
		t.Fatalf("%v %v", err, firstFinding(out))
	}
	return h, "/p/person-ida"
}

func limitOf(t *testing.T, rate unit.RatePerKg) session.Limits {
	t.Helper()
	return session.Limits{SetBy: "Dr B. Zupan (invented)", SetOn: unit.NewDate(2026, 5, 20), Rate: &rate}
}

// weighed opens a session, and weighs 61.7 kg: 3.95 L with drinks and washback.
func (h *house) weighed(ida, source string) (base string, at []string) {
	h.t.Helper()
	var opened []string
	if source == "paper" {
		day := h.now.AddDate(0, 0, -1).Format(time.DateOnly)
		opened, at = []string{"day", day, "clock", "16:30"}, []string{"day", day, "clock", "16:40"}
	}
	base = h.saved(ida+"/session", append([]string{"place", "home", "source", source, "session", newID()}, opened...)...)
	h.later(time.Minute)
	h.saved(base+"/weigh_in", append([]string{"weight_kg", "61.7", "again.weight_kg", "61.7", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg"}, at...)...)
	return base, at
}

// agreed sends the plan that the page at an address shows, as it shows it.
func (h *house) agreed(base, address string, more ...string) url.Values {
	h.t.Helper()
	form := fieldsOf(h.t, h.see(address), base+"/plan")
	for i := 0; i+1 < len(more); i += 2 {
		form.Set(more[i], more[i+1])
	}
	if status, _, text := h.post(base+"/plan", form); status != http.StatusSeeOther {
		h.t.Fatalf("%s: %d %s", address, status, problems(text))
	}
	return form
}

// planLine is what the start line says of the plan.
func (h *house) planLine(base string) (c session.Check) {
	h.t.Helper()
	h.desk.View(func(r *record.Household) {
		s := r.Session(base[strings.LastIndex(base, "/")+1:])
		for _, one := range session.StartLine(s, r.Member("person-ida").History(s), h.now) {
			if one.ID == session.CheckPlan {
				c = one
			}
		}
	})
	return c
}

var planWays = regexp.MustCompile(`href="([^"]*/plan\?[^"]*)">plan ([^<]+)<`)

const stopWords = "19.4 mL/h/kg (1129 mL/h), above 13. Ring your unit: longer, or less? 5 h 14 min brings it to 13. In 3 h 30 min 2.64 L fits; 1.31 L stays on."

// 3.95 L in 3 h 30 min at 58.2 kg, where the unit set no rate: the plan page, the
// start line and the sheet stop in the same words, and both ways out are one press
// away and stand as the program works them out again.
func TestRateStopsByThePage(t *testing.T) {
	for _, limits := range []session.Limits{{}, {RateNoneBy: "Nurse Oren (invented)", RateNoneOn: unit.NewDate(2026, 5, 20)}} {
		h, ida := rated(t, limits)
		base, _ := h.weighed(ida, "live")
		page := h.see(base + "/plan")
		if !strings.Contains(plainText(page), stopWords) || strings.Index(page, "19.4") > strings.Index(page, `class="dial`) {
			t.Fatalf("the plan page does not say it before the numbers to dial in:\n%s", plainText(page))
		}
		ways := planWays.FindAllStringSubmatch(page, -1)
		if len(ways) != 2 || ways[0][2] != "5 h 14" || ways[1][2] != "2.64\u00a0L" {
			t.Fatalf("the two ways out: %q", ways)
		}
		h.agreed(base, base+"/plan")
		h.saved(base+"/read_back", "shown", "3.95", "machine_length_min", "210")
		if c := h.planLine(base); c.State != session.StopHere || c.Words != strings.ReplaceAll(h.plain(stopWords), "~", "\u00a0") {
			t.Errorf("the start line: %s %q", c.State, c.Words)
		}
		whose := " Limit: 13 mL/h/kg, the program's own default, not set by your unit"
		if limits.RateNoneBy != "" {
			whose += ": it sets none (Nurse Oren (invented), 20 May 2026)"
		}
		h.says(base, "Plan STOP "+stopWords+whose+".")
		h.refused(base+"/connected", "19.4", "blood_flow_ml_min", "300")
		h.says(base+"/sheet", stopWords+whose+".")

		longer := h.agreed(base, html.UnescapeString(ways[0][1]))
		if longer.Get("length_min") != "314" || longer.Get("set_goal_ml") != "3950" || longer.Get("left_over_ml") != "0" {
			t.Errorf("longer: %v", longer)
		}
		h.later(time.Minute)
		h.saved(base+"/read_back", "shown", "3.95", "machine_length_min", "314")
		want := session.Look
		if limits.RateNoneBy != "" {
			want = session.Ready
		}
		if c := h.planLine(base); c.State != want {
			t.Errorf("longer: %s %q", c.State, c.Words)
		}
		h.later(time.Minute)
		less := h.agreed(base, html.UnescapeString(ways[1][1]))
		if less.Get("length_min") != "210" || less.Get("set_goal_ml") != "2640" || less.Get("left_over_ml") != "1310" {
			t.Errorf("less: %v", less)
		}
		h.later(time.Minute)
		h.saved(base+"/read_back", "shown", "2.64", "machine_length_min", "210")
		if c := h.planLine(base); c.State != want {
			t.Errorf("less: %s %q", c.State, c.Words)
		}
		// A goal that the plan does not let through comes back with a sentence.
		h.says(base+"/plan?set_goal_ml=3960", "0 to 3950")
	}
}

// plain marks where the words of a page have a space that does not break.
func (h *house) plain(words string) string {
	for _, pair := range []string{"19.4 mL", "1129 mL", "5 h", "h 14", "14 min", "3 h", "h 30", "30 min", "2.64 L", "1.31 L"} {
		words = strings.ReplaceAll(words, pair, strings.ReplaceAll(pair, " ", "~"))
	}
	return words
}

// Inside the unit's own limit the plan is quiet: one small line with whom the
// studies were of, the papers behind one word, no caution beside the plan, none on
// the sheet.
func TestRateInsideTheUnitsLimitIsQuiet(t *testing.T) {
	h, ida := rated(t, limitOf(t, 2000))
	base, _ := h.weighed(ida, "live")
	page := h.see(base + "/plan")
	said := plainText(page)
	for _, words := range []string{"treated three times a week in centres; strict for light, lax for heavy people", "source", "Flythe JE", "Assimon MM", "inside the limits your unit set on 20 May 2026"} {
		if !strings.Contains(said, words) {
			t.Errorf("the plan does not say %q", words)
		}
	}
	if !strings.Contains(page, "<details><summary>source</summary>") {
		t.Error("the papers do not stand behind one word, without script")
	}
	for _, words := range []string{"removal rate is above", "Ring your unit", "above it"} {
		if strings.Contains(said, words) {
			t.Errorf("the plan says %q", words)
		}
	}
	sent := h.agreed(base, base+"/plan")
	if strings.Contains(sent.Get("cautions"), "rate") {
		t.Errorf("kept beside the plan: %q", sent.Get("cautions"))
	}
	h.saved(base+"/read_back", "shown", "3.95", "machine_length_min", "210")
	if c := h.planLine(base); c.State != session.Ready || !strings.HasPrefix(c.Limit, "20\u00a0mL/h/kg, set by Dr B. Zupan (invented)") {
		t.Errorf("the start line: %+v", c)
	}
	h.silent(base+"/sheet", "removal rate is above")

	// At or under ten nothing is said of studies at all.
	h, ida = rated(t, limitOf(t, 1000))
	base, _ = h.weighed(ida, "live")
	h.silent(base+"/plan", "three times a week", "removal rate is above")
	h.says(base+"/plan", "stays on. Ask your unit how to take it", "cuts the goal")
}

// Typed in from paper: nothing is held up, the start line says what would have been
// said, and what was dialled in over the unit's limit is taken.
func TestRateOnPaperByThePage(t *testing.T) {
	h, ida := rated(t, session.Limits{})
	base, at := h.weighed(ida, "paper")
	h.agreed(base, base+"/plan", at...)
	if c := h.planLine(base); c.State != session.StopHere || !strings.HasPrefix(c.Words, "19.4\u00a0mL/h/kg") {
		t.Errorf("nothing set: %s %q", c.State, c.Words)
	}
	h.saved(base+"/connected", "day", at[1], "clock", "17:10")
	h.says(base+"/sheet", stopWords)

	h, ida = rated(t, limitOf(t, 1200))
	base, at = h.weighed(ida, "paper")
	if form := fieldsOf(t, h.see(base+"/plan"), base+"/plan"); form.Get("set_goal_ml") != "2440" {
		t.Errorf("without another word: %v", form)
	}
	h.says(base+"/plan", "Dialled in, where it was another")
	h.agreed(base, base+"/plan?set_goal_ml=3950", at...)
	if c := h.planLine(base); c.State != session.StopHere || !strings.Contains(c.Words, "above your unit’s 12. Ring") {
		t.Errorf("over the unit's: %s %q", c.State, c.Words)
	}

	h, ida = rated(t, limitOf(t, 1200))
	base, _ = h.weighed(ida, "live")
	h.says(base+"/plan?set_goal_ml=3950", "0 to 2440")
}

// Until the limit of rate, or that there is none, is written it is asked for on
// Today and on the unit's page, and holds nothing up; who said it and when is
// needed.
func TestRateLimitIsAskedForByThePage(t *testing.T) {
	const ask = "No limit for the removal rate is written."
	h, ida := rated(t, session.Limits{})
	for _, page := range []string{ida + "/", ida + "/unit"} {
		h.says(page, ask)
		if !strings.Contains(h.see(page), `href="`+ida+`/prescription/new#limits"`) {
			t.Errorf("%s does not lead to where it is written", page)
		}
	}
	form := fieldsOf(t, h.see(ida+"/prescription/new"), ida+"/prescription/new")
	for key, value := range map[string]string{"ordered_by": "Nurse Oren (invented)", "ordered_on": "2026-06-11", "how": "paper", "valid_from": "2026-06-11", "rate_limit_none_by": "Nurse Oren (invented)"} {
		form.Set(key, value)
	}
	if status, _, text := h.post(ida+"/prescription/new", form); status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), "write the day it was said") {
		t.Errorf("without the day: %d %s", status, problems(text))
	}
	form.Set("rate_limit_none_on", "2026-06-10")
	form.Set("rate_limit_ml_h_kg", "11")
	form.Set("limits_set_by", "Nurse Oren (invented)")
	form.Set("limits_set_on", "2026-06-10")
	if status, _, text := h.post(ida+"/prescription/new", form); status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), "cannot stand beside a largest removal rate") {
		t.Errorf("beside a rate: %d %s", status, problems(text))
	}
	for _, key := range []string{"rate_limit_ml_h_kg", "limits_set_by", "limits_set_on"} {
		form.Del(key)
	}
	_, _, look := h.post(ida+"/prescription/new", form)
	text := plainText(look)
	first, then := strings.Index(text, "The unit sets no removal rate: said by nothing Nurse Oren (invented)"), strings.Index(text, "Ordered by Dr B. Zupan (invented) Nurse Oren (invented)")
	if first < 0 || then < first || strings.Contains(text, "A limit is another") {
		t.Errorf("the look before it is kept: %s", text)
	}
	h.keepsPrescription(look, ida+"/prescription/new")
	for _, page := range []string{ida + "/", ida + "/unit"} {
		h.silent(page, ask)
	}
	for _, page := range []string{ida + "/unit", ida + "/prescription"} {
		h.says(page, "said by Nurse Oren (invented)", "said on 10 June 2026", "says a line above 10, stops above 13 mL/h/kg")
	}
	// Above ten, and the unit sets none: one line on the plan, and no look.
	length := "330"
	base, _ := h.weighed(ida, "live")
	h.says(base+"/plan?length_min="+length, "removal rate is above 10 mL/h per kg")
	h.silent(base+"/plan?length_min="+length, "removal rate is above 13", "Ask your unit for its limit")

	// With a limit nothing is asked, and with none written a session starts all the same.
	h, ida = rated(t, limitOf(t, 1000))
	h.silent(ida+"/", ask)
	h.silent(ida+"/unit", ask)
}

// keepsPrescription keeps what stands in the look at a prescription before it is kept.
func (h *house) keepsPrescription(look, path string) {
	h.t.Helper()
	keep := fieldsOf(h.t, look, path)
	keep.Set("go", "keep")
	if status, _, text := h.post(path, keep); status != http.StatusSeeOther {
		h.t.Fatalf("%d %s", status, problems(text))
	}
}

// That the unit sets no pair for the pulse, or no low pressure, is written on the same
// page; then it is asked for no more.
func TestNoPairIsWrittenByThePage(t *testing.T) {
	const ask = "You have a pacemaker. Ask your unit"
	h, ida := rated(t, limitOf(t, 1000))
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true, Pacemaker: true})
	for _, page := range []string{ida + "/", ida + "/unit"} {
		h.says(page, ask)
	}
	form := fieldsOf(t, h.see(ida+"/prescription/new"), ida+"/prescription/new")
	for key, value := range map[string]string{"ordered_by": "Nurse Oren (invented)", "ordered_on": "2026-06-11", "how": "paper", "valid_from": "2026-06-11", "again.rate_limit_ml_h_kg": form.Get("rate_limit_ml_h_kg"),
		"start_pulse_none_by": "Nurse Oren (invented)", "start_pulse_none_on": "2026-06-10", "act_systolic_none_by": "Nurse Oren (invented)", "act_systolic_none_on": "2026-06-10"} {
		if !form.Has(key) && strings.Contains(key, "_none_") {
			t.Errorf("no field %s", key)
		}
		form.Set(key, value)
	}
	_, _, look := h.post(ida+"/prescription/new", form)
	if text := plainText(look); !strings.Contains(text, "The unit sets no low pressure: said by nothing Nurse Oren (invented)") || strings.Contains(text, "A limit is another") {
		t.Fatalf("the look before it is kept: %s", text)
	}
	h.keepsPrescription(look, ida+"/prescription/new")
	for _, page := range []string{ida + "/", ida + "/unit"} {
		h.silent(page, ask)
	}
	h.says(ida+"/prescription", "The unit sets no pair for the pulse: said by Nurse Oren (invented)", "uses 90 mmHg, or 100 mmHg when")
}
