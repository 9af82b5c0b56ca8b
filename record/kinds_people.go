package record

import "ebbline/session"

// Colours are the words a person's profile can carry. They name paper and
// plants rather than states, so that no colour of a person reads as a warning.
func Colours() []string { return []string{"reed", "plum", "slate", "sand", "fern", "ink"} }

func colours() Field {
	f := field("colour", "Colour")
	for _, c := range Colours() {
		f.Choices = append(f.Choices, Choice{c, c})
	}
	return f
}

func peopleKinds() []*Kind {
	return []*Kind{
		of[Demonstration](Kind{Name: "demonstration", Title: "Demonstration", House: true, Check: checkDemonstration, Doc: "Marks a file whose every entry is invented."},
			field("note", "Note")),
		of[Person](Kind{Name: "person", Title: "Who", Check: checkPerson, Doc: "Somebody who dialyses on this machine; written again when something changes."},
			field("name", "Name").long(60), field("birth_year", "Birth year").refuse(1900, 2100), colours(),
			field("hospital_number", "Hospital number").opt().long(40), field("adult", "Adult prescription"),
			field("allergies", "Allergies").opt(), field("carer", "Who helps").opt().long(60),
			field("pacemaker", "Has a pacemaker"),
			field("pregnant", "Pregnant, or may be").doc("a plan is then made only from limits of the unit's own; after the birth the person is written again without it, which is asked about: it must be confirmed"),
		),
		of[KidneyUnit](Kind{Name: "kidney_unit", Title: "Kidney unit", House: true, Check: checkKidneyUnit, Doc: "The unit that prescribes, and how to reach it."},
			field("name", "Name of the unit").long(80), field("day_phone", "Telephone by day").long(40), field("night_phone", "Telephone at night").long(40),
			field("technician_phone", "Technician").opt().long(40), field("ambulance_phone", "Ambulance").long(40),
		),
		of[session.Machine](Kind{Name: "machine", Title: "Machine", House: true, Doc: "What the machine adds by itself, and how its fluid-goal field is typed."},
			field("name", "What you call it").long(40), field("adds_washback", "It adds the washback to the goal by itself"),
			field("goal_unit", "Unit of its fluid-goal field").from("L", "litres", "mL", "millilitres"),
			field("goal_decimals", "Digits after the point").refuse(0, 3), field("goal_step_ml", "Smallest step of that field").refuse(1, 500),
			field("kind", "Kind").from("single_pass", "makes its fluid from tap water", "batch", "uses a batch made from tap water", "bags", "uses ready bags", "low_volume", "uses bags or a made batch"),
			removedShows(),
		),
		of[session.Prescription](Kind{Name: "prescription", Title: "Prescription", Check: checkPrescription,
			Doc: "One version of what the unit ordered. A change is a new version."},
			prescriptionFields()...),
		of[PaperConfirms](Kind{Name: "paper_confirms", Title: "The paper has come", Check: checkPaper, Doc: "The paper for a phoned change has come and agrees."},
			field("prescription_id", "Prescription"), field("signed_by", "Signed by").long(80), field("signed_on", "Signed on")),
		of[ChangeSeen](Kind{Name: "change_seen", Title: "Change read", Check: checkSeen, Doc: "The person has read what changed in the prescription."},
			field("prescription_id", "Prescription")),
		of[HospitalStay](Kind{Name: "hospital_stay", Title: "Hospital stay", Doc: "A stay in hospital; what was set before it is stale."},
			field("from", "From"), field("to", "To"), field("why", "Why").opt()),
		of[Card](Kind{Name: "card", Title: "Emergency card", Doc: "The emergency card in the unit's own words."},
			field("words", "In the unit's own words, one act a line").long(4000), field("from", "From whom").long(80),
			field("given_on", "Given on"), field("review_by", "Look at it again by")),
		of[TroubleSteps](Kind{Name: "trouble_steps", Title: "Steps for one trouble", Check: checkTroubleSteps,
			Doc: "What the unit wants done when one thing goes wrong, in its own words; part of the emergency card."},
			troubleField(), field("words", "In the unit's own words, one act a line").long(4000),
			field("ring", "Ring first").from(session.RingAmbulance, "the ambulance", session.RingUnit, "the unit", session.RingTechnician, "the technician"),
			field("saline_ml", "Saline each time").refuse(10, 1000).ask(50, 300).opt(),
			field("blood_back_within_min", "After a power cut: the blood goes back within").refuse(1, 120).ask(5, 30).opt(),
			field("from", "From whom").long(80), field("given_on", "Given on"), field("review_by", "Look at it again by")),
		of[SheetEdited](Kind{Name: "run_sheet", Title: "Run sheet", Check: checkSheet, Doc: "A whole new version of the steps of setting up or coming off."},
			field("phase", "Part").from("set_up", "setting up", "take_off", "coming off"), field("steps", "Steps"), field("marked", "Whose steps these are").long(120)),
		of[Question](Kind{Name: "question", Title: "Question for the unit", Doc: "Something the person wants to ask the unit."},
			field("words", "In words").long(2000)),
		of[Struck](Kind{Name: "struck", Title: "Struck out", Check: checkStruck, Doc: "Takes an entry out of the count; it stays in sight."},
			field("entry_id", "Entry"), field("reason", "Reason")),
		of[ClockMoved](Kind{Name: "clock_moved", Title: "The clock jumped", House: true, Doc: "The computer's clock moved by itself; what was timed across it needs a look."},
			field("by_s", "By").refuse(-1e9, 1e9), field("note", "In words").opt()),
	}
}

func prescriptionFields() []Field {
	return []Field{
		field("ordered_by", "Ordered by").long(80), field("ordered_on", "Ordered on"),
		field("how", "How it came").from("paper", "on paper", "phone", "by telephone"),
		field("read_back", "I read it back to the caller"),
		field("valid_from", "Valid from"), field("review_by", "Review by"),
		field("days", "Days").opt().doc("mon tue wed thu fri sat sun; leave blank for “every so many hours”"),
		field("every_hours", "Or every … hours").refuse(12, 168).opt(),
		field("length_min", "Session length").refuse(30, 720).ask(90, 600),
		field("dialysate_l", "Or litres of dialysate a session").refuse(5, 300).ask(15, 200),
		field("dry_weight_kg", "Dry weight").refuse(20, 300), field("dry_weight_set_by", "Dry weight set by").long(80),
		field("dry_weight_set_on", "Dry weight set on"), field("dry_weight_review_by", "Dry weight: review by"),
		field("dialyser", "Dialyser").long(60), field("koa_ml_min", "Its KoA for urea, if known").refuse(200, 2500),
		field("blood_flow_ml_min", "Blood flow").refuse(50, 600).ask(100, 500),
		field("dialysate_flow_ml_min", "Dialysate flow").refuse(50, 1000).ask(90, 800),
		field("bath_k_mmol_l", "Bath, potassium").refuse(0, 5).ask(1, 4), field("bath_ca_mmol_l", "Bath, calcium").refuse(0, 3).ask(1, 1.75),
		field("dialysate_temp_c", "Dialysate temperature").refuse(33, 40).ask(34.5, 38),
		field("conductivity_ms_cm", "Conductivity to set").refuse(10, 17).ask(12.5, 15.5),
		field("heparin", "Heparin").from("none", "none", "unfractionated", "unfractionated", "low_molecular", "low-molecular-weight"),
		field("heparin_strength_iu_ml", "Heparin strength").refuse(10, 25000), field("heparin_bolus_iu", "Heparin bolus").refuse(0, 15000).ask(0, 5000),
		field("heparin_hourly_iu_h", "Heparin each hour").refuse(0, 5000).ask(0, 2000), field("heparin_stop_before_end_min", "Heparin off before the end").refuse(0, 240),
		field("flush_ml", "Flush of saline, each").refuse(10, 500).ask(50, 250), field("flush_every_min", "A flush every").refuse(5, 240).ask(15, 60),
		field("access", "Access").from("fistula", "fistula", "graft", "graft", "catheter", "catheter"),
		field("access_side", "Where").from("left_arm", "left arm", "right_arm", "right arm", "left_leg", "left leg", "right_leg", "right leg", "neck_or_chest", "neck or chest"),
		field("technique", "Needling").from("rope_ladder", "rope ladder", "buttonhole", "buttonhole", "rotation", "rotation", "none", "no needles"),
		field("arterial_needle_gauge", "Arterial needle, gauge").refuse(13, 20).opt(), field("venous_needle_gauge", "Venous needle, gauge").refuse(13, 20).opt(),
		field("lock", "Catheter lock").long(60).doc("as the vial names it"),
		field("lock_strength_iu_ml", "Its strength, as of heparin").refuse(10, 25000).ask(100, 5000),
		field("lock_strength_percent", "Its strength, as of citrate").refuse(0.1, 50).ask(1, 30),
		field("lock_arterial_ml", "Volume of the arterial lumen").refuse(0.3, 5).ask(0.8, 3), field("lock_venous_ml", "Volume of the venous lumen").refuse(0.3, 5).ask(0.8, 3),
		field("intake_ml", "Drinks and food allowed for in a session").refuse(0, 3000).ask(0, 1500),
		field("washback_ml", "Washback").refuse(0, 2000).ask(0, 500),
		field("limits_set_by", "Limits set by").opt().long(80), field("limits_set_on", "Limits set on").opt(),
		field("rate_limit_ml_h_kg", "Largest removal rate").refuse(1, 30).ask(5, 13),
		field("rate_limit_none_by", "The unit sets no removal rate: said by").opt().long(80).doc("who said it, where the unit sets none; with the day, and never beside a rate"),
		field("rate_limit_none_on", "The unit sets no removal rate: said on").opt().doc("the day it was said"),
		field("max_removal_ml", "Largest removal in a session").refuse(100, 10000).ask(500, 5000),
		field("below_dry_ring_kg", "Ring when this far under the dry weight").refuse(0.1, 5).ask(0.1, 1),
		field("chlorine_limit_mg_l", "Total chlorine, at most").refuse(0.01, 0.5).ask(0.01, 0.1),
		field("conductivity_tolerance_ms_cm", "Conductivity, machine and own meter may differ by").refuse(0.05, 2).ask(0.1, 0.5),
		field("start_systolic_low_mmhg", "Ask before starting below, upper pressure").refuse(50, 200), field("start_systolic_high_mmhg", "Ask before starting above, upper pressure").refuse(100, 280),
		field("start_standing_low_mmhg", "Ask before starting below, upper pressure standing").refuse(40, 200),
		field("start_pulse_low_per_min", "Ask before starting below, pulse").refuse(25, 100), field("start_pulse_high_per_min", "Ask before starting above, pulse").refuse(60, 220),
		field("start_temperature_high_c", "Ask before starting from, temperature").refuse(36, 40),
		field("act_systolic_below_mmhg", "While running: act below, upper pressure").refuse(50, 180), field("act_systolic_fall_mmhg", "While running: act on a fall of").refuse(5, 100),
		field("act_systolic_none_by", "The unit sets no low pressure: said by").opt().long(80).doc("who said it, where the unit sets neither figure; with the day, and beside neither"),
		field("act_systolic_none_on", "The unit sets no low pressure: said on").opt().doc("the day it was said"),
		field("start_pulse_none_by", "The unit sets no pair for the pulse: said by").opt().long(80).doc("who said it, where the unit sets none; with the day, and never beside both figures"),
		field("start_pulse_none_on", "The unit sets no pair for the pulse: said on").opt().doc("the day it was said"),
		field("act_tmp_above_mmhg", "While running: look above, TMP").refuse(50, 600),
		field("single_needle", "One needle, or both lines to one lumen").doc("line pressures then rise and fall by themselves"),
		field("haemodiafiltration", "Haemodiafiltration").doc("the program's own figure for TMP then does not apply"),
		substitutionOrdered(), substitutionPlace(),
		field("removal_profile", "Removal runs by a profile of the machine").doc("no plan is made then"),
		field("sodium_profile", "Sodium runs by a profile of the machine").doc("no plan is made then"),
		field("check_every_min", "A reading every").refuse(10, 240), field("check_after_low_min", "After a low pressure, a reading every").refuse(1, 60),
		field("anaesthetic_max_mg", "Local anaesthetic, at most").refuse(1, 500).ask(1, 200),
		field("glucose_marked", "Blood sugar: measured each session").doc("before, at its hours while running, and after"),
		field("glucose_low_mmol_l", "Blood sugar is low under").refuse(2, 10).ask(3, 7),
		field("glucose_every_min", "While running: blood sugar every").refuse(10, 480).ask(20, 300),
		field("access_heard_not_felt", "This access is heard, not felt"), field("listen_each_time", "Listen to the access each time"),
	}
}

// troubleField is the closed list of what can go wrong.
func troubleField() Field {
	f := field("trouble", "What is wrong")
	for _, t := range session.Troubles() {
		f.Choices = append(f.Choices, Choice{t.Code, t.Title})
	}
	return f
}
