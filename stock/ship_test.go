package stock

import "testing"

func TestShipAhead(t *testing.T) {
	items := []Item{{Name: "dialyser", PerSession: one, Pack: 12 * one}, {Name: "needle", PerSession: 2 * one, Pack: 50 * one}, {Name: "soap", PerSession: one / 5, Pack: one}}
	parcels, err := ShipAhead(items, on(1), days(30, 33, 36, 39, 42), 1)
	if err != nil || len(parcels) != 3 {
		t.Fatalf("%+v, %v", parcels, err)
	}
	for i, packs := range []int{1, 1, 2} { // six sessions: 6 of 12, 12 of 50, 1.2 bottles
		if p := parcels[i]; p.Packs != packs || p.SendBy != on(16) || p.Cautions != nil {
			t.Errorf("%+v; want %d packs by the 16th", p, packs)
		}
	}
	late, err := ShipAhead(items[:1], on(20), days(30), 0)
	if err != nil || late[0].SendBy != on(20) || len(late[0].Cautions) != 1 {
		t.Errorf("ten days ahead: %+v, %v", late, err)
	}
	if _, err := ShipAhead(items, on(1), nil, 0); err == nil {
		t.Error("a journey without a session was shipped for")
	}
	if _, err := ShipAhead(items, on(1), days(9), -1); err == nil {
		t.Error("fewer than no spare sessions were taken")
	}
}
