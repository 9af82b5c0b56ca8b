package main

// withHeparin is a prescription with heparin, and drawnUp what it asks for.
var withHeparin = map[string]string{"prescription": `{"heparin":"unfractionated","heparin_strength_iu_ml":1000,"heparin_bolus_iu":1500,"heparin_hourly_iu_h":800,"heparin_stop_before_end_min":45}`}

const drawnUp = `{"strength_iu_ml":1000,"bolus_iu":1500,"line_iu":3000,"bolus_ml":1.5,"line_ml":3,"lot":"H-5","expiry":"2027-01-31"}`

// drawnUpStronger is the same dose from a vial five times as strong, read twice.
const drawnUpStronger = `{"strength_iu_ml":5000,"label_read_again_iu_ml":5000,"bolus_iu":1500,"line_iu":3000,"bolus_ml":0.3,"line_ml":0.6,"lot":"H-5","expiry":"2027-01-31"}`

// noResidue is a residue test that shows nothing.
const noResidue = `{"looked_for":"peracetic","value_mg_l":0.5,"below":true,"lot":"R-1","expiry":"2026-12-31"}`

// shelfOf is a shelf with one item, of which one lot came with a number on its label.
func shelfOf(item, lot, number string) []doing {
	return []doing{
		{400, "stock_item", `{"item":"` + item + `","per_session_pieces":1,"pack_pieces":10,"storage":"room","off":false}`},
		{401, "delivery", `{"lines":[{"item":"` + item + `","lot":"` + lot + `","pieces":10,` + number + `}]}`},
	}
}

// byCatheter is a prescription of a catheter with a lock; seen, caps and lockRead are
// what it asks for in the place of thrill and needles.
var byCatheter = map[string]string{"prescription": `{"access":"catheter","access_side":"neck_or_chest","technique":"none","arterial_needle_gauge":null,"venous_needle_gauge":null,` +
	`"lock":"citrate 4 %","lock_strength_percent":4,"lock_arterial_ml":1.6,"lock_venous_ml":1.7}`}

// withoutLock is the same prescription as a household has it that never ordered one.
var withoutLock = map[string]string{"prescription": `{"access":"catheter","access_side":"neck_or_chest","technique":"none","arterial_needle_gauge":null,"venous_needle_gauge":null}`}

const (
	seen     = `{"thrill":"not_applicable","bruit":"not_done","skin":"clean","cuff":"hidden","outer_length":"as_before"}`
	caps     = `{"item":"caps","lot":"CA-2","expiry":"2028-05-31"}`
	lockRead = `{"name":"Citrate","strength_percent":4,"arterial_ml":1.6,"venous_ml":1.7,"lot":"K-5","expiry":"2027-01-31"}`
)

// reading gives an evening by catheter with what was read of its lock, masks and clamps
// ticked, the old one drawn out of both lumens.
func reading(locks ...doing) []doing {
	return drawing(append(locks, doing{26, "lock_drawn", `{"arterial":"drawn","venous":"drawn"}`})...)
}

// drawing is the same with what was done of the old lock, or nothing.
func drawing(locks ...doing) []doing {
	return append([]doing{{2, "access_check", seen}, {21, "supply", caps},
		{22, "step", `{"phase":"set_up","step":"masks","state":"done"}`},
		{23, "step", `{"phase":"set_up","step":"clamps","state":"done"}`}}, locks...)
}

// scenarios are evenings of an invented person, one or more for each rule of the
// start line.
var scenarios = []scenario{
	{name: "an ordinary evening"},

	// How am I, and what stopped before.
	{name: "fever", leave: []string{"fitness"}, also: []doing{{1, "fitness", `{"fever":true}`}},
		wants: map[string]want{"fit": {"stop", "fever"}, "access": {"stop", "ever"}}},
	{name: "fever, then none", also: []doing{{3, "fitness", `{"fever":true}`}, {30, "fitness", `{"none_of_these":true}`}},
		wants: map[string]want{"fit": {"stop", "At 18:03: Ring your unit first: fever."}, "access": {"stop", "Fever told."}}},
	{name: "fever, then none, and rang", also: []doing{
		{3, "fitness", `{"fever":true}`}, {30, "fitness", `{"none_of_these":true}`},
		{33, "rang", `{"whom":"the unit by day","said":"come in if it returns"}`}},
		wants: map[string]want{"fit": {"look", "You rang the unit by day at 18:33: come in if it returns."}, "access": {"look", "You rang"}}},
	{name: "chest pain, rung about in the answer, then none", also: []doing{
		{3, "fitness", `{"chest_pain":true,"rang":"Nurse Kos: come in slowly"}`}, {30, "fitness", `{"none_of_these":true}`}},
		wants: map[string]want{"fit": {"look", "At 18:03: Chest pain. You rang: Nurse Kos: come in slowly."}}},
	{name: "a note and nothing ticked", leave: []string{"fitness"}, also: []doing{{1, "fitness", `{"none_of_these":true,"note":"fever 39, chills since midnight"}`}},
		wants: map[string]want{"fit": {"look", "You wrote: “fever 39, chills since midnight”."}}},
	{name: "a temperature, then less", also: []doing{{3, "vitals_before", `{"sitting_systolic_mmhg":138,"sitting_diastolic_mmhg":79,"standing_systolic_mmhg":131,"standing_diastolic_mmhg":77,"pulse_per_min":68,"temperature_c":38.2}`}},
		wants: map[string]want{"vitals": {"stop", "38.2"}, "access": {"stop", "38.2"}}},
	{name: "a pressure out of the unit's limits, then inside", house: map[string]string{"prescription": `{"start_systolic_low_mmhg":100,"start_systolic_high_mmhg":170}`},
		also:  []doing{{3, "vitals_before", `{"sitting_systolic_mmhg":178,"sitting_diastolic_mmhg":79,"standing_systolic_mmhg":160,"standing_diastolic_mmhg":77,"pulse_per_min":68,"temperature_c":36.5}`}},
		wants: map[string]want{"vitals": {"look", "178"}}},
	{name: "a wrong label, then the right one", also: []doing{{15, "bath_label", `{"label_k_mmol_l":1,"label_ca_mmol_l":1.5,"lot":"B-1","expiry":"2027-01-31"}`}},
		wants: map[string]want{"bath": {"look", "At 18:15: Label K 1, prescribed 2."}}},
	{name: "self-test failed, then passed", also: []doing{{13, "self_test", `{"passed":false,"tries":1}`}},
		wants: map[string]want{"self_test": {"look", "At 18:13: Not passed."}}},

	// Removal rate.
	{name: "19.4 mL/h/kg and no limit", house: map[string]string{"prescription": `{"rate_limit_ml_h_kg":null,"max_removal_ml":null,"length_min":210}`},
		leave: []string{"weigh_in"}, also: []doing{{4, "weigh_in", `{"weight_kg":61.9,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}},
		wants: map[string]want{"plan": {"stop", "19.4"}}},
	{name: "27.6 mL/h/kg under a greatest volume", house: map[string]string{"prescription": `{"rate_limit_ml_h_kg":null,"max_removal_ml":4000,"dry_weight_kg":58,"length_min":150}`},
		leave: []string{"weigh_in"}, also: []doing{{4, "weigh_in", `{"weight_kg":61.9,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}},
		wants: map[string]want{"plan": {"stop", "27.6"}}},
	{name: "above 10, no limit", house: map[string]string{"prescription": `{"rate_limit_ml_h_kg":null,"max_removal_ml":null,"length_min":210}`},
		wants: map[string]want{"plan": {"look", "11.5"}}},
	{name: "above 13 inside the unit's limit", house: map[string]string{"prescription": `{"rate_limit_ml_h_kg":15,"max_removal_ml":null,"length_min":180}`}},

	// Below dry weight.
	{name: "0.2 kg under", leave: []string{"weigh_in"}, also: []doing{{4, "weigh_in", `{"weight_kg":58.2,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}}},
	{name: "0.3 kg under", leave: []string{"weigh_in"}, also: []doing{{4, "weigh_in", `{"weight_kg":58.1,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}},
		wants: map[string]want{"plan": {"look", "0.3"}}},
	{name: "0.5 kg under", leave: []string{"weigh_in"}, also: []doing{{4, "weigh_in", `{"weight_kg":57.9,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}},
		wants: map[string]want{"plan": {"stop", "0.5"}}},
	{name: "0.2 kg under and not eating", leave: []string{"weigh_in", "fitness"}, also: []doing{
		{1, "fitness", `{"stomach":true}`},
		{4, "weigh_in", `{"weight_kg":58.2,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}},
		wants: map[string]want{"fit": {"stop", "vomiting"}, "plan": {"stop", "0.2"}}},

	// Conductivity.
	{name: "both meters at 12.6 and 12.8", leave: []string{"fluid_check"}, also: []doing{{30, "fluid_check", `{"machine_conductivity_ms_cm":12.6,"meter_conductivity_ms_cm":12.8}`}},
		wants: map[string]want{"conductivity": {"stop", "12.6"}}},
	{name: "the meters disagree", leave: []string{"fluid_check"}, also: []doing{{30, "fluid_check", `{"machine_conductivity_ms_cm":13.9,"meter_conductivity_ms_cm":14.4}`}},
		wants: map[string]want{"conductivity": {"stop", "14.4"}}},
	{name: "0.5 from the set value", house: map[string]string{"prescription": `{"conductivity_ms_cm":14}`}, leave: []string{"fluid_check"},
		also:  []doing{{30, "fluid_check", `{"machine_conductivity_ms_cm":14.5,"meter_conductivity_ms_cm":14.45}`}},
		wants: map[string]want{"conductivity": {"look", "14.5"}}},
	{name: "more than 5 % from the set value", house: map[string]string{"prescription": `{"conductivity_ms_cm":14}`}, leave: []string{"fluid_check"},
		also:  []doing{{30, "fluid_check", `{"machine_conductivity_ms_cm":14.71,"meter_conductivity_ms_cm":14.71}`}},
		wants: map[string]want{"conductivity": {"stop", "14.71"}}},
	{name: "too hot", leave: []string{"fluid_check"}, also: []doing{{30, "fluid_check", `{"machine_conductivity_ms_cm":13.9,"meter_conductivity_ms_cm":13.95,"machine_temperature_c":38.6}`}},
		wants: map[string]want{"conductivity": {"stop", "38.6"}}},
	{name: "pH 7.8", leave: []string{"fluid_check"}, also: []doing{{30, "fluid_check", `{"machine_conductivity_ms_cm":13.9,"meter_conductivity_ms_cm":13.95,"ph":7.8}`}},
		wants: map[string]want{"conductivity": {"stop", "7.8"}}},

	// Not measured is not ready.
	{name: "no temperature", leave: []string{"vitals_before"}, also: []doing{{9, "vitals_before", `{"sitting_systolic_mmhg":138,"sitting_diastolic_mmhg":79,"standing_systolic_mmhg":131,"standing_diastolic_mmhg":77,"pulse_per_min":68}`}},
		wants: map[string]want{"vitals": {"open", "emperature"}}},
	{name: "no pulse", leave: []string{"vitals_before"}, also: []doing{{9, "vitals_before", `{"sitting_systolic_mmhg":138,"sitting_diastolic_mmhg":79,"standing_systolic_mmhg":131,"standing_diastolic_mmhg":77,"temperature_c":36.5}`}},
		wants: map[string]want{"vitals": {"open", "ulse"}}},
	{name: "not stood up", leave: []string{"vitals_before"}, also: []doing{{9, "vitals_before", `{"sitting_systolic_mmhg":138,"sitting_diastolic_mmhg":79,"pulse_per_min":68,"temperature_c":36.5}`}},
		wants: map[string]want{"vitals": {"open", "tanding"}}},
	{name: "cannot stand, lying", leave: []string{"vitals_before"}, also: []doing{{9, "vitals_before", `{"sitting_systolic_mmhg":138,"sitting_diastolic_mmhg":79,"cannot_stand":true,"lying_systolic_mmhg":140,"lying_diastolic_mmhg":80,"pulse_per_min":68,"temperature_c":36.5}`}}},
	{name: "a new drop on standing", leave: []string{"vitals_before"}, also: []doing{{9, "vitals_before", `{"sitting_systolic_mmhg":138,"sitting_diastolic_mmhg":79,"standing_systolic_mmhg":118,"standing_diastolic_mmhg":75,"pulse_per_min":68,"temperature_c":36.5}`}},
		wants: map[string]want{"vitals": {"look", "118"}}},

	// Access.
	{name: "no thrill, no bruit", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"absent","bruit":"absent","skin":"clean"}`}},
		wants: map[string]want{"access": {"stop", "o thrill"}}},
	{name: "bruit without a thrill", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"absent","bruit":"present","skin":"clean"}`}},
		wants: map[string]want{"access": {"stop", "hrill"}}},
	{name: "thrill without a bruit", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"present","bruit":"absent","skin":"clean"}`}},
		wants: map[string]want{"access": {"look", "ruit"}}},
	{name: "not listened", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"present","bruit":"not_done","skin":"clean"}`}}},
	{name: "a weaker thrill", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"weaker","bruit":"present","skin":"clean"}`}},
		wants: map[string]want{"access": {"look", "weaker"}}},
	{name: "one sign of infection", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"present","bruit":"present","skin":"clean","tender":true}`}},
		wants: map[string]want{"access": {"look", "ender"}}},
	{name: "two signs of infection", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"present","bruit":"present","skin":"red","warm":true}`}},
		wants: map[string]want{"access": {"stop", "ed"}}},
	{name: "a bulge that grew", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"present","bruit":"present","skin":"clean","bulge":true}`}},
		wants: map[string]want{"access": {"stop", "Bulge grew"}}},
	{name: "no thrill, then one", also: []doing{{1, "access_check", `{"thrill":"absent","bruit":"absent","skin":"clean"}`}},
		wants: map[string]want{"access": {"stop", "At 18:01"}}},

	// Gap and potassium.
	{name: "heavy legs", leave: []string{"fitness"}, also: []doing{{1, "fitness", `{"heavy_legs":true}`}},
		wants: map[string]want{"fit": {"stop", "eavy legs"}, "gap": {"stop", "ambulance"}}},

	{name: "heavy legs, and rang", leave: []string{"fitness"}, also: []doing{{1, "fitness", `{"heavy_legs":true}`},
		{30, "rang", `{"whom":"112","said":"they came and measured, go on"}`}},
		wants: map[string]want{"fit": {"look", "go on"}, "gap": {"look", "You rang 112 at 18:30"}}},
	{name: "105 hours", ago: 110, wants: map[string]want{
		"gap":         {"stop", "105 h since the last session ended, 1 session missed. Ring about potassium"},
		"disinfected": {"look", "Stood 104 hours"}}},
	{name: "cut by half", past: []doing{{181, "came_off", `{"washback_ml":250,"removed_ml":1000,"returned":"all","why":"cramp"}`}},
		wants: map[string]want{"gap": {"look", "ran 2 h 15 min of 4 h 30 min"}}},
	{name: "a gain of 6 %", leave: []string{"weigh_in"}, plan: "-", also: []doing{{4, "weigh_in", `{"weight_kg":62.1,"clothing_kg":0.2,"scale":"bathroom scale","read_in":"kg"}`}},
		wants: map[string]want{"gap": {"look", "6.2 %"}, "plan": {"open", ""}}},

	// Heparin and lots.
	{name: "a new blood thinner", house: withHeparin, leave: []string{"fitness"},
		also:  []doing{{1, "fitness", `{"blood_thinner":true}`}, {28, "heparin_drawn", drawnUp}},
		wants: map[string]want{"fit": {"stop", "blood thinner"}, "heparin": {"stop", "Hold heparin: new blood thinner."}}},
	{name: "heparin as prescribed", house: withHeparin, also: []doing{{28, "heparin_drawn", drawnUp}}},
	{name: "heparin of another strength", house: withHeparin,
		also:  []doing{{28, "heparin_drawn", drawnUpStronger}},
		wants: map[string]want{"heparin": {"look", "from 5 000 IU/mL, prescribed is 1 000 IU/mL."}}},
	{name: "heparin not drawn up", house: withHeparin, wants: map[string]want{"heparin": {"open", "Not drawn up"}}},
	// The lock of a catheter; without one nothing is asked.
	{name: "the lock as ordered", house: byCatheter, leave: []string{"access_check"}, also: reading(doing{28, "catheter_lock", lockRead}),
		wants: map[string]want{"lock": {"ready", "Citrate, 4 %, arterial 1.6 mL, venous 1.7 mL, as ordered."}}},
	{name: "a lock of another strength", house: byCatheter, leave: []string{"access_check"},
		also:  reading(doing{28, "catheter_lock", `{"name":"citrate","strength_percent":40,"arterial_ml":1.6,"venous_ml":1.7,"lot":"K-5","expiry":"2027-01-31"}`}),
		wants: map[string]want{"lock": {"stop", "Lock of 40 %, ordered 4 %. Do not use it; ring."}}},
	{name: "a lock of heparin for one of citrate, and rang", house: byCatheter, leave: []string{"access_check"},
		also: reading(doing{28, "catheter_lock", `{"name":"citrate","strength_iu_ml":5000,"arterial_ml":1.6,"venous_ml":1.7,"lot":"K-5","expiry":"2027-01-31"}`},
			doing{33, "rang", `{"whom":"the unit by day","said":"use it this once"}`}),
		wants: map[string]want{"lock": {"stop", "Lock of 5 000 IU/mL, ordered 4 %."}}},
	{name: "the lumens swapped, then right", house: byCatheter, leave: []string{"access_check"},
		also: reading(doing{27, "catheter_lock", `{"name":"citrate","strength_percent":4,"arterial_ml":1.7,"venous_ml":1.6,"lot":"K-5","expiry":"2027-01-31"}`},
			doing{29, "catheter_lock", lockRead}),
		wants: map[string]want{"lock": {"look", "At 18:27: Arterial lumen 1.7 mL, ordered 1.6 mL."}}},
	{name: "a wrong lock, then the lumens swapped", house: byCatheter, leave: []string{"access_check"},
		also: reading(doing{27, "catheter_lock", `{"name":"citrate","strength_percent":40,"arterial_ml":1.6,"venous_ml":1.7,"lot":"K-5","expiry":"2027-01-31"}`},
			doing{29, "catheter_lock", `{"name":"sodium citrate lock solution","strength_percent":4,"arterial_ml":1.7,"venous_ml":1.6,"lot":"K-5","expiry":"2027-01-31"}`}),
		wants: map[string]want{"lock": {"stop", "At 18:29: Arterial lumen 1.7 mL, ordered 1.6 mL. Do not lock; ring. At 18:29: Venous lumen 1.6 mL, ordered 1.7 mL. Do not lock; ring. At 18:27: Lock of 40 %, ordered 4 %. Do not use it; ring."}}},
	{name: "an expired lock, then another", house: byCatheter, leave: []string{"access_check"},
		also: reading(doing{27, "catheter_lock", `{"name":"citrate","strength_percent":4,"arterial_ml":1.6,"venous_ml":1.7,"lot":"K-4","expiry":"2026-03-03"}`},
			doing{29, "catheter_lock", lockRead}),
		wants: map[string]want{"lock": {"look", "At 18:27: Lock expired 3 March 2026."}}},
	{name: "the lumens swapped", house: byCatheter, leave: []string{"access_check"},
		also:  reading(doing{28, "catheter_lock", `{"name":"citrate","strength_percent":4,"arterial_ml":1.7,"venous_ml":1.6,"lot":"K-5","expiry":"2027-01-31"}`}),
		wants: map[string]want{"lock": {"stop", "Venous lumen 1.6 mL, ordered 1.7 mL. Do not lock; ring."}}},
	{name: "an expired lock", house: byCatheter, leave: []string{"access_check"},
		also:  reading(doing{28, "catheter_lock", `{"name":"citrate","strength_percent":4,"arterial_ml":1.6,"venous_ml":1.7,"lot":"K-5","expiry":"2026-03-03"}`}),
		wants: map[string]want{"lock": {"stop", "Lock expired 3 March 2026."}, "lots": {"look", "Catheter lock expired 3 March 2026."}}},
	{name: "the lock not typed", house: byCatheter, leave: []string{"access_check"}, also: reading(),
		wants: map[string]want{"lock": {"open", "Not read yet. Type what vial and lumens say."}}},
	{name: "no lock ordered, none typed", house: withoutLock, leave: []string{"access_check"}, also: reading(),
		wants: map[string]want{"lock": {"look", "No lock is ordered here. Ask your unit which."}}},
	{name: "no lock ordered, one typed", house: withoutLock, leave: []string{"access_check"}, also: reading(doing{28, "catheter_lock", lockRead}),
		wants: map[string]want{"lock": {"look", "Citrate, 4 %: no lock is ordered here. Ask your unit."}}},
	{name: "the old lock not drawn", house: byCatheter, leave: []string{"access_check"}, also: drawing(doing{28, "catheter_lock", lockRead}),
		wants: map[string]want{"lock": {"open", "Old lock not drawn yet. Draw it out of each lumen first."}}},
	{name: "no lock ordered, the old one not drawn", house: withoutLock, leave: []string{"access_check"}, also: drawing(),
		wants: map[string]want{"lock": {"open", "Old lock not drawn yet. Draw it out of each lumen first."}}},
	{name: "the old lock of a lumen could not be drawn", house: byCatheter, leave: []string{"access_check"},
		also:  drawing(doing{28, "catheter_lock", lockRead}, doing{30, "lock_drawn", `{"arterial":"drawn","venous":"could_not"}`}),
		wants: map[string]want{"lock": {"stop", "Old lock of the venous lumen could not be drawn. Push nothing in; ring."}}},
	{name: "could not be drawn, and rang", house: byCatheter, leave: []string{"access_check"},
		also: drawing(doing{28, "catheter_lock", lockRead}, doing{30, "lock_drawn", `{"arterial":"could_not","venous":"drawn"}`},
			doing{33, "rang", `{"whom":"the unit by day","said":"come in"}`}),
		wants: map[string]want{"lock": {"look", "You rang the unit by day at 18:33: come in."}}},
	{name: "could not be drawn, then drawn", house: byCatheter, leave: []string{"access_check"},
		also:  reading(doing{28, "catheter_lock", lockRead}, doing{25, "lock_drawn", `{"arterial":"could_not","venous":"drawn"}`}),
		wants: map[string]want{"lock": {"look", "At 18:25: Old lock of the arterial lumen could not be drawn at first; later it was."}}},
	{name: "clots in the old lock", house: byCatheter, leave: []string{"access_check"},
		also:  drawing(doing{28, "catheter_lock", lockRead}, doing{30, "lock_drawn", `{"arterial":"drawn","venous":"drawn","clots":true}`}),
		wants: map[string]want{"lock": {"look", "Clots in the old lock. Tell your unit."}}},
	{name: "the cuff shows", house: byCatheter, leave: []string{"access_check"},
		also: append(reading(doing{28, "catheter_lock", lockRead}),
			doing{3, "access_check", `{"thrill":"not_applicable","skin":"clean","cuff":"showing","outer_length":"as_before"}`}),
		wants: map[string]want{"access": {"stop", "The cuff shows. Ring your unit before you start."}}},
	{name: "longer outside", house: byCatheter, leave: []string{"access_check"},
		also: append(reading(doing{28, "catheter_lock", lockRead}),
			doing{3, "access_check", `{"thrill":"not_applicable","skin":"clean","cuff":"hidden","outer_length":"longer"}`}),
		wants: map[string]want{"access": {"stop", "The catheter is longer outside. Ring your unit before you start."}}},

	// A lot of the shelf that says another number than the thing in the hand.
	{name: "the shelf says another heparin", house: withHeparin, shelf: shelfOf("heparin vial", "H-5", `"strength_iu_ml":5000`), also: []doing{{28, "heparin_drawn", drawnUp}},
		wants: map[string]want{"heparin": {"stop", "Lot H-5: strength typed 1 000 IU/mL, shelf has 5 000 IU/mL. Read the label."}}},
	{name: "the shelf says the same heparin", house: withHeparin, shelf: shelfOf("heparin vial", "H-5", `"strength_iu_ml":1000`), also: []doing{{28, "heparin_drawn", drawnUp}}},
	{name: "the shelf says another K", shelf: shelfOf("acid concentrate, L", "B-220", `"k_mmol_l":3`),
		wants: map[string]want{"bath": {"stop", "Lot B-220: K typed 2 mmol/L, shelf has 3 mmol/L."}}},
	{name: "the shelf says another lowest step", shelf: shelfOf("chlorine strips", "C-417", `"reads_down_to_mg_l":0.1`),
		wants: map[string]want{"chlorine": {"stop", "Lot C-417: lowest step typed 0.02 mg/L, shelf has 0.1 mg/L."}}},
	{name: "the shelf says another lock", house: byCatheter, leave: []string{"access_check"}, shelf: shelfOf("catheter lock", "K-5", `"strength_percent":30`),
		also:  reading(doing{28, "catheter_lock", lockRead}),
		wants: map[string]want{"lock": {"stop", "Lot K-5: strength typed 4 %, shelf has 30 %."}}},

	{name: "no lot of the lines", leave: []string{"supply"}, also: []doing{
		{20, "supply", `{"item":"dialyser","lot":"D-1031","expiry":"2028-05-31"}`}, {21, "supply", `{"item":"needles","lot":"N-12","expiry":"2028-05-31"}`},
		{21, "supply", `{"item":"saline","lot":"S-3","expiry":"2028-05-31"}`}},
		wants: map[string]want{"lots": {"open", "Lines: lot not written."}}},

	// Disinfected.
	{name: "a chemical disinfection and no residue test", past: []doing{{350, "disinfection", `{"programme":"chemical","result":"passed"}`}},
		wants: map[string]want{"disinfected": {"stop", "Chemical disinfection"}}},
	{name: "a chemical disinfection and a residue test", past: []doing{{350, "disinfection", `{"programme":"chemical","result":"passed"}`}},
		also: []doing{{26, "residual_test", noResidue}}},
	{name: "moved", past: []doing{{360, "round_done", `{"item":"moved","outcome":"done"}`}},
		wants: map[string]want{"disinfected": {"stop", "Moved, 3 March. Rinse, then test for residue."}}},
	{name: "moved and tested, no rinse written", past: []doing{{360, "round_done", `{"item":"moved","outcome":"done"}`}},
		also:  []doing{{26, "residual_test", noResidue}},
		wants: map[string]want{"disinfected": {"stop", "No rinse is written since. Rinse; write when."}}},
	{name: "moved and rinsed, not tested", past: []doing{{360, "round_done", `{"item":"moved","outcome":"done"}`}},
		also:  []doing{{10, "round_done", `{"item":"rinse","outcome":"done"}`}},
		wants: map[string]want{"disinfected": {"stop", "Rinsed since; test for residue."}}},
	{name: "moved, rinsed and tested", past: []doing{{360, "round_done", `{"item":"moved","outcome":"done"}`}},
		also: []doing{{10, "round_done", `{"item":"rinse","outcome":"done"}`}, {26, "residual_test", noResidue}}},

	// Chlorine.
	{name: "chlorine over the limit", leave: []string{"chlorine"}, also: []doing{{12, "chlorine", `{"total_chlorine_mg_l":0.3,"below":false,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"first_carbon"}`}},
		wants: map[string]want{"chlorine": {"stop", "0.3"}}},
	{name: "chlorine over, then one good sample", also: []doing{{11, "chlorine", `{"total_chlorine_mg_l":0.3,"below":false,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"first_carbon"}`}},
		wants: map[string]want{"chlorine": {"stop", "0.3"}}},
	{name: "chlorine over, two good samples, and rang", also: []doing{
		{10, "chlorine", `{"total_chlorine_mg_l":0.3,"below":false,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"first_carbon"}`},
		{15, "chlorine", `{"total_chlorine_mg_l":0.02,"below":true,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"first_carbon"}`},
		{18, "rang", `{"whom":"the technician","said":"changed the carbon, test twice"}`}},
		wants: map[string]want{"chlorine": {"look", "0.3"}}},
	{name: "the first carbon failed, the second is good", leave: []string{"chlorine"}, also: []doing{
		{10, "chlorine", `{"total_chlorine_mg_l":0.3,"below":false,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"first_carbon"}`},
		{13, "chlorine", `{"total_chlorine_mg_l":0.02,"below":true,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"second_carbon"}`}},
		wants: map[string]want{"chlorine": {"look", "First carbon: 0.3"}}},

	// Disinfection.
	{name: "disinfected while setting up", also: []doing{{15, "disinfection", `{"programme":"heat","result":"passed"}`}},
		wants: map[string]want{"self_test": {"open", "disinfection"}}},

	// Lots.
	{name: "an expired dialyser", also: []doing{{23, "supply", `{"item":"dialyser","lot":"D-9","expiry":"2026-02-28"}`}},
		wants: map[string]want{"lots": {"stop", "ialyser expired 28 February 2026."}}},

	{name: "not weighed", leave: []string{"weigh_in"}, plan: "-", wants: map[string]want{"weighed": {"open", ""}, "plan": {"open", ""}}},
}
