package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
)

// BenchmarkStart starts the built program and waits for the first page: on an
// empty record, on one of ten years, and the demonstration, which is made
// first. It reports the time from the start of the process to the whole of the
// first answer, and the memory that the process then holds, at rest and after a
// hundred pages; memory where the system tells it.
func BenchmarkStart(b *testing.B) {
	program := filepath.Join(b.TempDir(), "ebbline")
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", program, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if said, err := build.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, said)
	}
	st, err := os.Stat(program)
	if err != nil {
		b.Fatal(err)
	}
	record := filepath.Join(b.TempDir(), "decade.ebb")
	life := decade(b, record)

	for _, start := range []struct {
		name, page string
		args       func() []string
	}{
		{"empty", "/first", func() []string { return []string{"serve", "-file", filepath.Join(b.TempDir(), "new.ebb")} }},
		{"ten-years", "/p/" + life.Person + "/session", func() []string { return []string{"serve", "-file", record} }},
		{"demo", "/p/" + life.Person + "/session", func() []string { return []string{"demo", "-open=false"} }},
	} {
		b.Run(start.name, func(b *testing.B) {
			var first []time.Duration
			var rest, busy, most int
			for b.Loop() {
				began := time.Now()
				p := begin(b, program, append(start.args(), "-addr", "127.0.0.1:0")...)
				p.page(b, start.page)
				first = append(first, time.Since(began))
				rest = p.memory(b, "VmRSS")
				for range 100 {
					p.page(b, start.page)
				}
				busy, most = p.memory(b, "VmRSS"), p.memory(b, "VmHWM")
				p.end(b)
			}
			slices.Sort(first)
			b.ReportMetric(float64(first[len(first)/2].Milliseconds()), "ms-first-page")
			b.ReportMetric(float64(first[len(first)-1].Milliseconds()), "ms-slowest")
			b.ReportMetric(float64(rest)/1000, "MB-after-start")
			b.ReportMetric(float64(busy)/1000, "MB-after-100-pages")
			b.ReportMetric(float64(most)/1000, "MB-most")
			b.ReportMetric(float64(st.Size())/1e6, "MB-program")
		})
	}
}

// decade writes the record of an invented person who dialysed for ten years.
func decade(b *testing.B, path string) *simulate.Life {
	b.Helper()
	now := time.Now()
	desk, err := household.Open(context.Background(), path, household.Options{Now: time.Now, Zone: simulate.Zone()})
	if err != nil {
		b.Fatal(err)
	}
	life, err := simulate.Make(simulate.Options{Seed: 3, Months: 120, Until: now.Add(-time.Minute), Open: true})
	if err != nil {
		b.Fatal(err)
	}
	if out, err := desk.Record(context.Background(), life.Entries...); err != nil || !out.Clear() {
		b.Fatalf("the invented decade was not taken: %v", err)
	}
	if err := desk.Close(); err != nil {
		b.Fatal(err)
	}
	return life
}

// A running program and the address it printed.
type running struct {
	cmd     *exec.Cmd
	address string
}

var printed = regexp.MustCompile(`https?://\S+`)

func begin(tb testing.TB, program string, args ...string) *running {
	tb.Helper()
	p := &running{cmd: exec.Command(program, args...)}
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		tb.Fatal(err)
	}
	p.cmd.Stderr = os.Stderr
	if err := p.cmd.Start(); err != nil {
		tb.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if p.address = printed.FindString(line); err != nil || p.address == "" {
		tb.Fatalf("it printed %q (%v)", line, err)
	}
	return p
}

// page asks for a page and reads all of it.
func (p *running) page(tb testing.TB, path string) {
	tb.Helper()
	res, err := http.Get(p.address + path[1:])
	if err != nil {
		tb.Fatal(err)
	}
	defer res.Body.Close()
	if n, err := io.Copy(io.Discard, res.Body); err != nil || res.StatusCode != http.StatusOK || n < 1000 {
		tb.Fatalf("GET %s: %s, %d bytes, %v", path, res.Status, n, err)
	}
}

// memory reads what the system says that the process holds, in kB; 0 where it
// says nothing.
func (p *running) memory(tb testing.TB, what string) int {
	tb.Helper()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	m := regexp.MustCompile(what + `:\s+(\d+) kB`).FindSubmatch(status)
	if m == nil {
		tb.Fatalf("%s is not in %s", what, status)
	}
	kb, err := strconv.Atoi(string(m[1]))
	if err != nil {
		tb.Fatal(err)
	}
	return kb
}

func (p *running) end(tb testing.TB) {
	tb.Helper()
	if err := p.cmd.Process.Signal(os.Interrupt); err != nil {
		tb.Fatal(err)
	}
	if err := p.cmd.Wait(); err != nil {
		tb.Fatal(err)
	}
}
