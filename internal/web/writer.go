package web

import (
	"net/http"
	"net/url"
	"strings"
	"time"
	"unicode/utf8"

	"ebbline/record"
)

// forYears is how long a screen keeps what it was told about itself.
const forYears = int(10 * 365 * 24 * time.Hour / time.Second)

// device names the screen an entry was written on.
func device(r *http.Request) string {
	if c, err := r.Cookie("screen"); err == nil && readable(c.Value, 40) {
		return c.Value
	}
	return "page"
}

// nameScreen gives a screen that has none a name of its own, so that entries
// tell which one they came from.
func nameScreen(w http.ResponseWriter, r *http.Request) {
	if _, err := r.Cookie("screen"); err == nil {
		return
	}
	http.SetCookie(w, &http.Cookie{Name: "screen", Value: "screen-" + newID()[:5], Path: "/", MaxAge: forYears, SameSite: http.SameSiteLaxMode, HttpOnly: true})
}

// readable reports whether what a cookie says is a text of no more than so many
// bytes; an entry would be refused for what its writer never sees.
func readable(text string, longest int) bool {
	return len(text) <= longest && utf8.ValidString(text) && !strings.ContainsFunc(text, record.Upsets)
}

// writer names who writes on this screen, when it was told; else nobody.
func writer(r *http.Request) string {
	c, err := r.Cookie("writer")
	if err != nil {
		return ""
	}
	name, err := url.QueryUnescape(c.Value)
	if err != nil || !readable(name, 120) {
		return ""
	}
	return name
}

// by names who wrote an entry: whoever the screen says, else the person whose
// page it is.
func (s *server) by(r *http.Request) string {
	name := writer(r)
	if name == "" {
		s.desk.View(func(h *record.Household) {
			if m := h.Member(r.PathValue("p")); m != nil {
				name = person(m).Name
			}
		})
	}
	return name
}

// writers are the names that a screen can be told: the person and who helps.
func writers(m *record.Member) []string {
	p, _ := m.Person.Now()
	if p.Carer == "" {
		return nil
	}
	return []string{p.Name, p.Carer}
}

// setWriter keeps in this screen's own cookie who writes on it.
func (s *server) setWriter(w http.ResponseWriter, r *http.Request) error {
	http.SetCookie(w, &http.Cookie{Name: "writer", Value: url.QueryEscape(r.PostFormValue("writer")), Path: "/", MaxAge: forYears, SameSite: http.SameSiteLaxMode, HttpOnly: true})
	http.Redirect(w, r, cameFrom(r), http.StatusSeeOther)
	return nil
}
