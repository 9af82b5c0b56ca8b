package web

import (
	"net/http"
	"testing"
	"time"
)

// A strip that was read wrongly and is corrected while the treatment runs is said at the
// next look: on the running page and in the bar of every page, until the unit was rung.
func TestStartAnswerCorrectedWhileRunning(t *testing.T) {
	h := filteredHouse(t, "net")
	base, _ := h.prepared()
	h.later(10 * time.Minute)
	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	h.later(time.Hour)
	const words = "Total chlorine, by what was written since the start"
	h.silent(base, words)
	entry := base + "/entry/" + h.latest(base, "chlorine")
	form := fieldsOf(t, h.see(entry), entry)
	form.Set("total_chlorine_mg_l", "0.4")
	form.Set("again.total_chlorine_mg_l", "0.4")
	form.Del("below")
	form.Set("reason", "the strip was read wrongly")
	if status, _, text := h.post(entry, form); status != http.StatusSeeOther {
		t.Fatalf("%d %s", status, problems(text))
	}
	h.says(base, words, "0.4 mg/L, limit")
	h.says(vida+"/round", words) // the bar
	h.later(time.Minute)
	h.saved(base+"/rang", "whom", "Unit, by day", "said", "come off now, keep the water")
	h.silent(vida+"/round", words)
}
