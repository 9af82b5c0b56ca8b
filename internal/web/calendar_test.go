package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// The calendar stands at a secret address, says nothing of anybody's health
// unless that was chosen, and is closed by a new address.
func TestCalendarFeed(t *testing.T) {
	h := home(t, 2, false)
	h.says(vida+"/calendar", "No address was made yet")
	h.saved(vida+"/calendar", "titles", "busy")
	address := regexp.MustCompile(`/calendar/([a-z2-7]{32})\.ics`)
	first := address.FindString(h.see(vida + "/calendar"))
	if first == "" {
		t.Fatal("the page does not tell the address")
	}
	res, err := http.Get(h.http.URL + first)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	if got := res.Header.Get("Content-Type"); got != "text/calendar; charset=utf-8" || res.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("served as %q, %q", got, res.Header.Get("Cache-Control"))
	}
	_, text := h.get(first)
	if !strings.HasPrefix(text, "BEGIN:VCALENDAR\r\n") || strings.Count(text, "BEGIN:VEVENT") < 32 || strings.Contains(text, "ialysis") || strings.Contains(text, "Vida") {
		t.Errorf("the feed:\n%.600s", text)
	}
	for _, closed := range []string{strings.TrimSuffix(first, ".ics"), "/calendar/" + strings.Repeat("a", 32) + ".ics", "/calendar/.ics", first + "x"} {
		if status, _ := h.get(closed); status != http.StatusNotFound {
			t.Errorf("%s: %d", closed, status)
		}
	}
	h.saved(vida+"/calendar", "titles", "full")
	second := address.FindString(h.see(vida + "/calendar"))
	if status, _ := h.get(first); status != http.StatusNotFound || first == second {
		t.Errorf("the old address still answers: %d", status)
	}
	if _, text := h.get(second); !strings.Contains(text, "SUMMARY:DEMONSTRATION: Dialysis\\, 4 h 10") {
		t.Errorf("with titles chosen:\n%.600s", text)
	}
}
