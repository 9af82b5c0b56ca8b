package calc

func init() {
	formulas = append(formulas,
		Formula{"First expired, first out", "stock", "by expiry, lots without one last; a lot serves through its expiry date",
			"counts 0 to 1,000,000 pieces", "common practice", "definition",
			[]string{"TestOfferAndTake", "TestForecast", "TestForecastConservesPieces"}},
		Formula{"Sessions left and run-out", "stock", "planned sessions in a row from today that the shelf serves",
			"one planned session or more, from today on; gives sessions and a date", "definition", "definition",
			[]string{"TestForecast", "TestForecastDays", "TestForecastConservesPieces"}},
		Formula{"Order", "stock", "for the last delivery before the shelf is under the reserve: what the sessions up to the next delivery want, and the reserve, less what is still in date; whole packs up",
			"lead 0 to 365 days, reserve 0 to 1000 sessions; gives packs and dates",
			"common practice; reserve of two weeks in date, supply advice", "derived, checked", []string{"TestOrder", "TestOrderKeepsTheReserve"}},
		Formula{"Reserve that serves", "stock", "stock-outs in 1,000 sessions against the reserve, by simulation with invented chances",
			"1 to 4,000,000 days; gives stock-outs in 1,000 sessions", "simulation", "derived, checked",
			[]string{"TestTrials", "TestSimulateWithoutBadLuck", "TestSimulateRepeats"}},
		Formula{"Spare factor", "stock", "(1.1·b + Σ used)/(b + Σ booked), b the use of ten sessions, held between 1 and 2",
			"pieces; held between 1 and 2", "1.1 common practice; the rest our own", "derived, checked",
			[]string{"TestSpareFactor"}},
		Formula{"Drift of the book", "stock", "before + received − taken out − booked − shelf",
			"pieces", "definition", "definition", []string{"TestCountDrift"}},
		Formula{"GS1 dates and check digit", "stock", "day 00 is the month's end; the century nearest to today; weights 3 and 1",
			"an element string; what is not known is refused", "GS1 General Specifications", "from memory", []string{"TestParseLabel"}},
		Formula{"Lots alike", "stock", "without case, spaces and separators; O as 0, I as 1",
			"texts", "common practice", "definition", []string{"TestRecallMatches", "TestRecalledLotIsNeverOffered"}},
	)
}
