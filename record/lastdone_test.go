package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// What was tried last and failed is not done, in whatever order the tries were
// written down, and whatever else tells of an earlier one.
func TestLastTryCountsByWhenItWas(t *testing.T) {
	for _, tt := range []struct {
		name   string
		tries  []string // in the order of writing
		hours  []int    // when each was, before now
		failed bool
		last   int // hours before now; 0: never done
	}{
		{"failed", []string{"failed"}, []int{2}, true, 0},
		{"failed, then done", []string{"failed", "done"}, []int{2, 1}, false, 1},
		{"done, then failed", []string{"done", "failed"}, []int{2, 1}, true, 2},
		{"an earlier one written later", []string{"failed", "done"}, []int{1, 2}, true, 2},
		{"an earlier failure written later", []string{"done", "failed"}, []int{1, 2}, false, 1},
		{"three, the failure between", []string{"done", "failed", "done"}, []int{1, 2, 3}, false, 1},
		{"at one time, done written last", []string{"failed", "done"}, []int{1, 1}, false, 1},
		{"at one time, failed written last", []string{"done", "failed"}, []int{1, 1}, true, 1},
	} {
		b := newBook(t)
		b.keep("round_item", &RoundItem{Item: "seal", Name: "Door seal", Days: 30, SetBy: "me", SetOn: unit.DateOf(b.now)})
		now := b.now
		for i, outcome := range tt.tries {
			e := b.house("round_done", &RoundDone{Item: "seal", Outcome: outcome})
			e.At = now.Add(-time.Duration(tt.hours[i]) * time.Hour)
			b.must2(e)
		}
		at, _, failed := b.h.LastDone(nil, "seal", b.now)
		want := time.Time{}
		if tt.last > 0 {
			want = now.Add(-time.Duration(tt.last) * time.Hour)
		}
		if failed != tt.failed || !at.Equal(want) {
			t.Errorf("%s: last %s, failed %v; want %s, %v", tt.name, at, failed, want, tt.failed)
		}
	}
}

// A session's disinfection does not hide a later one that failed.
func TestSessionDoesNotHideALaterFailure(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-01")
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("disinfection", "session-01", &session.Disinfection{Programme: "heat", Result: "passed"})
	b.must("closed", "session-01", &session.Closed{})
	b.now = b.now.Add(time.Hour)
	b.keep("round_done", &RoundDone{Item: "heat", Outcome: "failed"})
	at, _, failed := b.h.LastDone(b.h.Member("person-one"), "heat", b.now)
	if at.IsZero() || !failed {
		t.Errorf("last passed %s, failed %v; want the session's, and that a later one failed", at, failed)
	}
}
