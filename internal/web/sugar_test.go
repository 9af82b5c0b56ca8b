package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// ordersAnew gives Vida a new version of her prescription.
func (h *house) ordersAnew(edit func(*session.Prescription)) {
	h.t.Helper()
	var rx session.Prescription
	h.desk.View(func(r *record.Household) { rx = r.Member("p-vida-hribar").Prescription(unit.DateOf(h.now)).Value })
	edit(&rx)
	rx.OrderedOn, rx.ValidFrom = unit.DateOf(h.now), unit.DateOf(h.now)
	h.keep("p-vida-hribar", &rx)
	h.later(time.Minute)
}

func markedSugar(rx *session.Prescription) {
	low, every := unit.Molar(450), unit.Minutes(60)
	rx.GlucoseMarked, rx.GlucoseLow, rx.GlucoseEvery = true, &low, &every
	rx.SetBy, rx.SetOn = "Dr Q (invented)", rx.OrderedOn
}

// A whole session of somebody whose blood sugar is marked, by its pages without script:
// before, at its hours, low, after, and on the sheet (H-143).
func TestSugarThroughASession(t *testing.T) {
	h := home(t, 2, false)
	h.ordersAnew(markedSugar)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.says(base, "Blood sugar", "Measure your blood sugar.")
	if !strings.Contains(h.see(base), `href="`+base+`/glucose"`) {
		t.Error("the check has no way to its form")
	}
	if form := fieldsOf(t, h.see(base+"/glucose"), base+"/glucose"); form.Get("glucose_mmol_l")+form.Get("glucose_mg_dl") != "" {
		t.Errorf("filled in beforehand: %v", form)
	}
	h.says(base+"/glucose", "The meter shows mmol/L", "The meter shows mg/dL", "“Lo”: too low for a number", "the ambulance")
	h.refused(base+"/glucose", "Is it mmol/L? Then type it there", "glucose_mg_dl", "5.2")
	h.refused(base+"/glucose", "Is it mg/dL? Then type it there", "glucose_mmol_l", "95")
	h.refused(base+"/glucose", "Does your meter show mmol/L?", "glucose_mg_dl", "30")
	h.saved(base+"/glucose", "shows", "low")
	h.says(base, "STOP: Blood sugar", "too low for a number", "Drowsy, confused or cannot swallow: the ambulance.")
	h.later(time.Minute)
	h.saved(base+"/glucose", "glucose_mmol_l", "6.1")
	h.says(base, "too low for a number", "Blood sugar 6.1 mmol/L, just now, not under 4.5 mmol/L.")
	h.silent(base, "STOP: Blood sugar")
	h.saved(base+"/closed", "feel", "tried only") // set up, not treated: what stopped stays
	h.later(2 * time.Minute)

	base = h.setUp()
	h.saved(base+"/override", "check", session.CheckGlucose, "reason", "the meter is broken, the unit said to go on")
	base = h.goesOn(base)
	sheet := base + "/sheet"
	h.says(base, "No blood sugar is written down yet.", "set by Dr Q (invented)")
	began := h.now
	h.later(61 * time.Minute)
	due := began.Add(time.Hour).Format("15:04")
	h.says(base, "Blood sugar due at "+due)
	h.later(10 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "131", "diastolic_mmhg", "77", "removed_ml", "300")
	h.says(vida+"/", "Blood sugar due at "+due) // the bar, on every page
	h.saved(base+"/glucose", "glucose_mg_dl", "79")
	at := h.now.Format("15:04")
	h.says(base, "Blood sugar 79 mg/dL (4.38 mmol/L), under 4.5 mmol/L (set by Dr Q (invented)", "Blood sugar 79 mg/dL (4.38 mmol/L) at "+at+", low.", "Next at "+h.now.Add(time.Hour).Format("15:04"))
	h.silent(base, "Blood sugar due at")
	if text := h.see(base); !strings.Contains(text, `href="#wrong-confused"`) || !strings.Contains(text, "tel:") {
		t.Error("no way to the steps, or no number")
	}
	for _, code := range []string{session.TroubleLow, session.TroubleConfused} {
		part := h.troubleOn(base, code)
		text := strings.ReplaceAll(plainText(part), "\u00a0", " ")
		if !strings.Contains(text, "79 mg/dL (4.38 mmol/L)") || !strings.Contains(text, at+": low") {
			t.Errorf("under %s the value is not there: %s", code, text)
		}
		if !strings.Contains(part, base+"/glucose?next=") {
			t.Errorf("under %s no tap leads to the form", code)
		}
	}
	if to := h.saved(base+"/glucose", "glucose_mmol_l", "5.2", "next", base+"#wrong-low_pressure"); !strings.HasSuffix(to, "#wrong-low_pressure") {
		t.Errorf("the form comes back to %s", to)
	}
	h.later(200 * time.Minute)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1100", "returned", "all", "again.removed_ml", "1100", "why", "tired")
	h.says(base, "Still open", "Blood sugar after")
	h.later(10 * time.Minute)
	h.saved(base+"/glucose", "glucose_mg_dl", "68")
	h.says(base, "Blood sugar 68 mg/dL (3.77 mmol/L), under 4.5 mmol/L", "Drowsy, confused or cannot swallow: the ambulance.")
	h.silent(base, "Blood sugar after")
	if !strings.Contains(mainOf(h.see(base)), "tel:112") {
		t.Error("no number of the ambulance beside a low one after the end")
	}
	h.says(sheet, "Blood sugar", "68 mg/dL (3.77 mmol/L)", "79 mg/dL (4.38 mmol/L)", "before and after, every 60 min, low under 4.5 mmol/L", "Blood sugar before", "not measured when it was due")
	h.saved(base+"/closed", "machine_treated_min", "265", "again.machine_treated_min", "265")
	if status, _ := h.get(base + "/sheet.pdf"); status != http.StatusOK {
		t.Errorf("the sheet as it prints: %d", status)
	}
}

// Whom the unit did not mark is asked for nothing; one press in the run leads to the
// form, and what is written there shows.
func TestSugarOfTheUnmarkedByPage(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.silent(base, "No blood sugar is written", "Blood sugar due")
	if !strings.Contains(h.see(base), `href="`+base+`/glucose"`) {
		t.Error("no way to the form")
	}
	h.saved(base+"/glucose", "glucose_mmol_l", "3.4")
	h.says(base, "Blood sugar 3.4 mmol/L, under 4 mmol/L (the program's own default")
}
