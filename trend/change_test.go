package trend

import (
	"math/rand/v2"
	"testing"
)

func TestChangeOf(t *testing.T) {
	flat := []float64{100, 102, 98, 101, 99, 100, 103, 97, 100, 101, 99, 100}
	with := func(v ...float64) []float64 { return append(append([]float64{}, flat...), v...) }
	for _, tt := range []struct {
		name string
		in   []float64
		says Says
	}{
		{"too few before", []float64{100, 100, 100, 130, 130, 130}, TooFew},
		{"steady", with(100, 101, 99), Steady},
		{"a quarter up", with(125, 126, 125), Rising},
		{"just under a quarter", with(124, 124, 124), Steady},
		{"one wild value of three", with(100, 180, 101), Steady},
		{"a quarter down", with(74, 75, 75), Falling},
		{"up, but it always jumps so", []float64{60, 140, 80, 120, 60, 140, 100, 70, 130, 90, 60, 140, 126, 130, 127}, Steady},
	} {
		if got := ChangeOf(tt.in, 3, 12, 0.25); got.Says != tt.says {
			t.Errorf("%s: %+v, want %s", tt.name, got, tt.says)
		}
	}
}

// The average number of values to a signal, false and true, against the
// printed tables of the cumulative sum with slack 0.5 and limit 5: 465 with
// no drift, 10.4 with a drift of one spread.
func TestWatchRunLengths(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	length := func(drift float64) float64 {
		const runs = 3000
		sum := 0
		for range runs {
			w := WatchOn(0, 1)
			for w.Says() == Steady {
				w.Add(drift + r.NormFloat64())
			}
			sum += w.Seen
		}
		return float64(sum) / runs
	}
	if got := length(0); got < 440 || got > 490 {
		t.Errorf("false signals every %.0f values, want about 465", got)
	}
	if got := length(1); got < 10.1 || got > 10.7 {
		t.Errorf("a drift of one spread seen after %.1f values, want about 10.4", got)
	}
}

func TestWatch(t *testing.T) {
	w := WatchOn(70, 0.2)
	for range 20 {
		if got := w.Add(70.1); got != Steady { // half a spread: the slack
			t.Fatalf("a small offset signals %s", got)
		}
	}
	for range 10 {
		w.Add(69.6)
	}
	if w.Says() != Falling {
		t.Errorf("a fall by two spreads: %+v", w)
	}
	w.Reset(69.6)
	if got := w.Add(69.6); got != Steady {
		t.Errorf("after a reset: %s", got)
	}
	blind := WatchOn(0, 0)
	for range 100 {
		if got := blind.Add(1e6); got != Steady {
			t.Fatalf("without a spread it signals %s", got)
		}
	}
}
