package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// The calendar holds eight weeks of sessions at the right instants across a
// change of the clocks, deliveries, what falls due, and samples; without the
// person's choice not a word of anybody's health.
func TestCalendarOfAHousehold(t *testing.T) {
	d, _ := stockedDiary(t)
	d.put(d.at(2026, 3, 1, 9, 0), "person", "", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	d.house(d.at(2026, 3, 1, 9, 0), "round_done", &record.RoundDone{Item: "carbon", Outcome: "done"})
	d.house(d.at(2026, 2, 1, 9, 0), "round_done", &record.RoundDone{Item: "scale", Outcome: "done"})
	d.house(d.at(2026, 3, 1, 9, 0), "water_sample", &record.WaterSample{Sample: "sample-01", State: "planned", Point: water.PointFluid, For: []string{"viable_count"}, PlannedOn: unit.NewDate(2026, 3, 20)})
	now := d.at(2026, 3, 9, 10, 0)
	m := d.h.Member(keeper)
	c := CalendarOf(d.h, m, now, TitlesBusy)
	file, err := c.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"ialysis", "Ida", "Brook", "water", "Water", "cale", "Carbon", keeper, "rescription"} {
		if strings.Contains(string(file), word) {
			t.Errorf("the plain calendar says %q", word)
		}
	}
	kinds := map[string]int{}
	var starts []string
	for _, e := range c.Events {
		kinds[e.Summary]++
		if !e.Start.IsZero() {
			starts = append(starts, e.Start.UTC().Format("01-02 15:04"))
		}
	}
	// Monday, Wednesday, Friday at 17:00 for eight weeks; the clocks go forward
	// on 29 March.
	if kinds["Busy"] != 24 || starts[0] != "03-09 16:00" || starts[8] != "03-27 16:00" || starts[9] != "03-30 15:00" {
		t.Errorf("%v, %v", kinds, starts)
	}
	full := CalendarOf(d.h, m, now, TitlesFull)
	titles := map[string]unit.Date{}
	for _, e := range full.Events {
		if !e.Day.IsZero() {
			titles[e.Summary] = e.Day
		}
		if e.Day.IsZero() && e.Summary != "Dialysis, 4 h 10" {
			t.Errorf("a session is called %q", e.Summary)
		}
	}
	for title, want := range map[string]unit.Date{
		"Water sample, " + water.PointFluid:                    unit.NewDate(2026, 3, 20),
		"Scale against a known mass (20 L of water are 20 kg)": unit.NewDate(2026, 3, 9), // overdue: today
		"Last day to send the order":                           unit.NewDate(2026, 3, 12),
		"Delivery of supplies":                                 unit.NewDate(2026, 4, 14),
	} {
		if titles[title] != want {
			t.Errorf("%s on %s, want %s", title, titles[title], want)
		}
	}
	if _, there := titles["Carbon"]; there {
		t.Error("what is due in half a year stands in the calendar of eight weeks")
	}
	// The same happenings have the same names tomorrow, and a higher number once
	// something was written.
	uids := map[string]bool{}
	for _, e := range c.Events {
		uids[e.UID] = true
	}
	d.house(now.Add(time.Hour), "utility_notice", &record.UtilityNotice{From: unit.DateOf(now), Words: "flushing"})
	tomorrow := CalendarOf(d.h, m, now.AddDate(0, 0, 1), TitlesBusy)
	same := 0
	for _, e := range tomorrow.Events {
		if uids[e.UID] {
			same++
		}
	}
	if same < 25 || tomorrow.Events[0].Sequence <= c.Events[0].Sequence {
		t.Errorf("%d of %d happenings keep their name, number %d after %d", same, len(tomorrow.Events), tomorrow.Events[0].Sequence, c.Events[0].Sequence)
	}
}

// A new secret closes the old address; each person's opens their own calendar.
func TestCalendarSecrets(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 1, 9, 0)
	if m := CalendarOwner(d.h, ""); m != nil {
		t.Error("the empty secret opens a calendar")
	}
	first, second := NewCalendarSecret(), NewCalendarSecret()
	if len(first) != 32 || first == second {
		t.Errorf("secrets %q and %q", first, second)
	}
	d.put(at, "calendar_secret", "", &record.CalendarSecret{Secret: first, Titles: TitlesBusy})
	if m := CalendarOwner(d.h, first); m == nil || m.ID != keeper {
		t.Errorf("the secret opens %v", m)
	}
	d.put(at.Add(time.Hour), "calendar_secret", "", &record.CalendarSecret{Secret: second, Titles: TitlesFull})
	if CalendarOwner(d.h, first) != nil || CalendarOwner(d.h, second) == nil || CalendarOwner(d.h, second[:31]) != nil {
		t.Error("the old address still opens, or the new one does not, or a part of it does")
	}
}

// Every other night keeps its clock face through the change of the clocks, in
// either direction and wherever the house stands; the instants are then 47 or 49
// hours apart once, on Lord Howe Island half an hour less or more.
func TestCalendarOfNights(t *testing.T) {
	for _, tt := range []struct {
		zone string
		day  unit.Date // a night was held on it
		odd  time.Duration
	}{
		{"Europe/London", unit.NewDate(2026, 10, 19), 49 * time.Hour},
		{"Europe/London", unit.NewDate(2026, 3, 23), 47 * time.Hour},
		{"America/New_York", unit.NewDate(2026, 10, 26), 49 * time.Hour},
		{"America/New_York", unit.NewDate(2026, 3, 2), 47 * time.Hour},
		{"Australia/Lord_Howe", unit.NewDate(2026, 3, 30), 48*time.Hour + 30*time.Minute},
		{"Pacific/Auckland", unit.NewDate(2026, 3, 30), 49 * time.Hour},
		{"Pacific/Auckland", unit.NewDate(2026, 9, 21), 47 * time.Hour},
		{"Asia/Tokyo", unit.NewDate(2026, 10, 19), 0},
	} {
		d := newDiary(t, tt.zone)
		d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) {
			rx.Days, rx.EveryHours, rx.Length = nil, 48, ptr(unit.Minutes(480))
		})
		began := tt.day.Time(d.zone).Add(21*time.Hour + 45*time.Minute)
		d.held(began, 0) // begins at 22:30
		c := CalendarOf(d.h, d.h.Member(keeper), began.Add(12*time.Hour), TitlesFull)
		var last time.Time
		var odd []time.Duration
		nights := 0
		for _, e := range c.Events {
			if e.Start.IsZero() {
				continue
			}
			nights++
			if got := e.Start.In(d.zone).Format("15:04"); got != "22:30" {
				t.Errorf("%s: %s begins at %s", tt.zone, e.Start, got)
			}
			if e.Length != 9*time.Hour+30*time.Minute {
				t.Errorf("it lasts %s", e.Length)
			}
			if gap := e.Start.Sub(last); !last.IsZero() && gap != 48*time.Hour {
				odd = append(odd, gap)
			}
			last = e.Start
		}
		if want := tt.odd != 0; nights < 25 || want != (len(odd) == 1) || want && odd[0] != tt.odd {
			t.Errorf("%s: %d nights, gaps %v beside 48 hours; want %s once", tt.zone, nights, odd, tt.odd)
		}
	}
}

// What is overdue stands on today, and the event's number rises with the day, so
// that a calendar which had it yesterday moves it; a demonstration says in every
// title that it is one.
func TestCalendarMovesWhatIsOverdue(t *testing.T) {
	d := newDiary(t, "Europe/London")
	d.house(d.at(2026, 1, 2, 9, 0), "round_done", &record.RoundDone{Item: "scale", Outcome: "done"})
	m := d.h.Member(keeper)
	event := func(now time.Time) (day unit.Date, uid string, number int) {
		for _, e := range CalendarOf(d.h, m, now, TitlesBusy).Events {
			if !e.Day.IsZero() {
				return e.Day, e.UID, e.Sequence
			}
		}
		t.Fatal("the scale is not in the calendar")
		return
	}
	first, uid, number := event(d.at(2026, 3, 9, 10, 0))
	second, again, higher := event(d.at(2026, 3, 10, 10, 0))
	if first != unit.NewDate(2026, 3, 9) || second != unit.NewDate(2026, 3, 10) || uid != again || higher <= number {
		t.Errorf("%s with number %d, then %s with %d", first, number, second, higher)
	}
	d.h.Demo = true
	c := CalendarOf(d.h, m, d.at(2026, 3, 9, 10, 0), TitlesBusy)
	if !strings.HasPrefix(c.Name, "DEMONSTRATION") || !strings.HasPrefix(c.Events[0].Summary, "DEMONSTRATION") {
		t.Errorf("the demonstration is called %q, an event %q", c.Name, c.Events[0].Summary)
	}
}
