package stock

import (
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/unit"
)

const one = unit.Piece

// on is a day of January 2026, which begins on a Thursday; 32 is 1 February.
func on(day int) unit.Date { return unit.NewDate(2026, time.January, day) }

func days(d ...int) []unit.Date {
	var list []unit.Date
	for _, n := range d {
		list = append(list, on(n))
	}
	return list
}

func TestForecast(t *testing.T) {
	every2 := days(2, 4, 6, 8, 10, 12)
	for _, tt := range []struct {
		name         string
		item         Item
		left         int
		out          unit.Date
		wasted, rest unit.Pieces
	}{
		{"enough for all", Item{PerSession: 2 * one, Lots: []Lot{{Count: 30 * one}}}, 6, unit.Date{}, 0, 18 * one},
		{"just enough", Item{PerSession: 2 * one, Lots: []Lot{{Count: 12 * one}}}, 6, unit.Date{}, 0, 0},
		{"one short", Item{PerSession: 2 * one, Lots: []Lot{{Count: 11 * one}}}, 5, on(12), 0, one},
		{"nothing", Item{PerSession: one}, 0, on(2), 0, 0},
		{"a lot serves on its last day", Item{PerSession: one, Lots: []Lot{{Count: 9 * one, Expires: on(4)}}}, 2, on(6), 7 * one, 0},
		{"and not the day after", Item{PerSession: one, Lots: []Lot{{Count: 9 * one, Expires: on(3)}}}, 1, on(4), 8 * one, 0},
		{"expired before today", Item{PerSession: one, Lots: []Lot{{Count: 3 * one, Expires: on(0)}, {Count: 2 * one}}}, 2, on(6), 3 * one, 0},
		{"first to expire first", Item{PerSession: one, Lots: []Lot{{Count: 3 * one}, {Count: 2 * one, Expires: on(9)}, {Count: one, Expires: on(4)}}}, 6, unit.Date{}, 0, 0},
		{"last day is the last planned", Item{PerSession: one, Lots: []Lot{{Count: 8 * one, Expires: on(12)}}}, 6, unit.Date{}, 2 * one, 0},
		{"last day after the plan", Item{PerSession: one, Lots: []Lot{{Count: 8 * one, Expires: on(13)}}}, 6, unit.Date{}, 0, 2 * one},
		{"held", Item{PerSession: one, Lots: []Lot{{Count: 8 * one, Held: true}, {Count: one}}}, 1, on(4), 0, 8 * one},
		{"a fifth of a bottle", Item{PerSession: one / 5, Lots: []Lot{{Count: one}}}, 5, on(12), 0, 0},
		{"two lots make a session", Item{PerSession: 2 * one, Lots: []Lot{{Count: one, Expires: on(20)}, {Count: one}}}, 1, on(4), 0, 0},
		{"too few for one are kept and expire", Item{PerSession: 2 * one, Lots: []Lot{{Count: 3 * one, Expires: on(7)}}}, 1, on(4), one, 0},
		{"an arrival on the day serves it", Item{PerSession: one, Lots: []Lot{{Count: one}}, Arriving: []Arrival{{on(4), Lot{Count: 9 * one}}}}, 6, unit.Date{}, 0, 4 * one},
		{"an arrival the day after does not", Item{PerSession: one, Lots: []Lot{{Count: one}}, Arriving: []Arrival{{on(5), Lot{Count: 9 * one}}}}, 1, on(4), 0, 5 * one},
	} {
		tt.item.Name, tt.item.Pack = "x", one
		f, err := tt.item.Forecast(on(1), every2)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if f.SessionsLeft != tt.left || f.RunsOut != tt.out || f.Wasted != tt.wasted || f.Left != tt.rest {
			t.Errorf("%s: %d sessions left, out %s, wasted %s, left %s; want %d, %s, %s, %s",
				tt.name, f.SessionsLeft, f.RunsOut, f.Wasted, f.Left, tt.left, tt.out, tt.wasted, tt.rest)
		}
	}
}

func TestForecastDays(t *testing.T) {
	it := Item{Name: "x", PerSession: one, Pack: one, Lots: []Lot{{Count: 2 * one, Expires: on(3)}, {Count: 4 * one}}}
	f, err := it.Forecast(on(1), days(6, 2)) // in any order
	if err != nil {
		t.Fatal(err)
	}
	want := []Day{
		{Date: on(1), Usable: 6 * one},
		{Date: on(2), Usable: 5 * one, Sessions: 1, Served: 1},
		{Date: on(4), Usable: 4 * one, Expired: one},
		{Date: on(6), Usable: 3 * one, Sessions: 1, Served: 1},
	}
	if len(f.Days) != len(want) {
		t.Fatalf("days %+v, want %+v", f.Days, want)
	}
	for i := range want {
		if f.Days[i] != want[i] {
			t.Errorf("day %d: %+v, want %+v", i, f.Days[i], want[i])
		}
	}
}

func TestForecastRefuses(t *testing.T) {
	good := Item{Name: "x", PerSession: one, Pack: one}
	for name, change := range map[string]func(*Item){
		"no name":      func(it *Item) { it.Name = " " },
		"no use":       func(it *Item) { it.PerSession = 0 },
		"no pack":      func(it *Item) { it.Pack = -one },
		"less than 0":  func(it *Item) { it.Lots = []Lot{{Count: -1}} },
		"overdue":      func(it *Item) { it.Arriving = []Arrival{{On: on(0), Lot: Lot{Count: one}}} },
		"absurd count": func(it *Item) { it.Lots = []Lot{{Count: 2_000_000 * one}} },
	} {
		it := good
		change(&it)
		if _, err := it.Forecast(on(1), days(2)); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: err = %v, want an InputError", name, err)
		}
	}
	if _, err := good.Forecast(on(1), nil); err == nil {
		t.Error("a plan without sessions was taken")
	}
	if _, err := good.Forecast(on(3), days(2, 4)); err == nil {
		t.Error("a planned session in the past was taken")
	}
}

// A shelf of a few lots with a plan of sessions, both drawn at random.
func drawItem(t *rapid.T) Item {
	lot := rapid.Custom(func(t *rapid.T) Lot {
		l := Lot{Count: unit.Pieces(rapid.IntRange(0, 40).Draw(t, "half pieces")) * one / 2, Held: rapid.IntRange(0, 5).Draw(t, "held") == 0}
		if rapid.Bool().Draw(t, "has expiry") {
			l.Expires = on(rapid.IntRange(-5, 90).Draw(t, "expires"))
		}
		return l
	})
	return Item{
		Name:       "x",
		Lots:       rapid.SliceOfN(lot, 0, 5).Draw(t, "lots"),
		PerSession: rapid.SampledFrom([]unit.Pieces{one / 5, one / 3, one / 2, one, 2 * one, 5 * one}).Draw(t, "per session"),
		Pack:       rapid.SampledFrom([]unit.Pieces{one, 2 * one, 5 * one, 12 * one}).Draw(t, "pack"),
	}
}

func drawSessions(t *rapid.T) []unit.Date {
	gaps := rapid.SliceOfN(rapid.IntRange(0, 4), 1, 60).Draw(t, "gaps")
	day, list := 1, []unit.Date(nil)
	for _, g := range gaps {
		day += g
		list = append(list, on(day))
	}
	return list
}

func TestForecastConservesPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		it, sessions := drawItem(t), drawSessions(t)
		for range rapid.IntRange(0, 3).Draw(t, "arrivals") {
			it.Arriving = append(it.Arriving, Arrival{On: on(rapid.IntRange(1, 120).Draw(t, "on")), Lot: Lot{Count: 7 * one, Expires: on(rapid.IntRange(1, 150).Draw(t, "expires"))}})
		}
		f, err := it.Forecast(on(1), sessions)
		if err != nil {
			t.Fatal(err)
		}
		var had unit.Pieces
		for _, l := range it.Lots {
			had += l.Count
		}
		for _, a := range it.Arriving {
			had += a.Lot.Count
		}
		if f.Used+f.Wasted+f.Left != had {
			t.Fatalf("used %s + wasted %s + left %s is not the %s there were", f.Used, f.Wasted, f.Left, had)
		}
		served := 0
		for _, d := range f.Days {
			served += d.Served
		}
		if unit.Pieces(served)*it.PerSession != f.Used {
			t.Fatalf("%d sessions served, but %s used", served, f.Used)
		}
		if f.RunsOut.IsZero() != (f.SessionsLeft == len(sessions)) {
			t.Fatalf("%d of %d sessions left, yet runs out %q", f.SessionsLeft, len(sessions), f.RunsOut)
		}
	})
}

func TestOfferAndTake(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		it := drawItem(t)
		day := on(rapid.IntRange(1, 95).Draw(t, "day"))
		offered := Offer(it.Lots, day)
		for i, l := range offered {
			if l.Held || l.ExpiredOn(day) || l.Count == 0 {
				t.Fatalf("offered %+v on %s", l, day)
			}
			if i > 0 && byExpiry(offered[i-1], l) > 0 {
				t.Fatalf("%s offered before %s", offered[i-1].Expires, l.Expires)
			}
		}
		taken, left, short := Take(it.Lots, it.PerSession, day)
		got := unit.Pieces(0)
		for _, k := range taken {
			l := it.Lots[k.Lot]
			if l.Held || l.ExpiredOn(day) {
				t.Fatalf("took from %+v on %s", l, day)
			}
			got += k.Count
			if l.Count-k.Count != left[k.Lot].Count {
				t.Fatalf("lot had %s, %s taken, %s left", l.Count, k.Count, left[k.Lot].Count)
			}
		}
		if got+short != it.PerSession {
			t.Fatalf("taken %s and short %s do not make %s", got, short, it.PerSession)
		}
		if short > 0 && Usable(left, day) > 0 {
			t.Fatalf("short of %s with %s still usable", short, Usable(left, day))
		}
	})
}

func TestUseEffective(t *testing.T) {
	for _, tt := range []struct {
		use       Use
		per, cyc  float64
		want      unit.Pieces
		something string
	}{
		{Use{PerSession: 2 * one}, 3, 0, 2 * one, "needles"},
		{Use{PerWeek: one}, 4, 0, one / 4, "weekly bottle"},
		{Use{PerCycle: one / 2}, 3.5, 3.5, one / 2, "half a sachet after each session"},
		{Use{PerSession: 2 * one, Spare: 1.1}, 3, 0, 2*one + one/5, "needles and spares"},
		{Use{PerSession: one / 3}, 3, 0, one / 3, "a third"},
	} {
		got, err := tt.use.Effective(tt.per, tt.cyc)
		if err != nil || got != tt.want {
			t.Errorf("%s: %s, %v; want %s", tt.something, got, err, tt.want)
		}
	}
	for _, bad := range []Use{{}, {PerSession: -one}, {PerSession: one, Spare: 0.5}, {PerSession: one, Spare: 4}} {
		if got, err := bad.Effective(3, 0); err == nil {
			t.Errorf("%+v gives %s", bad, got)
		}
	}
}
