package web

import (
	"strings"
	"testing"
	"time"
)

// A lock that was forgotten is offered beside the sheet of the closed session and taken
// with the time when it was given, before the closing or after it; it is judged, stands on
// the sheet, and is marked as written late. Caps and clamps are ticked there too (H-141).
func TestLockForgottenUntilClosed(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Ljubljana")
	if err != nil {
		t.Fatal(err)
	}
	for _, given := range []time.Duration{10 * time.Minute, 25 * time.Minute} {
		h := catheterHome(t)
		base := h.catheterReady()
		h.saved(base+"/access_check", "thrill", "not_applicable", "skin", "clean", "cuff", "hidden", "outer_length", "as_before")
		h.saved(base+"/catheter_lock", rightLock...)
		h.saved(base+"/lock_drawn", "arterial", "drawn", "venous", "drawn")
		h.later(time.Minute)
		h.saved(base+"/connected", "blood_flow_ml_min", "300")
		h.later(240 * time.Minute)
		h.lookedFirst(base)
		h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1500", "returned", "all", "again.removed_ml", "1500")
		clock := h.now.Add(given).In(zone).Format("15:04")
		h.silent(base+"/sheet", "Catheter, not written")
		h.later(20 * time.Minute)
		h.saved(base + "/closed")
		h.later(30 * time.Minute)
		h.says(base, "Catheter, not written", "Lock after, with the time when it was given", "New caps on both lumens", "Both clamps looked at: shut")
		if text := h.see(base + "/catheter_lock"); !strings.Contains(text, `<details class="when" open><summary>It happened earlier`) {
			t.Error("the form of a closed session does not ask when it happened")
		}
		h.refused(base+"/catheter_lock", "type the time when it happened", rightLock...)
		strong := append([]string{"clock", clock}, rightLock...)
		strong[5] = "30"
		h.refused(base+"/catheter_lock", "ordered is 4", strong...)
		h.saved(base+"/catheter_lock", append(strong, "again.strength_percent", "30")...)
		h.says(base+"/sheet", "Lock given citrate, 30 %, arterial 1.6 mL, venous 1.7 mL, lot K1, exp. 2027-01-31", clock,
			"Lock of 30 %, ordered 4 %. Do not use it; ring.", "typed in")
		h.silent(base, "Lock after, with the time")
		h.ticks(base, "take_off", "new_caps", "clamps_shut")
		h.silent(base, "Catheter, not written")
	}
}
