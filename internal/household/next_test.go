package household

import (
	"fmt"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// diary is an invented household folded in memory, written session by session.
type diary struct {
	t    *testing.T
	h    *record.Household
	zone *time.Location
	n    int
}

const keeper = "p-invented"

func newDiary(t *testing.T, zone string) *diary {
	t.Helper()
	z, err := record.LoadZone(zone)
	if err != nil {
		t.Fatal(err)
	}
	d := &diary{t: t, h: record.NewHousehold(), zone: z}
	d.put(d.at(2026, 1, 1, 9, 0), "person", "", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	d.put(d.at(2026, 1, 1, 9, 1), "machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	return d
}

func (d *diary) at(year, month, day, hour, minute int) time.Time {
	return time.Date(year, time.Month(month), day, hour, minute, 0, 0, d.zone)
}

func (d *diary) put(at time.Time, kind, sessionID string, body any) {
	d.t.Helper()
	d.n++
	e := record.Entry{ID: fmt.Sprintf("line-%05d", d.n), Kind: kind, At: at, Zone: d.zone.String(), Written: at.UTC(), Person: keeper, Session: sessionID, Body: body}
	if err := d.h.Apply(e); err != nil {
		d.t.Fatal(err)
	}
}

// ordered writes a prescription that is valid from a day.
func (d *diary) ordered(from unit.Date, change func(*session.Prescription)) {
	rx := simulate.Prescription(from)
	rx.ValidFrom = from
	if change != nil {
		change(&rx)
	}
	d.put(from.Time(d.zone).Add(8*time.Hour), "prescription", "", &rx)
}

// held writes a session that began setting up at a moment, was treated from
// three quarters of an hour later for four hours, and ended at a weight.
func (d *diary) held(at time.Time, post unit.Mass) {
	d.t.Helper()
	id := "s-" + at.UTC().Format("20060102-1504")
	d.put(at, "session_opened", id, &session.Opened{Place: "home", Source: "live", Confirmed: true})
	began := at.Add(45 * time.Minute)
	d.put(began, "connected", id, &session.Connected{})
	d.put(began.Add(4*time.Hour), "came_off", id, &session.CameOff{Returned: "all"})
	if post > 0 {
		d.put(began.Add(4*time.Hour+20*time.Minute), "weigh_out", id, &session.WeighOut{Weight: post, Scale: "bathroom"})
	}
	d.put(began.Add(5*time.Hour), "closed", id, &session.Closed{})
}

func (d *diary) due(now time.Time) Due {
	d.t.Helper()
	due, ok := NextDue(d.h.Member(keeper), now)
	if !ok {
		d.t.Fatal("nothing is due")
	}
	return due
}

// An evening of Monday, Tuesday, Thursday and Saturday; 2026-03-02 is a Monday.
func TestNextDueByDays(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), nil)
	if due := d.due(d.at(2026, 3, 2, 12, 0)); due.Day != unit.NewDate(2026, 3, 2) || due.Timed || due.Overdue != 0 || due.Gap != 0 {
		t.Errorf("before the first session: %+v", due)
	}
	if due := d.due(d.at(2026, 3, 4, 12, 0)); due.Day != unit.NewDate(2026, 3, 5) || due.Overdue != 0 {
		t.Errorf("no session yet, two days later: %+v", due)
	}
	d.held(d.at(2026, 3, 2, 17, 10), 63_700)
	d.held(d.at(2026, 3, 3, 16, 50), 63_600)
	due := d.due(d.at(2026, 3, 4, 9, 0))
	if want := d.at(2026, 3, 5, 17, 10); !due.At.Equal(want) || !due.Timed {
		t.Errorf("due at %s, want %s", due.At, want)
	}
	// From the end on Tuesday at 21:35 to Thursday at 17:10.
	if due.Gap != 43*time.Hour+35*time.Minute || due.Long || due.Overdue != 0 || due.Missed != 0 {
		t.Errorf("%+v", due)
	}
	// The evening of a session that is held is over with it.
	if due := d.due(d.at(2026, 3, 3, 23, 59)); due.Day != unit.NewDate(2026, 3, 5) {
		t.Errorf("after the session of the day: %s", due.Day)
	}
}

func TestNextDueLongGap(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), func(rx *session.Prescription) { rx.Days = []string{"mon", "wed", "fri"} })
	d.held(d.at(2026, 3, 4, 17, 0), 63_700) // a Wednesday
	if due := d.due(d.at(2026, 3, 5, 9, 0)); due.Long {
		t.Errorf("Wednesday to Friday is called long: %+v", due)
	}
	d.held(d.at(2026, 3, 6, 17, 0), 63_700)
	due := d.due(d.at(2026, 3, 7, 9, 0))
	if due.Day != unit.NewDate(2026, 3, 9) || !due.Long || due.Gap != 67*time.Hour+15*time.Minute {
		t.Errorf("over the weekend: %+v", due)
	}
}

// Overdue begins six hours after the usual time, and each prescribed day that
// has gone by is counted.
func TestNextDueOverdue(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), nil)
	d.held(d.at(2026, 3, 3, 17, 0), 63_700) // Tuesday; next is Thursday at 17:00
	for _, tt := range []struct {
		now     time.Time
		overdue bool
		missed  int
	}{
		{d.at(2026, 3, 5, 16, 0), false, 0},
		{d.at(2026, 3, 5, 23, 0), false, 0},
		{d.at(2026, 3, 5, 23, 1), true, 1},
		{d.at(2026, 3, 7, 23, 0), true, 1}, // Saturday's is not late yet
		{d.at(2026, 3, 7, 23, 1), true, 2},
		{d.at(2026, 3, 10, 23, 1), true, 4},
	} {
		due := d.due(tt.now)
		if due.Overdue > 0 != tt.overdue || due.Missed != tt.missed || due.Day != unit.NewDate(2026, 3, 5) {
			t.Errorf("on %s: overdue %s, %d missed, due %s", tt.now.Format("Mon 15:04"), due.Overdue, due.Missed, due.Day)
		}
	}
}

// Somebody who starts before and after midnight has a usual start near it, and
// a night belongs to the evening it began.
func TestNextDueAroundMidnight(t *testing.T) {
	d := newDiary(t, "America/New_York")
	d.ordered(unit.NewDate(2026, 2, 1), func(rx *session.Prescription) { rx.Days = []string{"mon", "wed", "fri"} })
	d.held(d.at(2026, 2, 2, 23, 40), 63_700)
	d.held(d.at(2026, 2, 4, 23, 50), 63_700)
	d.held(d.at(2026, 2, 7, 0, 10), 63_700) // Friday's, begun after midnight
	due := d.due(d.at(2026, 2, 8, 12, 0))
	if want := d.at(2026, 2, 9, 23, 50); !due.At.Equal(want) {
		t.Errorf("due at %s, want %s", due.At, want)
	}
	if due := d.due(d.at(2026, 2, 10, 5, 50)); due.Overdue != 0 {
		t.Errorf("overdue at ten to six: %+v", due)
	}
	if due := d.due(d.at(2026, 2, 10, 5, 51)); due.Overdue == 0 {
		t.Error("not overdue six hours after the usual start")
	}
}

// So many hours from start to start, over a night in which the clocks go
// forward: the hours are of time, not of the clock on the wall.
func TestNextDueByHours(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), func(rx *session.Prescription) { rx.Days, rx.EveryHours = nil, 40 })
	if due := d.due(d.at(2026, 3, 20, 10, 0)); due.Day != unit.NewDate(2026, 3, 20) || due.Timed {
		t.Errorf("by hours, before the first: %+v", due)
	}
	d.held(d.at(2026, 3, 28, 15, 15), 63_700) // treated from 16:00
	due := d.due(d.at(2026, 3, 29, 12, 0))
	if want := d.at(2026, 3, 30, 9, 0); !due.At.Equal(want) || due.Every != 40 || due.Day != unit.NewDate(2026, 3, 30) {
		t.Errorf("40 hours over the change of clocks: %s, want %s", due.At, want)
	}
	late := d.due(d.at(2026, 4, 1, 8, 0)) // 47 h past, slack 6: one whole interval more
	if late.Overdue != 47*time.Hour || late.Missed != 2 {
		t.Errorf("%+v", late)
	}
}

// Twelve-hourly sessions may fall due on the day of the last one.
func TestNextDueTwiceADay(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), func(rx *session.Prescription) { rx.Days, rx.EveryHours = nil, 12 })
	d.held(d.at(2026, 3, 10, 5, 15), 63_700)
	if due := d.due(d.at(2026, 3, 10, 12, 0)); !due.At.Equal(d.at(2026, 3, 10, 18, 0)) {
		t.Errorf("due at %s", due.At)
	}
}

// A version that begins on a later day rules that day and not the one before.
func TestNextDueChangedDays(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), nil)
	d.held(d.at(2026, 3, 3, 17, 0), 63_700) // Tuesday
	d.ordered(unit.NewDate(2026, 3, 4), func(rx *session.Prescription) {
		rx.ValidFrom = unit.NewDate(2026, 3, 6)
		rx.Days = []string{"wed", "thu", "sun"}
	})
	if due := d.due(d.at(2026, 3, 4, 12, 0)); due.Day != unit.NewDate(2026, 3, 5) {
		t.Errorf("the old Thursday is due on %s", due.Day)
	}
	d.held(d.at(2026, 3, 5, 17, 0), 63_700)
	if due := d.due(d.at(2026, 3, 6, 12, 0)); due.Day != unit.NewDate(2026, 3, 8) {
		t.Errorf("after the change: %s, want the new Sunday", due.Day)
	}
}

func TestNextDueOfNothing(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	if _, ok := NextDue(d.h.Member(keeper), d.at(2026, 3, 1, 9, 0)); ok {
		t.Error("something is due without a prescription")
	}
}

// A session that was held on the day before its own was moved and not missed: Today
// and the start line count by one rule, on each day of the week that follows.
func TestMovedIsNotMissedAnywhere(t *testing.T) {
	for name, tt := range map[string]struct {
		days []string
		due  map[int]int // the day of March that is due on a day of March, at 04:14
	}{
		"mon wed fri":     {[]string{"mon", "wed", "fri"}, map[int]int{2: 2, 3: 4, 4: 4, 5: 4, 6: 4}},
		"mon tue thu sat": {[]string{"mon", "tue", "thu", "sat"}, map[int]int{2: 2, 3: 3, 4: 3, 5: 3, 6: 3}},
		"tue thu sat":     {[]string{"tue", "thu", "sat"}, map[int]int{2: 3, 3: 3, 4: 3, 5: 3, 6: 3}},
	} {
		for day, due := range tt.due {
			d := newDiary(t, "Pacific/Auckland")
			d.ordered(unit.NewDate(2026, 2, 1), func(rx *session.Prescription) { rx.Days = tt.days })
			for _, on := range []int{25, 26, 28} {
				d.held(d.at(2026, 2, on, 5, 0), 63_700)
			}
			d.held(d.at(2026, 3, 1, 5, 0), 63_700) // a Sunday, which nobody ordered
			now, m := d.at(2026, 3, day, 4, 14), d.h.Member(keeper)
			next, ok := NextDue(m, now)
			if !ok || next.Day != unit.NewDate(2026, 3, due) || next.Overdue > 0 != (next.Missed > 0) {
				t.Errorf("%s, on the %d.: due %s, %d missed, overdue %s; want the %d.", name, day, next.Day, next.Missed, next.Overdue, due)
			}
			today, _ := SinceLast(m, now)
			d.put(now, "session_opened", "session-now", &session.Opened{Place: "home", Source: "live", Confirmed: true})
			line, _ := SinceLast(m, now)
			if ordered := m.Prescription(unit.NewDate(2026, 3, day)).Value.OnDay(unit.NewDate(2026, 3, day)); ordered && today.Missed != line.Missed {
				t.Errorf("%s, on the %d.: %d missed on Today, %d at the start line", name, day, today.Missed, line.Missed)
			}
			if day == 3 && (today.Missed != 0 || line.Missed != 0) {
				t.Errorf("%s, on Tuesday: %d and %d missed", name, today.Missed, line.Missed)
			}
		}
	}
}
