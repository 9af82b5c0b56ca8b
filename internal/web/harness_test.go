package web

import (
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
	"sync"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
)

// A house is a household with its pages, on a clock that the test moves.
type house struct {
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
		h.life = moveIn(t, path, months, open)
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

// A made household is the record of one that was written once, for all tests
// that ask for the like.
type made struct {
	life  *simulate.Life
	files map[string][]byte // by what follows the record's own name
}

var households = struct {
	sync.Mutex
	made map[string]made
}{made: map[string]made{}}

// moveIn puts the record of an invented household at path. Making one, and
// checking each of its thousand entries, costs more than most tests that use it.
func moveIn(t *testing.T, path string, months int, open bool) *simulate.Life {
	t.Helper()
	households.Lock()
	defer households.Unlock()
	key := fmt.Sprint(months, open)
	one, there := households.made[key]
	if !there {
		one = makeHousehold(t, months, open)
		households.made[key] = one
	}
	for rest, content := range one.files {
		if err := os.WriteFile(path+rest, content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	life := *one.life
	life.Entries, life.Truth = slices.Clone(life.Entries), slices.Clone(life.Truth)
	return &life
}

func makeHousehold(t *testing.T, months int, open bool) made {
	t.Helper()
	path := filepath.Join(t.TempDir(), "house.ebb")
	life, err := simulate.Make(simulate.Options{Seed: 11, Months: months, Until: homeNow, Open: open})
	if err != nil {
		t.Fatal(err)
	}
	desk, err := household.Open(context.Background(), path, household.Options{Now: func() time.Time { return homeNow }, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	out, err := desk.Record(context.Background(), life.Entries...)
	if err != nil || !out.Clear() {
		t.Fatalf("the invented household was not taken: %v %v", err, firstFinding(out))
	}
	if err := desk.Close(); err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(path + "*")
	if err != nil {
		t.Fatal(err)
	}
	one := made{life: life, files: map[string][]byte{}}
	for _, name := range names {
		content, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		one.files[strings.TrimPrefix(name, path)] = content
	}
	return one
}

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
