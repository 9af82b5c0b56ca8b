package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// The page of a run says which value, and which feeling, leads to which of its tiles, so
// that a screen whose program is gone can open it.
func TestPageSaysWhichValueLeadsWhere(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	text := h.see(base)
	for name, want := range map[string]string{
		"systolic_mmhg": session.TroubleLow, "diastolic_mmhg": session.TroubleLow, "dialysate_temp_c": session.TroubleFluid,
		"conductivity_ms_cm": session.TroubleFluid, "body_temperature_c": session.TroubleFever, "pulse_per_min": session.TroubleHeart, "venous_mmhg": "",
	} {
		m := regexp.MustCompile(`name="` + name + `"[^>]*`).FindString(text)
		if strings.Contains(m, "data-leads=") != (want != "") || want != "" && !strings.Contains(m, `data-leads="`+want+`"`) {
			t.Errorf("%s: %s", name, m)
		}
	}
	for _, want := range []string{`data-over="38.5"`, `data-under="50" data-over="120"`} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is not on the page", want)
		}
	}
	led := 0
	for _, f := range session.Feelings() {
		if f.Trouble == "" {
			continue
		}
		led++
		if !strings.Contains(text, `value="`+f.Words+`" data-leads="`+f.Trouble+`"`) || !strings.Contains(text, `id="wrong-`+f.Trouble+`"`) {
			t.Errorf("%s does not lead to %s", f.Words, f.Trouble)
		}
	}
	if led == 0 || !strings.Contains(text, `<button data-leads="low_pressure">Low pressure</button>`) {
		t.Error("no feeling leads on, or low pressure does not")
	}
}

// An entry that waited on a screen and is asked about keeps its time in the form.
func TestWhatWaitedKeepsItsTime(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(60 * time.Minute)
	want := h.now.Add(-25 * time.Minute)
	status, _, text := h.post(base+"/reading", formOf("id", newID(), "systolic_mmhg", "71", "diastolic_mmhg", "39", "sent", "1500"))
	form := fieldsOf(t, text, base+"/reading")
	if status != http.StatusUnprocessableEntity || form.Get("clock") != want.Format("15:04") {
		t.Fatalf("%d, the time is %q", status, form.Get("clock"))
	}
	h.later(3 * time.Minute)
	name, value := button(t, text, "yes, 71/39")
	form.Set(name, value)
	if status, to, text := h.post(base+"/reading", form); status != http.StatusSeeOther || to != base+"#wrong-low_pressure" {
		t.Fatalf("%d %s %s", status, to, problems(text))
	}
	h.says(base, "Low pressure 71/39 at "+want.Format("15:04"))
	// An entry of before midnight keeps its day.
	f := waitedForm(t, h, time.Date(2026, 6, 12, 0, 10, 0, 0, h.now.Location()))
	if f.Clock != "23:45" || f.Day != "2026-06-11" {
		t.Errorf("%s on %s", f.Clock, f.Day)
	}
}

// waitedForm is a form that waited 25 minutes at a moment.
func waitedForm(t *testing.T, h *house, now time.Time) form {
	t.Helper()
	r, err := http.NewRequest(http.MethodPost, h.http.URL, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.PostForm = formOf("sent", "1500")
	return form{}.waited(r, now)
}
