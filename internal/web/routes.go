package web

import "net/http"

// routes is the one list of all addresses. {p} is a person, {s} a session.
func (s *server) routes(mux *http.ServeMux) {
	mux.Handle("GET /static/", s.static())
	mux.HandleFunc("GET /static/paper.css", s.paper)
	mux.HandleFunc("GET /live", s.live)
	mux.HandleFunc("GET /p/{p}/session/{s}/sheet.pdf", s.pdf(s.sheetPDF))
	mux.HandleFunc("GET /p/{p}/session/{s}/labels.pdf", s.pdf(s.labelsPDF))
	mux.HandleFunc("GET /p/{p}/blank-sheet.pdf", s.pdf(s.blankPDF))
	mux.HandleFunc("GET /p/{p}/card.pdf", s.pdf(s.cardPDF))

	page := func(pattern string, h pageFunc) { mux.HandleFunc("GET "+pattern, s.show(h)) }
	post := func(pattern string, h postFunc) { mux.HandleFunc("POST "+pattern, s.act(h)) }

	mux.HandleFunc("GET /pair", s.pairPage)
	mux.HandleFunc("POST /pair", s.pair)
	page("/screens", s.screensPage)
	post("/screens/code", s.showCode)
	post("/screens/remove", s.removeScreen)

	page("/{$}", s.who)
	s.peopleRoutes(page, post)
	s.sessionRoutes(mux, page, post)
	s.roundRoutes(mux, page, post)
	s.doseRoutes(mux, page, post)
}
