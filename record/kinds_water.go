package record

import "ebbline/water"

func gauge(key, label string) Field {
	return field(key, label).refuse(0, 1379).ask(50, 700).read()
}

// substances are the choices of what a laboratory looks for.
func substances() []string {
	var pairs []string
	for _, s := range water.Substances() {
		pairs = append(pairs, string(s), s.Label())
	}
	return pairs
}

func editions() []string {
	var pairs []string
	for _, e := range water.EditionNames() {
		pairs = append(pairs, e, e)
	}
	return pairs
}

func use() Field {
	return field("use", "Held to").from(string(water.Standard), "standard water", string(water.Ultrapure), "ultrapure water")
}

func waterKinds() []*Kind {
	return []*Kind{
		of[WaterReading](Kind{Name: "water_reading", Title: "Water plant", House: true, Check: checkWaterReading,
			Doc: "What was read off the water plant: pressures in the order of the water, hardness, salt, conductivities, counters. Any may be left out."},
			gauge("feed_kpa", "Pressure of the mains"), gauge("after_sediment_kpa", "After the sediment filter"), gauge("after_softener_kpa", "After the softener"),
			gauge("after_carbon_kpa", "After the first carbon"), gauge("after_second_carbon_kpa", "After the second carbon"), gauge("after_prefilter_kpa", "After the pre-filter of the reverse osmosis"),
			field("hardness_mg_l_caco3", "Hardness after the softener").refuse(0, 2000).ask(0, 100).read(),
			field("salt", "Salt").opt().read().from("enough", "enough, and loose", "low", "low", "bridge", "a bridge: hollow under a crust"),
			field("feed_conductivity_us_cm", "Conductivity before the reverse osmosis").refuse(0, 10000).ask(20, 2500).read(),
			field("product_conductivity_us_cm", "Conductivity of the product water").refuse(0, 5000).ask(0, 100).read(),
			field("feed_temperature_c", "Temperature of the feed").refuse(0, 60).ask(4, 35).read(),
			field("machine_h", "Hours on the machine's counter").refuse(0, 1e6).read(), field("plant_l", "Litres on the plant's counter").refuse(0, 1e8).read(),
			field("note", "In words").opt(),
		),
		of[WaterSample](Kind{Name: "water_sample", Title: "Water sample", House: true, Check: checkWaterSample,
			Doc: "One step of a sample on its way: planned, drawn, sent, reached the laboratory, lost. The result is an entry of its own."},
			field("sample", "Sample").long(64), field("state", "Step").from("planned", "planned", "drawn", "drawn", "sent", "sent", "reached", "reached the laboratory", "lost", "lost or spoilt"),
			field("point", "Drawn from").opt().from(water.PointProduct, water.PointProduct, water.PointInlet, water.PointInlet, water.PointFluid, water.PointFluid, "feed water", "feed water"),
			field("for", "Looked for").doc("substances: viable_count endotoxin, or those of the chemical analysis"),
			field("planned_on", "Planned for"), field("cooled", "Kept cool"),
			field("since_disinfection_h", "Hours since the last disinfection").refuse(0, 10000).read(),
			field("carrier", "Sent by").long(80), field("note", "In words"),
		),
		of[WaterResult](Kind{Name: "water_result", Title: "Water result", House: true, Check: checkWaterResult,
			Doc: "What a laboratory found, with its method. It is judged by the table named and the unit's own limits, and keeps that judgement when either changes."},
			field("sample", "Sample").long(64), field("laboratory", "Laboratory").long(80), field("edition", "Judged by").from(editions()...), use(),
			field("medium", "Medium").long(20).doc("R2A, TGEA, TSA"), field("culture_temperature_c", "Kept at").refuse(10, 50), field("culture_days", "Days").refuse(1, 30),
			field("plated_ml", "Water plated or filtered").refuse(0.01, 2000), field("dilution", "Diluted, one part in").refuse(1, 10000),
			field("owner", "Who sees to it, if it cannot stand").long(60),
			field("results", "Results").doc("each with op =, < or >, its value and its unit; nitrate with its basis, N or NO3"),
			field("judged", "Judgements").doc("worked out when left out"), field("note", "Remarks of the laboratory"),
		),
		of[TaskClosed](Kind{Name: "task_closed", Title: "Followed up", House: true, Check: checkTaskClosed, Doc: "Puts away the task that followed from a water result, or from a first carbon that let chlorine through."},
			field("result_id", "Result").long(64).doc("the water result, or the chlorine test"), field("did", "What was done"), field("told", "Whom at the unit, and what was said"),
		),
		of[WaterRules](Kind{Name: "water_rules", Title: "The unit's rules for water", House: true, Check: checkSetBy, Doc: "Which table of limits holds, how often chlorine is tested again in a long session, how long the machine may stand."},
			field("edition", "Table of limits").from(editions()...), use(),
			field("chlorine_repeat_h", "Chlorine again in a session every").refuse(0, 24).doc("0 when the unit does not ask for it"),
			field("idle_h", "Disinfected again when idle longer than").refuse(1, 1000),
			field("idle_none", "The unit sets no time for that"),
			field("set_by", "Set by").long(80), field("set_on", "Set on"), field("supplier_notice", "How the water supplier knows of you").long(200),
		),
		of[WaterLimit](Kind{Name: "water_limit", Title: "Limit set by the unit", House: true, Check: checkWaterLimit, Doc: "One limit of water as the unit set it; judgements made before keep theirs."},
			field("what", "What").from(substances()...), use(), field("max", "At most"), field("action", "Act from"), field("unit", "Unit").long(10),
			field("set_by", "Set by").long(80), field("set_on", "Set on"),
		),
		of[UtilityNotice](Kind{Name: "utility_notice", Title: "Notice about the water", House: true, Check: checkNotice, Doc: "Word from the water supplier, or what was seen at the tap: works, a burst main, water that looks or smells different."},
			field("from", "From"), field("to", "To").doc("blank while it is not over"), field("words", "In words"),
			field("about", "The notice that it ends").long(64),
		),
		of[ResidualTest](Kind{Name: "residual_test", Title: "Residual disinfectant", House: true, Check: checkResidue, Doc: "The test for disinfectant left in the machine after a chemical cycle."},
			field("looked_for", "Looked for").from("chlorine", "chlorine", "peracetic", "peracetic acid or peroxide", "formaldehyde", "formaldehyde"),
			field("value_mg_l", "Shown").refuse(0, 100).ask(0, 10).read(), field("below", "Read as “less than” this"), lot(), expiry(),
		),
	}
}
