package household

import (
	"slices"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
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

// The unit's steps for a trouble are part of the card, with the number that it set
// first; without them there are the numbers and the line about the blood.
func TestSteps(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	m := d.h.Member(keeper)
	day := unit.NewDate(2026, 3, 10)
	power, _ := session.TroubleOf(session.TroublePower)
	if s, given := Steps(d.h, m, power, day, time.Time{}); given || len(s.Phones) > 0 || s.Blood != "Give the blood back: as your unit's steps say." {
		t.Errorf("of nothing: %+v", s)
	}
	d.put(d.at(2026, 3, 1, 9, 0), "kidney_unit", "", &record.KidneyUnit{Name: "Unit by the mill (invented)", Day: "1", Night: "2", Technician: "3", Ambulance: "112"})
	if s, _ := Steps(d.h, m, power, day, d.at(2026, 3, 1, 23, 0)); whos(s.Phones) != "Unit, at night; Unit, by day; Ambulance" {
		t.Errorf("without steps: %v", s.Phones)
	}
	back, saline := unit.Minutes(15), unit.Volume(100)
	d.put(d.at(2026, 3, 1, 9, 1), "trouble_steps", "", &record.TroubleSteps{Trouble: session.TroublePower, Words: "Open the clamp by hand\r\n\n Turn steadily", Ring: session.RingTechnician,
		BackIn: &back, Saline: &saline, From: "Nurse K", GivenOn: unit.NewDate(2026, 3, 1), ReviewBy: day})
	s, given := Steps(d.h, m, power, day, time.Time{})
	if !given || !slices.Equal(s.Words, []string{"Open the clamp by hand", "Turn steadily"}) || s.From != "Nurse K, 1 March 2026" || s.Stale != "" || s.Phones[0].Number != "3" {
		t.Errorf("%+v", s)
	}
	if want := []string{"Saline each time: 100\u00a0mL", "The blood goes back within 15\u00a0min; after that no longer"}; !slices.Equal(s.Figures, want) {
		t.Errorf("%q", s.Figures)
	}
	if s, _ := Steps(d.h, m, power, day.Add(1), time.Time{}); s.Stale != "OLD: to be looked at again since 10 March 2026. Ask your unit." {
		t.Errorf("a day later: %q", s.Stale)
	}
	if c := Card(d.h, m, day); len(c.Troubles) != 1 || c.Troubles[0].Title != power.Title {
		t.Errorf("on the card: %+v", c.Troubles)
	}
}
