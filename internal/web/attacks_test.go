package web

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/record"
)

// A page of a stranger that had its own name pointed at this address gets
// nothing (H-132).
func TestForeignHostIsMisdirected(t *testing.T) {
	h := home(t, 1, true)
	for host, want := range map[string]int{
		"127.0.0.1": 200, "127.0.0.1:8361": 200, "localhost": 200, "LOCALHOST:1": 200, "[::1]:8361": 200,
		"evil.example": 421, "evil.example:8361": 421, "127.0.0.1.evil.example": 421, "localhost.evil.example": 421,
		"192.168.1.20": 421, "0.0.0.0": 421, "[::2]:80": 421, "evil.example@127.0.0.1": 421,
	} {
		res := h.send(http.MethodGet, vida+"/", nil, func(r *http.Request) { r.Host = host })
		text, err := io.ReadAll(res.Body)
		res.Body.Close()
		if err != nil || res.StatusCode != want {
			t.Errorf("Host %s: %d, want %d", host, res.StatusCode, want)
		}
		if want != 200 && strings.Contains(string(text), "Vida") {
			t.Errorf("Host %s is told the name", host)
		}
	}
	named, err := New(h.desk, Options{Hosts: []string{"Kitchen.local"}})
	if err != nil {
		t.Fatal(err)
	}
	for host, want := range map[string]int{"kitchen.local:8361": 200, "bath.local:8361": 421} {
		answer := httptest.NewRecorder()
		named.ServeHTTP(answer, httptest.NewRequest(http.MethodGet, "http://"+host+vida+"/", nil))
		if answer.Code != want {
			t.Errorf("with -lan, Host %s: %d, want %d", host, answer.Code, want)
		}
	}
}

// What another page makes the browser send is refused and leaves nothing
// (H-132).
func TestCrossSitePostIsRefused(t *testing.T) {
	h := home(t, 1, true)
	path := vida + "/session/" + h.life.Open + "/event/drink"
	for name, edit := range map[string]func(http.Header){
		"cross-site":         func(x http.Header) { x.Set("Sec-Fetch-Site", "cross-site") },
		"same-site":          func(x http.Header) { x.Set("Sec-Fetch-Site", "same-site") },
		"foreign origin":     func(x http.Header) { x.Del("Sec-Fetch-Site"); x.Set("Origin", "http://evil.example") },
		"other port":         func(x http.Header) { x.Del("Sec-Fetch-Site"); x.Set("Origin", "http://127.0.0.1:1") },
		"no origin to speak": func(x http.Header) { x.Del("Sec-Fetch-Site"); x.Set("Origin", "null") },
	} {
		before := entries(h)
		res := h.send(http.MethodPost, path, formOf("id", newID(), "volume_ml", "500"), func(r *http.Request) { edit(r.Header) })
		res.Body.Close()
		if res.StatusCode != http.StatusForbidden {
			t.Errorf("%s: %d, want 403", name, res.StatusCode)
		}
		if entries(h) != before {
			t.Errorf("%s: something was saved", name)
		}
		if cors := res.Header.Get("Access-Control-Allow-Origin"); cors != "" {
			t.Errorf("%s: another page may read the answer: %s", name, cors)
		}
	}
	res := h.send(http.MethodPost, path, formOf("id", newID(), "volume_ml", "100"), nil)
	if res.Body.Close(); res.StatusCode != http.StatusSeeOther {
		t.Errorf("from the own page: %d", res.StatusCode)
	}
}

// There is no way to delete or overwrite: no address takes anything but
// looking and adding (H-48).
func TestNothingCanBeDeleted(t *testing.T) {
	t.Parallel()
	found := walked(t)
	h := home(t, 2, true) // the same household, so each address is one of its own
	handler, err := New(h.desk, Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	before := entries(h)
	for _, p := range found {
		for _, method := range []string{http.MethodDelete, http.MethodPut, http.MethodPatch} {
			answer := httptest.NewRecorder()
			req := httptest.NewRequest(method, "http://127.0.0.1"+p.path, nil)
			handler.ServeHTTP(answer, req)
			if answer.Code != http.StatusMethodNotAllowed {
				t.Errorf("%s %s: %d, want 405", method, p.path, answer.Code)
			}
		}
	}
	if entries(h) != before {
		t.Error("an entry was made or lost")
	}
	for _, k := range record.Kinds() {
		if strings.Contains(k.Name, "delete") || strings.Contains(k.Name, "remove") {
			t.Errorf("%s is a kind of entry", k.Name)
		}
	}
}

// No page is kept by a browser, none may be framed, and none runs or fetches
// what is not its own (H-43).
func TestHeadersOfEveryPage(t *testing.T) {
	t.Parallel()
	for _, p := range walked(t) {
		head := p.answer.Header()
		keep := head.Get("Cache-Control")
		switch {
		case !strings.HasPrefix(p.path, "/static/"):
			if keep != "no-store" {
				t.Errorf("%s may be kept: %q", p.path, keep)
			}
		case strings.Contains(p.path, "v=test"):
			if !strings.Contains(keep, "immutable") {
				t.Errorf("%s is asked for again each time: %q", p.path, keep)
			}
		case keep != "no-cache":
			t.Errorf("%s, without a version, may be kept: %q", p.path, keep)
		}
		policy := head.Get("Content-Security-Policy")
		if !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "frame-ancestors 'none'") || strings.Contains(policy, "unsafe") || strings.Contains(policy, "http") {
			t.Errorf("%s: policy %q", p.path, policy)
		}
		if head.Get("X-Content-Type-Options") != "nosniff" || head.Get("Cross-Origin-Resource-Policy") != "same-origin" || head.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: headers %v", p.path, head)
		}
	}
}

// An address in a form leads nowhere but to this server.
func TestNextStaysOnThisServer(t *testing.T) {
	h := home(t, 1, true)
	path := vida + "/session/" + h.life.Open + "/note"
	for _, next := range []string{"//evil.example/", "https://evil.example/", `/\evil.example`, "javascript:alert(1)", "/x\r\nSet-Cookie: a=b", " //evil.example"} {
		if to := h.saved(path, "words", "a note", "next", next); strings.Contains(to, "evil") || strings.Contains(to, "alert") || strings.Contains(to, "Cookie") {
			t.Errorf("next=%q leads to %q", next, to)
		}
	}
	if to := h.saved(path, "words", "a note", "next", vida+"/sessions"); to != vida+"/sessions" {
		t.Errorf("an address of this server leads to %q", to)
	}
}

// What is too long to be an entry is refused in words, and nothing is kept.
func TestTooMuchIsRefused(t *testing.T) {
	h := home(t, 1, true)
	before := entries(h)
	status, _, text := h.post(vida+"/session/"+h.life.Open+"/note", formOf("words", strings.Repeat("long ", 1<<18)))
	if status != http.StatusRequestEntityTooLarge || !strings.Contains(text, "too long") {
		t.Errorf("a note of 1.3 MB: %d", status)
	}
	if status, _, _ := h.post(vida+"/session/"+h.life.Open+"/note", formOf("words", strings.Repeat("x", 4001))); status != http.StatusUnprocessableEntity {
		t.Errorf("a note of 4001 characters: %d", status)
	}
	if entries(h) != before {
		t.Error("it was kept")
	}
}

// The log of the pages holds no name, number or typed word (H-133).
func TestLogHoldsNoNames(t *testing.T) {
	h := home(t, 1, false)
	var log bytes.Buffer
	handler, err := New(h.desk, Options{Version: "test", Log: slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug}))})
	if err != nil {
		t.Fatal(err)
	}
	h.http.Config.Handler = handler
	base := h.begin()
	h.saved(base+"/unwell", "words", "a secret ache", "did", "told nobody")
	h.refused(base+"/drink", "needs 1 to 3000", "volume_ml", "987654")
	h.get(vida + "/session/no-such-session")
	h.get("/p/Somebody-Else/")
	h.get(base + "/sheet")
	h.post(base+"/drink", formOf("volume_ml", "100", "sent", "a secret ache"))
	if err := h.desk.Close(); err != nil {
		t.Fatal(err)
	}
	h.post(base+"/drink", formOf("volume_ml", "123"))
	h.get(base)
	slog.New(slog.NewTextHandler(&log, nil)).Info("the end") // so that an empty log is seen to be one
	for _, name := range []string{"Vida", "Hribar", "1969", "DEMO-0417", "secret ache", "987654", "Zupan", "555", "Matej"} {
		if strings.Contains(log.String(), name) {
			t.Errorf("the log holds %q:\n%s", name, log.String())
		}
	}
	if !strings.Contains(log.String(), "the end") {
		t.Fatal("the log was not looked at")
	}
}

// Two screens hear of an entry from a third without asking, and what they hear
// names nobody (H-41).
func TestScreensHearOfEachOther(t *testing.T) {
	h := home(t, 1, true)
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	var screens []*bufio.Scanner
	for range 2 {
		req, err := http.NewRequestWithContext(ctx, http.MethodGet, h.http.URL+"/live", nil)
		if err != nil {
			t.Fatal(err)
		}
		res, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		screens = append(screens, bufio.NewScanner(res.Body))
	}
	hear := func(s *bufio.Scanner) (news struct {
		State   uint64
		Now     time.Time
		Version string
		Unsaved bool
	}) {
		for s.Scan() {
			if line, ok := strings.CutPrefix(s.Text(), "data: "); ok {
				dec := json.NewDecoder(strings.NewReader(line))
				dec.DisallowUnknownFields()
				if err := dec.Decode(&news); err != nil {
					t.Fatalf("%v: %s", err, line)
				}
				return news
			}
		}
		t.Fatalf("the line fell silent: %v", s.Err())
		return news
	}
	first := hear(screens[0])
	hear(screens[1])
	h.saved(vida+"/session/"+h.life.Open+"/event/drink", "volume_ml", "100")
	for i, s := range screens {
		if news := hear(s); news.State <= first.State || news.Unsaved {
			t.Errorf("screen %d heard %+v after %+v", i, news, first)
		}
	}
}

var quietInScript = regexp.MustCompile(`quietFor = (\d+)`)

// A page greys itself after four beats without the server, and that is twenty
// seconds (H-42).
func TestQuietIsFourBeats(t *testing.T) {
	script, err := os.ReadFile("static/ebbline.js")
	if err != nil {
		t.Fatal(err)
	}
	m := quietInScript.FindSubmatch(script)
	if m == nil {
		t.Fatal("the script does not say after what time a page is old")
	}
	quiet, err := strconv.Atoi(string(m[1]))
	if err != nil || time.Duration(quiet)*time.Millisecond != 4*beat || 4*beat > 20*time.Second {
		t.Errorf("old after %d ms, beats of %s", quiet, beat)
	}
}
