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

// Nights held through the change of the clocks begin at the same clock face.
func TestCalendarOfNights(t *testing.T) {
	d := newDiary(t, "Europe/London")
	d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) {
		rx.Days, rx.EveryHours, rx.Length = nil, 48, ptr(unit.Minutes(480))
	})
	d.held(d.at(2026, 10, 19, 21, 45), 0) // begins at 22:30
	c := CalendarOf(d.h, d.h.Member(keeper), d.at(2026, 10, 20, 9, 0), TitlesFull)
	for _, e := range c.Events {
		if e.Start.IsZero() {
			continue
		}
		if got := e.Start.In(d.zone).Format("15:04"); got != "22:30" {
			t.Errorf("%s begins at %s", e.Start, got)
		}
		if e.Length != 9*time.Hour+30*time.Minute {
			t.Errorf("it lasts %s", e.Length)
		}
	}
}
