package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// One visit makes the bar once, and goes through the session once for what stands.
func TestOnceForAVisit(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.desk.View(func(rec *record.Household) {
		one := rec.Session(base[strings.LastIndex(base, "/")+1:])
		v := visit{Request: httptest.NewRequest(http.MethodGet, base, nil), house: rec, now: h.now,
			member: rec.Member("p-vida-hribar"), session: one, kept: map[keptKey]any{}}
		if first := v.barOf(); first == nil || first != v.barOf() {
			t.Error("the bar is made twice")
		}
		if v.wrongOf(view{here: "session"}) == nil {
			t.Error("no troubles")
		}
		for _, what := range []string{"bar", "run", "standing", "troubles", "removal", "pressure"} {
			if _, had := v.kept[keptKey{what, one}]; !had {
				t.Errorf("%s is not kept for the visit", what)
			}
		}
	})
}

// The pressure now is low where the remarks say that it is, by the unit's figure too,
// on the running page and under the trouble; one that was felt only stands beside it.
func TestPressureNowIsLowByTheRemarks(t *testing.T) {
	h := home(t, 2, false)
	var rx session.Prescription
	h.member("p-vida-hribar", func(m *record.Member) { rx = m.Prescription(unit.DateOf(h.now)).Value })
	below := unit.Pressure(85)
	rx.FallBelow, rx.FallBy, rx.ValidFrom = &below, nil, unit.DateOf(h.now)
	h.keep("p-vida-hribar", &rx)
	base := h.begin()
	h.later(30 * time.Minute)
	tile := func(low bool, words string) {
		t.Helper()
		text := h.see(base)
		if got := strings.Contains(text, `class="first pressure low"`); got != low {
			t.Errorf("low is %v, want %v", got, low)
		}
		if !strings.Contains(plainText(text), words) {
			t.Errorf("the page does not say %q", words)
		}
	}
	h.saved(base+"/reading", "systolic_mmhg", "98", "diastolic_mmhg", "60", "again.systolic_mmhg", "98")
	tile(false, "Blood pressure 98/60 at 20:02")
	h.later(5 * time.Minute)
	h.saved(base + "/event/low_pressure")
	tile(true, "Low pressure 98/60 at 20:02; low without a figure, 20:07")
	if text := plainText(h.troubleOn(base, session.TroubleLow)); !strings.Contains(text, "98/60 mmHg, 20:02 low without a figure, 20:07") {
		t.Errorf("under the trouble: %s", text)
	}
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "84", "again.systolic_mmhg", "84")
	tile(true, "Low pressure 84 at 20:12")
}
