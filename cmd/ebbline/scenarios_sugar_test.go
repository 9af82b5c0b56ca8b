package main

// markedSugar is a prescription whose unit marked the blood sugar.
var markedSugar = map[string]string{"prescription": `{"glucose_marked":true,"glucose_low_mmol_l":4.5,"glucose_every_min":60}`}

// Evenings of somebody whose blood sugar is measured, and of somebody whose is not
// (hazard H-143).
func init() {
	scenarios = append(scenarios,
		scenario{name: "a blood sugar in mmol/L", house: markedSugar, also: []doing{{28, "glucose", `{"glucose_mmol_l":6.2}`}},
			wants: map[string]want{"glucose": {"ready", "Blood sugar 6.2 mmol/L, 17 min ago, not under 4.5 mmol/L."}}},
		scenario{name: "a blood sugar in mg/dL", house: markedSugar, also: []doing{{28, "glucose", `{"glucose_mg_dl":112}`}},
			wants: map[string]want{"glucose": {"ready", "Blood sugar 112 mg/dL (6.22 mmol/L)"}}},
		scenario{name: "no blood sugar", house: markedSugar, wants: map[string]want{"glucose": {"open", "Measure your blood sugar."}}},
		scenario{name: "a low blood sugar", house: markedSugar, also: []doing{{28, "glucose", `{"glucose_mg_dl":80}`}},
			wants: map[string]want{"glucose": {"stop", "Blood sugar 80 mg/dL (4.44 mmol/L), under 4.5 mmol/L."}}},
		scenario{name: "Lo, then better", house: markedSugar, also: []doing{{24, "glucose", `{"shows":"low"}`}, {33, "glucose", `{"glucose_mmol_l":5.1}`}},
			wants: map[string]want{"glucose": {"look", "At 18:24: Blood sugar “Lo”: too low for a number."}}},
		scenario{name: "a low blood sugar of somebody not marked", also: []doing{{28, "glucose", `{"glucose_mmol_l":3.2}`}},
			wants: map[string]want{"fit": {"stop", "Blood sugar 3.2 mmol/L, under 4 mmol/L."}}},
	)
}
