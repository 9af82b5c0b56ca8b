package main

import (
	"encoding/json"
	"strings"
	"testing"
)

// The fluid of a machine as the household describes it.
var (
	withBags  = map[string]string{"machine": `{"kind":"bags"}`}
	withBatch = map[string]string{"machine": `{"kind":"batch"}`}
	unsaid    = map[string]string{"machine": `{"kind":"low_volume"}`}
)

// The tests of water and fluid, and the label, of an ordinary evening.
var ofWater, ofFluid = []string{"chlorine", "fluid_check"}, []string{"chlorine", "fluid_check", "bath_label"}

const (
	bagLabel  = `{"label_k_mmol_l":2,"label_ca_mmol_l":1.5,"lot":"S-1","expiry":"2027-01-31","seal_whole":"yes","clear":"yes"}`
	overLimit = `{"total_chlorine_mg_l":0.15,"below":false,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"product"}`

	batchMade   = `{"name":"7","use_within_h":72,"conductivity_low_ms_cm":13.6,"conductivity_high_ms_cm":14.2,"label_k_mmol_l":2,"label_ca_mmol_l":1.5,"lot":"A-31","expiry":"2026-09-30"}`
	batchTested = `{"batch_id":"BATCH","total_chlorine_mg_l":0.02,"below":true,"method":"reagent, read by eye","reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"product","machine_conductivity_ms_cm":13.9,"meter_conductivity_ms_cm":13.95}`
	batchFailed = `{"batch_id":"BATCH","total_chlorine_mg_l":0.15,"reads_down_to_mg_l":0.02,"lot":"C-417","expiry":"2026-11-30","sample_point":"product","machine_conductivity_ms_cm":13.9,"meter_conductivity_ms_cm":13.95}`
)

// made is a household with a batch of the evening before, and with what was tested of it.
func made(values string, tests ...string) []doing {
	list := []doing{{1500, "batch_made", values}}
	for i, one := range tests {
		list = append(list, doing{1520 + i, "batch_tested", one})
	}
	return list
}

// fromBatch is an evening from that batch.
func fromBatch(also ...doing) []doing {
	return append([]doing{{3, "batch_used", `{"batch_id":"BATCH"}`}}, also...)
}

// fluidScenarios are evenings with fluid of each kind.
var fluidScenarios = []scenario{
	// Not said which of the two: as on tap water.
	{name: "not said which, all tested", house: unsaid},

	// Ready bags.
	{name: "bags, nothing of water written", house: withBags, leave: ofFluid, also: []doing{{16, "bath_label", bagLabel}}},
	{name: "bags, chlorine over all the same", house: withBags, leave: ofFluid, also: []doing{{12, "chlorine", overLimit}, {16, "bath_label", bagLabel}},
		wants: map[string]want{"chlorine": {"stop", "0.15"}}},
	{name: "bags, not looked at", house: withBags, leave: ofWater, wants: map[string]want{"bath": {"open", "not said of each bag"}}},
	{name: "bags, a leak, then a good one", house: withBags, leave: ofFluid, also: []doing{
		{15, "bath_label", strings.Replace(bagLabel, `"seal_whole":"yes"`, `"seal_whole":"no"`, 1)}, {16, "bath_label", strings.Replace(bagLabel, "S-1", "S-2", 1)}},
		wants: map[string]want{"bath": {"stop", "Bag S-1 is not said to be off"}}},
	{name: "bags, a leak, then a good one in its place", house: withBags, leave: ofFluid, also: []doing{
		{15, "bath_label", strings.Replace(bagLabel, `"seal_whole":"yes"`, `"seal_whole":"no"`, 1)},
		{16, "bath_label", strings.Replace(bagLabel, `"lot":"S-1"`, `"lot":"S-2","replaces":"S-1"`, 1)}},
		wants: map[string]want{"bath": {"look", "The seal of a bag is not whole"}}},

	// A batch.
	{name: "a batch, all tested in the session, none written down", house: withBatch, wants: map[string]want{"bath": {"open", "None is written down"}}},
	{name: "a batch, nothing written", house: withBatch, leave: ofWater,
		wants: map[string]want{"chlorine": {"open", "Not tested"}, "conductivity": {"open", "Not compared"}, "bath": {"open", "None is written down"}}},
	{name: "a batch tested when it was made", house: withBatch, leave: ofFluid, shelf: made(batchMade, batchTested), also: fromBatch()},
	{name: "a batch that failed", house: withBatch, leave: ofFluid, shelf: made(batchMade, batchFailed), also: fromBatch(),
		wants: map[string]want{"chlorine": {"stop", "0.15"}}},
	{name: "a batch that failed, tested well since", house: withBatch, leave: ofFluid, shelf: made(batchMade, batchFailed, batchTested, batchTested), also: fromBatch(),
		wants: map[string]want{"chlorine": {"stop", "Ring your unit first"}}},
	{name: "a batch that failed, tested well since, and rang", house: withBatch, leave: ofFluid, shelf: made(batchMade, batchFailed, batchTested, batchTested),
		also: fromBatch(doing{30, "rang", `{"whom":"the unit by day","said":"use it"}`}), wants: map[string]want{"chlorine": {"look", "You rang the unit by day"}}},
	{name: "a batch past its use-by", house: withBatch, leave: ofFluid, shelf: made(strings.Replace(batchMade, "72", "20", 1), batchTested), also: fromBatch(),
		wants: map[string]want{"bath": {"stop", "past its use-by"}}},
	{name: "a batch out of its range", house: withBatch, leave: ofFluid, shelf: made(strings.Replace(batchMade, "14.2", "13.94", 1), batchTested), also: fromBatch(),
		wants: map[string]want{"conductivity": {"stop", "Meter 13.95, outside the batch’s 13.60 to 13.94"}}},
	{name: "a batch that is not named", house: withBatch, shelf: made(batchMade, batchTested), wants: map[string]want{"bath": {"open", "Not said from which batch"}}},
	{name: "a batch tested while setting up", house: withBatch, leave: ofFluid, shelf: made(batchMade), also: fromBatch(doing{12, "batch_tested", batchTested})},
	{name: "a batch not tested", house: withBatch, leave: ofFluid, shelf: made(batchMade), also: fromBatch(),
		wants: map[string]want{"chlorine": {"open", "not tested"}, "conductivity": {"open", "Not compared"}}},
}

// named puts the id of the batch that the household made in the place of BATCH.
func (s scenario) named(t *testing.T) scenario {
	t.Helper()
	id := ""
	for _, line := range s.household(t) {
		var e struct{ ID, Kind string }
		if err := json.Unmarshal([]byte(line), &e); err != nil {
			t.Fatal(err)
		}
		if e.Kind == "batch_made" {
			id = e.ID
		}
	}
	put := func(list []doing) (out []doing) {
		for _, d := range list {
			d.values = strings.ReplaceAll(d.values, "BATCH", id)
			out = append(out, d)
		}
		return out
	}
	s.shelf, s.also = put(s.shelf), put(s.also)
	return s
}

// What is written of the fluid, on a machine of each kind: by page, by command and from
// paper alike.
func TestStartLineOfEachFluid(t *testing.T) {
	t.Setenv("EBBLINE_ZONE", "Europe/Tallinn")
	if len(fluidScenarios) < 10 {
		t.Fatalf("only %d scenarios", len(fluidScenarios))
	}
	for _, s := range fluidScenarios {
		t.Run(s.name, func(t *testing.T) { s.named(t).byThreeRoads(t) })
	}
}
