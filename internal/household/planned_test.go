package household

import (
	"slices"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

func stamps(list []time.Time, layout string) []string {
	var out []string
	for _, t := range list {
		out = append(out, t.Format(layout))
	}
	return out
}

// Every other evening keeps to the clock face through a change of the clocks:
// in Sydney 18:00 is 07:00 UTC until 4 April 2026 and 08:00 UTC from the 6th, 49
// hours later; in October 2 to 4 October is 47 hours (computed with the IANA
// database).
func TestEveryOtherDayAcrossClockChanges(t *testing.T) {
	for _, tt := range []struct {
		name  string
		last  [5]int
		utc   []string
		hours []float64
	}{
		{"autumn", [5]int{2026, 3, 29, 18, 0}, []string{"31 07:00", "02 07:00", "04 07:00", "06 08:00", "08 08:00"}, []float64{48, 48, 49, 48}},
		{"spring", [5]int{2026, 9, 30, 18, 0}, []string{"02 08:00", "04 07:00", "06 07:00", "08 07:00"}, []float64{47, 48, 48}},
	} {
		d := newDiary(t, "Australia/Sydney")
		d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) { rx.Days, rx.EveryHours = nil, 48 })
		last := d.at(tt.last[0], tt.last[1], tt.last[2], tt.last[3], tt.last[4])
		d.held(last.Add(-45*time.Minute), 0)
		m := d.h.Member(keeper)
		list := Planned(m, last.Add(6*time.Hour), last.AddDate(0, 0, 2*len(tt.utc)+1))
		var utc []time.Time
		for _, p := range list {
			utc = append(utc, p.UTC())
			if p.Format("15:04") != "18:00" {
				t.Errorf("%s: a session at %s", tt.name, p)
			}
		}
		if got := stamps(utc, "02 15:04"); !slices.Equal(got, tt.utc) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.utc)
		}
		for i, h := range tt.hours {
			if i+1 < len(list) && list[i+1].Sub(list[i]).Hours() != h {
				t.Errorf("%s: %v hours from %s, want %v", tt.name, list[i+1].Sub(list[i]).Hours(), list[i], h)
			}
		}
	}
}

// A face that the clocks skip is the moment just after the change; of two, the
// first counts (RFC 5545, section 3.3.5).
func TestFacesOnChangeNights(t *testing.T) {
	for _, tt := range []struct {
		zone string
		day  unit.Date
		face minuteOfDay
		want string
	}{
		{"Australia/Sydney", unit.NewDate(2026, 10, 4), 150, "2026-10-03T16:30Z"},
		{"Australia/Sydney", unit.NewDate(2026, 4, 5), 150, "2026-04-04T15:30Z"},
		{"Europe/London", unit.NewDate(2026, 3, 29), 90, "2026-03-29T01:30Z"},
		{"Europe/Berlin", unit.NewDate(2026, 10, 25), 150, "2026-10-25T00:30Z"},
	} {
		d := newDiary(t, tt.zone)
		if got := faceOn(tt.day, tt.face, d.zone).UTC().Format("2006-01-02T15:04Z07:00"); got != tt.want {
			t.Errorf("%s in %s: %s, want %s", tt.day, tt.zone, got, tt.want)
		}
	}
}

func TestPlannedByDays(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) { rx.Days = []string{"mon", "wed", "fri"} })
	d.ordered(unit.NewDate(2026, 3, 9), func(rx *session.Prescription) { rx.Days = []string{"tue", "thu", "sat"} })
	m := d.h.Member(keeper)
	for day := 2; day <= 4; day += 2 { // Monday 2 and Wednesday 4 March, setting up at 17:10
		d.held(d.at(2026, 3, day, 17, 10), 0)
	}
	now := d.at(2026, 3, 5, 9, 0)
	want := []string{"Fri 6 17:10", "Tue 10 17:10", "Thu 12 17:10", "Sat 14 17:10"}
	if got := stamps(Planned(m, now, d.at(2026, 3, 15, 0, 0)), "Mon 2 15:04"); !slices.Equal(got, want) {
		t.Errorf("from Thursday: %v, want %v", got, want)
	}
	// On Saturday the session of Friday is overdue; what is planned is what is
	// still to come.
	now = d.at(2026, 3, 7, 12, 0)
	if got := stamps(Planned(m, now, d.at(2026, 3, 11, 0, 0)), "Mon 2 15:04"); !slices.Equal(got, []string{"Tue 10 17:10"}) {
		t.Errorf("overdue: %v", got)
	}
	// One that is open is the first, and is not planned again.
	d.put(d.at(2026, 3, 10, 16, 40), "session_opened", "s-open", &session.Opened{Place: "home", Source: "live", Confirmed: true})
	now = d.at(2026, 3, 10, 18, 0)
	if got := stamps(Planned(m, now, d.at(2026, 3, 13, 0, 0)), "Mon 2 15:04"); !slices.Equal(got, []string{"Tue 10 16:40", "Thu 12 17:10"}) {
		t.Errorf("with one open: %v", got)
	}
	if got := plannedDays(d.h, now, 1); len(got) != 4 || got[0] != unit.DateOf(now) {
		t.Errorf("days of a week: %v", got)
	}
}

// By hours that make no whole days the hours are kept, and an overdue one can be
// held today.
func TestPlannedByHours(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) { rx.Days, rx.EveryHours = nil, 36 })
	d.held(d.at(2026, 3, 2, 17, 15), 0) // begins at 18:00
	m := d.h.Member(keeper)
	want := []string{"Wed 4 06:00", "Thu 5 18:00", "Sat 7 06:00"}
	if got := stamps(Planned(m, d.at(2026, 3, 3, 9, 0), d.at(2026, 3, 7, 12, 0)), "Mon 2 15:04"); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	got := Planned(m, d.at(2026, 3, 6, 9, 0), d.at(2026, 3, 9, 0, 0))
	if len(got) == 0 || unit.DateOf(got[0]) != unit.NewDate(2026, 3, 6) {
		t.Errorf("overdue: %v, want one today", stamps(got, "Mon 2 15:04"))
	}
}
