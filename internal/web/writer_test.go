package web

import (
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
)

// Who wrote an entry and on which screen is on it: the person by default, and
// whoever the screen was told, in any script.
func TestWhoWritesOnThisScreen(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	client := &http.Client{Jar: jar}
	send := func(path string, form url.Values) {
		t.Helper()
		res, err := client.PostForm(h.http.URL+path, form)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		if res.StatusCode != http.StatusOK {
			t.Fatalf("POST %s: %d", path, res.StatusCode)
		}
	}
	if _, err := client.Get(h.http.URL + base); err != nil {
		t.Fatal(err)
	}
	send(base+"/drink", url.Values{"id": {newID()}, "volume_ml": {"100"}})
	send("/writer", url.Values{"writer": {"Žiga Čuk"}})
	send(base+"/drink", url.Values{"id": {newID()}, "volume_ml": {"110"}})
	var by []string
	h.desk.View(func(r *record.Household) {
		session.Each(r.Session(h.life.Open), func(d *session.Drink, e *session.Event) {
			if d.Volume >= 100 {
				by = append(by, e.By)
			}
		})
	})
	if got := strings.Join(by[len(by)-2:], ", "); got != "Vida Hribar, Žiga Čuk" {
		t.Errorf("the two drinks were written by %s", got)
	}
	// A name that an entry would be refused for is no name, or nothing could be
	// saved on this screen any more.
	for _, name := range []string{"Ana\u202eCuk", "Ana\u2066Cuk", "Ana\nCuk", strings.Repeat("a", 121)} {
		send("/writer", url.Values{"writer": {name}})
		send(base+"/drink", url.Values{"id": {newID()}, "volume_ml": {"120"}})
	}
	at, _ := url.Parse(h.http.URL)
	named := false
	for _, c := range jar.Cookies(at) {
		named = named || c.Name == "screen" && strings.HasPrefix(c.Value, "screen-")
	}
	if !named {
		t.Error("the screen was given no name")
	}
}
