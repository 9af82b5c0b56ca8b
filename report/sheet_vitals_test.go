package report

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// What was measured in several goes stands on the sheet once, of each value the
// last, with the time of the sitting pressure; what was said once that cannot be
// measured has its words.
func TestVitalsOnTheSheet(t *testing.T) {
	mm := func(v int) *unit.Pressure { return ptr(unit.Pressure(v)) }
	sat := session.VitalsBefore{SitSystolic: mm(142), SitDiastolic: mm(78), Pulse: ptr(unit.Pulse(72))}
	for _, tt := range []struct {
		name   string
		before session.Unable
		bodies []session.VitalsBefore
		want   map[string]string // by label: value, unit and gap; empty: not on the sheet
	}{
		{"all at once", session.Unable{}, []session.VitalsBefore{{SitSystolic: mm(142), SitDiastolic: mm(78), StandSystolic: mm(131), Temperature: ptr(unit.Temperature(366))}},
			map[string]string{"BP sitting": "142/78", "BP standing": "131/–", "BP lying": "", "Temperature": "36.6"}},
		{"in two goes", session.Unable{}, []session.VitalsBefore{sat, {StandSystolic: mm(131), StandDiastolic: mm(76), Temperature: ptr(unit.Temperature(366))}},
			map[string]string{"BP sitting": "142/78", "BP standing": "131/76", "Pulse": "72", "Temperature": "36.6"}},
		{"measured again", session.Unable{}, []session.VitalsBefore{sat, {SitSystolic: mm(128)}},
			map[string]string{"BP sitting": "128/–", "Pulse": "72", "BP standing": ".."}},
		{"cannot stand", session.Unable{}, []session.VitalsBefore{sat, {CannotStand: true, LieSystolic: mm(150), LieDiastolic: mm(81)}},
			map[string]string{"BP sitting": "142/78", "BP standing": "cannot stand", "BP lying": "150/81"}},
		{"said in an earlier session", session.Unable{Stand: made.AddDate(-1, 0, 0), Thermometer: made.AddDate(0, 0, -20)}, []session.VitalsBefore{sat},
			map[string]string{"BP standing": "cannot stand", "BP lying": "..", "Temperature": "no thermometer"}},
		{"said long ago", session.Unable{Thermometer: made.AddDate(0, -3, 0)}, []session.VitalsBefore{sat},
			map[string]string{"Temperature": "..", "BP lying": ""}},
	} {
		d := newDiary(t, "Europe/Oslo", made.AddDate(0, 0, -1).Format(time.DateOnly))
		d.add(d.at(17, 40), &session.Opened{Place: "home", Source: "live", Confirmed: true})
		for i := range tt.bodies {
			d.add(d.at(17, 50+i), &tt.bodies[i])
		}
		s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, History: session.History{Unable: tt.before}, Now: made})
		seen := map[string]Field{}
		for _, f := range s.Before.Fields {
			seen[f.Label] = f
		}
		for label, want := range tt.want {
			f, there := seen[label]
			got := f.Value.Text + f.Value.Gap
			if there && got == "" {
				got = ".." // a blank to fill in
			}
			if got != want {
				t.Errorf("%s: %s is %q, want %q", tt.name, label, got, want)
			}
		}
		at := map[string]string{"measured again": "17:51"}[tt.name]
		if at == "" {
			at = "17:50"
		}
		if seen["BP sitting"].At != at {
			t.Errorf("%s: measured at %q, want %s", tt.name, seen["BP sitting"].At, at)
		}
	}
}
