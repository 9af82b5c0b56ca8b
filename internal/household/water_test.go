package household

import (
	"math"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/trend"
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

// Chlorine that creeps up behind the carbon is said to reach the limit the unit
// set about the day it does; a new carbon begins a new course; readings below
// what the method sees are never drawn.
func TestChlorineIsForecast(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil) // limit 0.1 mg/L
	test := func(day int, mgL float64, below bool) {
		at := d.at(2026, 1, 1, 17, 0).AddDate(0, 0, day)
		id := "s-" + at.UTC().Format("20060102-1504")
		d.held(at, 0)
		d.put(at.Add(5*time.Minute), "chlorine", id, &session.Chlorine{Result: unit.Concentration(math.Round(mgL * 1000)), Below: below, Method: "photometer", ReadsDown: 20, Point: "first_carbon"})
	}
	for day := 0; day < 60; day += 2 {
		test(day, 0.02+0.001*float64(day), false) // reaches 0.1 on day 80
	}
	now := d.at(2026, 1, 1, 12, 0).AddDate(0, 0, 60)
	find := func() *WaterTrend {
		for _, tr := range WaterTrends(d.h, d.h.Member(keeper), now) {
			if strings.HasPrefix(tr.Name, "Total chlorine") {
				return &tr
			}
		}
		return nil
	}
	tr := find()
	want := unit.NewDate(2026, 1, 1).Add(80)
	if tr == nil || !tr.Forecast.OnWay || tr.Forecast.Likely.Sub(want) > 1 || want.Sub(tr.Forecast.Likely) > 1 || !strings.Contains(tr.Whose, "set by") {
		t.Fatalf("%+v; want the limit met about %s", tr, want)
	}
	d.house(now, "round_done", &record.RoundDone{Item: "carbon", Outcome: "done"})
	now = now.AddDate(0, 0, 1)
	if tr := find(); tr != nil {
		t.Errorf("with new carbon the old course goes on: %+v", tr.Forecast)
	}
	for day := 62; day < 80; day += 2 {
		test(day, 0.02, true)
	}
	now = d.at(2026, 1, 1, 12, 0).AddDate(0, 0, 81)
	if tr := find(); tr == nil || tr.Forecast.Says != trend.TooFew || tr.Forecast.Left != 9 {
		t.Errorf("nine readings below the method's least: %+v", tr)
	}
}

// Carbon that is used up lets through more by the same share each day. A straight
// line then comes late; the day that a steepening course gives is said beside it
// and lies within a week of the truth, four weeks ahead.
func TestSteepeningCarbonIsSaid(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	truth := func(day float64) float64 { return 0.012 * math.Exp(0.0138*day) }
	for day := 40; day < 126; day += 2 {
		at := d.at(2026, 1, 1, 17, 0).AddDate(0, 0, day)
		d.held(at, 0)
		d.put(at.Add(5*time.Minute), "chlorine", "s-"+at.UTC().Format("20060102-1504"), &session.Chlorine{Result: unit.Concentration(math.Round(truth(float64(day))*100) * 10), Method: "photometer", ReadsDown: 20, Point: "first_carbon"})
	}
	now := d.at(2026, 1, 1, 12, 0).AddDate(0, 0, 126)
	meets := unit.NewDate(2026, 1, 1).Add(int(math.Log(0.1/0.012) / 0.0138)) // day 153
	tr := WaterTrends(d.h, d.h.Member(keeper), now)[0]
	if !tr.Forecast.OnWay || !meets.Before(tr.Forecast.Likely) {
		t.Fatalf("the straight line: %+v; want one that comes later than %s", tr.Forecast, meets)
	}
	if off := tr.Steeper.Sub(meets); tr.Steeper.IsZero() || off > 7 || off < -7 {
		t.Errorf("steepening it is said for %s, truly %s", tr.Steeper, meets)
	}
}

// Counts by different methods never share a line.
func TestCountTrendsByMethod(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	for i := range 6 {
		d.result(d.at(2026, 1+i, 12, 12, 0), "sample-r2a-"+string(rune('a'+i)), water.PointProduct, "Ida", water.Result{What: water.ViableCount, Op: water.Equal, Value: float64(10 + 8*i), Unit: water.CFUPerML})
	}
	d.house(d.at(2026, 6, 15, 9, 0), "water_sample", &record.WaterSample{Sample: "sample-tsa", State: "planned", Point: water.PointProduct, For: []string{"viable_count"}, PlannedOn: unit.NewDate(2026, 6, 15)})
	d.house(d.at(2026, 6, 16, 9, 0), "water_sample", &record.WaterSample{Sample: "sample-tsa", State: "drawn"})
	d.house(d.at(2026, 6, 20, 9, 0), "water_result", &record.WaterResult{Sample: "sample-tsa", Laboratory: "L", Edition: water.ISO2019, Use: "standard", Medium: "TSA", Celsius: ptr(unit.Temperature(360)), Days: 2, Plated: ptr(unit.Drawn(100)),
		Results: []water.Result{{What: water.ViableCount, Op: water.Equal, Value: 1, Unit: water.CFUPerML}}})
	var lengths []int
	for _, tr := range WaterTrends(d.h, d.h.Member(keeper), d.at(2026, 7, 1, 9, 0)) {
		lengths = append(lengths, len(tr.Points))
	}
	if len(lengths) != 2 || lengths[0]+lengths[1] != 7 || lengths[0] != 6 && lengths[1] != 6 {
		t.Errorf("lines of %v points, want six and one", lengths)
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
