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

// Every item of the list to begin from that a session opens is known to the start
// line by its name: the first session asks for the lot of each of them, and for no
// gloves (H-83).
func TestStartingItemsAreAskedForByTheirNames(t *testing.T) {
	for _, tt := range []struct {
		name, machine string
		set           func(*session.Prescription)
		want          string
	}{
		{"fistula", "single_pass", func(rx *session.Prescription) { rx.GaugeA, rx.GaugeV = 16, 16 },
			"dialyser, line set, needle, acid concentrate, bicarbonate cartridge, saline 1 L"},
		{"two gauges", "single_pass", func(rx *session.Prescription) { rx.GaugeA, rx.GaugeV = 16, 15 },
			"dialyser, line set, arterial needle, venous needle, acid concentrate, bicarbonate cartridge, saline 1 L"},
		{"catheter", "single_pass", func(rx *session.Prescription) {
			rx.Access, rx.Technique, rx.GaugeA, rx.GaugeV = "catheter", "none", 0, 0
		},
			"dialyser, line set, catheter cap, acid concentrate, bicarbonate cartridge, saline 1 L"},
		{"bags", "low_volume", func(rx *session.Prescription) {
			litres := unit.Litres(25_000)
			rx.GaugeA, rx.GaugeV, rx.Dialysate, rx.DialFlow = 16, 16, &litres, nil
		}, "dialyser, line set, needle, dialysate, saline 1 L"},
	} {
		d := newDiary(t, "Europe/Ljubljana")
		at := d.at(2026, 3, 1, 9, 0)
		d.ordered(unit.NewDate(2026, 1, 1), tt.set)
		for _, s := range StartingItems(d.h, at) {
			body := s.StockItem
			d.house(at, "stock_item", &body)
		}
		d.put(d.at(2026, 3, 1, 17, 0), "session_opened", "s-1", &session.Opened{Place: "home", Source: "live", Confirmed: true})
		s := d.h.Session("s-1")
		s.Machine.Kind = tt.machine
		for _, c := range session.StartLine(s, d.h.Member(s.Person).History(s), d.at(2026, 3, 1, 17, 1)) {
			if want := "No lots written: " + tt.want + "."; c.ID == session.CheckLots && (c.State != session.OpenYet || c.Words != want) {
				t.Errorf("%s: %s %q, want %q", tt.name, c.State, c.Words, want)
			}
		}
	}
}
