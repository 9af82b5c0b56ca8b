package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// A first carbon that failed is a task with an owner, a day and a number, on Today
// too, until the carbon is changed or it is put away; its course counts the
// reading.
func TestFailedCarbonIsATask(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil) // limit 0.1 mg/L
	m := d.h.Member(keeper)
	for day := range 8 {
		d.chlorineOn(2*day, 0.03, false)
	}
	now := d.at(2026, 1, 1, 20, 0).AddDate(0, 0, 16)
	if _, failed := FailedCarbon(d.h, now); failed {
		t.Fatal("a good carbon is a task")
	}
	d.chlorineOn(16, 0.15, false)
	task, failed := FailedCarbon(d.h, now)
	if !failed || task.Owner == "" || task.Due != unit.NewDate(2026, 1, 20) || task.Late || !strings.Contains(task.What(), "0.15\u00a0mg/L on 17 January 2026, limit 0.1") {
		t.Fatalf("%v %+v", failed, task)
	}
	if task.Phone == "" || task.Who != "unit" {
		t.Errorf("whom to ring: %q %q", task.Who, task.Phone)
	}
	d.house(now, "kidney_unit", &record.KidneyUnit{Name: "Unit (invented)", Day: "+000 1", Night: "+000 2", Technician: "+000 44", Ambulance: "+000 3"})
	said := func(now time.Time) string {
		for _, o := range StandsInTheWay(d.h, m, now) {
			if o.Task && !o.Stop {
				return o.Words
			}
		}
		return ""
	}
	if words := said(now); !strings.Contains(words, "Ring the technician: +000 44") || !strings.Contains(words, task.Owner) {
		t.Errorf("on Today: %q", words)
	}
	course := d.trend("Total chlorine after the first carbon", now)
	if course == nil || course.Points[len(course.Points)-1].Value != 0.15 {
		t.Errorf("the course does not count the reading: %+v", course)
	}
	d.chlorineOn(18, 0.16, false)
	late := now.AddDate(0, 0, 5)
	if task, _ := FailedCarbon(d.h, late); !task.Late || task.Times != 2 || task.Result != 160 || !strings.Contains(task.What(), "2 times since 17 January") {
		t.Errorf("a second time, and nobody came: %+v %q", task, task.What())
	}
	d.house(late, "round_done", &record.RoundDone{Item: "carbon", Outcome: "done"})
	if words := said(late.Add(time.Hour)); words != "" {
		t.Errorf("the carbon is changed: %q", words)
	}
	if _, failed := FailedCarbon(d.h, late.Add(-time.Hour)); !failed {
		t.Error("as it stood before it was changed, there is no task")
	}
}
