package record

import "ebbline/unit"

// analyteChoices are the codes a result may have.
func analyteChoices() []string {
	var pairs []string
	for _, a := range unit.Analytes() {
		pairs = append(pairs, a.Code, a.Name)
	}
	return pairs
}

func ureaUnits() []string {
	return []string{unit.UreaMmolPerL, "mmol/L urea", unit.BUNMgPerDL, "mg/dL urea nitrogen (BUN)", unit.UreaMgPerDL, "mg/dL urea"}
}

func bloodKinds() []*Kind {
	return []*Kind{
		of[Bloods](Kind{Name: "bloods", Title: "Bloods", Check: checkBloods, Inner: inner,
			Doc: "One blood sample with its results, as the laboratory printed them. It happened when it was drawn."},
			field("timing", "Drawn").from(Pre, "before a session", Post, "after a session", Other, "at another time"),
			field("session_id", "Session").opt().long(64).doc("needed for a sample before or after a session; drawn within 12 hours of it"),
			field("sampling_method", "How the sample after the session was drawn").opt().from(
				"slow_flow", "blood pump slowed first", "stop_flow", "blood pump stopped first", "stop_dialysate", "dialysate stopped first, blood running",
				"full_flow", "at full blood flow", "after_washback", "after the blood was given back", "not_recorded", "nobody wrote it down"),
			field("laboratory", "Laboratory").long(80), field("reported_on", "Reported on").opt(),
			field("haemolysed", "The laboratory says haemolysed, old or clotted"), field("note", "Comment of the laboratory").opt(),
			field("results", "Results").doc("each an analyte with its value as printed and its unit; op is < or > for a bound"),
		),
		of[BloodCall](Kind{Name: "blood_call", Title: "Rang about a blood result", Check: checkBloodCall,
			Doc: "Who was rung about a critical value, and what was said. Nothing else puts a critical value away."},
			field("bloods_id", "Sample").long(64), field("analyte", "Analyte").from(analyteChoices()...),
			field("rang", "Whom I rang").long(120), field("said", "What was said").long(1000),
		),
		of[BloodRange](Kind{Name: "blood_range", Title: "Range set by the unit", Check: checkBloodRange,
			Doc: "Where the unit wants one analyte before a session, and from where it is to be rung about. A later one takes the place of the earlier."},
			field("analyte", "Analyte").from(analyteChoices()...), field("unit", "Unit").long(20),
			field("low", "At least").opt(), field("high", "At most").opt(),
			field("critical_low", "Ring when below").opt(), field("critical_high", "Ring when at or above").opt(),
			field("set_by", "Set by").long(80), field("set_on", "Set on"),
		),
		of[Body](Kind{Name: "body", Title: "Body", Doc: "What the equations of body water ask for beside age and weight."},
			field("sex", "Sex, for the equations of body water").from("female", "female", "male", "male"),
			field("height_cm", "Height").refuse(50, 230).ask(140, 205).read(), field("diabetes", "Diabetes"),
		),
		of[Residual](Kind{Name: "residual", Title: "Collection of urine", Check: checkResidual,
			Doc: "A timed collection of urine between sessions. It happened when it ended; it is counted for 90 days."},
			field("urine_ml", "Urine collected").refuse(0, 20000).ask(20, 5000).read(),
			field("collection_min", "Over").refuse(60, 10080).ask(720, 4320).read(),
			field("urine_urea", "Urea of the urine").read(), field("urine_urea_unit", "Its unit").from(ureaUnits()...),
			field("mean_blood_urea", "Mean urea of the blood meanwhile").opt().read().doc("as the unit worked it out; left blank it is taken from the model"),
			field("mean_blood_urea_unit", "Its unit").opt().from(ureaUnits()...),
		),
		doseTargetKind(),
	}
}
