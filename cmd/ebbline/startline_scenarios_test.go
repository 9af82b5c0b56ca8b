package main

// scenarios are evenings of an invented person, one or more for each rule of the
// start line.
var scenarios = []scenario{
	{name: "an ordinary evening"},
	{name: "fever", leave: []string{"fitness"}, also: []doing{{1, "fitness", `{"fever":true}`}},
		wants: map[string]want{"fit": {"stop", "fever"}}},
	{name: "fever, then none", also: []doing{{3, "fitness", `{"fever":true}`}, {30, "fitness", `{}`}},
		wants: map[string]want{"fit": {"stop", "At 18:03: Ring your unit first: fever."}}},
	{name: "fever, then none, and rang", also: []doing{
		{3, "fitness", `{"fever":true}`}, {30, "fitness", `{}`},
		{33, "rang", `{"whom":"the unit by day","said":"come in if it returns"}`}},
		wants: map[string]want{"fit": {"look", "You rang the unit by day at 18:33: come in if it returns."}}},
	{name: "no thrill", leave: []string{"access_check"}, also: []doing{{2, "access_check", `{"thrill":"absent","bruit":"absent","skin":"clean"}`}},
		wants: map[string]want{"access": {"stop", "No thrill"}}},
	{name: "a wrong label, then the right one", also: []doing{{15, "bath_label", `{"label_k_mmol_l":1,"label_ca_mmol_l":1.5,"lot":"B-1","expiry":"2027-01-31"}`}},
		wants: map[string]want{"bath": {"look", "At 18:15: Label K 1, prescribed 2."}}},
	{name: "self-test failed, then passed", also: []doing{{13, "self_test", `{"passed":false,"tries":1}`}},
		wants: map[string]want{"self_test": {"look", "At 18:13: Not passed."}}},
	{name: "too hot", leave: []string{"fluid_check"}, also: []doing{{30, "fluid_check", `{"machine_conductivity_ms_cm":13.9,"meter_conductivity_ms_cm":13.95,"machine_temperature_c":38.6}`}},
		wants: map[string]want{"conductivity": {"stop", "38.6"}}},
	{name: "not weighed", leave: []string{"weigh_in"}, plan: "-", wants: map[string]want{"weighed": {"open", ""}, "plan": {"open", ""}}},
	{name: "an expired dialyser", also: []doing{{23, "supply", `{"item":"dialyser","lot":"D-9","expiry":"2026-02-28"}`}},
		wants: map[string]want{"lots": {"stop", "Dialyser expired 28 February 2026."}}},
}
