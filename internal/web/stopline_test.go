package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// The numbers stand before the list of what stops, also where the list is long: it
// pushed the number by night below the first screen of a telephone.
func TestNumbersComeBeforeTheListOfStops(t *testing.T) {
	h := home(t, 2, false)
	base := h.threeStops()
	top, _, _ := strings.Cut(h.see(base), `id="times"`)
	night, list := strings.Index(top, "Unit, at night"), strings.Index(top, `<ul class="stops">`)
	if night < 0 || list < night || strings.Count(top, "<li><a href=\"#check-") != 3 {
		t.Errorf("the number by night at %d, the list at %d", night, list)
	}
}

// threeStops opens a session with three checks at stop.
func (h *house) threeStops() (base string) {
	h.t.Helper()
	base = h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/fitness", "fever", "yes")
	h.saved(base+"/access_check", "thrill", "absent", "bruit", "absent", "skin", "clean")
	h.saved(base+"/bath_label", "label_k_mmol_l", "3", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	h.later(time.Minute)
	return base
}

// A tick leads into the middle of setting up, a wrong label back to the page of the
// lots: on each page of a session that is being set up a line names what stops, and
// leads to the list.
func TestWhatStopsIsNamedOnEveryPageOfSettingUp(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	pages := []string{"", "/supply", "/fitness", "/access_check", "/bath_label", "/heparin_drawn", "/weigh_in", "/plan", "/rang", "/note"}
	line := func(page string) string {
		if bar := barOn(h.see(page)); strings.Contains(bar, "is-stop") {
			return bar
		}
		return ""
	}
	for _, page := range pages {
		if got := line(base + page); got != "" {
			t.Errorf("%s: named before anything stops: %s", page, got)
		}
	}
	h.saved(base+"/access_check", "thrill", "absent", "bruit", "absent", "skin", "clean")
	h.saved(base+"/bath_label", "label_k_mmol_l", "3", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	for _, page := range pages {
		got, to := line(base+page), base+"#stops"
		if page == "" {
			to = "#stops"
		}
		if !strings.Contains(got, `href="`+to+`"`) || barLine(got) != "✕ STOP: Access, Bath" {
			t.Errorf("%s: %s", page, got)
		}
	}
	// The bar is brought up to date by script on every page; of the rest only setting up
	// itself: any other page that had a part which is would stay as it was once its form
	// is saved.
	for _, page := range pages {
		text := h.see(base + page)
		if got := strings.Contains(mainOf(text), `data-live`); got != (page == "") {
			t.Errorf("%s: brought up to date by script: %v", page, got)
		}
		if !strings.Contains(barOn(text), "data-live") {
			t.Errorf("%s: the bar stays as it was", page)
		}
	}
	if text := h.see(base); strings.Count(text, `id="stops"`) != 1 {
		t.Error("the line leads nowhere")
	}
	// What was refused comes back to a page that names it too.
	if _, _, text := h.post(base+"/bath_label", formOf("label_k_mmol_l", "3")); barLine(barOn(text)) != "✕ STOP: Access, Bath" {
		t.Error("a form that comes back does not name it")
	}
	h.saved(base+"/override", "check", "bath", "reason", "nobody reached, tried at 19:40")
	if got := barLine(line(base + "/supply")); got != "✕ STOP: Access" {
		t.Errorf("with one gone past: %s", got)
	}
	h.saved(base+"/override", "check", "access", "reason", "nobody reached, tried at 19:40")
	if got := line(base + "/supply"); got != "" {
		t.Errorf("with both gone past: %s", got)
	}
}

// barLine is what a bar says is to be done now, or was said.
func barLine(bar string) string {
	_, line, _ := strings.Cut(bar, "<b>")
	line, _, _ = strings.Cut(line, "</b>")
	return plainText(line)
}

// The line stays one line, whatever stops.
func TestStopLineIsShort(t *testing.T) {
	stop := func(titles ...string) (list []session.Check) {
		for _, title := range titles {
			list = append(list, session.Check{Title: title, State: session.StopHere})
		}
		return list
	}
	for _, tt := range []struct {
		checks []session.Check
		want   string
	}{
		{stop("Access", "Total chlorine"), "STOP: Access, Total chlorine"},
		{stop("Machine disinfected"), "STOP: Machine disinfected"},
		{stop("Machine disinfected", "Total chlorine", "Bath"), "STOP: Machine disinfected +2"},
		{stop("Fit to start", "Access", "Blood pressure", "Bath"), "STOP: Fit to start and 3 more"},
		{stop("Since last time", "Machine disinfected"), "STOP: Since last time and 1 more"},
		{stop("Access", "Bath", "Plan", "Heparin", "Night"), "STOP: Access, Bath and 3 more"},
	} {
		if got := stopLine(tt.checks); got != tt.want {
			t.Errorf("%s, want %s", got, tt.want)
		}
	}
	if got := stopLine([]session.Check{{Title: "Bath", State: session.OpenYet}}); got != "" {
		t.Errorf("what is open is called a stop: %s", got)
	}
}
