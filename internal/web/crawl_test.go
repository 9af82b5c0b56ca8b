package web

import (
	"html"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
)

// A place is one address of the pages, the route that answers it, and what it
// answered.
type place struct {
	path, route string
	answer      *httptest.ResponseRecorder
}

// linksOf gives the addresses on this program to which a page leads, or of which it
// shows something. Pages are read by the ten thousand: an expression takes ten times
// as long as looking for the letters.
func linksOf(text string) []string {
	var list []string
	for rest := text; ; {
		i := strings.Index(rest, `="/`)
		if i < 0 {
			return list
		}
		name := rest[:i]
		rest = rest[i+len(`="`):]
		end := strings.IndexByte(rest, '"')
		if end < 0 {
			return list
		}
		if strings.HasSuffix(name, "href") || strings.HasSuffix(name, "src") {
			list = append(list, html.UnescapeString(rest[:end]))
			rest = rest[end:]
		}
	}
}

// crawl follows every link from the first page, and opens every form of the
// running session besides; of each route, for each kind of form, a few
// addresses only. It gives what was found, in order.
func crawl(t testing.TB, desk *household.Desk, life *simulate.Life, pages http.Handler) []place {
	t.Helper()
	routes := routesOf(t, desk)
	next := []string{"/"}
	if life.Open != "" {
		base := "/p/" + life.Person + "/session/" + life.Open
		for _, k := range record.Kinds() {
			if k.Session && k.Name != "session_opened" {
				next = append(next, base+"/"+k.Name)
			}
		}
	}
	const few = 3
	of := map[string]int{}
	seen := map[string]bool{}
	var found []place
	for len(next) > 0 {
		path := next[0]
		next = next[1:]
		if path, _, _ = strings.Cut(path, "#"); seen[path] || strings.HasPrefix(path, "/live") {
			continue
		}
		seen[path] = true
		req := httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+path, nil)
		_, route := routes.Handler(req)
		key := route
		if strings.HasSuffix(route, "/{kind}") || strings.HasSuffix(route, "/static/") {
			key = route + path[strings.LastIndex(path, "/"):]
		}
		most := few
		if strings.HasSuffix(route, "/dose/weeks") {
			most = 1 // a thousand persons in two hundred weeks take their time
		}
		if of[key]++; of[key] > most {
			continue
		}
		answer := httptest.NewRecorder()
		pages.ServeHTTP(answer, req)
		switch answer.Code {
		case http.StatusOK:
			found = append(found, place{path, route, answer})
		case http.StatusSeeOther:
			next = append(next, answer.Header().Get("Location"))
			continue
		default:
			t.Errorf("GET %s (%s): %d", path, route, answer.Code)
		}
		if strings.HasPrefix(answer.Header().Get("Content-Type"), "text/html") {
			next = append(next, linksOf(answer.Body.String())...)
		}
	}
	if len(found) < 20 {
		t.Fatalf("only %d pages were found", len(found))
	}
	return found
}

// walked is all that a crawl finds in an invented household of two months with a
// session running, for tests that only look at what was answered: it is made once.
func walked(t *testing.T) []place {
	t.Helper()
	walkedOnce.Do(func() {
		h := home(t, 2, true)
		handler, err := New(h.desk, Options{Version: "test"})
		if err != nil {
			t.Fatal(err)
		}
		walkedPlaces = crawl(t, h.desk, h.life, handler)
	})
	if len(walkedPlaces) == 0 {
		t.Fatal("the crawl that others rest on failed")
	}
	return walkedPlaces
}

var (
	walkedOnce   sync.Once
	walkedPlaces []place
)

// routesOf tells which route answers a request; it serves nothing.
func routesOf(t testing.TB, desk *household.Desk) *http.ServeMux {
	t.Helper()
	s := &server{desk: desk}
	mux := http.NewServeMux()
	s.routes(mux)
	return mux
}

// Every link of every page leads somewhere, and no page that is only looked at
// writes anything (H-52).
func TestLookingChangesNothing(t *testing.T) {
	t.Parallel()
	h := home(t, 2, true)
	handler, err := New(h.desk, Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	before, state := entries(h), stateOf(h)
	found := crawl(t, h.desk, h.life, handler)
	routes := map[string]bool{}
	for _, p := range found {
		routes[p.route] = true
		head := httptest.NewRecorder()
		handler.ServeHTTP(head, httptest.NewRequest(http.MethodHead, "http://127.0.0.1"+p.path, nil))
		if head.Code != http.StatusOK {
			t.Errorf("HEAD %s: %d", p.path, head.Code)
		}
	}
	if after := entries(h); after != before || stateOf(h) != state {
		t.Errorf("looking at %d pages made %d entries of %d", len(found), after, before)
	}
	if len(routes) < 15 {
		t.Errorf("only %d routes were looked at: %v", len(routes), routes)
	}
}

func stateOf(h *house) uint64 {
	v, _ := h.desk.Watch()
	return v
}
