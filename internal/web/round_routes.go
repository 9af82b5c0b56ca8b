package web

import "net/http"

// chores are the forms of water, round and shelf by their address.
func chores() map[string]chore {
	return map[string]chore{
		"/p/{p}/round/item":               {slip{kind: "round_item", title: "Something that recurs", make: roundItemForm}, "round"},
		"/p/{p}/round/item/{item}":        {slip{kind: "round_item", title: "How often", make: roundItemForm}, "round"},
		"/p/{p}/round/item/{item}/off":    {slip{kind: "round_item", title: "No longer followed", make: roundOffForm}, "round"},
		"/p/{p}/round/fault":              {slip{kind: "fault", title: "Fault", make: faultForm}, "round"},
		"/p/{p}/round/sharps":             {slip{kind: "sharps_bin", title: "Sharps and waste", make: sharpsForm}, "round"},
		"/p/{p}/round/task/{e}":           {slip{kind: "task_closed", title: "Followed up", make: taskForm}, "round/water"},
		"/p/{p}/round/notice":             {slip{kind: "utility_notice", title: "Notice about the water", make: noticeForm}, "round/water"},
		"/p/{p}/round/notice/{e}/over":    {slip{kind: "utility_notice", title: "The notice is over", make: noticeOverForm}, "round/water"},
		"/p/{p}/round/residual":           {slip{kind: "residual_test", title: "Residual disinfectant", make: residueForm}, "round/water"},
		"/p/{p}/round/batch":              {slip{kind: "batch_made", title: "A batch was made", make: batchForm}, "round/water"},
		"/p/{p}/round/batch/{e}/test":     {slip{kind: "batch_tested", title: "Test of a batch", make: batchTestForm, sets: ofThatBatch}, "round/water"},
		"/p/{p}/round/rules":              {slip{kind: "water_rules", title: "Your unit’s rules for water", make: rulesForm}, "round/water"},
		"/p/{p}/round/limit":              {slip{kind: "water_limit", title: "A limit of your unit", make: limitForm}, "round/water"},
		"/p/{p}/round/sample":             {slip{kind: "water_sample", title: "Plan a sample", make: planSampleForm, sets: lookedFor}, "round/water"},
		"/p/{p}/needlestick/edit":         {slip{kind: "needlestick_card", title: "Needlestick card", make: needlestickForm}, "needlestick"},
		"/p/{p}/shelf/item":               {slip{kind: "stock_item", title: "A new item", make: stockItemForm}, "shelf"},
		"/p/{p}/shelf/item/{item}/change": {slip{kind: "stock_item", title: "Item", make: stockItemForm}, "shelf"},
		"/p/{p}/shelf/item/{item}/off":    {slip{kind: "stock_item", title: "No longer used", make: stockOffForm}, "shelf"},
		"/p/{p}/shelf/used":               {slip{kind: "stock_used", title: "Off the shelf", make: usedForm}, "shelf"},
		"/p/{p}/shelf/supplier":           {slip{kind: "supplier", title: "Supplier", make: supplierForm}, "shelf"},
		"/p/{p}/shelf/planned":            {slip{kind: "delivery_planned", title: "A day of delivery", make: plannedForm}, "shelf"},
		"/p/{p}/shelf/substitute":         {slip{kind: "substitute", title: "Another product", make: substituteForm}, "shelf"},
		"/p/{p}/shelf/aside":              {slip{kind: "quarantine", title: "Set aside, or let go", make: asideForm}, "shelf"},
		"/p/{p}/shelf/recall/{e}/close":   {slip{kind: "recall_closed", title: "Close a recall", make: closeRecallForm}, "shelf"},
	}
}

// roundRoutes are the addresses of what keeps the next session fit: the round,
// the water, the shelf, the calendar.
func (s *server) roundRoutes(mux *http.ServeMux, page func(string, pageFunc), post func(string, postFunc)) {
	page("/p/{p}/session/{s}/supply", asked(s.supplyForm))
	post("/p/{p}/session/{s}/supply", s.recordSupply)

	for address, c := range chores() {
		page(address, asked(c.page))
		post(address, s.recordChore(c))
	}
	for _, state := range []string{"drawn", "sent", "reached", "lost"} {
		c := chore{slip{kind: "water_sample", title: "Sample", make: sampleStep(state)}, "round/water"}
		page("/p/{p}/round/sample/{sample}/"+state, asked(c.page))
		post("/p/{p}/round/sample/{sample}/"+state, s.recordChore(c))
	}
	done := chore{slip{kind: "round_done", title: "Done", make: doneForm, whose: whoseRound}, "round"}
	page("/p/{p}/round/done/{item}", asked(done.page))
	post("/p/{p}/round/done/{item}", s.recordChore(done))

	page("/p/{p}/round", s.roundPage)
	page("/p/{p}/round/diary", s.diaryPage)
	page("/p/{p}/round/water", s.waterPage)
	page("/p/{p}/round/plant", asked(s.plantForm))
	post("/p/{p}/round/plant", s.recordPlant)
	page("/p/{p}/round/sample/{sample}/result", asked(s.resultForm))
	post("/p/{p}/round/sample/{sample}/result", s.recordResult)
	page("/p/{p}/needlestick", s.needlestickPage)
	page("/p/{p}/kept/{e}", s.keptPage)
	post("/p/{p}/kept/{e}", s.recordStrike)

	page("/p/{p}/shelf", s.shelfPage)
	post("/p/{p}/shelf/start", s.startShelf)
	page("/p/{p}/shelf/item/{item}", s.itemPage)
	page("/p/{p}/shelf/count/{item}", asked(s.countForm))
	post("/p/{p}/shelf/count/{item}", s.recordCount)
	page("/p/{p}/shelf/delivery", asked(s.deliveryForm))
	post("/p/{p}/shelf/delivery", s.recordDelivery)
	page("/p/{p}/shelf/order", s.draftPage)
	post("/p/{p}/shelf/order", s.recordSent)
	mux.HandleFunc("GET /p/{p}/shelf/order.csv", s.table("order.csv", orderTable))
	page("/p/{p}/shelf/away", s.awayPage)
	mux.HandleFunc("GET /p/{p}/shelf/away.csv", s.table("elsewhere.csv", awayTable))
	page("/p/{p}/shelf/recall", asked(s.recallForm))
	post("/p/{p}/shelf/recall", s.recordRecall)
	page("/p/{p}/shelf/recall/{e}", s.letterPage)

	page("/p/{p}/calendar", s.calendarPage)
	post("/p/{p}/calendar", s.makeCalendar)
	mux.HandleFunc("GET /calendar/{file}", s.raw(s.calendarFeed))
}
