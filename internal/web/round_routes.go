package web

import "net/http"

// roundRoutes are the addresses of what keeps the next session fit: the round,
// the water, the shelf, the calendar.
func (s *server) roundRoutes(mux *http.ServeMux, page func(string, pageFunc), post func(string, postFunc)) {
	page("/p/{p}/session/{s}/supply", asked(s.supplyForm))
	post("/p/{p}/session/{s}/supply", s.recordSupply)
}
