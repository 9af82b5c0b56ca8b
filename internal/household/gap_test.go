package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// Between sessions the time counts to the present, with what has gone by; while
// one is set up it is what its start line says; while one runs there is none.
func TestSinceLast(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), nil) // Monday, Tuesday, Thursday, Saturday
	m := d.h.Member(keeper)
	if g, ok := SinceLast(m, d.at(2026, 3, 2, 12, 0)); !ok || !g.First() {
		t.Errorf("before the first session: %+v %v", g, ok)
	}
	d.held(d.at(2026, 3, 3, 17, 0), 63_700) // a Tuesday, off at 21:45
	for _, tt := range []struct {
		now   time.Time
		state session.CheckState
		words string
	}{
		{d.at(2026, 3, 4, 21, 45), session.Ready, "24\u00a0h since the last session ended, none missed."},
		{d.at(2026, 3, 5, 23, 0), session.Ready, "49\u00a0h since the last session ended, none missed."},
		{d.at(2026, 3, 5, 23, 1), session.Look, "1 session missed."}, // six hours after the usual time
		{d.at(2026, 3, 7, 21, 44), session.Look, "95\u00a0h\u00a059\u00a0min since the last session ended, 1 session missed."},
		{d.at(2026, 3, 7, 21, 45), session.StopHere, "96\u00a0h since the last session ended, 1 session missed. Ring about potassium"},
		{d.at(2026, 3, 7, 23, 1), session.StopHere, "2 sessions missed."},
	} {
		g, ok := SinceLast(m, tt.now)
		if said := g.Said(); !ok || said.State != tt.state || !strings.Contains(said.Words, tt.words) {
			t.Errorf("on %s: %s %q, want %s %q", tt.now.Format("Mon 15:04"), said.State, said.Words, tt.state, tt.words)
		}
	}
	// One that is being set up takes the turn of its own day.
	d.put(d.at(2026, 3, 7, 23, 5), "session_opened", "session-now", &session.Opened{Place: "home", Source: "live", Confirmed: true})
	if g, ok := SinceLast(m, d.at(2026, 3, 7, 23, 10)); !ok || g.Missed != 1 {
		t.Errorf("while it is set up: %+v", g)
	}
	if words := AmbulanceFirst(m, d.at(2026, 3, 7, 23, 10)); words != "" {
		t.Errorf("nobody complained: %q", words)
	}
	d.put(d.at(2026, 3, 7, 23, 6), "fitness", "session-now", &session.Fitness{Tingling: true})
	if words := AmbulanceFirst(m, d.at(2026, 3, 7, 23, 10)); words != "Tingling. Ring the ambulance first, then your unit; do not wait for the session." {
		t.Errorf("%q", words)
	}
	d.put(d.at(2026, 3, 7, 23, 8), "rang", "session-now", &session.Rang{Whom: "the ambulance", Said: "they are on their way"})
	if words := AmbulanceFirst(m, d.at(2026, 3, 7, 23, 10)); words != "" {
		t.Errorf("after the call: %q", words)
	}
	d.put(d.at(2026, 3, 7, 23, 40), "connected", "session-now", &session.Connected{})
	if _, ok := SinceLast(m, d.at(2026, 3, 8, 1, 0)); ok {
		t.Error("a treatment runs")
	}
}

// What has gone by follows the one rule of what is missed: a session that was
// moved to the day before is not missed a day later.
func TestMovedIsNotGoneBy(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), func(rx *session.Prescription) { rx.Days = []string{"mon", "wed", "fri"} })
	d.held(d.at(2026, 3, 2, 17, 0), 63_700)
	d.held(d.at(2026, 3, 3, 17, 0), 63_700) // Wednesday's, a day early
	if due := d.due(d.at(2026, 3, 7, 9, 0)); due.Missed != 1 {
		t.Errorf("Friday is missed, Wednesday was moved: %d", due.Missed)
	}
}

// By hours the fortnight's missed sessions are counted too, and the last days of
// a stretch belong to it.
func TestMissedDaysByHours(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), func(rx *session.Prescription) { rx.Days, rx.EveryHours = nil, 48 })
	for _, day := range []int{2, 4, 10} {
		d.held(d.at(2026, 3, day, 17, 0), 63_700)
	}
	got := missedDays(d.h.Member(keeper), d.at(2026, 3, 1, 9, 0), d.at(2026, 3, 13, 9, 0))
	if len(got) != 3 || got[0].String() != "2026-03-06" || got[1].String() != "2026-03-08" || got[2].String() != "2026-03-12" {
		t.Errorf("%v", got)
	}
}
