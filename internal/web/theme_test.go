package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

func TestTheme(t *testing.T) {
	s := &server{}
	for _, tt := range []struct {
		theme, referer string
		cookie, to     string
	}{
		{"night", "http://example.test/p/x/unit?a=1#b", "theme=night;", "/p/x/unit?a=1"},
		{"day", "", "theme=day;", "/"},
		{"", "http://example.test/p/x/", "theme=; Path=/; Max-Age=0", "/p/x/"},
		{"purple", "http://example.test/", "Max-Age=0", "/"},
		{"night", "http://elsewhere.test/p/x/", "theme=night;", "/"},
		{"night", "http://example.test//elsewhere.test/", "theme=night;", "/"},
		{"night", "::not an address", "theme=night;", "/"},
	} {
		r := httptest.NewRequest(http.MethodPost, "http://example.test/theme", strings.NewReader("theme="+tt.theme))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		if tt.referer != "" {
			r.Header.Set("Referer", tt.referer)
		}
		if err := r.ParseForm(); err != nil {
			t.Fatal(err)
		}
		w := httptest.NewRecorder()
		if err := s.setTheme(w, r); err != nil {
			t.Fatal(err)
		}
		if got := w.Header().Get("Set-Cookie"); !strings.Contains(got, tt.cookie) || !strings.Contains(got, "SameSite=Lax") {
			t.Errorf("%q from %q: cookie %q", tt.theme, tt.referer, got)
		}
		if got := w.Header().Get("Location"); w.Code != http.StatusSeeOther || got != tt.to {
			t.Errorf("%q from %q: %d to %q, want %q", tt.theme, tt.referer, w.Code, got, tt.to)
		}
	}
}

// The choice is on the page from its first byte, so that no night page
// flashes white.
func TestThemeOnThePage(t *testing.T) {
	h, ida := settled(t)
	req, err := http.NewRequest(http.MethodGet, h.http.URL+ida+"/card", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.AddCookie(&http.Cookie{Name: "theme", Value: "night"})
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	b := make([]byte, 120)
	n, _ := res.Body.Read(b)
	if !strings.Contains(string(b[:n]), `<html lang="en" data-theme="night">`) {
		t.Errorf("begins with %q", b[:n])
	}
}
