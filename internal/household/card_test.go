package household

import (
	"slices"
	"testing"

	"ebbline/record"
	"ebbline/report"
	"ebbline/unit"
)

func TestCard(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	m := d.h.Member(keeper)
	day := unit.NewDate(2026, 3, 10)
	if c := Card(d.h, m, day); len(c.Words) > 0 || len(c.Phones) > 0 || c.From != "" || c.Name != "Ida Brook" {
		t.Errorf("of nothing: %+v", c)
	}
	d.put(d.at(2026, 3, 1, 9, 0), "kidney_unit", "", &record.KidneyUnit{Name: "Unit by the mill (invented)", Day: "1", Night: "2", Technician: "3", Ambulance: "112"})
	d.ordered(unit.NewDate(2026, 3, 1), nil)
	d.put(d.at(2026, 3, 1, 9, 1), "card", "", &record.Card{Words: "Pump off\r\n\n  Clamp both lines \n", From: "Nurse K", GivenOn: unit.NewDate(2026, 3, 1), ReviewBy: day})
	c := Card(d.h, m, day)
	if !slices.Equal(c.Words, []string{"Pump off", "Clamp both lines"}) || c.From != "Nurse K, 1 March 2026" || c.Access != "fistula, left arm" || c.Stale != "" {
		t.Errorf("%+v", c)
	}
	if want := []report.Phone{{Who: "Ambulance", Number: "112"}, {Who: "Unit, by day", Number: "1"}, {Who: "Unit, at night", Number: "2"}}; !slices.Equal(c.Phones, want) {
		t.Errorf("numbers %v", c.Phones)
	}
	if c := Card(d.h, m, day.Add(1)); c.Stale != "OLD: to be looked at again since 10 March 2026. Ask your unit." {
		t.Errorf("a day later: %q", c.Stale)
	}
	if c := Card(d.h, nil, day); len(c.Phones) != 3 || c.Name != "" || len(c.Words) > 0 {
		t.Errorf("of nobody: %+v", c)
	}
	if got := Phones(record.KidneyUnit{Day: "1", Technician: "3"}); len(got) != 2 || got[1].Who != "Technician" {
		t.Errorf("%v", got)
	}
}
