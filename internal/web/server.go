package web

import (
	"cmp"
	"context"
	"log/slog"
	"maps"
	"net"
	"net/http"
	"strings"
	"time"

	"ebbline/internal/household"
)

// Options are what the pages need beside the desk.
type Options struct {
	Version string   // of the program, shown on every page and checked by the script
	Hosts   []string // host names the pages answer to, beside the loopback ones
	Log     *slog.Logger
	// Screens are the paired ones. Without them every request is let through, so
	// that they may be left out only where this computer alone can reach the pages.
	Screens *household.Screens

	draws int // how many persons a week is weighed with, drawsHere when nothing is said
}

type server struct {
	desk    *household.Desk
	version string
	hosts   map[string]bool
	first   string // of the names that other screens use
	screens *household.Screens
	log     *slog.Logger
	pages   pages
	draws   int
}

// New returns the pages of a household as one handler.
func New(desk *household.Desk, o Options) (http.Handler, error) {
	s := &server{desk: desk, version: o.Version, hosts: maps.Clone(loopback), screens: o.Screens, log: o.Log, draws: cmp.Or(o.draws, drawsHere)}
	if s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	if s.first = "localhost"; len(o.Hosts) > 0 {
		s.first = o.Hosts[0]
	}
	for _, h := range o.Hosts {
		s.hosts[strings.ToLower(h)] = true
	}
	var err error
	if s.pages, err = parsePages(); err != nil {
		return nil, err
	}
	mux := http.NewServeMux()
	s.routes(mux)
	cross := http.NewCrossOriginProtection()
	return s.known(headers(cross.Handler(s.paired(mux)))), nil
}

// known answers only to names of this computer, which shuts out a stranger's
// page that had its own name pointed at this address.
func (s *server) known(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.hosts[hostOf(r)] {
			http.Error(w, "This page answers only to its own computer's name. Use the address that the program printed when it started.", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// hostOf is the name under which a request asks, without a port.
func hostOf(r *http.Request) string {
	host := r.Host
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	return strings.ToLower(strings.Trim(host, "[]"))
}

func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if !strings.HasPrefix(r.URL.Path, "/static/") {
			// A page that is kept is a page that lies after the next entry.
			h.Set("Cache-Control", "no-store")
		}
		next.ServeHTTP(w, r)
	})
}

// Serve answers on a listener until ctx ends. Open live connections end first,
// so that the server can close at once.
func Serve(ctx context.Context, l net.Listener, h http.Handler) error {
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		end, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		return srv.Shutdown(end)
	}
}
