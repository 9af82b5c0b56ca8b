package household

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
)

// tenYears makes the record of an invented person who dialysed four times a
// week for ten years, with a session running: over 2,000 sessions and 60,000
// entries.
func tenYears(tb testing.TB) (path string, life *simulate.Life, c *clock) {
	tb.Helper()
	c = &clock{at: time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())}
	path = filepath.Join(tb.TempDir(), "decade.ebb")
	life, err := simulate.Make(simulate.Options{Seed: 3, Months: 120, Until: c.at, Open: true})
	if err != nil {
		tb.Fatal(err)
	}
	d := opened(tb, path, c)
	out, err := d.Record(context.Background(), life.Entries...)
	if err != nil || !out.Clear() {
		tb.Fatalf("the invented decade was not taken: %v", err)
	}
	if err := d.Close(); err != nil {
		tb.Fatal(err)
	}
	if len(life.Entries) < 60_000 || len(life.Truth) < 2_000 {
		tb.Fatalf("%d entries and %d sessions are not ten years", len(life.Entries), len(life.Truth))
	}
	return path, life, c
}

func opened(tb testing.TB, path string, c *clock) *Desk {
	tb.Helper()
	d, err := Open(context.Background(), path, Options{Now: c.now, Zone: simulate.Zone()})
	if err != nil {
		tb.Fatal(err)
	}
	return d
}

// BenchmarkOpenTenYears opens, verifies and folds the record of ten years. CPU
// time is given beside the time, since a shared machine moves it least.
func BenchmarkOpenTenYears(b *testing.B) {
	path, life, c := tenYears(b)
	cpu := cpuTime(b)
	for b.Loop() {
		if err := opened(b, path, c).Close(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64((cpuTime(b)-cpu).Milliseconds())/float64(b.N), "ms-cpu/op")
	b.ReportMetric(float64(len(life.Entries)), "entries")

	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	d := opened(b, path, c)
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/1e6, "MB-held")
	if err := d.Close(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkRecordHalfYear takes the entries of a new demonstration in, as
// `ebbline demo` does before its page opens.
func BenchmarkRecordHalfYear(b *testing.B) {
	c := &clock{at: time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())}
	entries := 0
	for b.Loop() {
		life, err := simulate.Make(simulate.Options{Seed: 20, Months: 6, Until: c.at, Open: true})
		if err != nil {
			b.Fatal(err)
		}
		d := opened(b, filepath.Join(b.TempDir(), "demo.ebb"), c)
		if out, err := d.Record(context.Background(), life.Entries...); err != nil || !out.Clear() {
			b.Fatal(err)
		}
		if err := d.Close(); err != nil {
			b.Fatal(err)
		}
		entries = len(life.Entries)
	}
	b.ReportMetric(float64(entries), "entries")
}

// BenchmarkSaveTenYears saves one entry durably in the record of ten years –
// held against the rules, sealed, synced and folded – and beside it, turn by
// turn, writes and syncs the same bytes to a plain file: the floor. It reports
// the medians and their ratio, which another machine moves least.
func BenchmarkSaveTenYears(b *testing.B) {
	path, life, c := tenYears(b)
	d := opened(b, path, c)
	defer d.Close()
	plain, err := os.Create(filepath.Join(b.TempDir(), "plain"))
	if err != nil {
		b.Fatal(err)
	}
	defer plain.Close()

	for _, kind := range []struct {
		name string
		make func(i int) record.Entry
	}{
		{"drink", func(i int) record.Entry { return drink(life, fmt.Sprintf("bench-drink-%08d", i), 100) }},
		{"weight", func(i int) record.Entry { return weighed(life, fmt.Sprintf("bench-weigh-%08d", i)) }},
	} {
		b.Run(kind.name, func(b *testing.B) {
			var ours, floor []time.Duration
			for b.Loop() {
				saved++
				e := kind.make(saved)
				began := time.Now()
				out, err := d.Record(context.Background(), e)
				ours = append(ours, time.Since(began))
				if err != nil || !out.Clear() {
					b.Fatal(err, out.Findings)
				}
				d.stamp(&e, c.now())
				bytes, err := json.Marshal(e)
				if err != nil {
					b.Fatal(err)
				}
				began = time.Now()
				if _, err := plain.Write(bytes); err != nil {
					b.Fatal(err)
				}
				if err := syncData(plain); err != nil {
					b.Fatal(err)
				}
				floor = append(floor, time.Since(began))
			}
			slices.Sort(ours)
			slices.Sort(floor)
			p50, base := ours[len(ours)/2], floor[len(floor)/2]
			b.ReportMetric(float64(p50.Microseconds()), "µs-p50")
			b.ReportMetric(float64(ours[len(ours)*99/100].Microseconds()), "µs-p99")
			b.ReportMetric(float64(base.Microseconds()), "µs-floor")
			b.ReportMetric(float64(p50)/float64(base), "x-floor")
		})
	}
}

// saved counts what was saved, so that each id is new.
var saved int

// weighed is the weight before the running session once more: the costliest
// entry to judge, since it is held against the usual gain of ten years.
func weighed(life *simulate.Life, id string) record.Entry {
	for _, e := range slices.Backward(life.Entries) {
		if e.Kind == "weigh_in" && e.Session == life.Open {
			e.ID, e.Written, e.Again = id, time.Time{}, nil
			return e
		}
	}
	panic("the running session has no weight") // the simulation weighs in before it plans
}
