package web

import "net/http"

// routes is the one list of all addresses. {p} is a person, {s} a session.
func (s *server) routes(mux *http.ServeMux) {
	mux.Handle("GET /static/", s.static())
	mux.HandleFunc("GET /live", s.live)

	page := func(pattern string, h pageFunc) { mux.HandleFunc("GET "+pattern, s.show(h)) }
	post := func(pattern string, h postFunc) { mux.HandleFunc("POST "+pattern, s.act(h)) }

	page("/{$}", s.who)
	s.peopleRoutes(page, post)
	s.sessionRoutes(page, post)
}
