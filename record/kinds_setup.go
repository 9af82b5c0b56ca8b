package record

import "ebbline/session"

// The bounds of measured values are proposals of this program, wide enough for
// any person: outside "refuse" no instrument shows it, outside "ask" a slip of
// the finger is likelier than the truth. The unit's own limits are another
// thing and stand in the prescription.

func systolic(key, label string) Field {
	return field(key, label).refuse(40, 280).ask(100, 179).read()
}

func diastolic(key, label string) Field {
	return field(key, label).refuse(20, 180).ask(40, 110).read()
}

func pulse(key string) Field {
	return field(key, "Pulse").refuse(25, 220).ask(50, 120).read()
}

func bodyTemperature(key string) Field {
	return field(key, "Temperature").refuse(33, 42.5).ask(35.5, 37.7).read()
}

func weight(key, label string) Field { return field(key, label).refuse(20, 300).read() }

func clothing() Field {
	return field("clothing_kg", "Clothes, shoes, anything worn").refuse(0, 10).ask(0, 3).read().
		doc("0 when weighed without")
}

func lot() Field    { return field("lot", "Lot").read().long(40) }
func expiry() Field { return field("expiry", "Expires").read() }

func setUpKinds() []*Kind {
	return []*Kind{
		of[session.Opened](Kind{Name: "session_opened", Title: "Start setting up", Session: true, Once: true, Check: checkOpened,
			Doc: "A session begins: live at the moment setting up starts, or typed in later from paper, at home or elsewhere."},
			field("place", "Where").from("home", "at home", "elsewhere", "held elsewhere"),
			field("source", "How it is written").from("live", "as it happens", "paper", "typed in from paper"),
			field("where", "Place").opt(),
			field("person_confirmed", "The name on the page is mine"),
			field("carer", "Who is here to help").opt(),
		),
		of[session.Fitness](Kind{Name: "fitness", Title: "How am I?", Session: true, Check: checkFitness,
			Doc: "What would make the person ring before starting."},
			field("fever", "Fever, shivering or chills"),
			field("chest_pain", "Pain in the chest"),
			field("breathless", "Breathless lying flat or at rest"),
			field("weakness", "Newly weak"), field("heavy_legs", "Heavy legs"), field("tingling", "Tingling"),
			field("faint", "Faint or dizzy"), field("palpitations", "Heart racing"), field("odd_pulse", "Pulse slow or odd"),
			field("bleeding", "Bleeding, black stools, heavy period"),
			field("fall", "A fall or a knock"),
			field("stomach", "Diarrhoea, vomiting, not eating"),
			field("hospital", "In hospital or operated on since last time"),
			field("procedure", "Dentist or operation soon"),
			field("medicine", "A new medicine or an antibiotic"),
			field("blood_thinner", "A new blood thinner"),
			field("none_of_these", "No to all of these"),
			field("rang", "Whom I rang, and what was said").opt(),
			field("note", "Anything else").opt(),
		),
		of[session.AccessCheck](Kind{Name: "access_check", Title: "Access", Session: true,
			Doc: "The access looked at, felt and listened to before anything is opened; “red” and “swollen” have keys of their own."},
			field("thrill", "Thrill").read().from("present", "felt", "absent", "not felt", "weaker", "weaker", "beating", "like a pulse", "not_applicable", "catheter"),
			field("bruit", "Bruit").read().from("present", "heard", "absent", "not heard", "not_done", "not done"),
			field("skin", "Skin").read().from("clean", "clean", "red", "red", "swollen", "swollen or warm", "discharge", "pus or discharge"),
			field("red", "Red"), field("warm", "Warm"), field("tender", "Tender"), field("swollen", "Swollen"),
			field("bulge", "A bulge grew, or its skin is thin and shiny"),
			field("hand", "Hand newly white, cold, numb or painful"),
			field("arm", "Whole arm newly swollen"),
			field("chills", "Chills since the last session"),
			field("note", "In words").opt(),
		),
		of[session.WeighIn](Kind{Name: "weigh_in", Title: "Weight before", Session: true, Check: checkWeighIn,
			Doc: "The weight before the session, in kilograms whatever the scale showed."},
			weight("weight_kg", "Weight"),
			clothing(),
			field("scale", "Scale").long(40),
			field("read_in", "The scale showed").from("kg", "kilograms", "lb", "pounds", "st", "stone"),
		),
		of[session.VitalsBefore](Kind{Name: "vitals_before", Title: "Blood pressure before", Session: true, Check: checkVitalsBefore,
			Doc: "Blood pressure sitting and standing, pulse and temperature, after five minutes of rest and never on the access arm. " +
				"Several in one session count together, of each value the last."},
			systolic("sitting_systolic_mmhg", "Sitting, upper"),
			diastolic("sitting_diastolic_mmhg", "Sitting, lower"),
			systolic("standing_systolic_mmhg", "Standing, upper"),
			diastolic("standing_diastolic_mmhg", "Standing, lower"),
			field("cannot_stand", "I cannot stand").doc("measure lying instead; kept for later sessions until a standing pressure is written"),
			systolic("lying_systolic_mmhg", "Lying, upper"),
			diastolic("lying_diastolic_mmhg", "Lying, lower"),
			pulse("pulse_per_min"),
			bodyTemperature("temperature_c"),
			field("no_thermometer", "I have no thermometer").doc("kept for 30 days or until a temperature is written; then you are asked again"),
		),
		of[session.Chlorine](Kind{Name: "chlorine", Title: "Total chlorine", Session: true,
			Doc: "Total chlorine of this session's water, with the method and the smallest step it can read."},
			field("total_chlorine_mg_l", "Total chlorine").refuse(0, 5).ask(0, 0.1).read(),
			field("below", "Read as “less than” this"),
			field("method", "Method").long(60),
			field("reads_down_to_mg_l", "Smallest step it can read").refuse(0.005, 5),
			lot(), expiry(),
			field("sample_point", "Drawn after").from("first_carbon", "the first carbon", "second_carbon", "the second carbon", "product", "the water at the machine"),
		),
		of[session.SelfTest](Kind{Name: "self_test", Title: "Self-test", Session: true,
			Doc: "The machine's own test, with every try counted."},
			field("passed", "Passed"),
			field("tries", "Tries").refuse(1, 20).ask(1, 3).read(),
			field("note", "In words").opt(),
		),
		of[session.FluidCheck](Kind{Name: "fluid_check", Title: "Conductivity and temperature", Session: true,
			Doc: "The dialysis fluid as the machine shows it and as the person's own meter reads it."},
			field("machine_conductivity_ms_cm", "Machine, conductivity").refuse(10, 17).ask(12.5, 15.5).read(),
			field("meter_conductivity_ms_cm", "Own meter, conductivity").refuse(10, 17).ask(12.5, 15.5).read(),
			field("machine_temperature_c", "Machine, temperature").refuse(30, 42).ask(34.5, 38).read(),
			field("meter_temperature_c", "Own meter, temperature").refuse(30, 42).ask(34.5, 38).read(),
			field("ph", "pH").refuse(4, 10).ask(6.9, 7.6).read(),
		),
		of[session.BathLabel](Kind{Name: "bath_label", Title: "Bath label", Session: true,
			Doc: "Potassium and calcium typed from the label of the concentrate, or of each lot of ready bags."},
			field("label_k_mmol_l", "Potassium on the label").refuse(0, 5).read(),
			field("label_ca_mmol_l", "Calcium on the label").refuse(0, 3).read(),
			lot(), expiry(),
			yesNo("seal_whole", "Seal whole, no leak").doc("of a ready bag"), yesNo("clear", "Fluid clear").doc("of a ready bag"),
		),
		of[session.Supply](Kind{Name: "supply", Title: "Opened for this session", Session: true, Check: checkSupply,
			Doc: "One thing opened for this session, with its lot."},
			field("item", "Item").long(60), lot(), expiry().opt(),
		),
		of[session.HeparinDrawn](Kind{Name: "heparin_drawn", Title: "Heparin drawn up", Session: true, Check: checkHeparin,
			Doc: "Heparin in the syringe: the strength from the vial in the hand; the volumes follow from it."},
			field("strength_iu_ml", "Strength on the vial").refuse(10, 25000).read(),
			field("label_read_again_iu_ml", "Strength, read aloud and typed again").refuse(10, 25000).read(),
			field("bolus_iu", "Bolus").refuse(0, 15000),
			field("line_iu", "For the pump").refuse(0, 30000),
			field("bolus_ml", "Bolus, volume").refuse(0, 60),
			field("line_ml", "Pump, volume").refuse(0, 60),
			lot(), expiry(),
		),
		of[session.CatheterLock](Kind{Name: "catheter_lock", Title: "Catheter lock", Session: true, Check: checkLock,
			Doc: "The lock in the hand: what the vial says, and the volume on each lumen; typed before the start. One strength at least."},
			field("name", "What the vial says it is").read().long(60),
			field("strength_iu_ml", "Strength, as of heparin").refuse(10, 25000).read(),
			field("strength_percent", "Strength, as of citrate").refuse(0.1, 50).read().doc("one of the two; both where the vial has both"),
			field("arterial_ml", "Volume on the arterial lumen").refuse(0.3, 5).read(),
			field("venous_ml", "Volume on the venous lumen").refuse(0.3, 5).read(),
			lot(), expiry(),
		),
		of[session.AnaestheticDrawn](Kind{Name: "anaesthetic_drawn", Title: "Local anaesthetic drawn up", Session: true, Check: checkAnaesthetic,
			Doc: "Local anaesthetic in the syringe."},
			field("strength_percent", "Strength on the vial").refuse(0.1, 4).ask(0.5, 2).read(),
			field("volume_ml", "Volume").refuse(0, 20).ask(0, 5).read(),
			lot(), expiry(),
		),
		of[session.FlushDrawn](Kind{Name: "flush_drawn", Title: "Flushes drawn up", Session: true,
			Doc: "Saline in syringes."},
			field("count", "Syringes").refuse(1, 10),
			field("each_ml", "In each").refuse(1, 50).ask(1, 20),
			lot(), expiry(),
		),
		of[session.AgreedPlan](Kind{Name: "plan", Title: "Plan agreed", Session: true, Check: checkPlan,
			Doc: "The plan as the person agreed to it, with every term."},
			field("prescription_id", "Prescription"), field("weigh_in_id", "Weighing"),
			field("pre_weight_kg", "Weight before").refuse(20, 300), field("clothing_kg", "Clothes").refuse(0, 10),
			field("dry_weight_kg", "Dry weight").refuse(20, 300), field("above_dry_ml", "Above dry weight").refuse(0, 300000),
			field("below_dry", "Below dry weight"), field("intake_ml", "Drinks and food").refuse(0, 5000).ask(0, 2000),
			field("washback_ml", "Washback").refuse(0, 2000), field("saline_ml", "Saline").refuse(0, 3000).ask(0, 1000),
			field("goal_ml", "Fluid to remove").refuse(0, 10000), field("set_goal_ml", "Dialled in").refuse(0, 10000).ask(0, 4000),
			field("length_min", "Length").refuse(30, 720), field("rate_ml_h", "Rate").refuse(0, 6000),
			field("rate_ml_h_kg", "Rate for each kilogram").refuse(0, 100), field("left_over_ml", "Left for later").refuse(0, 300000),
			field("cautions", "Said beside it").opt().lines(),
		),
		of[session.ReadBack](Kind{Name: "read_back", Title: "Read back from the machine", Session: true, Check: checkReadBack,
			Doc: "What the machine shows after the plan was dialled in."},
			field("machine_goal_ml", "Fluid goal on the machine").refuse(0, 9999999).read(),
			field("machine_length_min", "Time on the machine").refuse(30, 720).read(),
			field("shown", "As shown").long(20),
		),
		of[session.Override](Kind{Name: "override", Title: "Gone on in spite of a check", Session: true, Check: checkOverride,
			Doc: "One check of the start line passed with a written reason."},
			field("check", "Check"), field("reason", "Reason").doc("at least ten characters; it stands on the sheet and the report"),
		),
		of[session.Rang](Kind{Name: "rang", Title: "Rang about it", Session: true, Check: checkRang,
			Doc: "A call about this session: whom, and what was said. It answers what stood at stop and asked to ring, and nothing that came later."},
			field("whom", "Whom I rang").long(120).doc("one of the unit’s numbers, or in words"),
			field("said", "What was said").doc("a call that was made; when nobody was reached, write that as the reason to go on (`override`)"),
		),
		of[session.StepDone](Kind{Name: "step", Title: "Step", Session: true, Check: checkStep,
			Doc: "One step of the run sheet ticked, started, or marked as not done."},
			field("phase", "Part").from("set_up", "setting up", "take_off", "coming off"),
			field("step", "Step").long(60),
			field("state", "State").from("done", "done", "started", "started", "undone", "not yet after all", "not_done", "not done"),
			field("note", "In words").opt(),
		),
		of[session.Needling](Kind{Name: "needling", Title: "Needles", Session: true,
			Doc: "Where the needles went, how thick, how many tries."},
			field("arterial_site", "Arterial site").read().long(20), field("venous_site", "Venous site").read().long(20),
			field("arterial_gauge", "Arterial gauge").refuse(13, 20), field("venous_gauge", "Venous gauge").refuse(13, 20),
			field("arterial_tries", "Arterial tries").refuse(1, 10).ask(1, 2).read(), field("venous_tries", "Venous tries").refuse(1, 10).ask(1, 2).read(),
			field("pain_0_10", "Pain, 0 to 10").refuse(0, 10).read(), field("needled_by", "By").opt(), field("note", "In words").opt(),
		),
	}
}
