package household

import (
	"math"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

func (d *diary) result(at time.Time, id, point string, owner string, results ...water.Result) string {
	d.t.Helper()
	var looked []string
	for _, r := range results {
		looked = append(looked, string(r.What))
	}
	edition := water.ISO2019
	if point == water.PointFluid {
		edition = water.Fluid2019
	}
	d.house(at.AddDate(0, 0, -9), "water_sample", &record.WaterSample{Sample: id, State: "planned", Point: point, For: looked, PlannedOn: unit.DateOf(at)})
	d.house(at.AddDate(0, 0, -8), "water_sample", &record.WaterSample{Sample: id, State: "drawn", Cooled: true})
	return d.house(at, "water_result", &record.WaterResult{Sample: id, Laboratory: "Laboratory (invented)", Edition: edition, Use: "standard",
		Medium: "R2A", Celsius: ptr(unit.Temperature(200)), Days: 7, Plated: ptr(unit.Drawn(100)), Owner: owner, Results: results})
}

// A failed result is a task with its owner, a date and the unit's telephone
// number until it is followed up; over the limit it is due the same day.
func TestWaterTasks(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 10, 12, 0)
	cfu := func(v float64) water.Result {
		return water.Result{What: water.ViableCount, Op: water.Equal, Value: v, Unit: water.CFUPerML}
	}
	d.result(at, "sample-ok", water.PointProduct, "", cfu(12))
	d.result(at, "sample-act", water.PointProduct, "Ida", cfu(60))
	over := d.result(at.Add(time.Hour), "sample-over", water.PointFluid, "Ida", cfu(130))
	if tasks := WaterTasks(d.h, at); len(tasks) != 1 {
		t.Errorf("%d tasks before the second result came", len(tasks))
	}
	at = at.Add(2 * time.Hour)
	if tasks := WaterTasks(d.h, at); len(tasks) != 2 || !strings.Contains(tasks[0].Phone, "no number") {
		t.Fatalf("without a unit: %+v", tasks)
	}
	d.house(at, "kidney_unit", &record.KidneyUnit{Name: "Unit (invented)", Day: "+000 1", Night: "+000 2", Ambulance: "3"})
	tasks := WaterTasks(d.h, at.AddDate(0, 0, 1))
	if len(tasks) != 2 || tasks[0].Result.ID != over || tasks[0].Due != unit.NewDate(2026, 3, 10) || !tasks[0].Late || tasks[1].Late {
		t.Fatalf("the one over its limit is not first and late: %+v", tasks)
	}
	if task := tasks[0].Tasks[0]; task.Owner != "Ida" || task.Phone != "+000 1" || !strings.Contains(task.What, "over the limit") {
		t.Errorf("%+v", task)
	}
	ways := StandsInTheWay(d.h, d.h.Member(keeper), at)
	if len(ways) == 0 || !ways[0].Stop || !strings.Contains(ways[0].Words, "over its limit") || !strings.Contains(ways[0].Words, "+000 1") {
		t.Errorf("in the way: %+v", ways)
	}
	d.house(at, "task_closed", &record.TaskClosed{Result: over, Did: "disinfected the ring, drawn again", Told: "the unit by telephone"})
	if tasks := WaterTasks(d.h, at); len(tasks) != 1 {
		t.Errorf("%d tasks after one was followed up", len(tasks))
	}
	if tasks := WaterTasks(d.h, at.Add(-time.Minute)); len(tasks) != 2 {
		t.Errorf("%d tasks before it was followed up", len(tasks))
	}
}

// Samples under way stand first, each with what it waits for and what may have
// spoilt it.
func TestSampleRows(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 10, 12, 0)
	d.result(at, "sample-old", water.PointProduct, "", water.Result{What: water.Endotoxin, Op: water.Less, Value: 0.05, Unit: water.EUPerML})
	d.house(at.AddDate(0, 0, -20), "water_sample", &record.WaterSample{Sample: "sample-late", State: "planned", Point: water.PointInlet, For: []string{"viable_count"}, PlannedOn: unit.DateOf(at.AddDate(0, 0, -19))})
	d.house(at.AddDate(0, 0, -18), "water_sample", &record.WaterSample{Sample: "sample-late", State: "drawn", SinceClean: ptr(unit.Hours(200))})
	d.house(at.AddDate(0, 0, -18).Add(30*time.Hour), "water_sample", &record.WaterSample{Sample: "sample-late", State: "reached"})
	rows := SampleRows(d.h, at)
	if len(rows) != 2 || rows[0].ID != "sample-late" || rows[1].Result == nil {
		t.Fatalf("%+v", rows)
	}
	if len(rows[0].Late) != 1 || rows[0].Late[0].Code != "sample_not_sent" || len(rows[0].Handled) != 2 {
		t.Errorf("late %v, handled %v; want not sent, warm for a day, drawn after disinfection", rows[0].Late, rows[0].Handled)
	}
}

// What is read off the plant is held against its bounds: a drop over 15 psi, a
// rejection under 90 %, hardness of a grain, a bridge of salt.
func TestPlantRows(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	kpa := func(v float64) *unit.Gauge { return ptr(unit.Gauge(v * 10)) }
	d.house(d.at(2026, 3, 1, 9, 0), "water_reading", &record.WaterReading{
		Feed: kpa(400), AfterSediment: kpa(290), AfterCarbon: kpa(270), AfterPrefilter: kpa(200),
		Hardness: ptr(unit.Hardness(170)), Salt: "bridge", FeedConduct: ptr(unit.Trace(5000)), ProductConduct: ptr(unit.Trace(600)), FeedTemp: ptr(unit.Temperature(150))})
	row := PlantRows(d.h)[0]
	if len(row.Drops) != 3 || math.Abs(row.Drops[0].PSI-110/6.894757) > 1e-9 || row.Drops[1].Over != "carbon" {
		t.Errorf("drops %+v", row.Drops)
	}
	if row.Rejection == nil || math.Abs(*row.Rejection-88) > 1e-9 {
		t.Errorf("rejection %v, want 88 %%", row.Rejection)
	}
	got := map[string]bool{}
	for _, c := range row.Cautions {
		got[c.Code] = true
	}
	for _, code := range []string{"pressure_drop_psi_above", "hardness_mg_l_caco3_above", "feed_temperature_c_below", "ro_rejection_percent_below", "salt_bridge"} {
		if !got[code] {
			t.Errorf("%s is not said; said are %v", code, got)
		}
	}
	if got["prefilter_drop_psi_above"] { // 70 kPa are 10 psi
		t.Error("a drop of 10 psi at the pre-filter is remarked on")
	}
}

func TestChlorineRuleOfTheUnit(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	if r := ChlorineRule(d.h); r.Every != 4*time.Hour || r.SetBy != "" {
		t.Errorf("by default %+v", r)
	}
	d.house(d.at(2026, 3, 1, 9, 0), "water_rules", &record.WaterRules{Edition: water.ISO2019, Use: "standard", Repeat: ptr(unit.Hours(0)), SetBy: "Dr Q (invented)", SetOn: unit.NewDate(2026, 3, 1)})
	if r := ChlorineRule(d.h); r.Every != 0 || r.SetBy == "" {
		t.Errorf("where the unit does not ask for it: %+v", r)
	}
}
