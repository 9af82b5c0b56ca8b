package web

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/invented"
	"ebbline/internal/simulate"
	"ebbline/record"
)

// A house is a household with its pages, on a clock that the test moves.
type house struct {
	own  bool // own words were written of needles
	t    *testing.T
	desk *household.Desk
	life *simulate.Life
	now  time.Time
	http *httptest.Server
}

// home opens an invented household of so many months, with a session running
// when open is set.
func home(t *testing.T, months int, open bool) *house {
	t.Helper()
	h := &house{t: t, now: homeNow}
	path := filepath.Join(t.TempDir(), "house.ebb")
	if months > 0 {
		h.life = invented.MoveIn(t, path, homeNow, months, open)
	}
	desk, err := household.Open(context.Background(), path, household.Options{Now: func() time.Time { return h.now }, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { desk.Close() })
	h.desk = desk
	handler, err := New(desk, Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	h.http = httptest.NewServer(handler)
	t.Cleanup(h.http.Close)
	return h
}

// homeNow is the evening on which every invented household is opened.
var homeNow = time.Date(2026, 6, 11, 19, 30, 0, 0, simulate.Zone())

func firstFinding(o household.Outcome) record.Findings {
	for _, f := range o.Findings {
		if len(f) > 0 {
			return f
		}
	}
	return nil
}

// get asks for a page and returns its status and text.
func (h *house) get(path string) (int, string) {
	h.t.Helper()
	res, err := http.Get(h.http.URL + path)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		h.t.Fatal(err)
	}
	return res.StatusCode, string(b)
}

// post sends a form as a browser without script does, and returns the status,
// where it leads, and the text.
func (h *house) post(path string, form url.Values) (status int, to, text string) {
	h.t.Helper()
	if form.Get("id") == "" {
		form.Set("id", newID())
	}
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	req, err := http.NewRequest(http.MethodPost, h.http.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		h.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Sec-Fetch-Site", "same-origin")
	res, err := client.Do(req)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		h.t.Fatal(err)
	}
	return res.StatusCode, res.Header.Get("Location"), string(b)
}
