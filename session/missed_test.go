package session

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

// orderOf is an order that never changes.
func orderOf(rx *Prescription) Order { return func(unit.Date) *Prescription { return rx } }

func byDays(days ...string) *Prescription {
	return &Prescription{Days: days, Length: ref(unit.Minutes(240))}
}

func byHours(every int) *Prescription {
	return &Prescription{EveryHours: every, Length: ref(unit.Minutes(240))}
}

// evenings are sessions begun at 17:45 on days of March 2026; the 2nd is a Monday.
func evenings(days ...int) []Start {
	var list []Start
	for _, d := range days {
		at := time.Date(2026, 3, d, 17, 45, 0, 0, time.UTC)
		list = append(list, Start{Night: unit.DateOf(at), Began: at})
	}
	return list
}

func TestMissedBefore(t *testing.T) {
	three := byDays("mon", "wed", "fri")
	for _, tt := range []struct {
		name    string
		rx      *Prescription
		earlier []Start
		this    int // day on which it is opened at 17:00
		want    int
	}{
		{"no session before", three, nil, 6, 0},
		{"Monday to Wednesday", three, evenings(2), 4, 0},
		{"Monday to Friday", three, evenings(2), 6, 1},
		{"Monday to Monday", three, evenings(2), 9, 2},
		{"Friday to Monday, over the weekend", three, evenings(6), 9, 0},
		{"Friday to Wednesday", three, evenings(6), 11, 1},
		{"Wednesday's moved to Thursday", three, evenings(2), 5, 0},
		{"Wednesday's held on Tuesday", three, evenings(2, 3), 6, 0},
		{"Monday's held on Tuesday, Wednesday's not", three, evenings(-1, 3), 6, 1},
		{"an extra one on Saturday", three, evenings(6, 7), 9, 0},
		{"two on one day", three, evenings(2, 2), 4, 0},
		{"every day, three left out", byDays("mon", "tue", "wed", "thu", "fri"), evenings(2), 6, 3},
		{"one day a week", byDays("mon"), evenings(2), 9, 0},
		{"one day a week, a Monday left out", byDays("mon"), evenings(2), 16, 1},

		{"48 h, in time", byHours(48), evenings(2), 4, 0},
		{"48 h, a day late", byHours(48), evenings(2), 5, 0},
		{"48 h, four days", byHours(48), evenings(2), 6, 1},
		{"48 h, six days", byHours(48), evenings(2), 8, 2},
		{"84 h, in time", byHours(84), evenings(2), 5, 0},
		{"84 h, a week", byHours(84), evenings(2), 9, 1},
		{"12 h, the next day", byHours(12), evenings(2), 3, 1},
		{"no order", &Prescription{}, evenings(2), 9, 0},
	} {
		this := Start{Night: unit.NewDate(2026, 3, tt.this), Began: time.Date(2026, 3, tt.this, 17, 0, 0, 0, time.UTC)}
		if got := orderOf(tt.rx).MissedBefore(tt.earlier, this); got != tt.want {
			t.Errorf("%s: %d missed, want %d", tt.name, got, tt.want)
		}
	}
	// Nor is any without a prescription.
	if got := (Order(func(unit.Date) *Prescription { return nil })).MissedBefore(evenings(2), evenings(9)[0]); got != 0 {
		t.Errorf("without a prescription: %d", got)
	}
}

// Each day goes by the version in force on it.
func TestMissedAfterAChange(t *testing.T) {
	change := unit.NewDate(2026, 3, 6)
	o := Order(func(day unit.Date) *Prescription {
		if day.Before(change) {
			return byDays("mon", "wed", "fri")
		}
		return byDays("tue", "thu", "sat")
	})
	// Last on Monday the 2nd, now Tuesday the 10th: Wednesday, then Saturday.
	if got := o.MissedBefore(evenings(2), evenings(10)[0]); got != 2 {
		t.Errorf("%d missed, want the old Wednesday and the new Saturday", got)
	}
}

// A turn is counted from when it has almost come: an eighth of the interval
// before, and no more than six hours.
func TestTurns(t *testing.T) {
	h := time.Hour
	for _, tt := range []struct {
		since, slack, every time.Duration
		want                int
	}{
		{144 * h, early(48 * h), 48 * h, 3}, {138 * h, early(48 * h), 48 * h, 3}, {138*h - 1, early(48 * h), 48 * h, 2},
		{12 * h, early(12 * h), 12 * h, 1}, {10*h + 30*time.Minute, early(12 * h), 12 * h, 1}, {10 * h, early(12 * h), 12 * h, 0},
		{48 * h, -6 * h, 48 * h, 0}, {54 * h, -6 * h, 48 * h, 1}, {-90 * h, 0, 48 * h, 0}, {90 * h, 0, 0, 0},
	} {
		if got := Turns(tt.since, tt.slack, tt.every); got != tt.want {
			t.Errorf("%v%+v of every %v: %d turns, want %d", tt.since, tt.slack, tt.every, got, tt.want)
		}
	}
}

// Over a night on which the clocks change, days are days and hours are hours.
func TestMissedOverTheChangeOfClocks(t *testing.T) {
	zone := zone(t, "Europe/Ljubljana") // forward in the night to 29 March 2026, a Sunday
	at := func(day, hour int) Start {
		began := time.Date(2026, 3, day, hour, 0, 0, 0, zone)
		return Start{Night: unit.DateOf(began), Began: began}
	}
	if got := orderOf(byDays("mon", "wed", "fri", "sun")).MissedBefore([]Start{at(27, 22)}, at(30, 22)); got != 1 {
		t.Errorf("by days, Friday to Monday: %d missed, want Sunday", got)
	}
	if got := orderOf(byHours(48)).MissedBefore([]Start{at(27, 22)}, at(31, 22)); got != 1 { // 95 h
		t.Errorf("by hours, four days of 95 h: %d missed", got)
	}
	if got := orderOf(byHours(48)).MissedBefore([]Start{at(28, 22)}, at(30, 22)); got != 0 { // 47 h
		t.Errorf("by hours, two days of 47 h: %d missed", got)
	}
}

// The days of a stretch, by days and by hours alike.
func TestMissedDays(t *testing.T) {
	for _, tt := range []struct {
		name string
		rx   *Prescription
		held []Start
		want []int
	}{
		{"three a week, a week left out", byDays("mon", "wed", "fri"), evenings(2, 4, 6, 16), []int{9, 11, 13}},
		{"one moved", byDays("mon", "wed", "fri"), evenings(2, 5, 6, 9, 11, 13, 16), nil},
		{"48 h, two left out, and none since", byHours(48), evenings(2, 8, 10, 12), []int{4, 6, 14, 16}},
		{"48 h, every one held", byHours(48), evenings(2, 4, 6, 8, 10, 12, 14, 16), nil},
	} {
		var want []unit.Date
		for _, d := range tt.want {
			want = append(want, unit.NewDate(2026, 3, d))
		}
		if got := orderOf(tt.rx).MissedDays(tt.held, unit.NewDate(2026, 3, 1), unit.NewDate(2026, 3, 17)); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", tt.name, got, want)
		}
	}
	// What was left out before the stretch is not part of it.
	if got := orderOf(byHours(48)).MissedDays(evenings(2, 12, 14), unit.NewDate(2026, 3, 9), unit.NewDate(2026, 3, 15)); !slices.Equal(got, []unit.Date{unit.NewDate(2026, 3, 10)}) {
		t.Errorf("from the 9th: %v", got)
	}
}
