package main

// noHeparin is a prescription without heparin and with flushes.
var noHeparin = map[string]string{"prescription": `{"heparin":"none","flush_ml":50,"flush_every_min":30}`}

// Evenings of somebody who is ordered no heparin.
func init() {
	scenarios = append(scenarios,
		scenario{name: "no heparin, with flushes", house: noHeparin, wants: map[string]want{"heparin": {"ready", "None prescribed."}}},
		scenario{name: "heparin drawn though none is ordered", house: noHeparin, also: []doing{{28, "heparin_drawn", drawnUp}},
			wants: map[string]want{"heparin": {"stop", "None prescribed, but 4 500 IU was drawn up."}}},
	)
}
