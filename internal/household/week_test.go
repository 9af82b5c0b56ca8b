package household

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// bookOf is the book of an invented life.
func bookOf(t testing.TB, keep func(e *record.Entry) bool) *WeekBook {
	t.Helper()
	h, m, _ := invented(t, 4, 6, keep)
	b, err := WeekBookOf(h, m, present)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Today's week, weighed as any other, is the fortnight's dose when every
// session was held.
func TestTodaysWeekIsTheFortnight(t *testing.T) {
	h, m, _ := invented(t, 4, 6, nil)
	b, err := WeekBookOf(h, m, present)
	if err != nil {
		t.Fatal(err)
	}
	f, err := FortnightOf(m, &b.Person, present)
	if err != nil || len(f.Missed) > 0 {
		t.Fatal(err, f.Missed)
	}
	o, err := b.Outcome(b.Now, 200)
	if err != nil {
		t.Fatal(err)
	}
	if off := o.StdKtV.Value/f.StdKtV.Value - 1; math.Abs(off) > 0.05 {
		t.Errorf("the week gives %.2f, the fortnight gave %.2f", o.StdKtV.Value, f.StdKtV.Value)
	}
	if !(o.StdKtV.Low < o.StdKtV.Value && o.StdKtV.Value < o.StdKtV.High) || !(o.PeakMmolL.Low < o.PeakMmolL.Value && o.PeakMmolL.Value < o.PeakMmolL.High) {
		t.Errorf("ranges: %+v %+v", o.StdKtV, o.PeakMmolL)
	}
	if o.Phosphate.Relative != 1 || o.Phosphate.Says != "about as now" {
		t.Errorf("phosphate of today's week: %+v", o.Phosphate)
	}
	if len(o.Rates) != 4 || o.PerMonth < 17 || o.PerMonth > 18 {
		t.Errorf("%d rates, %.1f sessions a month", len(o.Rates), o.PerMonth)
	}
}

// A longer session, or one more a week, never lowers the dose nor raises the
// peak, and removes more gently.
func TestMoreIsNeverLess(t *testing.T) {
	b := bookOf(t, nil)
	rapid.Check(t, func(r *rapid.T) {
		w := b.Now
		w.LengthMin = float64(rapid.IntRange(100, 420).Draw(r, "length"))
		w.Start = rapid.IntRange(0, 23).Draw(r, "hour") * 60
		one, err := b.outcomeWith(w, nil)
		if err != nil {
			r.Fatal(err)
		}
		longer := w
		longer.LengthMin += float64(rapid.IntRange(1, 60).Draw(r, "more"))
		two, err := b.outcomeWith(longer, nil)
		if err != nil {
			r.Fatal(err)
		}
		if two.StdKtV.Value < one.StdKtV.Value || two.PeakMmolL.Value > one.PeakMmolL.Value || two.MaxRate > one.MaxRate || two.OnH <= one.OnH {
			r.Errorf("%s: %+v\n%s: %+v", w.Long(), one.StdKtV, longer.Long(), two.StdKtV)
		}
	})
	fewer := b.Now
	fewer.Days = fewer.Days[:3]
	a, err := b.outcomeWith(fewer, nil)
	if err != nil {
		t.Fatal(err)
	}
	c, err := b.outcomeWith(b.Now, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a.StdKtV.Value >= c.StdKtV.Value || a.PeakMmolL.Value <= c.PeakMmolL.Value || a.GapH <= c.GapH || a.MaxRate <= c.MaxRate {
		t.Errorf("three of the four sessions: %+v, all four: %+v", a.StdKtV, c.StdKtV)
	}
}

// Sessions and gaps fill the cycle, whatever the days and the hour.
func TestGapsFillTheWeek(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := Week{LengthMin: float64(rapid.IntRange(30, 480).Draw(r, "length")), BloodFlow: 300, Start: rapid.IntRange(0, 24*60-1).Draw(r, "start")}
		for d := range 7 {
			if rapid.Bool().Draw(r, "day") {
				w.Days = append(w.Days, time.Weekday(d))
			}
		}
		if w.Check() != nil {
			return
		}
		sum := 0.0
		for _, g := range w.gaps() {
			sum += g + w.LengthMin
		}
		if math.Abs(sum-w.cycleMin()) > 1e-9 {
			r.Errorf("%s: %v minutes", w.Long(), sum)
		}
	})
}

func TestWeeksThatCannotBe(t *testing.T) {
	good := Week{Days: []time.Weekday{time.Monday, time.Thursday}, LengthMin: 240, BloodFlow: 300}
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*Week){
		"no days":         func(w *Week) { w.Days = nil },
		"days and hours":  func(w *Week) { w.EveryHours = 48 },
		"a day twice":     func(w *Week) { w.Days = append(w.Days, time.Monday) },
		"too short":       func(w *Week) { w.LengthMin = 20 },
		"too long":        func(w *Week) { w.LengthMin = 721 },
		"no length":       func(w *Week) { w.LengthMin = math.NaN() },
		"too fast":        func(w *Week) { w.BloodFlow = 700 },
		"every five":      func(w *Week) { w.Days, w.EveryHours = nil, 5 },
		"no room":         func(w *Week) { w.Days, w.EveryHours, w.LengthMin = nil, 12, 690 },
		"no time of day":  func(w *Week) { w.Start = 1440 },
		"no day of days":  func(w *Week) { w.Days = []time.Weekday{9} },
		"dialysate of 20": func(w *Week) { w.Dialysate = 20 },
	} {
		w := good
		w.Days = append([]time.Weekday{}, good.Days...)
		spoil(&w)
		var refused *unit.InputError
		if err := w.Check(); !errors.As(err, &refused) {
			t.Errorf("%s: %v, want it refused", name, err)
		}
	}
}

func TestFreeEvenings(t *testing.T) {
	b := &WeekBook{AroundMin: 76}
	evening := Week{Days: []time.Weekday{time.Monday, time.Tuesday, time.Thursday, time.Saturday}, LengthMin: 240, BloodFlow: 300, Start: 17 * 60}
	night, morning := evening, evening
	night.Start, night.LengthMin = 22*60, 480
	morning.Start = 6 * 60
	for _, tt := range []struct {
		w    Week
		want int
	}{{evening, 3}, {night, 7}, {morning, 7}, {Week{EveryHours: 48, LengthMin: 240, BloodFlow: 300}, 4}} {
		if got := b.freeEvenings(tt.w); got != tt.want {
			t.Errorf("%s at %d: %d evenings free, want %d", tt.w.Long(), tt.w.Start, got, tt.want)
		}
	}
}

// Long nights clear much more phosphate, and the page says by how much at most
// and at least.
func TestPhosphateOfANight(t *testing.T) {
	b := bookOf(t, nil)
	night := b.Now
	night.LengthMin, night.Start = 480, nightStart
	o, err := b.Outcome(night, 50)
	if err != nil {
		t.Fatal(err)
	}
	p := o.Phosphate
	if !p.Has || p.Relative > 0.75 || p.Relative < 0.4 || p.Low > p.Relative || p.High < p.Relative || !strings.Contains(p.Says, "lower") {
		t.Errorf("four nights of eight hours: %+v", p)
	}
}

// Only weeks that meet the target inside the unit's own limits are offered, the
// best by the wish first.
func TestWantedWeeks(t *testing.T) {
	b := bookOf(t, nil)
	weeks := b.Candidates()
	if len(weeks) < 150 || len(weeks) > 250 || !weeks[0].Same(b.Now) {
		t.Fatalf("%d candidate weeks", len(weeks))
	}
	all, err := b.Compare(context.Background(), weeks, 100, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, wish := range []Wish{FewestHours, Gentlest, FreeEvenings} {
		list := Wanted(all, wish, true)
		if len(list) < 5 || len(list) == len(all) {
			t.Fatalf("%s: %d of %d weeks", wish, len(list), len(all))
		}
		for i, o := range list {
			if !o.Meets() || o.Over != "" || o.GapH > maxGapH {
				t.Errorf("%s offers %s: meets %v, %q, gap %.0f h", wish, o.Long(), o.Meets(), o.Over, o.GapH)
			}
			if i == 0 {
				continue
			}
			before := list[i-1]
			switch {
			case wish == FewestHours && o.AroundH < before.AroundH,
				wish == Gentlest && o.MaxRate < before.MaxRate,
				wish == FreeEvenings && o.Evenings > before.Evenings:
				t.Errorf("%s: %s stands before %s", wish, before.Long(), o.Long())
			}
		}
	}
	if many := len(Wanted(all, FewestHours, false)); many <= len(Wanted(all, FewestHours, true)) {
		t.Errorf("%d weeks when a long gap is allowed", many)
	}
}

// The unit's own minimum takes the place of the guideline's.
func TestWeekAgainstTheUnitsMinimum(t *testing.T) {
	h, m, _ := invented(t, 4, 6, nil)
	add(t, h, m, "target-00001", "dose_target", present.Add(-time.Hour), &record.DoseTarget{Measure: "stdktv", Minimum: "3.9", SetBy: "Dr B. Zupan (invented)", SetOn: unit.DateOf(present)})
	b, err := WeekBookOf(h, m, present)
	if err != nil {
		t.Fatal(err)
	}
	o, err := b.Outcome(b.Now, 100)
	if err != nil {
		t.Fatal(err)
	}
	if !o.ByUnit || o.Minimum != 3.9 || o.Meets() {
		t.Errorf("against 3.9 of the unit: %+v", o)
	}
}

// Without a KoA days and length can be changed, flows cannot.
func TestWeekWithoutKoA(t *testing.T) {
	b := bookOf(t, func(e *record.Entry) bool {
		if rx, ok := e.Body.(*session.Prescription); ok {
			rx.KoA = nil
		}
		return true
	})
	w := b.Now
	w.LengthMin += 30
	if _, err := b.Outcome(w, 10); err != nil {
		t.Errorf("another length: %v", err)
	}
	w.BloodFlow -= 50
	if _, err := b.Outcome(w, 10); err == nil || !strings.Contains(err.Error(), "KoA") {
		t.Errorf("another flow: %v", err)
	}
	for _, w := range b.Candidates() {
		if w.BloodFlow != b.Now.BloodFlow {
			t.Errorf("a candidate changes flows: %s", w.Long())
		}
	}
}

// The question names both weeks and every figure with its range, and fits the
// record.
func TestQuestionOfAWeek(t *testing.T) {
	b := bookOf(t, nil)
	w := b.Now
	w.LengthMin = 300
	o, err := b.Outcome(w, 50)
	if err != nil {
		t.Fatal(err)
	}
	q := b.Question(o)
	for _, words := range []string{"5 h each", b.Now.Long(), "standard Kt/V", "Would this week fit me"} {
		if !strings.Contains(q, words) {
			t.Errorf("%q is not in %q", words, q)
		}
	}
	if n := len([]rune(q)); n > 2000 {
		t.Errorf("%d characters", n)
	}
}

func TestCompareStops(t *testing.T) {
	b := bookOf(t, nil)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := b.Compare(ctx, b.Candidates(), 1000, nil); err == nil {
		t.Error("a comparison went on after it was called off")
	}
}

// BenchmarkCandidates is 1,000 persons over all candidate weeks on one core.
func BenchmarkCandidates(b *testing.B) {
	book := bookOf(b, nil)
	weeks := book.Candidates()
	for b.Loop() {
		if _, err := book.Compare(context.Background(), weeks, 1000, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(weeks)), "weeks")
}
