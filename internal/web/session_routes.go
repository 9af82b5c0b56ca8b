package web

import "net/http"

// sessionRoutes are the addresses of one session, from setting up to the sheet.
func (s *server) sessionRoutes(mux *http.ServeMux, page func(string, pageFunc), post func(string, postFunc)) {
	page("/p/{p}/session", s.nextSession)
	post("/p/{p}/session", s.openSession)
	page("/p/{p}/sessions", s.sheets)

	page("/p/{p}/session/{s}", s.sessionPage)
	post("/p/{p}/session/{s}/step", s.tickStep)
	post("/p/{p}/session/{s}/override", s.overrideCheck)
	post("/p/{p}/session/{s}/connected", s.connect)

	page("/p/{p}/session/{s}/plan", s.planPage)
	post("/p/{p}/session/{s}/plan", s.agreePlan)
	page("/p/{p}/session/{s}/read_back", s.readBackPage)
	post("/p/{p}/session/{s}/read_back", s.readBack)
	page("/p/{p}/session/{s}/heparin_drawn", s.heparinPage)
	post("/p/{p}/session/{s}/heparin_drawn", s.drawHeparin)

	page("/p/{p}/session/{s}/washback", s.washbackPage)

	page("/p/{p}/session/{s}/sheet", s.sheetPage)
	page("/p/{p}/session/{s}/labels", s.labelsPage)
	page("/p/{p}/session/{s}/entry/{e}", s.entryPage)
	post("/p/{p}/session/{s}/entry/{e}/strike", s.strikeEntry)
	post("/p/{p}/session/{s}/entry/{e}", s.correctEntry)
	post("/p/{p}/session/{s}/event/{kind}", s.tapEvent)
	mux.HandleFunc("GET /p/{p}/session/{s}/{kind}", s.kindOrRest)
	post("/p/{p}/session/{s}/{kind}", s.recordKind)
}
