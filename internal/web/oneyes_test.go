package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// readings are those of the person's open session.
func (h *house) readings(base string) (list []*session.Reading) {
	h.t.Helper()
	h.desk.View(func(rec *record.Household) {
		session.Each(rec.Session(base[strings.LastIndex(base, "/")+1:]), func(r *session.Reading, _ *session.Event) { list = append(list, r) })
	})
	return list
}

// follow gives the page of an address with a place in it.
func (h *house) follow(to string) string {
	h.t.Helper()
	path, _, _ := strings.Cut(to, "#")
	return h.see(path)
}

// A yes to a low pressure keeps it at once, with what is in no doubt, and leads to the
// steps; what is still asked about stays typed, under an id of its own. Sent twice, each
// is written once.
func TestOneYesLeavesTheRestInTheForm(t *testing.T) {
	for _, script := range []bool{false, true} {
		h := home(t, 2, false)
		base := h.begin()
		h.later(30 * time.Minute)
		h.saved(base+"/reading", "systolic_mmhg", "126", "diastolic_mmhg", "70", "removed_ml", "200")
		h.later(10 * time.Minute)
		typed := formOf("systolic_mmhg", "74", "diastolic_mmhg", "41", "pulse_per_min", "128", "pulse_irregular", "yes", "removed_ml", "60", "dialysate_temp_c", "38.9",
			"venous_mmhg", "135", "id", newID())
		_, _, text := h.post(base+"/reading", typed)
		form := fieldsOf(t, text, base+"/reading")
		name, value := button(t, text, "yes, 74/41")
		form.Add(name, value)
		to := ""
		for range 2 {
			if script {
				a := h.postJSON(base+"/reading", form)
				if !a.Saved {
					t.Fatalf("not kept: %+v", a)
				}
				to = a.Next
			} else if status, where, text := h.post(base+"/reading", form); status != http.StatusSeeOther {
				t.Fatalf("not kept: %d %s", status, problems(text))
			} else {
				to = where
			}
		}
		if !strings.HasSuffix(to, "#wrong-low_pressure") {
			t.Errorf("script %v: leads to %s", script, to)
		}
		list := h.readings(base)
		if len(list) != 2 || list[1].Systolic.String() != "74" || list[1].Diastolic.String() != "41" || list[1].Venous.String() != "135" || !list[1].Irregular ||
			list[1].Pulse != nil || list[1].Removed != nil || list[1].DialTemp != nil {
			t.Fatalf("script %v: %d readings, the last %+v", script, len(list), list[len(list)-1])
		}
		text = h.follow(to)
		if !strings.Contains(text, `id="wrong-low_pressure"`) || !strings.Contains(plainText(text), "Upper pressure 74 mmHg") {
			t.Error("the steps, or what was saved, are not on the page")
		}
		left := fieldsOf(t, text, base+"/reading")
		for key, want := range map[string]string{"pulse_per_min": "128", "removed_ml": "60", "dialysate_temp_c": "38.9", "systolic_mmhg": "", "venous_mmhg": "", "pulse_irregular": "yes"} {
			if left.Get(key) != want {
				t.Errorf("script %v: %s is %q, want %q", script, key, left.Get(key), want)
			}
		}
		if left.Get("id") == form.Get("id") || !strings.Contains(text, "Removed so far, typed again") {
			t.Error("the rest has the id of what is saved, or is not asked about")
		}
		if again := fieldsOf(t, h.follow(to), base+"/reading"); again.Get("id") != left.Get("id") {
			t.Error("loaded again the rest has another id")
		}
		// The hot fluid, then what was typed again.
		name, value = button(t, text, "yes, 38.9\u00a0°C")
		left.Set(name, value)
		_, to, _ = h.post(base+"/reading", left)
		if !strings.HasSuffix(to, "#wrong-fluid") {
			t.Errorf("the hot fluid leads to %s", to)
		}
		rest := fieldsOf(t, h.follow(to), base+"/reading")
		rest.Set("again.removed_ml", "60")
		rest.Set("counter_began_again", "yes")
		rest.Set("again.pulse_per_min", "128")
		for range 2 {
			if status, _, text := h.post(base+"/reading", rest); status != http.StatusSeeOther {
				t.Fatalf("the rest: %d %s", status, problems(text))
			}
		}
		if list = h.readings(base); len(list) != 4 || list[3].Pulse.String() != "128" || list[3].Removed.String() != "60" || !list[3].Again || list[2].DialTemp == nil {
			t.Errorf("script %v: %d readings, the last %+v", script, len(list), list[len(list)-1])
		}
		if status, _ := h.get(strings.Split(to, "#")[0]); status != http.StatusOK { // it leads on: nothing is left
			t.Errorf("%d", status)
		}
		if text := h.follow(to); strings.Contains(text, "data-unsent") {
			t.Error("what is saved stands in the form again")
		}
	}
}

// A link that was not made by a saving types nothing.
func TestNoLinkTypesAReading(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	for _, rest := range []string{"nobody-knows", ""} {
		q := url.Values{"rest": {rest}, "id": {restID(rest)}, "pulse_per_min": {"128"}}
		if form := fieldsOf(t, h.see(base+"/reading?"+q.Encode()), base+"/reading"); form.Get("pulse_per_min") != "" {
			t.Errorf("rest %q fills the form", rest)
		}
	}
}

// What leads to help takes one yes, at the head of the answer with the way to its steps,
// and its saving leads there; so does a pressure that recovers, which leads nowhere.
func TestWhatLeadsToHelpTakesOneYes(t *testing.T) {
	for _, tt := range []struct {
		before, typed []string
		words, leads  string
	}{
		{nil, []string{"dialysate_temp_c", "38.9"}, "yes, 38.9\u00a0°C", "#wrong-fluid"},
		{nil, []string{"conductivity_ms_cm", "12.2"}, "yes, 12.2\u00a0mS/cm", "#wrong-fluid"},
		{nil, []string{"body_temperature_c", "38.4"}, "yes, 38.4\u00a0°C", "#wrong-fever"},
		{nil, []string{"pulse_per_min", "128"}, "yes, pulse\u00a0128", "#wrong-heart"},
		{nil, []string{"systolic_mmhg", "88", "pulse_per_min", "12x"}, "yes, 88", "#wrong-low_pressure"},
		{[]string{"systolic_mmhg", "63", "again.systolic_mmhg", "63"}, []string{"systolic_mmhg", "118", "diastolic_mmhg", "70"}, "yes, 118/70", ""},
	} {
		h := home(t, 2, false)
		base := h.begin()
		h.later(30 * time.Minute)
		if tt.before != nil {
			h.saved(base+"/reading", tt.before...)
			h.later(10 * time.Minute)
		}
		_, _, text := h.post(base+"/reading", formOf(append(tt.typed, "id", newID())...))
		_, part, _ := strings.Cut(text, `data-kind="reading"`)
		head, _, _ := strings.Cut(part, `class="field`)
		if !strings.Contains(plainText(head), plainText(tt.words)) || strings.Contains(head, `href="#wrong-`) != (tt.leads != "") || !strings.Contains(head, tt.leads) {
			t.Errorf("%v: the answer begins %q", tt.typed, plainText(head))
			continue
		}
		form := fieldsOf(t, text, base+"/reading")
		name, value := button(t, text, tt.words)
		form.Set(name, value)
		n := len(h.readings(base))
		status, to, text := h.post(base+"/reading", form)
		if status != http.StatusSeeOther || len(h.readings(base)) != n+1 {
			t.Errorf("%v: one yes does not keep it: %d %s", tt.typed, status, problems(text))
		}
		want := tt.leads
		switch want {
		case "#wrong-fever", "#wrong-heart": // said in the bar
			want = "#said"
		}
		if !strings.HasSuffix(to, want) {
			t.Errorf("%v: leads to %s, want %s", tt.typed, to, want)
		}
	}
}

// The worst values cannot be kept, and get the most help: the way to the steps stands at
// the head of the answer. A low pressure beside a slip of the finger has its way too.
func TestImpossibleValuesLeadToHelpFirst(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	for _, tt := range []struct {
		typed []string
		leads string
	}{
		{[]string{"dialysate_temp_c", "43"}, "#wrong-fluid"}, {[]string{"conductivity_ms_cm", "9.5"}, "#wrong-fluid"},
		{[]string{"pulse_per_min", "20"}, "#wrong-heart"}, {[]string{"body_temperature_c", "43"}, "#wrong-fever"}, {[]string{"systolic_mmhg", "25"}, "#wrong-low_pressure"},
		{[]string{"systolic_mmhg", "74", "diastolic_mmhg", "41x"}, "#wrong-low_pressure"}, {[]string{"systolic_mmhg", "74", "clock", "99"}, "#wrong-low_pressure"},
		{[]string{"systolic_mmhg", "300"}, ""},
	} {
		status, _, text := h.post(base+"/reading", formOf(append(tt.typed, "id", newID())...))
		_, part, _ := strings.Cut(text, `data-kind="reading"`)
		head, _, _ := strings.Cut(part, `class="field`)
		if there := strings.Contains(head, `href="#wrong-`); status != http.StatusUnprocessableEntity || there != (tt.leads != "") || !strings.Contains(head, tt.leads) {
			t.Errorf("%v: %d, the answer begins %q", tt.typed, status, plainText(head))
		}
	}
}
