package web

import (
	"net/http"
	"net/url"
	"strings"
	"time"
)

// setTheme keeps the choice of day or night in this screen's own cookie and
// goes back to the page it was made on. No choice follows the device.
func (s *server) setTheme(w http.ResponseWriter, r *http.Request) error {
	c := &http.Cookie{Name: "theme", Path: "/", SameSite: http.SameSiteLaxMode, HttpOnly: true}
	switch chosen := r.PostFormValue("theme"); chosen {
	case "day", "night":
		c.Value, c.MaxAge = chosen, int((10 * 365 * 24 * time.Hour).Seconds())
	default:
		c.MaxAge = -1
	}
	http.SetCookie(w, c)
	http.Redirect(w, r, cameFrom(r), http.StatusSeeOther)
	return nil
}

// cameFrom is the page on this host that a form was sent from, or the first
// page.
func cameFrom(r *http.Request) string {
	from, err := url.Parse(r.Referer())
	if err != nil || !strings.EqualFold(from.Host, r.Host) {
		return "/"
	}
	back := local(from.EscapedPath())
	if back == "" {
		return "/"
	}
	if from.RawQuery != "" {
		back += "?" + from.RawQuery
	}
	return back
}
