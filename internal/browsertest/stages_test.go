//go:build browser

package browsertest

import (
	"syscall"
	"testing"
	"time"
)

// stages takes a screen through everything that a session's pages can look
// like, and stops at each for look to look at it. The screen belongs to a house
// of some months with no session open.
func stages(s *screen, look func(name string)) {
	h := s.house
	s.open(vida + "/session")
	s.titled("Start a session")
	look("start")
	base := h.begun()
	s.open(base)
	look("set-up-begun")
	for _, page := range []string{"fitness", "access_check", "vitals_before", "chlorine", "disinfection", "supply", "rang"} {
		s.open(base + "/" + page)
		look(page)
	}

	// What is refused, what is asked and typed again, and what stands at STOP.
	weigh := func(kg string) {
		s.open(base + "/weigh_in")
		s.fill("/weigh_in", "weight_kg", kg)
		s.fill("/weigh_in", "clothing_kg", "0")
		s.send("/weigh_in")
	}
	weigh("65.4321")
	s.shows("needs at most 3 decimals")
	look("refused")
	weigh("56.4")
	s.shows("typed again")
	look("asked")
	h.saved(base+"/fitness", "fever", "yes", "rang", "the unit, who said to come in")
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.2", "again.total_chlorine_mg_l", "0.2", "method", "strip", "reads_down_to_mg_l", "0.1", "lot", "C1", "expiry", "2026-12", "sample_point", "first_carbon")
	h.saved(base+"/override", "check", "bath", "reason", "the label came off in the damp; the unit read out the number")
	s.open(base)
	s.tap(`#check-lots summary`)
	s.tap(`#later summary`)
	look("set-up-stops")
	s.open(base + "/fitness")
	look("fitness-again")

	h.saved(base+"/weigh_in", "weight_kg", "66.9", "again.weight_kg", "66.9", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	s.open(base + "/plan")
	s.shows("stays on")
	look("plan-cut")
	h.saved(base+"/weigh_in", "weight_kg", "62.4", "again.weight_kg", "62.4", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	s.open(base + "/plan")
	s.shows("Below dry weight")
	look("plan-below-dry")
	for range 2 { // what stopped is put right and rung about, so that it does not stop the next session
		h.later(time.Minute)
		h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02",
			"lot", "C2", "expiry", "2026-12", "sample_point", "first_carbon")
	}
	h.saved(base+"/rang", "whom", "the technician", "said", "the carbon was changed, go on")
	abandon(h, base)

	base = h.ready()
	s.open(base + "/heparin_drawn?strength_iu_ml=5000")
	look("heparin-other-strength")
	s.open(base + "/plan")
	look("plan")
	h.agree(base)
	s.open(base + "/read_back")
	look("read-back")
	goal := h.goal(base)
	s.fill("/read_back", "shown", goal[2:3]+goal[1:2]+goal[:1])
	s.fill("/read_back", "machine_length_min", "250")
	s.send("/read_back")
	s.shows("Plan and machine differ")
	look("read-back-differs")
	h.saved(base+"/read_back", "shown", goal, "machine_length_min", "250")
	h.saved(base+"/anaesthetic_drawn", "strength_percent", "1", "volume_ml", "4", "lot", "A1", "expiry", "2027-01-31")
	h.saved(base+"/flush_drawn", "count", "2", "each_ml", "10", "lot", "N1", "expiry", "2027-01-31")
	s.open(base + "/labels")
	look("labels")
	s.open(base)
	s.shows("Lines joined")
	look("set-up-ready")

	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	h.later(5 * time.Minute)
	s.open(base)
	look("running-begun")
	treat(h, base)
	s.open(base)
	look("running")
	s.fill("/reading", "systolic_mmhg", "13")
	look("running-pad")
	s.tap(`#pad [data-pad="close"]`)
	h.wire.cut()
	s.tap(`.tap[data-kind="drink"] button >> 100`)
	s.shows("NOT SAVED YET")
	look("running-waiting")
	eval[bool](s, "sleptFor(25000), true")
	s.shows("NOT LIVE")
	look("running-grey")
	h.wire.mend()
	s.until("the page fresh again", `!document.body.classList.contains("greyed") && !document.querySelector("#waiting")`)
	s.open(base)
	s.fill("/reading", "systolic_mmhg", "192")
	s.send("/reading")
	s.shows("typed again")
	look("reading-asked")
	h.saved(base + "/event/pause")
	h.later(7 * time.Minute)
	s.open(base)
	look("running-paused")
	h.saved(base + "/event/resume")
	h.later(2 * time.Hour)

	h.saved(base+"/trouble", "trouble", "air", "state", "open")
	s.open(base + "/washback")
	look("washback-out")
	h.saved(base+"/trouble", "trouble", "air", "state", "over", "said", "Sister Holm: the bubble was outside")
	s.titled("May the blood go back?")
	look("washback-ask")
	s.open(base + "/washback?ticks=1")
	look("washback-ticks")
	h.saved(base+"/washback_checked", threeTicks...)
	s.titled("Give the blood back")
	look("washback-ready")
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1900", "returned", "all")
	h.later(11 * time.Minute)
	h.saved(base+"/holding", "arterial_min", "10", "venous_min", "12", "thrill", "present")
	s.open(base)
	look("coming-off")
	h.saved(base+"/weigh_out", "weight_kg", "63.4", "clothing_kg", "0", "scale", "bathroom scale")
	h.saved(base+"/disinfection", "programme", "heat", "result", "passed")
	s.open(base)
	look("coming-off-nearly")
	drink := h.written(base, "drink")[0]
	s.open(base + "/entry/" + drink.ID)
	look("correct")
	h.saved(base+"/entry/"+drink.ID, "volume_ml", "200", "clock", drink.At.Format("15:04"), "day", drink.At.Format(time.DateOnly), "reason", "it was the large glass")
	h.saved(base+"/closed", "machine_treated_min", "215", "feel", "tired")
	s.open(base)
	s.tap(`details.no-print summary`)
	look("sheet")
	s.open(vida + "/sessions")
	look("sheets")
	paper(s, look)
	s.do(navigate(s, vida+"/session/nowhere"))
	s.titled("Not here")
	look("problem")
}

// paper types in the session of the evening before, from paper.
func paper(s *screen, look func(name string)) {
	h := s.house
	id := h.id("paper-session")
	base := vida + "/session/" + id
	h.saved(vida+"/session", "place", "home", "source", "paper", "session", id, "day", h.now().AddDate(0, 0, -1).Format(time.DateOnly), "clock", "18:00")
	s.open(base)
	s.shows("typed in afterwards")
	look("paper")
	s.open(base + "/weigh_in")
	s.fill("/weigh_in", "weight_kg", "64.1")
	s.fill("/weigh_in", "clothing_kg", "0")
	s.send("/weigh_in")
	s.shows("still blank")
	look("paper-time-asked")
	h.saved(base+"/connected", "clock", "18:40")
	s.open(base)
	s.shows("The rest of the paper")
	look("paper-running")
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1900", "returned", "all", "clock", "22:50")
	s.open(base)
	look("paper-coming-off")
	abandon(h, base)
}

// treat writes what makes a running page say something.
func treat(h *house, base string) {
	h.saved(base+"/reading", "systolic_mmhg", "138", "diastolic_mmhg", "80", "pulse_per_min", "70", "blood_flow_ml_min", "310", "arterial_mmhg", "-150", "venous_mmhg", "135", "tmp_mmhg", "60", "removal_rate_ml_h", "516", "removed_ml", "40", "conductivity_ms_cm", "13.9", "dialysate_temp_c", "36")
	h.later(time.Hour)
	h.saved(base+"/event/drink", "volume_ml", "150")
	h.saved(base+"/saline", "volume_ml", "200", "why", "cramp")
	h.saved(base+"/reading", "systolic_mmhg", "104", "diastolic_mmhg", "62", "pulse_per_min", "82", "blood_flow_ml_min", "310", "arterial_mmhg", "-155", "venous_mmhg", "108", "tmp_mmhg", "61", "removal_rate_ml_h", "516", "removed_ml", "300")
	h.later(30 * time.Minute)
	h.saved(base+"/alarm", "words", "something about the venous line", "looked_first", "yes")
	h.saved(base+"/reading", "systolic_mmhg", "118", "diastolic_mmhg", "70", "removed_ml", "560")
}

// abandon strikes out the beginning of a session.
func abandon(h *house, base string) {
	opened := h.written(base, "session_opened")[0].ID
	h.saved(base+"/entry/"+opened+"/strike", "reason", "begun by mistake")
}

// fullDisk keeps this process, and so the record, from writing into any file
// beyond its first page, as a full disk does: no test that runs beside another may
// use it. It returns how to lift that.
func fullDisk(t *testing.T) (lift func()) {
	t.Helper()
	var was syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
		t.Fatal(err)
	}
	set := func(to syscall.Rlimit) {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &to); err != nil {
			t.Fatal(err)
		}
	}
	set(syscall.Rlimit{Cur: 4096, Max: was.Max})
	t.Cleanup(func() { set(was) })
	return func() { set(was) }
}
