package record

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// BenchmarkBatchesTenYears gathers the batches that a session may be from, of a household
// that made and tested three a week for ten years; and beside it, turn by turn, of one
// that began a month ago: the floor.
func BenchmarkBatchesTenYears(b *testing.B) {
	const years = 10 * 52 * 3
	house := func(made int) (*Member, *session.Session) {
		h := NewHousehold()
		now := time.Date(2026, 6, 11, 19, 30, 0, 0, time.UTC)
		h.LastAt = now
		h.Machine = Versions[session.Machine]{{ID: "machine-1", Value: session.Machine{Name: "the machine", Kind: "batch"}}}
		for i := range made {
			at, id := now.Add(-time.Duration(made-i)*56*time.Hour), fmt.Sprintf("batch-%05d", i)
			h.Upkeep.Batches = append(h.Upkeep.Batches, Dated[session.BatchMade]{ID: id, At: at, place: 2*i + 1})
			h.Upkeep.BatchTests = append(h.Upkeep.BatchTests, Dated[session.BatchTested]{
				ID: id + "-t", At: at.Add(time.Hour), place: 2*i + 2, Value: session.BatchTested{Batch: id, Result: ptr(unit.Concentration(20)), Method: "photometer"},
			})
		}
		m := &Member{ID: "person-one", house: h}
		h.People = []*Member{m}
		s := &session.Session{ID: "session-01", Person: m.ID, Machine: session.Machine{Name: "the machine", Kind: "batch"}}
		s.Add(session.Event{Kind: "session_opened", At: now, Body: &session.Opened{Place: "home"}, Place: 10 * years})
		s.Add(session.Event{Kind: "batch_used", At: now, Body: &session.BatchUsed{Batch: fmt.Sprintf("batch-%05d", made-1)}, Place: 10*years + 1})
		m.Sessions = []*session.Session{s}
		return m, s
	}
	old, s := house(years)
	fresh, of := house(12)
	if n, few := old.batches(s), fresh.batches(of); len(n) != 12 || !slices.EqualFunc(n, few, func(x, y session.Batch) bool { return len(x.Log) == 1 && len(y.Log) == 1 }) {
		b.Fatalf("%d and %d batches", len(n), len(few))
	}
	var all, floor time.Duration
	for b.Loop() {
		began := time.Now()
		old.batches(s)
		all += time.Since(began)
		began = time.Now()
		fresh.batches(of)
		floor += time.Since(began)
	}
	b.ReportMetric(float64(all.Microseconds())/float64(b.N), "µs-ten-years")
	b.ReportMetric(float64(floor.Microseconds())/float64(b.N), "µs-floor")
	b.ReportMetric(float64(all)/float64(floor), "x-floor")
}
