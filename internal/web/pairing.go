package web

import (
	"bytes"
	"errors"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"ebbline/internal/household"
)

// pairedCookie holds the token of a screen that was paired.
const pairedCookie = "pairing"

// pairedFor is how long a browser keeps it, in seconds; each day that the screen
// is used it is handed out again. Browsers keep none for longer (from memory).
const pairedFor = 400 * 24 * 60 * 60

// openToAll are the routes that need no pairing: the emergency card, which has
// to be readable by whoever stands there; style and pictures; the calendar feed,
// whose address is a secret of its own; the choice of day or night; and pairing
// itself. Every other route is shut, those to come as well.
var openToAll = map[string]bool{
	"GET /card":             true,
	"GET /p/{p}/card":       true,
	"GET /p/{p}/card.pdf":   true,
	"GET /static/":          true,
	"GET /static/paper.css": true,
	"GET /calendar/{file}":  true,
	"POST /theme":           true,
	"GET /pair":             true,
	"POST /pair":            true,
}

// paired lets through this computer, the screens that were paired, and whoever
// asks for what is open to all.
func (s *server) paired(mux *http.ServeMux) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if s.screens == nil {
			mux.ServeHTTP(w, r)
			return
		}
		if _, route := mux.Handler(r); !openToAll[route] && !s.mayPass(w, r) {
			s.unpaired(w, r)
			return
		}
		mux.ServeHTTP(w, r)
	})
}

// mayPass reports whether a request comes from this computer or a paired screen,
// and gives a screen its cookie anew once a day.
func (s *server) mayPass(w http.ResponseWriter, r *http.Request) bool {
	if s.screens == nil || fromHere(r) {
		return true
	}
	c, err := r.Cookie(pairedCookie)
	if err != nil {
		return false
	}
	was, ok := s.screens.Known(c.Value)
	if ok && w != nil && s.desk.Now().YearDay() != was.Seen.In(s.desk.Zone()).YearDay() {
		s.giveToken(w, r, c.Value)
	}
	return ok
}

func (s *server) giveToken(w http.ResponseWriter, r *http.Request, token string) {
	http.SetCookie(w, &http.Cookie{Name: pairedCookie, Value: token, Path: "/", MaxAge: pairedFor, HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: r.TLS != nil})
}

// fromHere reports whether a request was made on this computer: over its loopback
// and under a loopback name, or from one of its addresses to the same one. What
// some other program passed on is not, whoever asked that one.
func fromHere(r *http.Request) bool {
	for _, passedOn := range []string{"Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Real-Ip", "Via"} {
		if r.Header.Get(passedOn) != "" {
			return false
		}
	}
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return false
	}
	if from.Addr().Unmap().IsLoopback() {
		return loopback[hostOf(r)]
	}
	at, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok {
		return false
	}
	to, err := netip.ParseAddrPort(at.String())
	return err == nil && to.Addr().Unmap() == from.Addr().Unmap()
}

// loopback are the names of this computer for itself.
var loopback = map[string]bool{"localhost": true, "127.0.0.1": true, "::1": true}

// pairBody is what a screen that is not paired is shown.
type pairBody struct {
	Code, Name string
	Problem    string
	Lost       bool // something was sent that could not be kept
}

// unpaired answers a screen that may not pass. Nothing of the record is in it,
// not even whether what was asked for is there.
func (s *server) unpaired(w http.ResponseWriter, r *http.Request) {
	if strings.HasPrefix(r.URL.Path, "/live") {
		http.Error(w, "This screen is not paired.", http.StatusForbidden)
		return
	}
	s.showPair(w, r, http.StatusForbidden, pairBody{Lost: r.Method == http.MethodPost})
}

// showPair renders the page without looking at the record.
func (s *server) showPair(w http.ResponseWriter, r *http.Request, status int, b pairBody) {
	var text bytes.Buffer
	f := frame{Title: "Pair this screen", Here: "pair", Page: "pair", Theme: theme(r), AsOf: s.desk.Now(), Version: s.version, Bare: true, Body: b}
	if err := s.pages["pair"].ExecuteTemplate(&text, "layout", f); err != nil {
		s.log.Error("page", "path", "/pair", "error", err)
		http.Error(w, "The page could not be made.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = text.WriteTo(w) // the reader went away; nothing to do about it
}

// pairPage is where a screen types the code.
func (s *server) pairPage(w http.ResponseWriter, r *http.Request) {
	if s.mayPass(w, r) {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	code := r.URL.Query().Get("code")
	if len(code) > 6 {
		code = ""
	}
	s.showPair(w, r, http.StatusOK, pairBody{Code: code})
}

// pair takes the code.
func (s *server) pair(w http.ResponseWriter, r *http.Request) {
	if s.mayPass(w, r) {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	r.Body = http.MaxBytesReader(w, r.Body, 1<<12)
	b := pairBody{Code: strings.Join(strings.Fields(r.PostFormValue("code")), ""), Name: strings.TrimSpace(r.PostFormValue("name"))}
	if b.Name == "" || !readable(b.Name, 40) {
		b.Problem = "Give this screen a name of up to 40 letters, so that it can be told from the others."
		s.showPair(w, r, http.StatusUnprocessableEntity, b)
		return
	}
	token, err := s.screens.Pair(b.Code, b.Name)
	var refused *household.PairError
	switch {
	case errors.As(err, &refused):
		b.Problem, b.Code = refused.Words, ""
		s.showPair(w, r, http.StatusForbidden, b)
		return
	case err != nil:
		s.log.Error("page", "path", "/pair", "error", err)
		b.Problem = "This screen could not be written down as paired: the disk of the computer may be full. Look there, and try again."
		s.showPair(w, r, http.StatusServiceUnavailable, b)
		return
	}
	s.giveToken(w, r, token)
	http.Redirect(w, r, "/", http.StatusSeeOther)
}
