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

// chlorineOn holds a session so many days after New Year's Day, with its test.
func (d *diary) chlorineOn(day int, mgL float64, below bool) {
	at := d.at(2026, 1, 1, 17, 0).AddDate(0, 0, day)
	d.held(at, 0)
	d.put(at.Add(5*time.Minute), "chlorine", "s-"+at.UTC().Format("20060102-1504"), &session.Chlorine{Result: unit.Concentration(math.Round(mgL * 1000)), Below: below, Method: "photometer", ReadsDown: 20, Point: "first_carbon"})
}

// Chlorine that creeps up behind the carbon is said to reach the limit the unit
// set about the day it does; a new carbon begins a new course; readings below
// what the method sees are never drawn.
func TestChlorineIsForecast(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil) // limit 0.1 mg/L
	test := d.chlorineOn
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

// readPlant writes one reading of the plant: hardness in mg/L, rejection in per
// cent of a feed of 500 µS/cm.
func (d *diary) readPlant(day int, hardness, rejection float64, salt string) {
	d.house(d.at(2026, 1, 1, 10, 0).AddDate(0, 0, day), "water_reading", &record.WaterReading{Hardness: ptr(unit.Hardness(math.Round(hardness * 10))), Salt: salt,
		FeedConduct: ptr(unit.Trace(5000)), ProductConduct: ptr(unit.Trace(math.Round(50 * (100 - rejection))))})
}

func (d *diary) trend(name string, now time.Time) *WaterTrend {
	for _, tr := range WaterTrends(d.h, d.h.Member(keeper), now) {
		if strings.HasPrefix(tr.Name, name) {
			return &tr
		}
	}
	return nil
}

// Softener and membrane are each said to meet their limit about the day they do,
// and a filling of salt or a new membrane begins the course anew.
func TestSoftenerAndMembraneAreForecast(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	for day := 0; day <= 60; day += 4 {
		salt := "enough"
		if day == 60 {
			salt = "low"
		}
		d.readPlant(day, 3+0.15*float64(day), 98-0.08*float64(day), salt) // 17 mg/L on day 93, 90 % on day 100
	}
	now := d.at(2026, 1, 1, 12, 0).AddDate(0, 0, 60)
	for name, day := range map[string]int{"Hardness": 93, "Rejection": 100} {
		tr, want := d.trend(name, now), unit.NewDate(2026, 1, 1).Add(day)
		if tr == nil || !tr.Forecast.OnWay || tr.Forecast.Likely.Sub(want) > 2 || want.Sub(tr.Forecast.Likely) > 2 {
			t.Fatalf("%s: %+v, want its limit met about %s", name, tr, want)
		}
	}
	var said []string
	for _, c := range LimitsComing(d.h, d.h.Member(keeper), now) {
		said = append(said, c.Text)
	}
	if all := strings.Join(said, "\n"); !strings.Contains(all, "Hardness after the softener: on its present course it meets 17 mg/L as CaCO3 about") || !strings.Contains(all, "Rejection of the reverse osmosis") {
		t.Errorf("within six weeks, and said is %q", all)
	}
	d.readPlant(62, 3, 93, "enough")
	d.house(d.at(2026, 1, 1, 9, 0).AddDate(0, 0, 63), "round_done", &record.RoundDone{Item: "membrane", Outcome: "done"})
	d.readPlant(64, 3, 98, "enough")
	now = now.AddDate(0, 0, 5)
	if tr := d.trend("Hardness", now); tr == nil || len(tr.Points) != 2 {
		t.Errorf("filled up, the softener's course goes on: %+v", tr)
	}
	if tr := d.trend("Rejection", now); tr == nil || len(tr.Points) != 1 || tr.Points[0].Value != 98 {
		t.Errorf("with a new membrane the old course goes on: %+v", tr)
	}
	if list := LimitsComing(d.h, d.h.Member(keeper), now); len(list) != 0 {
		t.Errorf("with all new: %v", list)
	}
}

// A strip that shows nothing is "less than its least step" in the course, never
// nought: nothing can be drawn from such readings.
func TestStripThatShowsNothingIsABound(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	at := d.at(2026, 3, 2, 17, 0)
	d.held(at, 0)
	d.put(at.Add(5*time.Minute), "chlorine", "s-"+at.UTC().Format("20060102-1504"), &session.Chlorine{Result: 0, Method: "strip", ReadsDown: 100, Point: "first_carbon"})
	tr := d.trend("Total chlorine", at.Add(time.Hour))
	if tr == nil || tr.Points[0].Op != water.Less || tr.Points[0].Value != 0.1 {
		t.Errorf("%+v", tr)
	}
}
