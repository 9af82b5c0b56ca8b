package web

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
)

// BenchmarkRunning makes the page of a treatment under way, and Today beside it, after
// so many readings: the server's own time, and what goes out plain and packed. One
// reading in six is low.
func BenchmarkRunning(b *testing.B) {
	for _, readings := range []int{12, 60} {
		now := time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())
		clock := household.Options{Now: func() time.Time { return now }, Zone: simulate.Zone()}
		desk, err := household.Open(context.Background(), filepath.Join(b.TempDir(), "evening.ebb"), clock)
		if err != nil {
			b.Fatal(err)
		}
		b.Cleanup(func() { desk.Close() })
		life, err := simulate.Make(simulate.Options{Seed: 3, Months: 2, Until: now, Open: true})
		if err != nil {
			b.Fatal(err)
		}
		if out, err := desk.Record(context.Background(), life.Entries...); err != nil || !out.Clear() {
			b.Fatalf("the invented household was not taken: %v", err)
		}
		handler, err := New(desk, Options{Version: "bench"})
		if err != nil {
			b.Fatal(err)
		}
		base := "/p/" + life.Person + "/session/" + life.Open
		for i := range readings {
			now = now.Add(2 * time.Minute)
			upper := 128 - i%5
			if i%6 == 5 {
				upper = 84
			}
			form := formOf("id", newID(), "systolic_mmhg", fmt.Sprint(upper), "diastolic_mmhg", "60", "again.systolic_mmhg", fmt.Sprint(upper),
				"venous_mmhg", fmt.Sprint(130+i%4), "pulse_bpm", "72")
			if code, text := posted(handler, base+"/reading", form); code != http.StatusSeeOther {
				b.Fatalf("reading %d: %d %s", i, code, problems(text))
			}
		}
		for name, path := range map[string]string{"running": base, "today": "/p/" + life.Person + "/"} {
			b.Run(fmt.Sprintf("%s/readings=%d", name, readings), func(b *testing.B) {
				var took []time.Duration
				var body []byte
				for b.Loop() {
					answer := httptest.NewRecorder()
					began := time.Now()
					handler.ServeHTTP(answer, httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+path, nil))
					took = append(took, time.Since(began))
					if answer.Code != http.StatusOK {
						b.Fatalf("GET %s: %d", path, answer.Code)
					}
					body = answer.Body.Bytes()
				}
				slices.Sort(took)
				b.ReportMetric(float64(took[len(took)/2].Microseconds()), "µs-p50")
				b.ReportMetric(float64(len(body)), "B-page")
				b.ReportMetric(float64(packed(b, body)), "B-packed")
			})
		}
	}
}
