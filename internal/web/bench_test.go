package web

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
)

// decade opens the pages of an invented person who dialysed four times a week
// for ten years, with a session running.
func decade(b *testing.B) (*household.Desk, *simulate.Life, http.Handler, *time.Time) {
	b.Helper()
	now := time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())
	desk, err := household.Open(context.Background(), filepath.Join(b.TempDir(), "decade.ebb"), household.Options{Now: func() time.Time { return now }, Zone: simulate.Zone()})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { desk.Close() })
	life, err := simulate.Make(simulate.Options{Seed: 3, Months: 120, Until: now, Open: true})
	if err != nil {
		b.Fatal(err)
	}
	out, err := desk.Record(context.Background(), life.Entries...)
	if err != nil || !out.Clear() {
		b.Fatalf("the invented decade was not taken: %v", err)
	}
	if len(life.Entries) < 60_000 || len(life.Truth) < 2_000 {
		b.Fatalf("%d entries and %d sessions are not ten years", len(life.Entries), len(life.Truth))
	}
	handler, err := New(desk, Options{Version: "bench"})
	if err != nil {
		b.Fatal(err)
	}
	return desk, life, handler, &now
}

// BenchmarkPagesTenYears makes every page that can be reached, in each phase of
// a session, from the record of ten years: the server's own time, without the
// network, and the bytes that go out plain and packed.
func BenchmarkPagesTenYears(b *testing.B) {
	desk, life, handler, now := decade(b)
	measure := func(name string, p place) {
		b.Run(name, func(b *testing.B) {
			var took []time.Duration
			var body []byte
			for b.Loop() {
				req := httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+p.path, nil)
				answer := httptest.NewRecorder()
				began := time.Now()
				handler.ServeHTTP(answer, req)
				took = append(took, time.Since(began))
				if answer.Code != http.StatusOK {
					b.Fatalf("GET %s: %d", p.path, answer.Code)
				}
				body = answer.Body.Bytes()
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)/2].Microseconds()), "µs-p50")
			b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "µs-p99")
			b.ReportMetric(float64(len(body)), "B-page")
			b.ReportMetric(float64(packed(b, body)), "B-packed")
		})
	}
	done := map[string]bool{}
	for _, p := range crawl(b, desk, life, handler) {
		name := strings.TrimPrefix(p.route, "GET ")
		if strings.HasPrefix(p.route, "GET /static/") {
			name = p.path[:strings.Index(p.path+"?", "?")]
		} else if strings.HasSuffix(name, "/{kind}") {
			name = strings.Replace(name, "{kind}", p.path[strings.LastIndex(p.path, "/")+1:], 1)
		} else if strings.HasSuffix(name, "/session/{s}") || strings.HasSuffix(name, "/session") {
			name += "(" + phaseAt(desk, life, p.path) + ")"
		}
		if !done[name] {
			done[name] = true
			measure(name, p)
		}
	}
	// The phases that the life does not stand in by itself.
	base := "/p/" + life.Person + "/session/" + life.Open
	post := func(path string, pairs ...string) {
		b.Helper()
		form := formOf(pairs...)
		if form.Get("id") == "" {
			form.Set("id", newID())
		}
		if code, text := posted(handler, path, form); code != http.StatusSeeOther {
			b.Fatalf("POST %s: %d %s", path, code, problems(text))
		}
	}
	*now = now.Add(3 * time.Hour)
	var last *session.Reading
	desk.View(func(h *record.Household) { last, _ = session.Last[session.Reading](h.Session(life.Open)) })
	post(base+"/washback_checked", threeTicks...)
	post(base+"/came_off", "washback_ml", "250", "removed_ml", fmt.Sprint(int64(*last.Removed)+900), "returned", "all")
	measure("/p/{p}/session/{s}(coming_off)", place{path: base})
	*now = now.Add(30 * time.Minute)
	post(base + "/closed")
	*now = now.Add(47 * time.Hour)
	measure("/p/{p}/session(start)", place{path: "/p/" + life.Person + "/session"})
	measure("/p/{p}/(between)", place{path: "/p/" + life.Person + "/"})
	post("/p/"+life.Person+"/session", "place", "home", "source", "live", "session", "bench-session")
	base = "/p/" + life.Person + "/session/bench-session"
	measure("/p/{p}/session/{s}(setting_up)", place{path: base})
}

func phaseAt(desk *household.Desk, life *simulate.Life, path string) (phase string) {
	desk.View(func(h *record.Household) {
		s := h.Session(path[strings.LastIndex(path, "/")+1:])
		if s == nil {
			s = h.Member(life.Person).Open()
		}
		if s != nil {
			phase = string(s.Phase())
		}
	})
	return phase
}

func packed(b *testing.B, body []byte) int {
	b.Helper()
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	if _, err := z.Write(body); err != nil {
		b.Fatal(err)
	}
	if err := z.Close(); err != nil {
		b.Fatal(err)
	}
	return out.Len()
}

func posted(handler http.Handler, path string, form url.Values) (int, string) {
	req := httptest.NewRequest(http.MethodPost, "http://127.0.0.1"+path, strings.NewReader(form.Encode()))
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Sec-Fetch-Site", "same-origin")
	answer := httptest.NewRecorder()
	handler.ServeHTTP(answer, req)
	return answer.Code, answer.Body.String()
}

// BenchmarkSaveOverHTTP saves one drink in the record of ten years as a browser
// does, over a connection that stays open, and beside it, turn by turn, sends
// the same form to a server that only writes and syncs it: the floor.
func BenchmarkSaveOverHTTP(b *testing.B) {
	_, life, handler, _ := decade(b)
	pages := httptest.NewServer(handler)
	defer pages.Close()
	plain, err := os.Create(filepath.Join(b.TempDir(), "plain"))
	if err != nil {
		b.Fatal(err)
	}
	defer plain.Close()
	echo := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body, err := io.ReadAll(r.Body)
		if err == nil {
			if _, err = plain.Write(body); err == nil {
				err = syncData(plain)
			}
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		http.Redirect(w, r, "/", http.StatusSeeOther)
	}))
	defer echo.Close()
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	send := func(address string, form string) time.Duration {
		req, err := http.NewRequest(http.MethodPost, address, strings.NewReader(form))
		if err != nil {
			b.Fatal(err)
		}
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		began := time.Now()
		res, err := client.Do(req)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := io.Copy(io.Discard, res.Body); err != nil {
			b.Fatal(err)
		}
		res.Body.Close()
		if res.StatusCode != http.StatusSeeOther {
			b.Fatalf("POST %s: %d", address, res.StatusCode)
		}
		return time.Since(began)
	}
	var ours, floor []time.Duration
	for b.Loop() {
		form := formOf("id", newID(), "volume_ml", "100").Encode()
		ours = append(ours, send(pages.URL+"/p/"+life.Person+"/session/"+life.Open+"/event/drink", form))
		floor = append(floor, send(echo.URL, form))
	}
	slices.Sort(ours)
	slices.Sort(floor)
	p50, base := ours[len(ours)/2], floor[len(floor)/2]
	b.ReportMetric(float64(p50.Microseconds()), "µs-p50")
	b.ReportMetric(float64(ours[len(ours)*99/100].Microseconds()), "µs-p99")
	b.ReportMetric(float64(base.Microseconds()), "µs-floor")
	b.ReportMetric(float64(p50)/float64(base), "x-floor")
}
