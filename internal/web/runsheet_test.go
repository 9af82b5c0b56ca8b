package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
)

// sheet is the run sheet in force.
func (h *house) sheet(person, phase string) (sheet session.RunSheet, versions int) {
	h.t.Helper()
	h.member(person, func(m *record.Member) { sheet, versions = m.Sheet(phase), len(sheetVersions(m, phase)) })
	return sheet, versions
}

func order(sheet session.RunSheet) []string {
	var ids []string
	for _, st := range sheet.Steps {
		ids = append(ids, st.ID)
	}
	return ids
}

const setUp = "/run-sheet/set_up"

// Each change is a version of its own; the general steps stay to go back to.
func TestEditSteps(t *testing.T) {
	h, ida := settled(t)
	h.says(ida+setUp, "general steps that came with the program", "ticked by “Weight before”", "Stop: They disagree: do not connect", "waits for Water on")
	before, versions := h.sheet("person-ida", session.SetUp)
	if versions != 0 {
		t.Fatalf("%d versions of nothing", versions)
	}
	h.saved(ida+setUp, "from", fromGeneral, "step", "water_on", "do", "up")
	sheet, versions := h.sheet("person-ida", session.SetUp)
	if versions != 1 || slices.Index(order(sheet), "water_on") != 1 || sheet.Marked != "general steps, changed at home on 11 June 2026" {
		t.Errorf("after up: %d versions, %v, %q", versions, order(sheet)[:3], sheet.Marked)
	}
	h.saved(ida+setUp, "from", h.inForce(), "step", "water_on", "do", "down")
	if sheet, _ = h.sheet("person-ida", session.SetUp); !slices.Equal(order(sheet), order(before)) {
		t.Errorf("up and down: %v", order(sheet))
	}
	h.saved(ida+setUp, "from", h.inForce(), "step", "self_test", "do", "remove")
	sheet, _ = h.sheet("person-ida", session.SetUp)
	if st, _ := sheet.Step("lines"); slices.Contains(order(sheet), "self_test") || !slices.Contains(st.After, "machine_on") {
		t.Errorf("after taking out: %v, lines wait for %v", order(sheet), st.After)
	}
	h.saved(ida+setUp, "from", h.inForce(), "marked", "our unit’s own, Nurse K, 3 March", "do", "mark")
	h.says(ida+setUp, "Whose steps: our unit’s own, Nurse K, 3 March", "Earlier versions")
	h.says(ida+"/unit", "our unit’s own, Nurse K, 3 March")
	h.refused(ida+setUp, "does not say whose steps these are", "from", h.inForce(), "marked", "", "do", "mark")
	h.refused(ida+setUp, "was not told what to change", "from", h.inForce(), "do", "nothing")
	h.refused(ida+setUp, "is not on the sheet", "from", h.inForce(), "step", "nothing", "do", "remove")

	h.saved(ida+setUp, "from", h.inForce(), "version", fromGeneral, "do", "again")
	sheet, versions = h.sheet("person-ida", session.SetUp)
	if versions != 5 || sheet.Marked != session.ReplaceMark || !slices.Equal(order(sheet), order(before)) {
		t.Errorf("back to the general steps: %d versions, %q", versions, sheet.Marked)
	}
	if _, versions := h.sheet("person-ida", session.TakeOff); versions != 0 {
		t.Errorf("coming off has %d versions of its own", versions)
	}
	for _, path := range []string{"/run-sheet/sideways", "/run-sheet/set_up/no_such_step", "/run-sheet/sideways/new"} {
		if status, _ := h.get(ida + path); status != http.StatusNotFound {
			t.Errorf("%s: %d", path, status)
		}
	}
}

func (h *house) inForce() (id string) {
	h.desk.View(func(s *record.Household) { id = sheetInForce(s.People[0], session.SetUp) })
	return id
}

// A press that comes twice is one change, and one made on an old page is not
// made on the new version behind its back.
func TestEditStepsTwice(t *testing.T) {
	h, ida := settled(t)
	press := formOf("id", "press-number-1", "from", fromGeneral, "step", "water_on", "do", "down")
	for range 3 {
		if status, _, text := h.post(ida+setUp, press); status != http.StatusSeeOther {
			t.Fatalf("%d %s", status, problems(text))
		}
	}
	sheet, versions := h.sheet("person-ida", session.SetUp)
	if versions != 1 || slices.Index(order(sheet), "water_on") != 3 {
		t.Errorf("%d versions, %v", versions, order(sheet)[:5])
	}
	h.refused(ida+setUp, "The steps were changed meanwhile", "from", fromGeneral, "step", "water_on", "do", "down")
	h.refused(ida+setUp+"/weigh", "The steps were changed meanwhile", "from", fromGeneral, "words", "Weigh", "lane", "hands", "usual_min", "1", "tick", "done")
}

func TestSteps(t *testing.T) {
	h, ida := settled(t)
	page := h.see(ida + setUp + "/new")
	form := fieldsOf(t, page, ida+setUp+"/new")
	if got := form["after"]; len(got) != 1 || got[0] != "connect" {
		t.Errorf("a new step begins waiting for %v", got)
	}
	form.Set("words", "Glasses on, lamp on")
	form.Set("place", "1")
	form["after"] = []string{"fit"}
	form.Set("caution", "The good lamp")
	if status, to, text := h.post(ida+setUp+"/new", form); status != http.StatusSeeOther || !strings.HasPrefix(to, ida+setUp+"#step-own_") {
		t.Fatalf("%d to %s %s", status, to, problems(text))
	}
	sheet, _ := h.sheet("person-ida", session.SetUp)
	st := sheet.Steps[1]
	if st.Words != "Glasses on, lamp on" || st.Lane != session.LaneHands || st.Caution != "The good lamp" || !slices.Equal(st.After, []string{"fit"}) || st.Usual != 1 {
		t.Errorf("%+v", st)
	}
	one := ida + setUp + "/" + st.ID
	edit := fieldsOf(t, h.see(one), one)
	edit.Set("tick", "timer")
	edit.Set("timer_min", "7")
	edit.Set("stop", "Bulb broken: daylight")
	edit["after"] = []string{"fit", "water_on"}
	if status, _, text := h.post(one, edit); status != http.StatusSeeOther {
		t.Fatalf("%d %s", status, problems(text))
	}
	sheet, _ = h.sheet("person-ida", session.SetUp)
	st, _ = sheet.Step(st.ID)
	if st.Tick != session.TickTimer || st.Timer != 7 || st.Stop != "Bulb broken: daylight" || len(st.After) != 2 {
		t.Errorf("%+v", st)
	}
	// The change counts in the session that is set up next.
	h.saved(ida+"/session", "place", "home", "source", "live", "session", "session-one-1")
	h.says(ida+"/session", "Glasses on, lamp on", "general steps, changed at home on 11 June 2026")
	h.says(ida+setUp, "A session is in these steps now")
}

// What cannot be run is refused in the words of the page, and comes back as
// typed.
func TestStepsRefused(t *testing.T) {
	h, ida := settled(t)
	whole := func() url.Values {
		return formOf("from", fromGeneral, "words", "Water on", "lane", "hands", "usual_min", "1", "tick", "done", "after", "fit")
	}
	for _, tt := range []struct {
		name, step string
		edit       func(url.Values)
		words      string
	}{
		{"a ring", "water_on", func(v url.Values) { v.Add("after", "prime") }, "would wait for itself by way of"},
		{"no words", "water_on", func(v url.Values) { v.Set("words", " ") }, "says nothing"},
		{"a value of nothing", "water_on", func(v url.Values) { v.Set("tick", "value") }, "ticked by a value but does not say which"},
		{"a timer of nothing", "water_on", func(v url.Values) { v.Set("tick", "timer") }, "has no minutes of the timer"},
		{"minutes in words", "water_on", func(v url.Values) { v.Set("usual_min", "ten") }, "“ten” is not a whole number of minutes"},
		{"no minutes", "water_on", func(v url.Values) { v.Del("usual_min") }, "has no usual minutes"},
		{"five hours", "water_on", func(v url.Values) { v.Set("usual_min", "300") }, "0 to 240 minutes"},
		{"too long", "water_on", func(v url.Values) { v.Set("words", strings.Repeat("ä", 161)) }, "more than 160 characters"},
	} {
		v := whole()
		tt.edit(v)
		status, _, text := h.post(ida+setUp+"/"+tt.step, v)
		if status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), tt.words) {
			t.Errorf("%s: %d, want %q\n%s", tt.name, status, tt.words, problems(text))
		}
		if got := fieldsOf(t, text, ida+setUp+"/"+tt.step); got.Get("usual_min") != v.Get("usual_min") || got.Get("words") != v.Get("words") || !slices.Equal(got["after"], sortedAs(v["after"], got["after"])) {
			t.Errorf("%s: came back as %v", tt.name, got)
		}
	}
	if _, versions := h.sheet("person-ida", session.SetUp); versions != 0 {
		t.Errorf("%d versions were kept", versions)
	}
	// Steps are named as the page names them, not by their ids.
	v := whole()
	v.Add("after", "prime")
	_, _, text := h.post(ida+setUp+"/water_on", v)
	if said := problems(text); strings.Contains(said, "water_on") || !strings.Contains(said, "“Circuit primes”") {
		t.Errorf("said %s", said)
	}
}

// sortedAs is a set of values in the order of another one.
func sortedAs(values, like []string) []string {
	var out []string
	for _, v := range like {
		if slices.Contains(values, v) {
			out = append(out, v)
		}
	}
	return out
}
