package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// A correction, a strike, a late entry and each way of missing, written with
// forms, stand on the sheet with what was there first and why (H-34, H-47,
// H-48, H-50).
func TestSheetShowsWhatFormsChanged(t *testing.T) {
	h := home(t, 1, true)
	base := vida + "/session/" + h.life.Open
	clock, day := func(ago time.Duration) string { return h.now.Add(-ago).Format("15:04") }, h.now.Format(time.DateOnly)

	h.saved(base+"/drink", "volume_ml", "110")
	drink := lastOf(h, "drink").ID
	h.refused(base+"/entry/"+drink, "say in a word or two why", "volume_ml", "160", "reason", "", "day", day, "clock", clock(0))
	h.saved(base+"/entry/"+drink, "volume_ml", "160", "reason", "it was the blue cup", "day", day, "clock", clock(0))

	h.saved(base+"/cramp", "where", "right foot")
	h.refused(base+"/entry/"+lastOf(h, "cramp").ID+"/strike", "still blank", "reason", "")
	h.saved(base+"/entry/"+lastOf(h, "cramp").ID+"/strike", "reason", "it was the left one, see below")

	h.saved(base+"/reading", "pulse_per_min", "77", "clock", clock(41*time.Minute), "blank", "not_recorded")

	h.later(3 * time.Hour)
	h.lookedFirst(base)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "2100", "again.removed_ml", "2100", "returned", "all")
	h.later(10 * time.Minute)
	h.saved(base+"/vitals_after", "lying_systolic_mmhg", "124", "lying_diastolic_mmhg", "70", "blank", "not_done")
	h.saved(base+"/holding", "blank", "does_not_apply")
	h.saved(base + "/closed")

	sheet := plainText(h.see(base + "/sheet"))
	for _, words := range []string{"160 mL", "110 mL", "it was the blue cup", "right foot", "it was the left one, see below", "41 min later", "not done", "does not apply"} {
		if !strings.Contains(sheet, words) {
			t.Errorf("the sheet does not say %q", words)
		}
	}
	// The list of entries has them too, and offers no correction of what was corrected.
	if status, _ := h.get(base + "/entry/" + drink); status != http.StatusNotFound {
		t.Errorf("the corrected entry can be corrected again: %d", status)
	}
	h.desk.View(func(r *record.Household) {
		s := r.Session(h.life.Open)
		total := 0
		session.Each(s, func(b *session.Cramp, _ *session.Event) { total++ })
		if total != 0 {
			t.Error("a struck-out cramp still counts")
		}
		after, e := session.Last[session.VitalsAfter](s)
		if after.StandSystolic != nil || e.Missing["standing_systolic_mmhg"] != session.NotDone {
			t.Errorf("the standing pressure that was not taken is %v, %v", after.StandSystolic, e.Missing)
		}
	})
}

// A session kept on paper is typed in the next day with its own times, and one
// held elsewhere with its place: both say so, and the next gain is reckoned
// from the one that has a weight (H-13, H-14, H-34).
func TestPaperAndElsewhereByForms(t *testing.T) {
	h := home(t, 1, false)
	h.later(48 * time.Hour)
	for i, one := range []struct{ place, where, post, mark string }{
		{"home", "", "63.4", "on paper, typed in"},
		{"elsewhere", "Unit by the lake", "63.1", "Unit by the lake"},
	} {
		evening := h.now.AddDate(0, 0, i-2)
		day := evening.Format(time.DateOnly)
		base := h.saved(vida+"/session", "place", one.place, "source", "paper", "where", one.where, "session", newID(), "day", day, "clock", "16:30")
		h.saved(base+"/weigh_in", "weight_kg", "65.2", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg", "day", day, "clock", "16:40", "again.weight_kg", "65.2")
		h.saved(base+"/connected", "day", day, "clock", "17:15")
		h.saved(base+"/reading", "systolic_mmhg", "121", "diastolic_mmhg", "70", "day", day, "clock", "18:15")
		h.saved(base+"/came_off", "returned", "all", "washback_ml", "250", "day", day, "clock", "21:15")
		h.saved(base+"/weigh_out", "weight_kg", one.post, "clothing_kg", "0", "scale", "bathroom scale", "day", day, "clock", "21:40", "again.weight_kg", one.post)
		h.saved(base+"/closed", "day", day, "clock", "21:50")
		sheet := plainText(h.see(base + "/sheet"))
		for _, words := range []string{one.mark, one.post, evening.Format("2 January 2006"), "4 h"} {
			if !strings.Contains(sheet, words) {
				t.Errorf("%s: the sheet does not say %q", one.place, words)
			}
		}
	}
	h.desk.View(func(r *record.Household) {
		m := r.Member("p-vida-hribar")
		if last := m.History(nil); last.LastPost == nil || last.LastPost.Weight != 63_100 || last.LastPostAt.Format("15:04") != "21:40" {
			t.Errorf("the last weight is %+v at %s", last.LastPost, last.LastPostAt)
		}
	})
}

// What a correction does not touch stays as it was: the seconds of the moment,
// which no clock on a form has, and in the history why a value was missing.
func TestCorrectionKeepsSecondsAndMissing(t *testing.T) {
	h := home(t, 1, true)
	base := vida + "/session/" + h.life.Open
	h.later(37 * time.Second)
	h.saved(base+"/drink", "volume_ml", "110")
	first := lastOf(h, "drink")
	if first.At.Second() == 0 {
		t.Fatalf("the drink was written down at %v, on the minute: nothing is tried", first.At)
	}
	h.later(20 * time.Minute)
	day, clock := first.At.Format(time.DateOnly), first.At.Format("15:04")
	h.saved(base+"/entry/"+first.ID, "volume_ml", "160", "reason", "the blue cup", "day", day, "clock", clock)
	second := lastOf(h, "drink")
	if second.ID == first.ID || !second.At.Equal(first.At) {
		t.Errorf("at %v and, corrected with the clock untouched, at %v", first.At, second.At)
	}
	h.saved(base+"/entry/"+second.ID, "volume_ml", "170", "reason", "to the brim", "day", "", "clock", "")
	third := lastOf(h, "drink")
	if !third.At.Equal(first.At) {
		t.Errorf("with the clock blank it went to %v", third.At)
	}
	moved := first.At.Add(-2 * time.Minute)
	h.saved(base+"/entry/"+third.ID, "volume_ml", "170", "reason", "the kitchen clock", "day", moved.Format(time.DateOnly), "clock", moved.Format("15:04"))
	if at := lastOf(h, "drink").At; !at.Equal(moved.Truncate(time.Minute)) {
		t.Errorf("typed two minutes earlier it stands at %v", at)
	}

	h.saved(base+"/reading", "pulse_per_min", "77", "blank", "not_recorded")
	reading := lastOf(h, "reading")
	h.saved(base+"/entry/"+reading.ID, "pulse_per_min", "78", "systolic_mmhg", "121", "diastolic_mmhg", "70", "reason", "found the slip")
	page := plainText(h.see(base + "/entry/" + lastOf(h, "reading").ID))
	_, was, found := strings.Cut(page, "77")
	if !found || !strings.Contains(was, "not recorded") {
		t.Errorf("what was missing before the correction is not said: %s", page)
	}
}
