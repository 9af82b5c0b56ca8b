package web

import (
	"net/url"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

func noHeparin(rx *session.Prescription) {
	each, every := unit.Volume(50), unit.Minutes(30)
	rx.Heparin, rx.HepStrength, rx.HepBolus, rx.HepHourly, rx.HepStop = "none", nil, nil, nil, nil
	rx.FlushML, rx.FlushEvery = &each, &every
}

// A whole session without heparin by its pages, without script: nothing asks for heparin,
// the flushes are in the plan, one press each, and on the sheet.
func TestSessionWithoutHeparin(t *testing.T) {
	h := home(t, 2, false)
	h.ordersAnew(noHeparin)
	h.says(vida+"/prescription", "Flush of saline, each", "50 mL", "A flush every", "30 min")
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	page := h.see(base)
	if strings.Contains(mainOf(page), "/heparin_drawn") {
		t.Errorf("a page of setting up asks for heparin: %s", plainText(mainOf(page)))
	}
	if text := plainText(mainOf(page)); strings.Contains(text, "Draw up heparin") {
		t.Error("a step asks for heparin")
	}
	h.saved(base+"/entry/"+h.latest(base, "session_opened")+"/strike", "reason", "begun by mistake")
	base = h.withoutHeparin()
	h.says(base+"/plan", "Flushes", "8 of 50 mL, every 30 min", "400 mL")
	base = h.goesOn(base)
	began := h.now
	clock := func(min int) string { return began.Add(time.Duration(min) * time.Minute).Format("15:04") }
	running := func() string { return plainText(mainOf(h.see(base))) }
	if text := running(); !strings.Contains(text, "Flush 1 of 8 at "+clock(30)) || !strings.Contains(text, "Flush 50 mL given") {
		t.Errorf("no flush: %s", text)
	}
	if text := mainOf(h.see(base)); strings.Contains(text, "/event/heparin_off") || strings.Contains(text, `href="`+base+`/heparin`) {
		t.Error("a page of the run asks for heparin")
	}
	for _, path := range []string{base, base + "/reading"} {
		if page := mainOf(h.see(path)); strings.Contains(page, "heparin_so_far_iu") || !strings.Contains(page, "tmp_mmhg") {
			t.Errorf("%s asks for the heparin so far", path)
		}
	}
	h.saved(base+"/reading", "systolic_mmhg", "128", "diastolic_mmhg", "70", "blank", "not_recorded")
	if text := plainText(mainOf(h.see(base + "/entry/" + h.latest(base, "reading")))); strings.Contains(text, "eparin") || !strings.Contains(text, "TMP") {
		t.Errorf("heparin is lacking of a reading: %s", text)
	}
	press := func() {
		t.Helper()
		form := fieldsOfFlush(t, h.see(base), base+"/event/saline")
		h.post(base+"/event/saline", form)
	}
	h.later(31 * time.Minute)
	if text := running(); !strings.Contains(text, "Flush 1 of 8 is due now.") {
		t.Errorf("not due: %s", text)
	}
	press()
	if text := running(); !strings.Contains(text, "Flush 2 of 8 at "+clock(60)+". Given 1.") {
		t.Errorf("after the first: %s", text)
	}
	h.later(35 * time.Minute)
	if text := running(); !strings.Contains(text, "Flush 2 of 8 was due at "+clock(60)+".") {
		t.Errorf("a late one: %s", text)
	}
	h.later(10 * time.Minute)
	if text := running(); !strings.Contains(text, "Flush 3 of 8 at "+clock(90)) || !strings.Contains(text, "left out 1") || !strings.Contains(text, "50 mL of flushes that were planned and not given") {
		t.Errorf("one left out: %s", text)
	}
	h.says(base, "Flush 2, due at "+clock(60)+": not written down", "Given at "+clock(60), "Left out")
	h.saved(base+"/event/flush_left_out", "number", "2")
	if text := running(); strings.Contains(text, "Given at "+clock(60)) || !strings.Contains(text, "left out 1") {
		t.Errorf("said to be left out, and asked about still: %s", text)
	}
	h.later(15 * time.Minute)
	h.saved(base+"/event/saline", "volume_ml", "50", "flush", "yes", "clock", clock(90), "day", began.Format(time.DateOnly))
	if text := running(); !strings.Contains(text, "Given 2, left out 1.") {
		t.Errorf("written down later with its time: %s", text)
	}
	h.later(180 * time.Minute)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1100", "returned", "all", "again.removed_ml", "1100")
	h.later(20 * time.Minute)
	h.saved(base+"/weigh_out", "weight_kg", "63.6", "clothing_kg", "0", "scale", "bathroom scale")
	h.silent(base, "Heparin")
	h.saved(base+"/closed", "machine_treated_min", "270", "again.machine_treated_min", "270")
	h.says(base+"/sheet", "none, a flush of 50 mL every 30 min", "Flushes", "2 given, 6 left out", "Flush given", "400")
}

// fieldsOfFlush are the fields that the press of a flush sends.
func fieldsOfFlush(t *testing.T, page, action string) url.Values {
	t.Helper()
	for _, part := range strings.Split(page, "<form ")[1:] {
		body, _, _ := strings.Cut(part, "</form>")
		if strings.Contains(body, `action="`+action+`"`) && strings.Contains(body, `name="flush"`) {
			v := url.Values{"volume_ml": {"50"}, "flush": {"yes"}}
			_, id, _ := strings.Cut(body, `name="id" value="`)
			id, _, _ = strings.Cut(id, `"`)
			v.Set("id", id)
			return v
		}
	}
	t.Fatal("no press for a flush")
	return nil
}

// Heparin that is drawn up though none is ordered is written down by its page, typed
// twice, and stops.
func TestHeparinDrawnThoughNoneIsOrdered(t *testing.T) {
	h := home(t, 1, false)
	h.ordersAnew(noHeparin)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	page := base + "/heparin_drawn"
	h.says(page, "no heparin", "Give no heparin. Is some drawn up?")
	h.silent(page, "Work out the volumes")
	drawn := []string{"strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "0", "bolus_ml", "2", "line_ml", "0", "lot", "H1", "expiry", "2027-01-31"}
	h.refused(page, "ordered no heparin", drawn...)
	h.saved(page, append(drawn, "again.bolus_iu", "2000")...)
	h.says(base, "STOP: Heparin", "None prescribed, but 2 000 IU was drawn up.")
}
