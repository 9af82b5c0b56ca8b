package web

import (
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// button finds a button on a page by its words, and gives the name and value that it
// sends.
func button(t *testing.T, text, words string) (name, value string) {
	t.Helper()
	for _, part := range strings.Split(text, "<button")[1:] {
		head, rest, _ := strings.Cut(part, ">")
		label, _, _ := strings.Cut(rest, "</button>")
		if plainText(label) != plainText(words) {
			continue
		}
		_, name, _ = strings.Cut(head, `name="`)
		name, _, _ = strings.Cut(name, `"`)
		_, value, _ = strings.Cut(head, `value="`)
		value, _, _ = strings.Cut(value, `"`)
		return name, html.UnescapeString(value)
	}
	t.Fatalf("no button %q", words)
	return "", ""
}

// lastReading is the reading that was written last in the person's open session.
func (h *house) lastReading(base string) (b *session.Reading, n int) {
	h.t.Helper()
	h.desk.View(func(rec *record.Household) {
		one := rec.Session(base[strings.LastIndex(base, "/")+1:])
		session.Each(one, func(r *session.Reading, _ *session.Event) { b, n = r, n+1 })
	})
	return b, n
}

// A low pressure that is asked about is kept by one tap, with and without script; the
// first press already shows the way to the steps, and the answer of the second leads
// there.
func TestLowPressureIsKeptByOneTap(t *testing.T) {
	for _, script := range []bool{false, true} {
		h := home(t, 2, false)
		base := h.begin()
		h.later(30 * time.Minute)
		typed := formOf("systolic_mmhg", "74", "diastolic_mmhg", "38", "pulse_per_min", "92", "venous_mmhg", "135", "id", newID())
		if script {
			if a := h.postJSON(base+"/reading", typed); a.Saved || len(a.Findings) == 0 {
				t.Fatalf("a fall to 74 is taken at once: %+v", a)
			}
		}
		// With script the form is then sent the plain way, for the server's own page.
		status, _, text := h.post(base+"/reading", typed)
		if status != http.StatusUnprocessableEntity {
			t.Fatalf("a fall to 74: %d", status)
		}
		if !strings.Contains(text, `<a class="main" href="#wrong-low_pressure">`) || !strings.Contains(text, `id="wrong-low_pressure"`) {
			t.Error("the first press shows no way to the steps")
		}
		if strings.Contains(text, "type it again") || strings.Contains(text, "Upper pressure, typed again") || strings.Contains(text, "Lower pressure, typed again") {
			t.Error("a low pressure is to be typed again")
		}
		form := fieldsOf(t, text, base+"/reading")
		name, value := button(t, text, "yes, 74/38")
		form.Add(name, value)
		to := ""
		if script {
			a := h.postJSON(base+"/reading", form)
			if !a.Saved {
				t.Fatalf("one tap does not keep it: %+v", a)
			}
			to = a.Next
		} else if status, to, text = h.post(base+"/reading", form); status != http.StatusSeeOther {
			t.Fatalf("one tap does not keep it: %d %s", status, problems(text))
		}
		if to != base+"#wrong-low_pressure" {
			t.Errorf("script %v: leads to %s", script, to)
		}
		if r, n := h.lastReading(base); n != 1 || r.Systolic.String() != "74" || r.Diastolic.String() != "38" || r.Pulse.String() != "92" || r.Venous.String() != "135" {
			t.Errorf("script %v: %d readings, the last %+v", script, n, r)
		}
		h.says(base, "Low pressure 74/38 at "+h.now.Format("15:04")+", pulse 92")
	}
}

// A value that nothing can be is refused, and beside that stands what to do if the
// machine shows it all the same.
func TestRefusedValueLeadsToWhatToDo(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	for _, tt := range []struct{ kind, key, value, want string }{
		{"reading", "dialysate_temp_c", "43", "#wrong-fluid"}, {"reading", "dialysate_temp_c", "29", "#wrong-fluid"},
		{"reading", "conductivity_ms_cm", "9.8", "#wrong-fluid"}, {"reading", "conductivity_ms_cm", "17,5", "#wrong-fluid"},
		{"reading", "systolic_mmhg", "25", "#wrong-low_pressure"}, {"low_pressure", "systolic_mmhg", "25", "#wrong-low_pressure"},
		{"reading", "systolic_mmhg", "300", ""}, {"reading", "dialysate_temp_c", "hot", ""}, {"reading", "venous_mmhg", "600", ""},
		{"reading", "dialysate_temp_c", "38.9", ""},
	} {
		status, _, text := h.post(base+"/"+tt.kind, formOf(tt.key, tt.value))
		if status != http.StatusUnprocessableEntity {
			t.Fatalf("%s %s: %d", tt.key, tt.value, status)
		}
		_, field, _ := strings.Cut(text, `id="at-`+tt.kind+"-"+tt.key+`"`)
		field, _, _ = strings.Cut(field, `<div class="field`)
		way := `href="` + tt.want + `">If it shows that: what to do</a>`
		if tt.want == "" {
			way = "If it shows that"
		}
		if got := strings.Contains(field, way); got != (tt.want != "") {
			t.Errorf("%s %s: the way to %s is there: %v", tt.key, tt.value, tt.want, got)
		}
		if code := strings.TrimPrefix(tt.want, "#"); code != "" && !strings.Contains(text, `<section id="`+code+`"`) {
			t.Errorf("%s %s: %s is not on the page", tt.key, tt.value, tt.want)
		}
	}
}

// What does not lead to help is typed again; so is a pressure that rises. Changed after
// it was asked about, a value is asked about again.
func TestOnlyWhatLeadsToHelpIsKeptByOneTap(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	for _, tt := range []struct{ key, value string }{
		{"systolic_mmhg", "192"}, {"venous_mmhg", "15"}, {"removed_ml", "7000"}, {"dialysate_temp_c", "38.3"}, {"tmp_mmhg", "340"},
	} {
		_, _, text := h.post(base+"/reading", formOf(tt.key, tt.value))
		if strings.Contains(text, "yes, ") || !strings.Contains(text, "typed again") {
			t.Errorf("%s %s is not to be typed again", tt.key, tt.value)
		}
	}

	// Before the treatment a low pressure is typed again: nothing is running yet.
	up := home(t, 2, false)
	setting := up.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	if _, _, text := up.post(setting+"/vitals_before", formOf("sitting_systolic_mmhg", "84", "sitting_diastolic_mmhg", "50")); strings.Contains(text, "yes, 84") {
		t.Error("before the treatment one tap keeps it")
	}
	// Changed after it was asked about, it is asked about again.
	_, _, text := h.post(base+"/reading", formOf("systolic_mmhg", "70"))
	name, value := button(t, text, "yes, 70")
	if status, _, text := h.post(base+"/reading", url.Values{"systolic_mmhg": {"60"}, name: {value}}); status != http.StatusUnprocessableEntity {
		t.Errorf("60 is kept by a yes to 70: %d %s", status, problems(text))
	}
}

// Less removed than was read before: one tap says that the counter began again.
func TestCounterBeganAgainIsOneTap(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	if text := h.see(base); strings.Contains(text, "counter_began_again") {
		t.Error("the tick stands on the page before less was typed")
	}
	h.saved(base+"/reading", "removed_ml", "200")
	_, _, text := h.post(base+"/reading", formOf("removed_ml", "6500"))
	if strings.Contains(text, "counter_began_again") {
		t.Error("offered where more was typed")
	}
	_, _, text = h.post(base+"/reading", formOf("removed_ml", "40"))
	name, value := button(t, text, "the counter began again")
	if name != "counter_began_again" || value != "yes" {
		t.Fatalf("the button sends %s=%s", name, value)
	}
	form := fieldsOf(t, text, base+"/reading")
	form.Set(name, value)
	form.Set("again.removed_ml", "40")
	if status, _, text := h.post(base+"/reading", form); status != http.StatusSeeOther {
		t.Fatalf("not kept: %d %s", status, problems(text))
	}
	if r, _ := h.lastReading(base); !r.Again || r.Removed.String() != "40" {
		t.Errorf("written is %+v", r)
	}
}
