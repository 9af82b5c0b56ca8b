package web

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// catheterHome is a household of Vida with a catheter and the program's own steps, on an
// evening with nothing behind it.
func catheterHome(t *testing.T) *house {
	t.Helper()
	h := nobodyIn(t, "Europe/Ljubljana", instant(t, "2026-06-11T15:30Z"))
	h.keep("p-vida-hribar", &record.Person{Name: "Vida Hribar", BirthYear: 1966, Colour: "reed", Adult: true})
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
	length := unit.Minutes(240)
	rx.Length, rx.Access, rx.AccessSide, rx.Technique, rx.GaugeA, rx.GaugeV, rx.OrderedLock = &length, "catheter", "neck_or_chest", "none", 0, 0, citrate()
	rx.Anaesthetic = nil
	h.keep("p-vida-hribar", &rx)
	h.rinsed()
	h.keep("", &record.KidneyUnit{Name: "Unit (invented)", Day: "+000 55 01", Night: "+000 55 02", Ambulance: "+000 11"})
	return h
}

// ownWords are what the person wrote of needles: they stay as they are on every page.
const ownWords = "Needle out, blood, line apart. Look at needle and line, look at both needles. Press on the hole."

// noNeedles looks at the pages of a session and those beside it: none says needle,
// but in what the person wrote.
func (h *house) noNeedles(when, base string, more ...string) {
	h.t.Helper()
	list := append([]string{"/", vida, base, base + "/sheet", vida + "/card", vida + "/card/steps", vida + "/card/steps/" + session.TroubleBlood, vida + "/run-sheet/set_up", vida + "/run-sheet/take_off"}, more...)
	for _, k := range record.Kinds() {
		if k.Session && k.Name != "session_opened" && !slices.Contains(ofNeedles, k.Name) {
			list = append(list, base+"/"+k.Name)
		}
	}
	looked := 0
	for _, path := range list {
		status, text := h.get(path)
		if status != http.StatusOK && status != http.StatusSeeOther {
			h.t.Errorf("%s, %s: %d", when, path, status)
			continue
		}
		looked++
		if path == base+"/sheet" && h.own && !strings.Contains(plainText(text), ownWords) {
			h.t.Errorf("%s, %s: the person’s own words are changed", when, path)
		}
		for _, made := range []string{"{", "}", "connection|", "|line off"} {
			if strings.Contains(plainText(text), made) {
				h.t.Errorf("%s, %s: a pair of words was not chosen from", when, path)
			}
		}
		words := strings.ToLower(strings.NewReplacer(ownWords, "", "Needle out, blood, line …", "").Replace(plainText(text)))
		for _, word := range []string{"needle ", "needles", "needled"} {
			if i := strings.Index(words, word); i >= 0 {
				h.t.Errorf("%s, %s says %q: …%s…", when, path, word, words[max(0, i-60):min(len(words), i+60)])
			}
		}
	}
	if looked < 40 {
		h.t.Errorf("%s: only %d pages were looked at", when, looked)
	}
}

// ticks ticks steps of one part of a session, in their order.
func (h *house) ticks(base, phase string, steps ...string) {
	h.t.Helper()
	for _, one := range steps {
		h.saved(base+"/step", "phase", phase, "step", one, "state", "done")
		h.later(time.Minute)
	}
}

// catheterReady writes down all of setting up but for the catheter's own.
func (h *house) catheterReady() (base string) {
	h.t.Helper()
	base = h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.saved(base+"/weigh_in", "weight_kg", "64.6", "again.weight_kg", "64.6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "78", "pulse_per_min", "70", "temperature_c", "36.5")
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12", "sample_point", "first_carbon")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	h.saved(base+"/fluid_check", "machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.95", "machine_temperature_c", "36", "meter_temperature_c", "36.1")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	for _, item := range []string{"dialyser", "lines", "caps", "saline", "bicarbonate cartridge"} {
		h.saved(base+"/supply", "item", item, "lot", "L1", "expiry", "2027-01-31")
	}
	h.saved(base+"/flush_drawn", "count", "2", "each_ml", "10", "lot", "F1", "expiry", "2027-01-31")
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "H1", "expiry", "2027-01-31")
	plan := h.plan(base)
	if status, _, text := h.post(base+"/plan", plan); status != http.StatusSeeOther {
		h.t.Fatalf("the plan was not taken: %s", problems(text))
	}
	h.saved(base+"/read_back", "shown", h.dialled(base, plan.Get("set_goal_ml")), "machine_length_min", plan.Get("length_min"))
	h.later(time.Minute)
	return base
}

var rightLock = []string{"name", "citrate", "strength_percent", "4", "arterial_ml", "1.6", "venous_ml", "1.7", "lot", "K1", "expiry", "2027-01-31"}

// A whole session by catheter, from setting up to its sheet: its own steps on and off,
// the old lock drawn out before the start, the lock given at the end, caps and clamps;
// and on none of its pages the word needle (H-141).
func TestWholeSessionByCatheter(t *testing.T) {
	h := catheterHome(t)
	h.noNeedles("nothing behind it", h.saved(vida+"/session", "place", "home", "source", "live", "session", newID()))
	h.strikeSession(h.openBase())
	h.later(time.Hour)
	base := h.catheterReady()

	// Cuff and length are asked for, the old lock too.
	h.refused(base+"/access_check", "is still blank: look, then choose", "thrill", "not_applicable", "skin", "clean")
	h.saved(base+"/access_check", "thrill", "not_applicable", "skin", "clean", "cuff", "hidden", "outer_length", "as_before")
	h.says(base, "Exit site looked at, cuff not showing, length as before.", "Old lock not drawn yet. Draw it out of each lumen first.")
	h.saved(base+"/catheter_lock", rightLock...)
	h.says(base, "Not ticked: masks, clamps shut before a cap comes off.")
	h.ticks(base, "set_up", "masks", "clamps", "caps_off")
	h.silent(base, "Not ticked:")
	h.refused(base+"/connected", "Old lock not drawn yet", "blood_flow_ml_min", "300")
	h.saved(base+"/lock_drawn", "arterial", "drawn", "venous", "could_not")
	h.says(base, "Old lock of the venous lumen could not be drawn. Push nothing in; ring.")
	h.refused(base+"/connected", "could not be drawn", "blood_flow_ml_min", "300")
	h.noNeedles("setting up", base)
	h.later(time.Minute)
	h.saved(base+"/lock_drawn", "arterial", "drawn", "venous", "drawn", "venous_ml", "2")
	h.ticks(base, "set_up", "start_line", "joined")
	h.saved(base+"/connected", "blood_flow_ml_min", "300")

	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "pulse_per_min", "71", "blood_flow_ml_min", "300", "arterial_mmhg", "-150", "venous_mmhg", "150", "tmp_mmhg", "60", "removed_ml", "50")
	h.later(time.Hour)
	h.saved(base+"/reading", "systolic_mmhg", "128", "diastolic_mmhg", "74", "venous_mmhg", "70", "arterial_mmhg", "-20", "blood_flow_ml_min", "300", "removed_ml", "440", "again.arterial_mmhg", "-20", "again.venous_mmhg", "70")
	h.says(base, "Look at both connections and the lines first.")
	h.saved(base+"/trouble", "trouble", session.TroubleBlood, "state", "open")
	h.saved(base+"/alarm", "words", ownWords, "looked_first", "yes")
	h.saved(base+"/unwell", "words", ownWords)
	h.saved(base+"/note", "words", ownWords)
	h.own = true
	h.says(base, "Line off the catheter, blood", "Clamp the catheter.")
	h.noNeedles("running", base, base+"/washback")
	h.later(time.Minute)
	h.saved(base+"/trouble", "trouble", session.TroubleBlood, "state", "over", "said", "Nurse Kos: it was the cap, go on")
	h.later(170 * time.Minute)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1500", "returned", "all", "again.removed_ml", "1500")
	h.later(time.Minute)
	h.says(base, "Pump off, both clamps shut, before a line comes off", "Lock after", "clamps shut")
	h.silent(base, "press the sites", "Minutes of holding")
	h.ticks(base, "take_off", "clamps", "lines_off", "lumens_flushed")
	wrong := slices.Clone(rightLock)
	wrong[3], wrong[7] = "30", "1.6"
	h.refused(base+"/catheter_lock", "ordered is 1.7", "name", "citrate", "strength_percent", "30", "arterial_ml", "1.6", "venous_ml", "1.6", "lot", "K1", "expiry", "2027-01-31")
	h.saved(base+"/catheter_lock", "name", "citrate", "strength_percent", "30", "arterial_ml", "1.6", "venous_ml", "1.6", "lot", "K1", "expiry", "2027-01-31", "again.strength_percent", "30", "again.venous_ml", "1.6")
	h.says(base, "Lock of 30 %, ordered 4 %. Do not use it; ring.", "Venous lumen 1.6 mL, ordered 1.7 mL. Do not lock; ring.", "+000 55 01")
	h.later(time.Minute)
	h.saved(base+"/catheter_lock", rightLock...)
	h.says(base, "Lock of 30 %, ordered 4 %.", "Both clamps looked at: shut") // it stays in sight
	h.noNeedles("coming off", base)
	h.says(base+"/closed", "Catheter, not written: New caps on both lumens; Both clamps looked at: shut. Look at it before you close.")
	h.ticks(base, "take_off", "new_caps")
	h.ticks(base, "take_off", "clamps_shut")
	h.saved(base+"/vitals_after", "lying_systolic_mmhg", "124", "lying_diastolic_mmhg", "70", "pulse_per_min", "70")
	h.saved(base+"/weigh_out", "weight_kg", "62.6", "again.weight_kg", "62.6", "clothing_kg", "0", "scale", "bathroom scale")
	h.silent(base+"/closed", "Catheter, not written")
	h.saved(base + "/closed")
	h.says(base+"/sheet", "Catheter", "Old lock, venous drawn", "Lock given", "citrate, 4 %, arterial 1.6 mL, venous 1.7 mL", "New caps", "Clamps shut",
		"Cuff not showing", "Lock of 30 %, ordered 4 %. Do not use it; ring.", "bolus 2")
	h.noNeedles("closed", base)
}

// openBase is the address of the session that is open.
func (h *house) openBase() (base string) {
	h.t.Helper()
	h.member("p-vida-hribar", func(m *record.Member) { base = vida + "/session/" + m.Open().ID })
	return base
}

// A household's own sheet stays as it is; what closes the catheter is ticked beside what
// is still open there.
func TestOwnSheetOfACatheter(t *testing.T) {
	h := catheterHome(t)
	own := session.RunSheet{Phase: session.TakeOff, Marked: "our unit's", Steps: []session.Step{{ID: "all", Words: "All as on our paper", Lane: session.LaneHands, Usual: 20, Tick: session.TickDone}}}
	h.keep("p-vida-hribar", &record.SheetEdited{RunSheet: own})
	base := h.catheterReady()
	h.saved(base+"/access_check", "thrill", "not_applicable", "skin", "clean", "cuff", "hidden", "outer_length", "as_before")
	h.saved(base+"/catheter_lock", rightLock...)
	h.saved(base+"/lock_drawn", "arterial", "drawn", "venous", "drawn")
	h.later(time.Minute)
	h.saved(base+"/connected", "blood_flow_ml_min", "300")
	h.later(240 * time.Minute)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1500", "returned", "all", "again.removed_ml", "1500")
	h.says(base, "All as on our paper", "New caps on both lumens", "Both clamps looked at: shut")
	h.silent(base, "Pump off, both clamps shut")
	for step, words := range map[string]string{"new_caps": "New caps on both lumens", "clamps_shut": "Both clamps looked at: shut"} {
		if text := h.see(base); !strings.Contains(text, `id="step-`+step+`"`) {
			t.Errorf("%s cannot be ticked", step)
		}
		h.ticks(base, "take_off", step)
		h.silent(base, words)
	}
}

// A fistula is asked neither for cuff nor for length, and has the steps that it had.
func TestFistulaHasNoStepsOfACatheter(t *testing.T) {
	h := home(t, 1, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	for _, name := range []string{`name="cuff"`, `name="outer_length"`} {
		if text := h.see(base + "/access_check"); strings.Contains(text, name) {
			t.Errorf("%s is asked of a fistula", name)
		}
	}
	h.silent(base, "Masks on, everybody in the room", "Old lock")
}
