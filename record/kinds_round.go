package record

func machineHours() Field {
	return field("machine_h", "Hours on the machine's counter").refuse(0, 1e6).read()
}

func plantLitres() Field {
	return field("plant_l", "Litres on the plant's counter").refuse(0, 1e8).read()
}

func roundKinds() []*Kind {
	return []*Kind{
		of[RoundItem](Kind{Name: "round_item", Title: "What recurs", House: true, Check: checkRoundItem,
			Doc: "Something that recurs, added or changed: due after so many days, months, sessions, hours or litres, whichever comes first."},
			field("item", "Id").long(40).doc("small letters, digits and dashes"), field("name", "Name").long(80),
			field("days", "Every … days").refuse(1, 4000), field("months", "Every … months").refuse(1, 120), field("sessions", "Every … sessions").refuse(1, 100000),
			field("machine_h", "Every … hours of the machine").refuse(1, 1e6), field("plant_l", "Every … litres of the plant").refuse(1, 1e8),
			field("coming_days", "Said to be coming … days before").refuse(1, 365),
			field("start_line", "When due it stands in the way of the next session"), field("off", "No longer followed"),
			field("set_by", "Set by").long(80), field("set_on", "Set on"),
		),
		of[RoundDone](Kind{Name: "round_done", Title: "Done", House: true, Check: checkRoundDone,
			Doc: "Something that recurs was done; a calibration carries what was known and what was shown. What belongs to one person names that person."},
			field("item", "What").long(40).doc("an id of the round, or rinse, chemical, moved, stored, preserved, new-water"), field("outcome", "How it went").from("done", "done", "failed", "failed"),
			field("programme", "Disinfected with").from("heat", "heat", "chemical", "a chemical").doc("of the water treatment; left out, the start line asks for a residue test if it was chemical"),
			field("known_kg", "Known mass").refuse(1, 300).read(), field("shown_kg", "Scale shows").refuse(0, 300).read(),
			field("known_mmhg", "Known pressure").refuse(10, 300).read(), field("shown_mmhg", "Cuff shows").refuse(0, 400).read(),
			field("known_c", "Known temperature").refuse(0, 100).read(), field("shown_c", "Thermometer shows").refuse(0, 120).read(),
			field("known_ms_cm", "Standard solution").refuse(0.01, 100).read(), field("shown_ms_cm", "Meter shows").refuse(0, 200).read(),
			machineHours(), plantLitres(),
			field("lot", "Lot of what was fitted").read().long(40), field("who", "By whom").long(60), field("note", "In words"),
		),
		of[Fault](Kind{Name: "fault", Title: "Fault", House: true, Check: checkFault, Doc: "Trouble with machine or plant, in own words."},
			field("words", "What happened, in my own words").long(2000), field("did", "What was done"), field("rang", "Whom I rang, and what was said"),
			field("about", "The earlier entry it belongs to").long(64), field("mended", "It is mended"),
			field("opened", "Machine or water treatment was opened for it"),
		),
		of[SharpsBin](Kind{Name: "sharps_bin", Title: "Sharps bin", House: true, Doc: "What happened to the bin for needles, and when the waste was collected."},
			field("did", "What happened").from("opened", "a new one opened", "three_quarters", "three quarters full", "closed", "closed and locked", "collected", "collected, with the clinical waste"),
		),
		of[NeedlestickCard](Kind{Name: "needlestick_card", Title: "Needlestick card", House: true, Doc: "What the carer does after a needlestick, in the unit's own words."},
			field("words", "In the unit's own words, one act a line").long(4000), field("from", "From whom").long(80),
			field("given_on", "Given on"), field("review_by", "Look at it again by"),
		),
		of[CalendarSecret](Kind{Name: "calendar_secret", Title: "Calendar address", Check: checkCalendarSecret, Doc: "The secret part of the address of a person's calendar; a new one closes the old address."},
			field("secret", "Secret").long(64), field("titles", "Titles").from("busy", "“Busy” and nothing more", "full", "what it is"),
		),
	}
}
