package record

import (
	"testing"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// Every kind of water, round and shelf that is folded in can be found again by
// its id, to be shown and struck out.
func TestWhatIsKeptIsFound(t *testing.T) {
	b := newBook(t)
	b.shelf()
	day := unit.DateOf(b.now)
	b.waterSample("sample-01", water.PointProduct, "viable_count")
	body := aResult("sample-01", count(60))
	body.Owner = "Orla"
	result := b.keep("water_result", body)
	b.keep("task_closed", &TaskClosed{Result: result.ID, Did: "disinfected", Told: "nurse by telephone"})
	b.keep("water_reading", &WaterReading{Salt: "enough"})
	b.keep("water_rules", &WaterRules{Edition: water.ISO2019, Use: "standard", SetBy: "Q", SetOn: day})
	b.keep("water_limit", &WaterLimit{What: "lead", Use: "standard", Max: "0.004", Unit: "mg/L", SetBy: "Q", SetOn: day})
	b.keep("utility_notice", &UtilityNotice{From: day, Words: "works"})
	b.keep("residual_test", &ResidualTest{For: "chlorine", Value: 20, Lot: "R", Expiry: day})
	made := b.keep("batch_made", &session.BatchMade{Name: "7"})
	b.keep("batch_tested", &session.BatchTested{Batch: made.ID, Result: ptr(unit.Concentration(20))})
	b.keep("round_item", &RoundItem{Item: "seal", Name: "Seal", Days: 3, SetBy: "me", SetOn: day})
	done := b.entry("round_done", "", &RoundDone{Item: "clinic", Outcome: "done"})
	if found := b.try(done); len(found) > 0 {
		t.Fatal(found)
	}
	b.keep("fault", &Fault{Words: "drip"})
	b.keep("sharps_bin", &SharpsBin{Did: "opened"})
	b.keep("needlestick_card", &NeedlestickCard{Card{Words: "wash", From: "nurse", GivenOn: day, ReviewBy: day.Add(300)}})
	b.keep("supplier", &Supplier{Name: "S", Phone: "1", LeadDays: 5, EveryDays: 28, FirstOn: day, Reserve: 6})
	b.keep("delivery_planned", &DeliveryPlanned{On: day.Add(3)})
	b.keep("order_sent", &OrderSent{For: day.Add(3), How: "email", Lines: []OrderLine{{"dialyser", 1, 12 * one}}})
	b.keep("delivery", &Delivery{Lines: []DeliveryLine{{Item: "dialyser", Lot: "Q", Pieces: one}}})
	b.keep("stock_used", &StockUsed{Item: "dialyser", Pieces: one, Why: "used"})
	b.keep("substitute", &Substitute{Item: "dialyser", Product: "other", Answer: "asked"})
	b.keep("quarantine", &Quarantine{Item: "dialyser", Lot: "D-1", State: "held", Why: "wet box"})
	recall := b.keep("recall", &Recall{Maker: "M", Item: "dialyser", All: true, From: "x"})
	b.keep("recall_closed", &RecallClosed{Recall: recall.ID, Told: "nurse by telephone", Returned: 13 * one})
	seen := map[string]bool{}
	for _, k := range b.h.Upkeep.Kept() {
		seen[k.Kind] = true
		again, ok := b.h.Upkeep.FindKept(k.ID)
		if !ok || again.Kind != k.Kind || again.Body == nil {
			t.Errorf("%s is not found by its id", k.Kind)
		}
	}
	for _, k := range Kinds() {
		switch k.Name {
		case "demonstration", "kidney_unit", "machine", "clock_moved":
			continue
		}
		if k.House && !seen[k.Name] {
			t.Errorf("%s is kept nowhere that can be found", k.Name)
		}
	}
	whose := map[string]string{}
	for _, k := range b.h.Upkeep.Kept() {
		whose[k.Kind] = k.Person
	}
	if whose["round_done"] != "person-one" || whose["recall"] != "" {
		t.Errorf("%v", whose)
	}
}
