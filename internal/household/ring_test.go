package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
)

// Whom the unit set stands first; of its own two numbers that of the hour does; a
// number that nobody wrote down is left out, and the next leads.
func TestRingFirst(t *testing.T) {
	all := record.KidneyUnit{Day: "+000 1", Night: "+000 2", Technician: "+000 3", Ambulance: "+000 4"}
	none := all
	none.Technician, none.Ambulance = "", ""
	at := func(hour int) time.Time { return time.Date(2026, 6, 11, hour, 0, 0, 0, time.UTC) }
	for _, tt := range []struct {
		unit  record.KidneyUnit
		first string
		at    time.Time
		want  string
	}{
		{all, session.RingAmbulance, at(7), "Ambulance; Unit, by day; Unit, at night"},
		{all, session.RingAmbulance, at(19), "Ambulance; Unit, at night; Unit, by day"},
		{all, session.RingUnit, at(18), "Unit, by day; Unit, at night; Ambulance"},
		{all, session.RingUnit, at(6), "Unit, at night; Unit, by day; Ambulance"},
		{all, session.RingUnit, time.Time{}, "Unit, by day; Unit, at night; Ambulance"},
		{all, session.RingTechnician, at(12), "Technician; Unit, by day; Unit, at night; Ambulance"},
		{none, session.RingTechnician, at(12), "Unit, by day; Unit, at night"},
		{none, session.RingAmbulance, at(23), "Unit, at night; Unit, by day"},
		{record.KidneyUnit{}, session.RingUnit, at(12), ""},
	} {
		if got := whos(RingFirst(tt.unit, tt.first, tt.at)); got != tt.want {
			t.Errorf("%s at %s: %s, want %s", tt.first, tt.at.Format("15:04"), got, tt.want)
		}
	}
}

// In two, the numbers of whom is rung first stand apart: where nobody wrote them down
// there are none, and the others are all there are.
func TestRingOrder(t *testing.T) {
	u := record.KidneyUnit{Day: "+000 1", Night: "+000 2", Technician: "+000 3", Ambulance: "+000 4"}
	for first, want := range map[string][2]string{
		session.RingAmbulance:  {"Ambulance", "Unit, by day; Unit, at night"},
		session.RingUnit:       {"Unit, by day; Unit, at night", "Ambulance"},
		session.RingTechnician: {"Technician", "Unit, by day; Unit, at night; Ambulance"},
	} {
		if of, others := RingOrder(u, first, time.Time{}); whos(of) != want[0] || whos(others) != want[1] {
			t.Errorf("%s: %s, then %s", first, whos(of), whos(others))
		}
	}
	u.Technician = ""
	if of, others := RingOrder(u, session.RingTechnician, time.Time{}); len(of) != 0 || len(others) != 3 {
		t.Errorf("without a technician: %s, then %s", whos(of), whos(others))
	}
}

// A call about a session is written down with the ambulance behind the unit's numbers.
func TestPhonesUnitFirst(t *testing.T) {
	u := record.KidneyUnit{Day: "+000 1", Technician: "+000 3", Ambulance: "+000 4"}
	if got := whos(PhonesUnitFirst(u)); got != "Unit, by day; Technician; Ambulance" {
		t.Error(got)
	}
}

func whos(list []report.Phone) string {
	var who []string
	for _, p := range list {
		who = append(who, p.Who)
	}
	return strings.Join(who, "; ")
}
