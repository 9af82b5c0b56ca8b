package simulate

import (
	"math"
	"testing"
	"time"

	"ebbline/record"
)

// Each month has its pair of samples, within the error of a laboratory of what
// is true, tied to its session; nothing critical is left unanswered.
func TestMonthlyBloods(t *testing.T) {
	until := time.Date(2026, 6, 10, 19, 30, 0, 0, Zone())
	life, err := Make(Options{Seed: 7, Months: 6, Until: until})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(life.Blood.Samples); n < 5 || n > 7 {
		t.Errorf("%d pairs of samples in six months", n)
	}
	h := record.NewHousehold()
	for _, e := range life.Entries {
		if err := h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	m := h.Member(life.Person)
	for _, truth := range life.Blood.Samples {
		pre, post := m.SampleOf(truth.Session, record.Pre, "urea"), m.SampleOf(truth.Session, record.Post, "urea")
		if pre == nil || post == nil {
			t.Fatalf("session %s has no pair", truth.Session)
		}
		for name, pair := range map[string][2]float64{"pre": {ureaOf(pre), truth.Pre.MmolPerL()}, "post": {ureaOf(post), truth.Post.MmolPerL()}} {
			if off := math.Abs(pair[0]/pair[1] - 1); off > 0.15 {
				t.Errorf("%s %s: %.1f printed, %.1f true", truth.Session, name, pair[0], pair[1])
			}
		}
		if truth.StdKtV < 1.5 || truth.StdKtV > 4.5 {
			t.Errorf("%s: a true standard Kt/V of %.2f", truth.Session, truth.StdKtV)
		}
	}
	if open := m.CriticalOpen(); len(open) != 0 {
		t.Errorf("%d critical results are unanswered", len(open))
	}
}

func ureaOf(b *record.Blood) float64 {
	u, _ := b.Value.Urea()
	return u.MmolPerL()
}
