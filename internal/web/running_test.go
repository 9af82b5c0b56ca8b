package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The running page says each fall in the words of the session's own remarks,
// asks for a reading in five minutes, and names nothing to set while a pressure
// is low; after one that is inside it asks for no more than was set before.
func TestRunningAfterALowPressure(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	said := func() (words []string) {
		h.t.Helper()
		id := strings.TrimPrefix(base[strings.Index(base, "/session/"):], "/session/")
		h.desk.View(func(rec *record.Household) {
			for _, r := range session.Remarks(rec.Session(id), h.now) {
				words = append(words, r.Words)
			}
		})
		return words
	}
	low := func(upper, lower, removed string) {
		h.saved(base+"/reading", "systolic_mmhg", upper, "again.systolic_mmhg", upper, "diastolic_mmhg", lower, "again.diastolic_mmhg", lower, "removed_ml", removed)
	}
	h.later(time.Hour)
	h.silent(base, "To set now")
	low("82", "50", "300")
	h.says(base, "Upper pressure 82; you started at", "Low by the figure set by Dr B. Zupan (invented)", "every 5 min, after the low pressure", "After the low pressure nothing is caught up")
	h.silent(base, "To set now")
	h.saved(base+"/event/saline", "volume_ml", "200")
	h.later(5 * time.Minute)
	low("121", "70", "300")
	h.says(base, "every 15 min, after the low pressure", "To set now: goal", "Saline 200 mL, not in the goal: ask your unit.")
	h.later(5 * time.Minute)
	h.saved(base + "/event/low_pressure")
	h.says(base, "Low pressure, no figure written. Measure it.")
	h.silent(base, "To set now")
	page := plainText(h.see(base))
	words := said()
	if n := strings.Count(strings.Join(words, " "), "Follow your unit's plan for low pressure."); n != 2 {
		t.Errorf("%d falls said: %q", n, words)
	}
	for _, w := range words {
		if !strings.Contains(page, plainText(w)) {
			t.Errorf("the page does not say %q", w)
		}
	}
}

// An amount is rounded to the last digit of the machine, under zero as over it.
func TestAmountInTheMachinesDigits(t *testing.T) {
	tenth := session.Machine{GoalUnit: "L", GoalDecimals: 2}
	for ml, want := range map[unit.Volume]string{
		0: "0.00\u00a0L", 4: "0.00\u00a0L", 5: "0.01\u00a0L", 1904: "1.90\u00a0L", 1905: "1.91\u00a0L",
		-4: "0.00\u00a0L", -95: "-0.10\u00a0L", -94: "-0.09\u00a0L", -150: "-0.15\u00a0L",
	} {
		if got := onMachine(tenth, ml); got != want {
			t.Errorf("%d mL is %q, want %q", ml, got, want)
		}
	}
}

// Coming off shows what was removed and the goal in the same digits.
func TestRemovedAndGoalInTheSameDigits(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(265 * time.Minute)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1900", "returned", "all", "again.removed_ml", "1900")
	h.says(base, "Removed 1.90 L goal 2.15 L")
}
