package record

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/unit"
)

func running4(n int, from time.Time, every time.Duration) *Meter {
	c := &Meter{}
	for i := range n {
		at := from.Add(time.Duration(i) * every)
		c.sessions = append(c.sessions, at)
		c.run = append(c.run, running{at: at, hours: 4, litres: 120})
	}
	return c
}

func reading(at time.Time, hours float64) CounterReading {
	h := unit.Hours(hours * 100)
	return CounterReading{ID: at.String(), At: at, Hours: &h}
}

// Between two readings of a counter the treated hours of the sessions are the
// least that has run; a counter that begins again was changed.
func TestCountsOfAPlant(t *testing.T) {
	day := 24 * time.Hour
	from := time.Date(2026, 3, 1, 20, 0, 0, 0, time.UTC)
	c := running4(10, from, 2*day)
	at := func(days int) time.Time { return from.Add(time.Duration(days) * day) }
	for _, tt := range []struct {
		name string
		read []CounterReading
		now  int
		want float64
	}{
		{"no reading", nil, 4, 12},
		{"a first reading says nothing of before", []CounterReading{reading(at(4), 2410)}, 4, 12},
		{"sessions since", []CounterReading{reading(at(4), 2410)}, 8, 20},
		{"the second reading is more than was treated", []CounterReading{reading(at(4), 2410), reading(at(8), 2425)}, 8, 27},
		{"and the sessions since then", []CounterReading{reading(at(4), 2410), reading(at(8), 2425)}, 10, 31},
		{"another machine", []CounterReading{reading(at(4), 2410), reading(at(8), 15)}, 8, 20},
		{"which goes on counting", []CounterReading{reading(at(4), 2410), reading(at(8), 15), reading(at(12), 30)}, 12, 35},
	} {
		c.read = tt.read
		if got := c.At(at(tt.now)).Hours; got != tt.want {
			t.Errorf("%s: %v hours, want %v", tt.name, got, tt.want)
		}
	}
	c.read = nil
	if got := c.At(at(4)); got.Sessions != 3 || got.Litres != 360 {
		t.Errorf("three sessions: %+v", got)
	}
	if p := c.Pace(at(19), 0); p.Sessions != 10.0/8 || p.Hours != 5 || p.Litres != 150 {
		t.Errorf("the pace of eight weeks: %+v", p)
	}
}

// Whatever was read and in whatever order machines were changed, counts never
// run backwards.
func TestCountsNeverRunBackwards(t *testing.T) {
	from := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	rapid.Check(t, func(rt *rapid.T) {
		c := running4(rapid.IntRange(0, 30).Draw(rt, "sessions"), from, time.Duration(rapid.IntRange(10, 60).Draw(rt, "every"))*time.Hour)
		at := from
		for range rapid.IntRange(0, 12).Draw(rt, "readings") {
			at = at.Add(time.Duration(rapid.IntRange(1, 200).Draw(rt, "after")) * time.Hour)
			c.read = append(c.read, reading(at, float64(rapid.IntRange(0, 3000).Draw(rt, "shown"))))
		}
		last := c.At(from.Add(-time.Hour))
		for h := 0; h < 2000; h += 37 {
			now := c.At(from.Add(time.Duration(h) * time.Hour))
			if now.Hours < last.Hours || now.Litres < last.Litres || now.Sessions < last.Sessions {
				rt.Fatalf("%+v after %+v", now, last)
			}
			last = now
		}
	})
}
