package stock

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// The starting list follows the prescription: access, gauges, bath, heparin.
func TestUsualPerSession(t *testing.T) {
	fistula := Prescribed{Dialyser: "high-flux, 1.8 m²", DialysateL: 120, GaugeA: 15, GaugeV: 15, Heparin: "unfractionated", Anaesthetic: true}
	for _, tt := range []struct {
		name string
		p    Prescribed
		want map[string]unit.Pieces // 0: not on the list
	}{
		{"nothing said", Prescribed{}, map[string]unit.Pieces{"dialyser": one, "needle": 2 * one, "acid concentrate, L": 5 * one, "heparin vial": one, "local anaesthetic": 0, "chlorine test": 2 * one}},
		// 120 L / 35 + 1 = 4.43, to the half litre 4.5.
		{"four hours at 500 by two needles of a gauge", fistula, map[string]unit.Pieces{"needle": 2 * one, "acid concentrate, L": 9 * one / 2, "bicarbonate cartridge": one, "heparin vial": one, "local anaesthetic": one, "catheter cap": 0}},
		{"two gauges", Prescribed{GaugeA: 16, GaugeV: 15}, map[string]unit.Pieces{"arterial needle, 16 G": one, "venous needle, 15 G": one, "needle": 0}},
		{"catheter, no heparin", Prescribed{Catheter: true, Heparin: "none", Anaesthetic: true}, map[string]unit.Pieces{"needle": 0, "catheter cap": 2 * one, "heparin vial": 0, "local anaesthetic": 0}},
		{"catheter with a lock that is ordered", Prescribed{Catheter: true, Lock: true}, map[string]unit.Pieces{"catheter lock": one, "catheter cap": 2 * one}},
		{"catheter, no lock ordered", Prescribed{Catheter: true}, map[string]unit.Pieces{"catheter lock": 0, "catheter cap": 2 * one}},
		{"ready dialysate by the litre", Prescribed{Bagged: true, DialysateL: 25, Heparin: "low_molecular"}, map[string]unit.Pieces{"dialysate, L": 25 * one, "acid concentrate, L": 0, "bicarbonate cartridge": 0, "low-molecular heparin, syringe": one, "heparin vial": 0}},
	} {
		got := map[string]unit.Pieces{}
		for _, u := range UsualPerSession(tt.p) {
			if u.Pack <= 0 || u.PerSession+u.PerCycle <= 0 || got[u.Item] > 0 {
				t.Errorf("%s: %+v", tt.name, u)
			}
			got[u.Item] = u.PerSession
		}
		for item, per := range tt.want {
			if got[item] != per {
				t.Errorf("%s: %s of %s in a session, want %s", tt.name, got[item], item, per)
			}
		}
	}
	if why := UsualPerSession(fistula)[0].Why; !strings.Contains(why, "1.8 m²") {
		t.Errorf("the dialyser is %q", why)
	}
}
