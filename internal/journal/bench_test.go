package journal

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// filled makes a record of n lines with bodies of about size bytes.
func filled(tb testing.TB, n, size int) string {
	tb.Helper()
	ctx := context.Background()
	path := filepath.Join(tb.TempDir(), "record.sqlite")
	j, err := Open(ctx, path, Options{})
	if err != nil {
		tb.Fatal(err)
	}
	for first := 0; first < n; first += 1000 {
		var lines []Line
		for i := first; i < min(n, first+1000); i++ {
			lines = append(lines, sample(i, size))
		}
		if _, err := j.Append(ctx, lines...); err != nil {
			tb.Fatal(err)
		}
	}
	if err := j.Close(); err != nil {
		tb.Fatal(err)
	}
	return path
}

// sample is the i-th line that a sender would make: an id of 26 letters and a
// body whose bytes follow from i.
func sample(i, size int) Line {
	body := make([]byte, size)
	for at := range body {
		body[at] = byte('a' + (i*7+at*(i%13+1))%26)
	}
	return Line{ID: fmt.Sprintf("line-%021d", i), Body: body}
}

// BenchmarkOpen60000 opens and verifies ten years' lines (2,000 sessions).
func BenchmarkOpen60000(b *testing.B) {
	const lines = 60_000
	ctx := context.Background()
	path := filled(b, lines, 400)
	for b.Loop() {
		j, err := Open(ctx, path, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if seq, _ := j.Head(); seq != lines {
			b.Fatalf("%d lines, want %d", seq, lines)
		}
		if err := j.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLines60000 reads them all, as the fold at the start does.
func BenchmarkLines60000(b *testing.B) {
	j, err := Open(context.Background(), filled(b, 60_000, 400), Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	for b.Loop() {
		readAll(b, j, 60_000)
	}
}

// readAll goes through so many lines.
func readAll(b *testing.B, j *Journal, lines int) {
	b.Helper()
	n := 0
	for _, err := range j.Lines(context.Background(), 0) {
		if err != nil {
			b.Fatal(err)
		}
		n++
	}
	if n != lines {
		b.Fatalf("%d lines", n)
	}
}

// BenchmarkAppend saves one line of 400 bytes durably, and beside it, turn by
// turn, writes and syncs the same bytes to a plain file: the floor. It reports
// the medians and their ratio, which a shared machine moves least.
func BenchmarkAppend(b *testing.B) {
	ctx := context.Background()
	dir := b.TempDir()
	j, err := Open(ctx, filepath.Join(dir, "record.sqlite"), Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	plain, err := os.Create(filepath.Join(dir, "plain"))
	if err != nil {
		b.Fatal(err)
	}
	defer plain.Close()

	var ours, floor []time.Duration
	for i := 0; b.Loop(); i++ {
		l := sample(i, 400)
		t0 := time.Now()
		if _, err := j.Append(ctx, l); err != nil {
			b.Fatal(err)
		}
		t1 := time.Now()
		if _, err := plain.Write(append([]byte(l.ID), l.Body...)); err != nil {
			b.Fatal(err)
		}
		if err := syncData(plain); err != nil {
			b.Fatal(err)
		}
		ours, floor = append(ours, t1.Sub(t0)), append(floor, time.Since(t1))
	}
	slices.Sort(ours)
	slices.Sort(floor)
	p50, base := ours[len(ours)/2], floor[len(floor)/2]
	b.ReportMetric(float64(p50.Microseconds()), "µs-p50")
	b.ReportMetric(float64(ours[len(ours)*99/100].Microseconds()), "µs-p99")
	b.ReportMetric(float64(base.Microseconds()), "µs-floor")
	b.ReportMetric(float64(p50)/float64(base), "x-floor")
}

// BenchmarkAppendSealed saves one line of 400 bytes durably in a sealed record,
// and beside it, turn by turn, in a plain one, and reports the medians and their
// ratio.
func BenchmarkAppendSealed(b *testing.B) {
	ctx := context.Background()
	sealed, plain := unlocked(b, sealedRecord(b, 1, 400)), opened(b, filled(b, 1, 400))
	var ours, floor []time.Duration
	for i := 1; b.Loop(); i++ {
		l := sample(i, 400)
		t0 := time.Now()
		if _, err := sealed.Append(ctx, l); err != nil {
			b.Fatal(err)
		}
		t1 := time.Now()
		if _, err := plain.Append(ctx, l); err != nil {
			b.Fatal(err)
		}
		ours, floor = append(ours, t1.Sub(t0)), append(floor, time.Since(t1))
	}
	slices.Sort(ours)
	slices.Sort(floor)
	o, f := ours[len(ours)/2], floor[len(floor)/2]
	b.ReportMetric(float64(o.Microseconds()), "µs-sealed/op")
	b.ReportMetric(float64(f.Microseconds()), "µs-plain/op")
	b.ReportMetric(float64(o)/float64(f), "ratio")
}

// BenchmarkLinesSealed60000 reads and opens ten years' sealed lines.
func BenchmarkLinesSealed60000(b *testing.B) {
	j := unlocked(b, sealedRecord(b, 60_000, 400))
	for b.Loop() {
		readAll(b, j, 60_000)
	}
}

// BenchmarkReseal60000 seals ten years' lines, with the copy and the comparing.
func BenchmarkReseal60000(b *testing.B) {
	path := filled(b, 60_000, 400)
	opts := Options{cost: cheap, Passphrase: saying(right), Now: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	for b.Loop() {
		opts.Now = opts.Now.Add(time.Hour)
		done, err := Reseal(context.Background(), path, opts, []byte(right), nil)
		if err != nil {
			b.Fatal(err)
		}
		if err := os.Remove(done.Kept); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPassphrase is what one try costs who opens a record, or guesses.
func BenchmarkPassphrase(b *testing.B) {
	s, err := wrap([16]byte{1}, []byte(right), new([32]byte), usualCost)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, ok, err := s.unwrap([16]byte{1}, []byte(right)); err != nil || !ok {
			b.Fatal(ok, err)
		}
	}
}
