package web

import (
	"net/http"
	"strings"
	"testing"
	"time"
)

// A weight older than an hour is said once, with the way to weigh again; no
// plan is taken from it, and no treatment begins on it.
func TestWeightOlderThanAnHour(t *testing.T) {
	h := home(t, 2, false)
	base := h.setUp()
	h.later(59 * time.Minute)
	h.silent(base+"/plan", "Weigh again, then plan")
	h.later(3 * time.Minute)
	text := plainText(h.see(base + "/plan"))
	if n := strings.Count(text, "Weigh again, then plan"); n != 1 {
		t.Errorf("the page says %d times that the weight is old", n)
	}
	if n := strings.Count(text, "more than an hour old"); n != 0 {
		t.Errorf("and %d times in other words", n)
	}
	if status, _, text := h.post(base+"/plan", h.plan(base)); status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), "more than an hour old: weigh again") {
		t.Errorf("a plan from an old weight: %d\n%s", status, problems(text))
	}
	h.saved(base+"/weigh_in", "weight_kg", "64.6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	if status, _, text := h.post(base+"/plan", h.plan(base)); status != http.StatusSeeOther {
		t.Errorf("a plan from a fresh weight: %d\n%s", status, problems(text))
	}
}
