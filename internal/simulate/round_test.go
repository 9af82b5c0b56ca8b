package simulate

import (
	"math"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
	"ebbline/water"
)

// folded gives the household that a life's entries make.
func folded(t *testing.T, l *Life) *record.Household {
	t.Helper()
	h := record.NewHousehold()
	for _, e := range l.Entries {
		if err := h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	return h
}

// The invented round has what a real one would: samples whose results are the
// truth, one month at the action level that was seen to, carbon changed before
// it lets chlorine through, a shelf that never runs out and whose counts show
// what nobody booked.
func TestUpkeepOfKnownTruth(t *testing.T) {
	until := time.Date(2026, 6, 10, 19, 30, 0, 0, Zone())
	life, err := Make(Options{Seed: 20, Months: 6, Until: until, Open: true})
	if err != nil {
		t.Fatal(err)
	}
	h := folded(t, life)
	if len(life.Upkeep.Samples) < 5 {
		t.Errorf("only %d samples came back", len(life.Upkeep.Samples))
	}
	action := 0
	for _, truth := range life.Upkeep.Samples {
		for _, j := range h.Upkeep.Results {
			if j.Value.Sample != truth.ID {
				continue
			}
			first := j.Judgements[0]
			if got := j.Value.Results[0].Value; got != math.Max(1, math.Round(truth.Count)) {
				t.Errorf("%s: written %v, truly %v", truth.ID, got, truth.Count)
			}
			if want := truth.Count >= 50; (first.Verdict == water.Action) != want {
				t.Errorf("%s with %v CFU/mL is judged %s", truth.ID, truth.Count, first.Verdict)
			}
			if first.Verdict == water.Action {
				action++
				if j.Closed == nil {
					t.Errorf("%s was never followed up", truth.ID)
				}
			}
		}
	}
	if action == 0 {
		t.Error("no result ever asked for anything")
	}
	under := 0
	for _, s := range h.Upkeep.Samples() {
		if s.State != water.SampleJudged {
			under++
		}
	}
	if under == 0 {
		t.Error("no sample is under way")
	}
	day := unit.DateOf(until)
	for _, it := range h.Shelf(until) {
		if stock.Usable(it.Stock(), day) <= 0 || it.Unbooked > 0 {
			t.Errorf("%s: %s usable, %s unbooked", it.Item, stock.Usable(it.Stock(), day), it.Unbooked)
		}
		var drift unit.Pieces
		for _, c := range it.Counts {
			drift += c.Drift()
		}
		if want := life.Upkeep.Drift[it.Item]; drift-want > unit.Pieces(len(it.Counts))*unit.Piece || drift < want {
			t.Errorf("%s: the counts show %s missing, truly %s were used unbooked", it.Item, drift, want)
		}
	}
	if len(h.Upkeep.Deliveries) < 5 || len(h.Upkeep.Recalls) != 1 || !h.FoundBy(h.Upkeep.Recalls[0]).None() {
		t.Errorf("%d deliveries, %d recalls", len(h.Upkeep.Deliveries), len(h.Upkeep.Recalls))
	}
	again, err := Make(Options{Seed: 20, Months: 6, Until: until, Open: true})
	if err != nil || len(again.Entries) != len(life.Entries) {
		t.Fatalf("the same seed: %d entries, then %d (%v)", len(life.Entries), len(again.Entries), err)
	}
	for i := range life.Entries {
		a, err1 := life.Entries[i].MarshalJSON()
		b, err2 := again.Entries[i].MarshalJSON()
		if err1 != nil || err2 != nil || string(a) != string(b) {
			t.Fatalf("entry %d of the same seed: %s, then %s", i, a, b)
		}
	}
}

// Nothing of the household is written for a moment that has not come, whatever
// the hour at which the demonstration is opened.
func TestNothingOfTheRoundLiesAhead(t *testing.T) {
	for hour := 0; hour < 24; hour += 3 {
		until := time.Date(2026, 6, 14, hour, 10, 0, 0, Zone()) // a Sunday
		life, err := Make(Options{Seed: 3, Months: 1, Until: until, Open: true})
		if err != nil {
			t.Fatalf("at %d: %v", hour, err)
		}
		for _, e := range life.Entries {
			if e.Written.After(until) || e.At.After(until) {
				t.Errorf("at %d: %s of %s was written at %s", hour, e.Kind, e.At, e.Written)
			}
		}
	}
}

func BenchmarkMakeHalfYear(b *testing.B) {
	until := time.Date(2026, 6, 10, 19, 30, 0, 0, Zone())
	for b.Loop() {
		if _, err := Make(Options{Seed: 1, Months: 6, Until: until}); err != nil {
			b.Fatal(err)
		}
	}
}
