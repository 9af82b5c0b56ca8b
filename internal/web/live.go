package web

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"strings"
	"time"
)

// beat is how often a live page hears from the server when nothing happens; a
// page that has heard nothing for four beats greys itself out.
const beat = 5 * time.Second

// live tells a page, for as long as it stays open, the number of the newest
// state and the server's time.
func (s *server) live(w http.ResponseWriter, r *http.Request) {
	rc := http.NewResponseController(w)
	if err := rc.SetWriteDeadline(time.Time{}); err != nil {
		s.log.Debug("live", "error", err)
	}
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("X-Accel-Buffering", "no")
	tick := time.NewTicker(beat)
	defer tick.Stop()
	for {
		if !s.mayPass(nil, r) {
			return // it was removed meanwhile
		}
		state, newer := s.desk.Watch()
		msg, err := json.Marshal(struct {
			State   uint64    `json:"state"`
			Now     time.Time `json:"now"`
			Version string    `json:"version"`
			Unsaved bool      `json:"unsaved"`
		}{state, s.desk.Now(), s.version, s.desk.Unsaved() != nil})
		if err != nil {
			return
		}
		if _, err := fmt.Fprintf(w, "data: %s\n\n", msg); err != nil || rc.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-newer:
		case <-tick.C:
		}
	}
}

// static serves style, script and pictures. They carry no content hash, so a
// page asks for them with the program's version in the address.
func (s *server) static() http.Handler {
	sub, err := fs.Sub(files, "static")
	if err != nil {
		panic(err) // the folder is compiled in
	}
	h := http.StripPrefix("/static/", http.FileServerFS(sub))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, "/") {
			http.NotFound(w, r) // no list of what there is
			return
		}
		if r.URL.Query().Get("v") == s.version {
			w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		} else {
			w.Header().Set("Cache-Control", "no-cache")
		}
		h.ServeHTTP(w, r)
	})
}
