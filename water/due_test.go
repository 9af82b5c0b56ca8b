package water

import (
	"errors"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/unit"
)

func march(day int) unit.Date { return unit.NewDate(2026, time.March, day) }

func TestDueAt(t *testing.T) {
	last := &Counts{On: march(1), Sessions: 100, Hours: 500, Litres: 10_000}
	filter := Round{ID: "x", Name: "Filter", Every: Every{Days: 30, Sessions: 20, Hours: 100, Litres: 2000}}
	at := func(day, sessions int, hours, litres float64) Counts {
		return Counts{On: march(day), Sessions: sessions, Hours: hours, Litres: litres}
	}
	for _, tt := range []struct {
		name  string
		every Every
		now   Counts
		state DueState
		by    By
		left  string
	}{
		{"new", filter.Every, at(1, 100, 500, 10_000), NotYet, ByDate, "30 days left"},
		{"27 days: not yet a tenth", filter.Every, at(27, 110, 550, 11_000), NotYet, ByDate, "4 days left"},
		{"within a tenth", filter.Every, at(28, 110, 550, 11_000), Coming, ByDate, "3 days left"},
		{"the day", filter.Every, at(31, 110, 550, 11_000), Due, ByDate, "due now"},
		{"the day after", filter.Every, at(32, 110, 550, 11_000), Due, ByDate, "1 day over"},
		{"19 sessions", filter.Every, at(15, 119, 550, 11_000), Coming, BySessions, "1 session left"},
		{"20 sessions, though not by date", filter.Every, at(15, 120, 550, 11_000), Due, BySessions, "due now"},
		{"hours first", filter.Every, at(15, 110, 600, 11_000), Due, ByHours, "due now"},
		{"litres first", filter.Every, at(15, 110, 550, 12_500), Due, ByLitres, "500 litres over"},
		{"litres coming", filter.Every, at(10, 110, 550, 11_850), Coming, ByLitres, "150 litres left"},
		{"by sessions only", Every{Sessions: 1}, at(1, 101, 500, 10_000), Due, BySessions, "due now"},
		{"days and months: the days first", Every{Days: 7, Months: 1}, at(8, 100, 500, 10_000), Due, ByDate, "due now"},
		{"days and months: the month first", Every{Days: 90, Months: 1}, at(32, 100, 500, 10_000), Due, ByDate, "due now"},
	} {
		r := filter
		r.Every = tt.every
		got, err := r.DueAt(last, tt.now, Pace{})
		if err != nil || got.State != tt.state || got.By != tt.by || got.Left != tt.left {
			t.Errorf("%s: %s by %s, %q, %v; want %s by %s, %q", tt.name, got.State, got.By, got.Left, err, tt.state, tt.by, tt.left)
		}
	}
	if got, err := filter.DueAt(nil, at(1, 0, 0, 0), Pace{}); err != nil || got.State != Due || got.By != ByNever {
		t.Errorf("never done: %+v, %v", got, err)
	}
}

// Just done, what is left is named by the count that the day comes from.
func TestLeftGoesWithTheDay(t *testing.T) {
	last := &Counts{On: march(1), Sessions: 100}
	r := Round{ID: "heat", Name: "Heat", Every: Every{Days: 3, Sessions: 1}}
	for pace, want := range map[float64]string{4: "1 session left", 0: "3 days left", 1: "3 days left"} {
		got, err := r.DueAt(last, *last, Pace{Sessions: pace})
		if err != nil || got.Left != want {
			t.Errorf("%g sessions a week: %q on %s, %v; want %q", pace, got.Left, got.On, err, want)
		}
	}
}

func TestDueOn(t *testing.T) {
	last := &Counts{On: march(1), Sessions: 100, Litres: 10_000}
	r := Round{ID: "x", Name: "Carbon", Every: Every{Months: 6, Litres: 10_000}}
	now := Counts{On: march(11), Sessions: 106, Litres: 11_000}
	// 9,000 L left at 1,400 L a week: 45 days.
	got, err := r.DueAt(last, now, Pace{Litres: 1400})
	if err != nil || got.On != march(11).Add(45) {
		t.Errorf("by litres: due on %s, %v; want %s", got.On, err, march(11).Add(45))
	}
	got, err = r.DueAt(last, now, Pace{})
	if err != nil || got.On != unit.NewDate(2026, time.September, 1) {
		t.Errorf("pace unknown: due on %s, %v; want six months on", got.On, err)
	}
	got, err = Round{ID: "x", Name: "x", Every: Every{Sessions: 50}}.DueAt(last, now, Pace{})
	if err != nil || !got.On.IsZero() {
		t.Errorf("sessions at no known pace: due on %s, %v; want no date", got.On, err)
	}
}

func TestAddMonths(t *testing.T) {
	for _, tt := range []struct {
		from, want string
		n          int
	}{
		{"2026-01-31", "2026-02-28", 1}, {"2028-01-31", "2028-02-29", 1}, {"2026-01-31", "2026-04-30", 3},
		{"2026-12-15", "2027-01-15", 1}, {"2026-03-31", "2026-02-28", -1}, {"2024-02-29", "2025-02-28", 12},
	} {
		from, err := unit.ParseDate(tt.from)
		if err != nil {
			t.Fatal(err)
		}
		if got := addMonths(from, tt.n).String(); got != tt.want {
			t.Errorf("%s and %d months = %s, want %s", tt.from, tt.n, got, tt.want)
		}
	}
}

func TestDueAtRefuses(t *testing.T) {
	last := &Counts{On: march(5), Sessions: 10, Hours: 5, Litres: 5}
	r := Round{ID: "x", Name: "x", Every: Every{Days: 7}}
	for name, now := range map[string]Counts{
		"day back":      {On: march(4), Sessions: 10, Hours: 5, Litres: 5},
		"sessions back": {On: march(6), Sessions: 9, Hours: 5, Litres: 5},
		"hours back":    {On: march(6), Sessions: 10, Hours: 4, Litres: 5},
		"litres back":   {On: march(6), Sessions: 10, Hours: 5, Litres: 4},
	} {
		if _, err := r.DueAt(last, now, Pace{}); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: err = %v, want an InputError", name, err)
		}
	}
	for name, bad := range map[string]Round{
		"never due": {ID: "x", Name: "x"},
		"no name":   {ID: "x", Every: Every{Days: 1}},
		"negative":  {ID: "x", Name: "x", Every: Every{Days: -1}},
	} {
		if _, err := bad.DueAt(last, *last, Pace{}); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// Due exactly when one of the counts is reached, whichever it is; and never
// less pressing for more days, sessions, hours or litres.
func TestDueFirstWins(t *testing.T) {
	rank := map[DueState]int{NotYet: 0, Coming: 1, Due: 2}
	rapid.Check(t, func(t *rapid.T) {
		pick := func(name string, most int) int { return rapid.IntRange(0, most).Draw(t, name) }
		r := Round{ID: "x", Name: "x", Every: Every{Days: pick("days", 40), Sessions: pick("sessions", 30), Hours: float64(pick("hours", 100)), Litres: float64(pick("litres", 3000))}}
		if r.Every == (Every{}) {
			return
		}
		last := Counts{On: march(1)}
		now := Counts{On: march(1 + pick("day", 50)), Sessions: pick("n", 40), Hours: float64(pick("h", 120)), Litres: float64(pick("l", 4000))}
		got, err := r.DueAt(&last, now, Pace{})
		if err != nil {
			t.Fatal(err)
		}
		e := r.Every
		reached := e.Days > 0 && now.On.Sub(last.On) >= e.Days || e.Sessions > 0 && now.Sessions >= e.Sessions ||
			e.Hours > 0 && now.Hours >= e.Hours || e.Litres > 0 && now.Litres >= e.Litres
		if (got.State == Due) != reached {
			t.Fatalf("%s with %+v after %+v", got.State, now, e)
		}
		more := now
		switch rapid.IntRange(0, 3).Draw(t, "more") {
		case 0:
			more.On = more.On.Add(1)
		case 1:
			more.Sessions++
		case 2:
			more.Hours += 0.5
		default:
			more.Litres += 10
		}
		later, err := r.DueAt(&last, more, Pace{})
		if err != nil || rank[later.State] < rank[got.State] {
			t.Fatalf("%s, then with more %s (%v)", got.State, later.State, err)
		}
	})
}

func TestDefaultRounds(t *testing.T) {
	seen := map[string]bool{}
	now := Counts{On: march(3), Sessions: 5}
	var items []DueItem
	for _, r := range DefaultRounds() {
		if seen[r.ID] || r.Source == "" || r.Status == "" {
			t.Errorf("%s: stands twice, or has no source", r.ID)
		}
		seen[r.ID] = true
		it, err := r.DueAt(&Counts{On: march(3), Sessions: 4}, now, Pace{})
		if err != nil {
			t.Errorf("%s: %v", r.ID, err)
		}
		items = append(items, it)
	}
	// One session since everything was done: only the disinfection after each
	// session stands in the way.
	var way []string
	for _, it := range InTheWay(items) {
		way = append(way, it.Round.ID)
	}
	if !slices.Equal(way, []string{"heat"}) {
		t.Errorf("in the way: %v", way)
	}
	if SharpsFull(0.74) || !SharpsFull(0.75) {
		t.Error("a sharps bin is full at three quarters")
	}
}
