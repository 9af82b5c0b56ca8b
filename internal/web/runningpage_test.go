package web

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// before fails unless these stand on a page in this order.
func before(t *testing.T, text string, marks ...string) {
	t.Helper()
	last := -1
	for _, m := range marks {
		at := strings.Index(text, m)
		if at < 0 || at < last {
			t.Errorf("%q stands at %d, what comes before it at %d", m, at, last)
		}
		last = max(last, at)
	}
}

// remarksOf are the remarks of the session as they stand.
func (h *house) remarksOf(base string) (list []session.Remark) {
	h.t.Helper()
	h.desk.View(func(rec *record.Household) {
		list = session.Remarks(rec.Session(base[strings.LastIndex(base, "/")+1:]), h.now)
	})
	return list
}

// First what was said, then how it stands, then the taps for what goes wrong, then the
// reading.
func TestRunningPageInOrder(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	quiet := h.see(base)
	before(t, quiet, `id="bar"`, "No reading is written yet.", ">Left<", ">Blood pressure<", ">Removed<", ">To come off<", ">Next check<",
		"cannot see the machine, and wakes nobody", `data-kind="low_pressure"`, `data-kind="removal_off"`, ">chest pain<",
		`action="`+base+`/reading"`, `data-kind="drink"`, `id="set-now"`, base+`/washback"`)
	h.says(base, "Blood pressure 138/80 at 19:31, before, pulse 70", "every 60 min (unit’s interval)")
	h.later(30 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "130", "diastolic_mmhg", "77", "venous_mmhg", "135", "removed_ml", "250")
	h.says(base, "Blood pressure 130/77 at 20:02", "Removed 0.25 L")
	h.later(30 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "101", "diastolic_mmhg", "60")
	text := h.see(base)
	before(t, text, `id="bar"`, nightNumber, `class="look"><b>20:32</b> Upper pressure 101`, ">Low pressure<", ">101/60<", `action="`+base+`/reading"`)
	h.says(base, "every 5 min, after the low pressure (ours)")
}

const nightNumber = "&#43;000 1 555 01 99"

// Every remark stands on the page before the form of the reading, in its own words,
// with one of the unit's numbers; those that no longer stand are folded and counted.
func TestEveryRemarkStandsBeforeTheReading(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	rows := [][]string{
		{"systolic_mmhg", "132", "blood_flow_ml_min", "310", "venous_mmhg", "135", "arterial_mmhg", "-150"},
		{"venous_mmhg", "100", "blood_flow_ml_min", "310"},
		{"systolic_mmhg", "101", "venous_mmhg", "101", "blood_flow_ml_min", "310"},
		{"systolic_mmhg", "125", "venous_mmhg", "101"},
		{"pulse_per_min", "140", "again.pulse_per_min", "140", "venous_mmhg", "101"},
		{"systolic_mmhg", "124", "pulse_per_min", "80", "venous_mmhg", "102", "removed_ml", "2300", "again.removed_ml", "2300"},
		{"systolic_mmhg", "123", "venous_mmhg", "102", "removed_ml", "2300"},
	}
	said := 0
	for _, row := range rows {
		h.later(5 * time.Minute)
		h.saved(base+"/reading", row...)
		text := h.see(base)
		head, _, _ := strings.Cut(text, `action="`+base+`/reading"`)
		plain := plainText(head)
		list := h.remarksOf(base)
		for _, r := range list {
			if n := strings.Count(plain, r.At.Format("15:04")+" "+plainText(r.Words)); n != 1 {
				t.Errorf("after %v: %q stands %d times before the reading", row, r.Words, n)
			}
		}
		if got := strings.Contains(plain, "+000 1 555 01"); got != (len(list) > 0) {
			t.Errorf("after %v: one of the unit's numbers before the reading: %v, remarks %d", row, got, len(list))
		}
		said = len(list)
	}
	if said < 5 {
		t.Fatalf("only %d remarks were made", said)
	}
	text := h.see(base)
	_, folded, _ := strings.Cut(text, `<details class="said-earlier">`)
	folded, _, _ = strings.Cut(folded, "</details>")
	if n := strings.Count(folded, "<b>"); n == 0 || !strings.Contains(folded, fmt.Sprintf("Said earlier (%d)", n)) {
		t.Errorf("%d are folded: %s", n, plainText(folded))
	}
	head, _, _ := strings.Cut(text, `<details class="said-earlier">`)
	if strings.Contains(head, `<p class="look"><b>`) {
		t.Error("a look that no longer stands is not folded")
	}
}

// What to set now asks above only when the machine should be touched, and not while a
// pressure is low or a trouble is open.
func TestToSetAsksOnlyWhenItMay(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(time.Hour)
	h.saved(base+"/event/drink", "volume_ml", "400")
	h.says(base, "To set now: goal")
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", "open")
	h.silent(base, "To set now: goal")
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", "over", "said", "Nurse R at the unit: the air is gone, go on")
	h.says(base, "To set now: goal")
	h.saved(base+"/reading", "systolic_mmhg", "101")
	h.silent(base, "To set now: goal")
	text := h.see(base)
	before(t, text, `action="`+base+`/reading"`, `id="set-now"`, "Nothing is asked for while something is wrong.", "How it comes about")
	h.silent(base, "Nothing has to be changed")
}

// While removal is off by the person's word nothing is to be set now: the figures are
// those for when it goes on again, by the unit's steps.
func TestToSetWaitsWhileRemovalIsOff(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(time.Hour)
	h.saved(base+"/event/drink", "volume_ml", "400")
	h.saved(base + "/event/removal_off")
	h.says(base, "When removal goes on again, as your unit’s steps say: goal", "What to set when removal goes on again",
		"It goes on again as your unit’s steps say, not by these figures.")
	h.silent(base, "To set now", "mL/h from now", "What to set now")
	h.saved(base + "/event/removal_on")
	h.says(base, "To set now: goal", "mL/h from now", "What to set now")
	h.silent(base, "When removal goes on again")
}

// A feeling is one press; removal off and on again take turns; saline carries the
// amounts of the unit's steps, and is typed where they name none.
func TestTapsOfTrouble(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	for _, f := range session.Feelings() {
		h.later(time.Minute)
		text := h.see(base)
		name, value := button(t, text, f.Words)
		if name != "words" || value != f.Words {
			t.Errorf("%s sends %s=%s", f.Words, name, value)
		}
		if to := h.saved(base+"/event/unwell", name, value); to != base+"#wrong-"+f.Trouble {
			t.Errorf("%s leads to %s", f.Words, to)
		}
	}
	off, on := `action="`+base+`/event/removal_off"`, `action="`+base+`/event/removal_on"`
	if text := h.see(base); !strings.Contains(text, off) || strings.Contains(text, on) {
		t.Error("removal on is offered while it is on")
	}
	h.saved(base + "/event/removal_off")
	if text := h.see(base); strings.Contains(text, off) || !strings.Contains(text, on) {
		t.Error("removal off is offered while it is off")
	}
	h.says(base, "Removal off since "+h.now.Format("15:04")+". It is not made good.")
	h.saved(base + "/event/removal_on")
	h.silent(base, "Removal off since")

	_, _, call := h.post(base+"/rang", formOf("said", "go on, measure again in five minutes"))
	form := fieldsOf(t, call, base+"/rang")
	form.Set("whom", "Unit, at night, +000 1 555 01 99")
	if _, to, text := h.post(base+"/rang", form); to != base || strings.Contains(text, "One call answers every stop") {
		t.Errorf("a call leads to %s", to)
	}
	h.noSteps()
	saline := `action="` + base + `/event/saline"`
	if text := h.see(base); strings.Contains(text, saline) || !strings.Contains(text, `href="`+base+`/saline"`) {
		t.Error("an amount of saline is offered that no step of the unit names")
	}
	day, ml := unit.DateOf(h.now), unit.Volume(150)
	h.keep("p-vida-hribar", &record.TroubleSteps{Trouble: session.TroubleLow, Words: "Lie back\nSaline 150 mL", Ring: session.RingUnit, Saline: &ml,
		From: "Nurse R (invented)", GivenOn: day, ReviewBy: day.Add(300)})
	if text := h.see(base); !strings.Contains(text, saline) || !strings.Contains(text, `name="volume_ml" value="150"`) {
		t.Error("the saline of the unit's steps is no tap")
	}
}

// A sleep by plan that something ended is taken up again by one tap for the rest of
// it, once no reading is called for any more.
func TestAsleepIsTakenUpAgain(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "132", "blood_flow_ml_min", "310", "venous_mmhg", "135")
	h.saved(base+"/event/asleep", "for_min", "120")
	tap := func() string {
		_, tap, found := strings.Cut(h.see(base), `<div class="tap sleep-on"`)
		if !found {
			return ""
		}
		tap, _, _ = strings.Cut(tap, "</div>")
		return tap
	}
	h.says(base, "asleep by plan until 21:37, then every 60 min (unit’s interval)")
	if tap() != "" {
		t.Error("offered while asleep")
	}
	h.later(20 * time.Minute)
	h.saved(base+"/reading", "venous_mmhg", "100", "blood_flow_ml_min", "310")
	h.says(base, "every 15 min, after what was said (ours)")
	if tap() != "" {
		t.Error("offered while a reading is called for")
	}
	h.later(10 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "130", "venous_mmhg", "101", "blood_flow_ml_min", "310")
	name, value := button(t, tap(), "Asleep by plan again, 90 min")
	if name != "for_min" || value != "90" {
		t.Fatalf("the tap sends %s=%s", name, value)
	}
	h.saved(base+"/event/asleep", name, value)
	h.says(base, "asleep by plan until 21:37")
	if tap() != "" {
		t.Error("offered once it is taken up")
	}
	// Not for a rest of under five minutes, nor after its end.
	h.later(87 * time.Minute)
	h.saved(base+"/reading", "venous_mmhg", "60", "blood_flow_ml_min", "310")
	h.saved(base+"/reading", "systolic_mmhg", "130", "venous_mmhg", "61", "blood_flow_ml_min", "310")
	if tap() != "" {
		t.Error("offered for three minutes")
	}
}

// Without a venous pressure both needles are to be looked at; with a single needle
// the page says what is not remarked on.
func TestNeedlesAndSingleNeedle(t *testing.T) {
	h := home(t, 2, false)
	var rx session.Prescription
	h.member("p-vida-hribar", func(m *record.Member) { rx = m.Prescription(unit.DateOf(h.now)).Value })
	const look, single = "look at both needles", session.OneNeedleWords
	base := h.begin()
	h.silent(base, look, single)
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "132")
	h.says(base, "No venous pressure in the reading of 19:37: "+look)
	h.saved(base+"/event/asleep", "for_min", "120")
	h.silent(base, look)
	h.later(3 * time.Hour)
	h.saved(base+"/reading", "systolic_mmhg", "132", "venous_mmhg", "135")
	h.silent(base, look)

	h = home(t, 2, false)
	rx.SingleNeedle = true
	rx.ValidFrom = unit.DateOf(h.now)
	h.keep("p-vida-hribar", &rx)
	base = h.begin()
	h.says(base, single)
}

// While the blood must stay out, nothing on the page leads to the washback.
func TestNoWayToTheWashbackWhileBloodStaysOut(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	for _, tt := range session.Troubles() {
		h.saved(base+"/trouble", "trouble", tt.Code, "state", "open")
		text := h.see(base)
		if got := strings.Contains(text, base+`/washback"`); got == tt.StaysOut() {
			t.Errorf("%s: a way to the washback: %v", tt.Code, got)
		}
		if tt.StaysOut() {
			h.says(base, tt.Title+": the blood stays out until your unit’s word is written.", "Coming off, the blood stays out")
		}
		h.later(time.Minute)
		h.saved(base+"/trouble", "trouble", tt.Code, "state", "over", "said", "Nurse R at the unit: it may go back")
	}
}

// A rate read too high leads what to set; one that would have to be above 13 mL/h/kg
// stands in its place, so that no figure above that is shown to be set.
func TestRateTooHighLeads(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(time.Hour)
	h.saved(base+"/reading", "removal_rate_ml_h", "1400", "again.removal_rate_ml_h", "1400")
	before(t, plainText(h.see(base)), "The machine was read at 1400 mL/h", "Set it down.", "To set now: goal", "What to set now")

	h = home(t, 2, false)
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-1))
	rx.Limits = session.Limits{}
	h.keep("p-vida-hribar", &rx)
	base = h.begin()
	h.later(210 * time.Minute)
	h.saved(base+"/reading", "removed_ml", "10", "again.removed_ml", "10")
	before(t, plainText(h.see(base)), "above 13 mL/h/kg (ours). Do not set that: more time, or less. Ask your unit.", "What to set now", "Above 13 mL/h/kg (ours): do not set that.")
	h.silent(base, "To set now: goal")
}
