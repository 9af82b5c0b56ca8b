package web

import (
	"html"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

var givesBack = regexp.MustCompile(`name="returned" value="(?:all|part)"|name="washback_ml"|<select name="returned"`)

// startsPump reports whether a page names the step that starts the pump, or does its
// work by hand.
func startsPump(text string) bool {
	text = strings.ToLower(text)
	return strings.Contains(text, "start the pump") || strings.Contains(text, "by hand, as your unit’s steps say")
}

// formsIn gives the forms of a page, each from its first letter to its last.
func formsIn(text string) []string {
	parts := strings.Split(text, "<form")
	list := parts[1:]
	for i, part := range list {
		inside, _, _ := strings.Cut(part, "</form>")
		list[i] = "<form" + inside
	}
	return list
}

// wayBack gives what of a page leads to the washback: a form or a button that ends
// the treatment with blood given back, the three ticks, the step that starts the
// pump; empty where there is none.
func wayBack(text string) string {
	for _, form := range formsIn(text) {
		for _, part := range strings.Split(form, `action="`)[1:] { // of the form, or of a button
			to, _, _ := strings.Cut(part, `"`)
			switch to = html.UnescapeString(to); {
			case strings.HasSuffix(to, "/washback_checked") || strings.HasSuffix(to, "/washback"):
				return "the ticks: " + to
			case !strings.HasSuffix(to, "/came_off"):
			case givesBack.MatchString(form) || !strings.Contains(form, `name="returned" value="none"`):
				return "blood given back: " + to
			}
		}
	}
	if startsPump(text) {
		return "start the pump"
	}
	return ""
}

// pagesOf follows every link from the pages of a person and of a session, and opens
// every form of the session besides; of each route a few addresses only, outside the session one. What it
// does not follow are papers, which have no forms, and, when it stays near, what
// lies outside Today and the session.
func pagesOf(t *testing.T, routes *http.ServeMux, handler http.Handler, near bool, base string) map[string]string {
	t.Helper()
	of, found := map[string]int{}, map[string]string{}
	seen, next := map[string]bool{}, formsOf(base)
	for len(next) > 0 {
		path := next[0]
		next = next[1:]
		path, _, _ = strings.Cut(path, "#")
		if seen[path] || strings.HasPrefix(path, "/static") || strings.HasPrefix(path, "/live") || strings.HasSuffix(path, ".pdf") ||
			near && path != vida+"/" && !strings.HasPrefix(path, base) {
			continue
		}
		seen[path] = true
		req := httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+path, nil)
		_, route := routes.Handler(req)
		few := 1
		if strings.HasPrefix(path, base) {
			few = 3
		}
		if strings.HasSuffix(route, "/{kind}") || !near && strings.Contains(route, "/entry/") {
			route += path // every form, and every entry of the session
		}
		if of[route]++; of[route] > few || strings.HasSuffix(route, "/dose/weeks") || strings.HasSuffix(route, "/dose/week") {
			continue
		}
		answer := httptest.NewRecorder()
		handler.ServeHTTP(answer, req)
		switch {
		case answer.Code == http.StatusSeeOther:
			next = append(next, answer.Header().Get("Location"))
		case answer.Code != http.StatusOK:
			t.Errorf("GET %s: %d", path, answer.Code)
		case strings.HasPrefix(answer.Header().Get("Content-Type"), "text/html"):
			found[path] = answer.Body.String()
			next = append(next, linksOf(found[path])...)
		}
	}
	return found
}

// formsOf are the addresses of every form of a session, linked or not.
func formsOf(base string) []string {
	list := []string{"/", base, base + "/washback", base + "/washback?ticks=1", base + "/sheet"}
	for _, k := range record.Kinds() {
		if k.Session && k.Name != "session_opened" {
			list = append(list, base+"/"+k.Name)
		}
	}
	return list
}

// bloodPhases bring a running session to where the trouble meets it.
var bloodPhases = map[string]func(h *house, base string){
	"running": func(*house, string) {},
	"paused":  func(h *house, base string) { h.saved(base + "/event/pause") },
	"coming off": func(h *house, base string) {
		h.lookedFirst(base)
		h.later(time.Minute)
	},
}

// otherPhases are those in which there is no end of treatment to write: the treatment
// has not begun, or ended with the blood left where it was.
var otherPhases = map[string]func(h *house) (base string){
	"setting up": func(h *house) string {
		h.saved(vida+"/session/"+h.life.Open+"/came_off", "returned", "none", "removed_ml", "1900", "again.removed_ml", "1900")
		h.saved(vida + "/session/" + h.life.Open + "/closed")
		h.later(20 * time.Hour)
		return h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	},
	"coming off": func(h *house) string {
		base := vida + "/session/" + h.life.Open
		h.saved(base+"/came_off", "returned", "none", "removed_ml", "1900", "again.removed_ml", "1900")
		return base
	},
}

// Before the treatment and after its end no page has a way to the washback either,
// and each address of it leads back to the session (H-138).
func TestNoWashbackBeforeOrAfterTheTreatment(t *testing.T) {
	t.Parallel()
	for phase, bring := range otherPhases {
		for _, code := range []string{session.TroubleAir, session.TroubleLeak, session.TroubleFire} {
			h := home(t, 1, true)
			base := bring(h)
			h.saved(base+"/trouble", "trouble", code, "state", "open")
			what := code + ", " + phase
			if pages := noWay(t, h, code != session.TroubleAir, base, what); pages < 60 {
				t.Errorf("%s: only %d pages were looked at", what, pages)
			}
			for _, path := range []string{"/came_off", "/washback_checked", "/washback", "/washback?ticks=1"} {
				to := base + path
				for hops := 0; hops < 3 && to != base; hops++ {
					status, next, _ := h.followed(to)
					if status != http.StatusSeeOther {
						t.Errorf("%s: %s answers %d", what, to, status)
						break
					}
					to = next
				}
				if to != base {
					t.Errorf("%s: %s leads to %s", what, path, to)
				}
			}
			for path, values := range map[string][]string{
				"/washback_checked": threeTicks, "/came_off": {"returned", "all", "washback_ml", "250", "removed_ml", "2100", "again.removed_ml", "2100"},
			} {
				before := entries(h)
				status, _, text := h.post(base+path, formOf(values...))
				if status != http.StatusUnprocessableEntity || entries(h) != before || !strings.Contains(text, "Not saved.") {
					t.Errorf("%s: %s was taken: %d", what, path, status)
				}
				if way := wayBack(text); way != "" {
					t.Errorf("%s: %s comes back with a way to the washback by %q", what, path, way)
				}
			}
		}
	}
}

// While a trouble is open in which the blood must not go back, no page has a way to
// the washback, in whatever phase it began and whatever began it; once it is over
// on the unit's word, or struck out, the way is there again (H-138).
func TestNoPageGivesBackBloodThatStaysOut(t *testing.T) {
	t.Parallel()
	out := 0
	for _, one := range session.Troubles() {
		for phase, bring := range bloodPhases {
			if !one.StaysOut() {
				continue
			}
			out++
			h := home(t, 1, true)
			base := vida + "/session/" + h.life.Open
			bring(h, base)
			h.saved(base+"/trouble", "trouble", one.Code, "state", "open")
			noWayBack(t, h, phase != "running", base, one.Code+", "+phase)
			if phase == "paused" {
				h.saved(base+"/entry/"+lastOf(h, "trouble").ID+"/strike", "reason", "the wrong button")
			} else {
				h.saved(base+"/trouble", "trouble", one.Code, "state", "over", "said", "Sister Holm: give it back")
			}
			h.later(time.Minute)
			isWayBack(t, h, base, one.Code+", "+phase+", over")
		}
	}
	if out < 7*len(bloodPhases) {
		t.Errorf("only %d were looked at", out)
	}
}

// A fluid too hot to go on with is a trouble by itself, from the value on.
func TestNoPageGivesBackBloodThatMetHotFluid(t *testing.T) {
	t.Parallel()
	for phase, bring := range bloodPhases {
		h := home(t, 1, true)
		base := vida + "/session/" + h.life.Open
		bring(h, base)
		h.saved(base+"/reading", "dialysate_temp_c", "38.9", "again.dialysate_temp_c", "38.9")
		noWayBack(t, h, phase != "running", base, "hot, "+phase)
		h.saved(base+"/entry/"+lastOf(h, "reading").ID+"/strike", "reason", "read from the wrong line")
		if phase == "coming off" {
			continue // what was ticked before it holds again
		}
		h.later(time.Minute)
		isWayBack(t, h, base, "hot, "+phase+", struck out")
	}
}

// In every other trouble the unit's steps say it, and the way is there.
func TestBloodGoesBackAsTheStepsSay(t *testing.T) {
	t.Parallel()
	steps := 0
	for _, one := range session.Troubles() {
		if one.StaysOut() {
			continue
		}
		steps++
		h := home(t, 1, true)
		base := vida + "/session/" + h.life.Open
		h.saved(base+"/trouble", "trouble", one.Code, "state", "open")
		isWayBack(t, h, base, one.Code)
		h.says(base+"/washback", one.Title, one.Blood.Words())
	}
	if steps < 7 {
		t.Errorf("only %d were looked at", steps)
	}
}

// noWay looks for a way to the washback on every page, and gives how many there are.
func noWay(t *testing.T, h *house, near bool, base, what string) int {
	t.Helper()
	handler, err := New(h.desk, Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	found := pagesOf(t, routesOf(t, h.desk), handler, near, base)
	for path, text := range found {
		if way := wayBack(text); way != "" {
			t.Errorf("%s: %s leads to the washback by %q", what, path, way)
		}
	}
	t.Logf("%s: %d pages", what, len(found))
	return len(found)
}

func noWayBack(t *testing.T, h *house, near bool, base, what string) {
	t.Helper()
	pages := noWay(t, h, near, base, what)
	if least := map[bool]int{true: 50, false: 100}[near]; pages < least {
		t.Errorf("%s: only %d pages were looked at", what, pages)
	}
	// What comes back from a form that is refused has no more than the page.
	for _, tt := range []struct {
		path   string
		values []string
	}{
		{"/washback_checked", threeTicks},
		{"/event/washback_checked", threeTicks},
		{"/came_off", []string{"returned", "none", "removed_ml", "2.4"}},
		{"/trouble", []string{"trouble", "air", "state", "over", "said", ""}},
	} {
		before := entries(h)
		status, _, text := h.post(base+tt.path, formOf(tt.values...))
		if status != http.StatusUnprocessableEntity || entries(h) != before {
			t.Errorf("%s: %s was taken: %d", what, tt.path, status)
		}
		if way := wayBack(text); way != "" {
			t.Errorf("%s: %s comes back with a way to the washback by %q", what, tt.path, way)
		}
	}
	h.says(base+"/washback", "The blood stays out", "Come off without giving the blood back")
}

func isWayBack(t *testing.T, h *house, base, what string) {
	t.Helper()
	if way := wayBack(h.see(base + "/washback?ticks=1")); !strings.HasPrefix(way, "the ticks") {
		t.Errorf("%s: no way to the ticks: %q", what, way)
	}
	h.lookedFirst(base)
	text := h.see(base + "/washback")
	if way := wayBack(text); !strings.HasPrefix(way, "blood given back") || !startsPump(text) {
		t.Errorf("%s: no way to the washback: %q", what, way)
	}
}
