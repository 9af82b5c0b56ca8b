package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// Within one minute what is written later comes later, whether its time is typed or not:
// a low pressure typed with the minute of the reading before it is the latest.
func TestWithinOneMinuteLaterIsLater(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.now = h.now.Add(40 * time.Minute).Truncate(time.Minute).Add(30 * time.Second)
	h.saved(base+"/reading", "systolic_mmhg", "139", "diastolic_mmhg", "78")
	h.now = h.now.Add(10 * time.Second)
	low := formOf("id", newID(), "systolic_mmhg", "74", "again.systolic_mmhg", "74", "diastolic_mmhg", "41", "clock", h.now.Format("15:04"))
	for range 2 { // sent again when more was written in that minute, it is the same
		if status, _, text := h.post(base+"/reading", low); status != http.StatusSeeOther {
			t.Fatalf("%d %s", status, problems(text))
		}
		h.now = h.now.Add(5 * time.Second)
		h.saved(base + "/event/lie_back")
	}
	h.desk.View(func(rec *record.Household) {
		one := rec.Session(base[strings.LastIndex(base, "/")+1:])
		if p, _ := session.LastPressure(one, h.now); p.Upper == nil || p.Upper.String() != "74" {
			t.Errorf("the latest pressure is %v", p.Upper)
		}
		_, e := session.Last[session.Reading](one)
		if end := e.At.Truncate(time.Minute).Add(time.Minute); !e.At.Before(end) || e.At.Format("15:04") != h.now.Format("15:04") {
			t.Errorf("it stands at %s", e.At.Format(time.TimeOnly))
		}
	})
	if n := len(h.readings(base)); n != 2 {
		t.Errorf("%d readings", n)
	}
	h.says(base, "Low pressure 74/41 at ")
}

// A kitchen clock up to two minutes ahead is now: the entry counts at once. Further ahead
// it has not come yet.
func TestAClockALittleAheadIsNow(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.now = h.now.Add(40 * time.Minute).Truncate(time.Minute).Add(10 * time.Second)
	ahead := h.now.Add(110 * time.Second).Format("15:04") // the minute that begins 50 s from now
	h.saved(base+"/reading", "systolic_mmhg", "74", "again.systolic_mmhg", "74", "clock", ahead)
	h.desk.View(func(rec *record.Household) {
		one := rec.Session(base[strings.LastIndex(base, "/")+1:])
		if _, e := session.Last[session.Reading](one); !e.At.Equal(h.now) {
			t.Errorf("it stands at %s, now is %s", e.At.Format(time.TimeOnly), h.now.Format(time.TimeOnly))
		}
	})
	h.says(base, "Low pressure 74 at "+h.now.Format("15:04"))
	if status, _, _ := h.post(base+"/reading", formOf("systolic_mmhg", "126", "clock", h.now.Add(4*time.Minute).Format("15:04"))); status != http.StatusUnprocessableEntity {
		t.Errorf("four minutes ahead: %d", status)
	}
}
