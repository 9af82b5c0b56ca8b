package household

import (
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

func starting(list []Starting) map[string]Starting {
	m := map[string]Starting{}
	for _, s := range list {
		m[s.Item] = s
	}
	return m
}

// The list to begin from follows the prescription in force, and leaves out what
// is on the shelf's list by any of its names; what it gives is taken as it is.
func TestStartingItems(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 1, 9, 0)
	bare := starting(StartingItems(d.h, at))
	if len(bare) < 15 || bare["needle"].PerSession == nil || *bare["needle"].PerSession != 2*one {
		t.Errorf("without a prescription: %+v", bare)
	}
	length, flow := unit.Minutes(240), unit.Flow(500)
	d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) {
		rx.Dialyser, rx.Length, rx.DialFlow, rx.Dialysate = "high-flux, 1.8 m²", &length, &flow, nil
		rx.Access, rx.GaugeA, rx.GaugeV, rx.Heparin = "fistula", 16, 15, "none"
	})
	list := starting(StartingItems(d.h, at))
	if s := list["acid concentrate, L"]; s.PerSession == nil || *s.PerSession != 9*one/2 || s.Storage != "frost_free" || !strings.Contains(s.Why, "120 L") {
		t.Errorf("acid concentrate for 120 L: %+v", s)
	}
	for item, want := range map[string]bool{"arterial needle, 16 G": true, "venous needle, 15 G": true, "needle": false, "heparin vial": false, "disinfectant, dose": true} {
		if _, there := list[item]; there != want {
			t.Errorf("%s on the list: %v, want %v", item, there, want)
		}
	}
	if !strings.Contains(list["dialyser"].Why, "1.8 m²") {
		t.Errorf("%+v", list["dialyser"])
	}

	// Somebody's own needles answer to the names already.
	d.house(at, "stock_item", &record.StockItem{Item: "my needles", Also: "arterial needle, venous needle", PerSession: n(2), Pack: 50 * one, Storage: "room"})
	d.house(at, "stock_item", &record.StockItem{Item: "dialyser", PerSession: n(1), Pack: 12 * one, Storage: "room"})
	list = starting(StartingItems(d.h, at))
	if _, there := list["dialyser"]; there || list["arterial needle, 16 G"].Also != "" {
		t.Errorf("what is on the list already: %+v", list)
	}
	for _, s := range StartingItems(d.h, at) {
		body := s.StockItem
		d.house(at, "stock_item", &body) // the record refuses a name that another item has
	}
	if left := StartingItems(d.h, at); len(left) != 0 {
		t.Errorf("put on the list and still to begin from: %+v", left)
	}
}
