package household

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// house writes an entry that belongs to nobody in particular, held against the
// record first.
func (d *diary) house(at time.Time, kind string, body any) string {
	d.t.Helper()
	d.n++
	e := record.Entry{ID: fmt.Sprintf("line-%05d", d.n), Kind: kind, At: at, Zone: d.zone.String(), Written: at.UTC(), Body: body}
	if found := record.Check(d.h, e); len(found) > 0 {
		d.t.Fatalf("%s: %v", kind, found)
	}
	if err := d.h.Apply(e); err != nil {
		d.t.Fatal(err)
	}
	return e.ID
}

func (d *diary) row(id string, now time.Time) RoundRow {
	d.t.Helper()
	for _, r := range Round(d.h, d.h.Member(keeper), now) {
		if r.Round.ID == id {
			return r
		}
	}
	d.t.Fatalf("%s is not on the round", id)
	return RoundRow{}
}

// evenings holds so many sessions on as many evenings, each with a disinfection.
func (d *diary) evenings(from time.Time, n int) time.Time {
	for i := range n {
		at := from.AddDate(0, 0, i)
		d.held(at, 0)
		d.put(at.Add(6*time.Hour), "disinfection", "s-"+at.UTC().Format("20060102-1504"), &session.Disinfection{Programme: "heat", Result: "passed"})
	}
	return from.AddDate(0, 0, n)
}

// The ultrafilter is due by its sessions long before its date when sessions are
// daily, the carbon by its litres: the first that is reached counts.
func TestFirstCountWins(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), func(rx *session.Prescription) {
		rx.Days = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}
	})
	start := d.at(2026, 1, 2, 17, 0)
	d.house(start.Add(-time.Hour), "round_done", &record.RoundDone{Item: "ultrafilter", Outcome: "done"})
	d.house(start.Add(-time.Hour), "round_item", &record.RoundItem{Item: "carbon", Name: "Carbon", Months: 6, Litres: ptr(unit.Litres(5000 * 1000)), SetBy: "Dr Q (invented)", SetOn: unit.NewDate(2026, 1, 2)})
	d.house(start.Add(-time.Hour), "round_done", &record.RoundDone{Item: "carbon", Outcome: "done"})
	d.house(start.Add(-time.Hour), "round_item", &record.RoundItem{Item: "pump-belt", Name: "Pump belt", Hours: ptr(unit.Hours(150 * 100)), SetBy: "technician", SetOn: unit.NewDate(2026, 1, 2)})
	d.house(start.Add(-time.Hour), "round_done", &record.RoundDone{Item: "pump-belt", Outcome: "done"})
	now := d.evenings(start, 45) // 45 sessions of 4 h at 500 mL/min: 180 h, 5400 L
	if r := d.row("ultrafilter", now); r.State != water.NotYet || r.By != water.ByDate {
		t.Errorf("after 45 of 100 sessions and half of three months: %s by %s, %s", r.State, r.By, r.Left)
	}
	if r := d.row("carbon", now); r.State != water.Due || r.By != water.ByLitres || !r.Overdue {
		t.Errorf("after 5400 of 5000 L: %s by %s, %s", r.State, r.By, r.Left)
	}
	if r := d.row("pump-belt", now); r.State != water.Due || r.By != water.ByHours || r.Group != GroupOwn {
		t.Errorf("after 180 of 150 h: %s by %s, %s, %s", r.State, r.By, r.Left, r.Group)
	}
	d.house(now, "round_item", &record.RoundItem{Item: "ultrafilter", Name: "Ultrafilter", Months: 3, Sessions: 40, SetBy: "Dr Q (invented)", SetOn: unit.NewDate(2026, 2, 1)})
	if r := d.row("ultrafilter", now); r.State != water.Due || r.By != water.BySessions {
		t.Errorf("after 45 of 40 sessions: %s by %s, %s", r.State, r.By, r.Left)
	}
	rows := Round(d.h, d.h.Member(keeper), now)
	for i := 1; i < len(rows); i++ {
		if rows[i].rank() < rows[i-1].rank() || rows[i].rank() == rows[i-1].rank() && rows[i].On.Before(rows[i-1].On) {
			t.Errorf("%s (%s, %s) stands after %s (%s, %s)", rows[i].Round.ID, rows[i].State, rows[i].On, rows[i-1].Round.ID, rows[i-1].State, rows[i-1].On)
		}
	}
}

// What other entries say counts as done: a session's disinfection, a sample that
// was drawn, the salt that was looked at, a bin that was opened, a count.
func TestDoneBySayingSoElsewhere(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	now := d.at(2026, 3, 10, 12, 0)
	for _, id := range []string{"heat", "culture", "softener-salt", "sharps", "waste", "scale", "fridge"} {
		if r := d.row(id, now); !r.Never || r.State != water.Due {
			t.Errorf("%s with nothing written: %+v", id, r)
		}
	}
	d.evenings(d.at(2026, 3, 9, 17, 0), 1)
	d.house(now.Add(-time.Hour), "water_sample", &record.WaterSample{Sample: "sample-01", State: "planned", Point: water.PointProduct, For: []string{"viable_count", "endotoxin"}, PlannedOn: unit.DateOf(now)})
	if r := d.row("culture", now); !r.Never {
		t.Error("a sample that is only planned counts as drawn")
	}
	d.house(now.Add(-time.Hour), "water_sample", &record.WaterSample{Sample: "sample-01", State: "drawn", Cooled: true})
	d.house(now.Add(-time.Hour), "water_reading", &record.WaterReading{Salt: "enough"})
	d.house(now.Add(-2*time.Hour), "sharps_bin", &record.SharpsBin{Did: "opened"})
	d.house(now.Add(-time.Hour), "sharps_bin", &record.SharpsBin{Did: "collected"})
	d.house(now.Add(-time.Hour), "round_done", &record.RoundDone{Item: "scale", Outcome: "done", KnownMass: ptr(unit.Mass(20000)), ShownMass: ptr(unit.Mass(19900))})
	d.house(now.Add(-time.Hour), "round_done", &record.RoundDone{Item: "fridge", Outcome: "done", ShownTemp: ptr(unit.Temperature(46))})
	for id, shown := range map[string]string{"heat": "", "culture": "", "softener-salt": "", "sharps": "", "waste": "", "scale": "−0.1\u00a0kg", "fridge": "4.6\u00a0°C"} {
		if r := d.row(id, now); r.Never || r.State == water.Due || r.Shown != shown {
			t.Errorf("%s: %s, never %v, showed %q", id, r.State, r.Never, r.Shown)
		}
	}
	d.house(now, "sharps_bin", &record.SharpsBin{Did: "three_quarters"})
	if r := d.row("sharps", now); r.State != water.Due || !strings.Contains(r.Left, "three quarters") {
		t.Errorf("three quarters full: %s, %s", r.State, r.Left)
	}
	d.house(now, "round_done", &record.RoundDone{Item: "scale", Outcome: "failed"})
	if r := d.row("scale", now); r.State != water.Due || !r.Failed {
		t.Errorf("the check failed: %s, %v", r.State, r.Failed)
	}
	if r := d.row("bloods", now); !r.Personal || r.Group != GroupPerson {
		t.Errorf("bloods: %+v", r)
	}
}

func TestTroublesGatherWhatBelongsTogether(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 1, 18, 0)
	first := d.house(at, "fault", &record.Fault{Words: "conductivity alarm at start"})
	d.house(at.Add(time.Hour), "fault", &record.Fault{Words: "drip under the cabinet"})
	d.house(at.Add(2*time.Hour), "fault", &record.Fault{Words: "again tonight", About: first})
	d.house(at.Add(3*time.Hour), "fault", &record.Fault{Words: "technician changed the pump", About: first, Mended: true})
	list := Troubles(d.h, at.Add(4*time.Hour))
	if len(list) != 2 || list[0].Mended || len(list[1].Entries) != 3 || !list[1].Mended {
		t.Errorf("%+v", list)
	}
}

// Self-tests are counted with every try of the session, and chlorine that never
// moves is remarked on.
func TestWhatIsNoticedOverWeeks(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	for i := range 31 {
		at := d.at(2026, 1, 2, 17, 0).AddDate(0, 0, i)
		id := "s-" + at.UTC().Format("20060102-1504")
		d.held(at, 0)
		d.put(at.Add(5*time.Minute), "chlorine", id, &session.Chlorine{Result: 0, Method: "strip", ReadsDown: 100, Point: "first_carbon"})
		d.put(at.Add(6*time.Minute), "self_test", id, &session.SelfTest{Passed: i%10 != 0, Tries: 1})
		if i%10 == 0 {
			d.put(at.Add(9*time.Minute), "self_test", id, &session.SelfTest{Passed: true, Tries: 1})
		}
	}
	codes := map[string]bool{}
	for _, c := range WaterRemarks(d.h, d.at(2026, 3, 1, 12, 0)) {
		codes[c.Code] = true
	}
	if !codes["identical_results"] || !codes["self_test_repeated"] || codes["self_test_failing"] {
		t.Errorf("remarked on %v; want 31 equal results and the last self-test's second try", codes)
	}
	// Tried on tap water, where it showed something, the count begins again.
	d.house(d.at(2026, 2, 20, 9, 0), "round_done", &record.RoundDone{Item: "chlorine-check", Outcome: "done"})
	for _, c := range WaterRemarks(d.h, d.at(2026, 3, 1, 12, 0)) {
		if c.Code == "identical_results" {
			t.Error("still remarked on after the test was tried")
		}
	}
	if tries := SelfTestTries(d.h); len(tries) != 31 || tries[0] != 2 || tries[1] != 1 {
		t.Errorf("tries %v", tries)
	}
}

// A vial, a bottle of antiseptic, a box of strips are due from the day they were
// opened; a new one begins anew.
func TestOpenedOnDates(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 1, 9, 0)
	d.house(at, "round_done", &record.RoundDone{Item: "opened-heparin", Outcome: "done", Lot: "H-3"})
	d.house(at, "round_done", &record.RoundDone{Item: "opened-reagent", Outcome: "done"})
	for day, want := range map[int]water.DueState{24: water.NotYet, 25: water.Coming, 27: water.Coming, 28: water.Due, 29: water.Due} {
		if r := d.row("opened-heparin", at.AddDate(0, 0, day)); r.State != want || r.On != unit.NewDate(2026, 3, 29) || r.Group != GroupHouse {
			t.Errorf("day %d: %s on %s (%s), want %s", day, r.State, r.On, r.Group, want)
		}
	}
	if r := d.row("opened-reagent", at.AddDate(0, 3, 0)); r.State != water.Due {
		t.Errorf("a reagent opened three months ago is %s", r.State)
	}
	d.house(at.AddDate(0, 0, 28), "round_done", &record.RoundDone{Item: "opened-heparin", Outcome: "done"})
	if r := d.row("opened-heparin", at.AddDate(0, 0, 29)); r.State != water.NotYet {
		t.Errorf("a new vial is %s", r.State)
	}
}

// A chemical night of a session counts on the round, and what came later than
// the day that is asked about does not.
func TestChemicalNightOnTheRound(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	for i, programme := range []string{"chemical", "heat", "chemical"} {
		at := d.at(2026, 3, 1, 17, 0).AddDate(0, 0, 10*i)
		d.held(at, 0)
		d.put(at.Add(6*time.Hour), "disinfection", "s-"+at.UTC().Format("20060102-1504"), &session.Disinfection{Programme: programme, Result: "passed"})
	}
	if r := d.row("chemical", d.at(2026, 3, 25, 12, 0)); r.LastDone != unit.NewDate(2026, 3, 21) || r.Group != GroupMachine {
		t.Errorf("chemical last on %s, %s", r.LastDone, r.Group)
	}
	if r := d.row("chemical", d.at(2026, 3, 15, 12, 0)); r.LastDone != unit.NewDate(2026, 3, 1) {
		t.Errorf("as of the middle of the month: last on %s", r.LastDone)
	}
}

func TestEveryWords(t *testing.T) {
	for want, e := range map[string]water.Every{
		"3 months or 100 sessions": {Months: 3, Sessions: 100}, "day": {Days: 1}, "5000 litres": {Litres: 5000}, "1.5 hours": {Hours: 1.5},
	} {
		if got := EveryWords(e); got != want {
			t.Errorf("%+v: %q, want %q", e, got, want)
		}
	}
}

func ptr[T any](v T) *T { return &v }
