package web

// peopleRoutes are the addresses outside a session.
func (s *server) peopleRoutes(page func(string, pageFunc), post func(string, postFunc)) {
	page("/first", asked(s.firstForm))
	post("/first/{step}", s.recordFirst)
	page("/card", s.numbersPage)
	page("/guide", s.guidePage)
	post("/theme", s.setTheme)
	post("/writer", s.setWriter)

	for address, p := range s.slips() {
		page(address, asked(p.page))
		post(address, s.recordSlip(p))
	}

	page("/p/{p}/{$}", s.todayPage)
	page("/p/{p}/card", s.cardPage)
	page("/p/{p}/card/steps", s.troubleStepsPage)
	page("/p/{p}/guide", s.guidePage)
	page("/p/{p}/unit", s.unitPage)

	page("/p/{p}/prescription", s.prescriptionPage)
	page("/p/{p}/prescription/new", asked(s.orderForm))
	post("/p/{p}/prescription/new", s.order)
	page("/p/{p}/prescription/{rx}", s.rxPage)
	page("/p/{p}/prescription/{rx}/correct", asked(s.orderForm))
	post("/p/{p}/prescription/{rx}/correct", s.order)
	post("/p/{p}/prescription/{rx}/seen", s.changeSeen)

	page("/p/{p}/run-sheet/{phase}", s.stepsPage)
	post("/p/{p}/run-sheet/{phase}", s.editSteps)
	page("/p/{p}/run-sheet/{phase}/{step}", asked(s.stepForm))
	post("/p/{p}/run-sheet/{phase}/{step}", s.editStep)
}
