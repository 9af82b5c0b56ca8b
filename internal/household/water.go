package household

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/trend"
	"ebbline/unit"
	"ebbline/water"
)

// A WaterTask is a result that cannot stand as it is, with what follows.
type WaterTask struct {
	Result *record.Judged
	Sample water.Sample
	Tasks  []water.Task
	Due    unit.Date // of the most pressing one
	Late   bool
	Phone  string // of the unit
}

// WaterTasks lists what somebody still has to see to, the most pressing first.
func WaterTasks(h *record.Household, now time.Time) []WaterTask {
	u, _ := h.Unit.Now()
	phone := u.Day
	if phone == "" {
		phone = "no number of the unit is written down"
	}
	var list []WaterTask
	for _, j := range h.Upkeep.Results {
		if !j.OpenAt(now) {
			continue
		}
		t := WaterTask{Result: j, Phone: phone}
		t.Sample, _ = h.Upkeep.Sample(j.Value.Sample)
		for _, one := range j.Judgements {
			if task, ok, err := one.FollowUp(j.Value.Owner, phone, unit.DateOf(j.At)); err == nil && ok {
				t.Tasks = append(t.Tasks, task)
				if t.Due.IsZero() || task.Due.Before(t.Due) {
					t.Due = task.Due
				}
			}
		}
		t.Late = t.Due.Before(unit.DateOf(now))
		list = append(list, t)
	}
	slices.SortStableFunc(list, func(a, b WaterTask) int { return a.Due.Sub(b.Due) })
	return list
}

// A SampleRow is a sample with what is said of it.
type SampleRow struct {
	water.Sample
	Late    []unit.Caution
	Handled []unit.Caution
	Result  *record.Judged
}

// SampleRows lists the samples, those under way first and then the newest.
func SampleRows(h *record.Household, now time.Time) []SampleRow {
	rule := water.DefaultSampleRule()
	var list []SampleRow
	for _, s := range h.Upkeep.SamplesAt(now) {
		row := SampleRow{Sample: s, Late: rule.Overdue(s, now), Handled: rule.Handling(s)}
		for _, j := range h.Upkeep.Results {
			if j.Struck == nil && j.Value.Sample == s.ID && !j.At.After(now) {
				row.Result = j
			}
		}
		list = append(list, row)
	}
	over := func(s SampleRow) bool { return s.State == water.SampleJudged || s.State == water.SampleLost }
	slices.Reverse(list)
	slices.SortStableFunc(list, func(a, b SampleRow) int {
		switch {
		case over(a) == over(b):
			return 0
		case over(a):
			return 1
		}
		return -1
	})
	return list
}

// A PlantRow is one reading of the water plant with what follows from it.
type PlantRow struct {
	record.Dated[record.WaterReading]
	Drops     []Drop
	Rejection *float64 // percent
	Cautions  []unit.Caution
}

// A Drop is the pressure lost over one stage.
type Drop struct {
	Over string
	PSI  float64
	KPa  float64
}

// PlantRows lists the readings of the water plant, newest first, each held
// against the bounds of the water room.
func PlantRows(h *record.Household) []PlantRow {
	var list []PlantRow
	for _, d := range h.Upkeep.Readings {
		if d.Struck == nil {
			list = append(list, plantRow(d))
		}
	}
	slices.SortStableFunc(list, func(a, b PlantRow) int { return b.At.Compare(a.At) })
	return list
}

func plantRow(d record.Dated[record.WaterReading]) PlantRow {
	row := PlantRow{Dated: d}
	b := d.Value
	hold := func(r water.Reading, v float64) {
		for _, bound := range water.BoundsOf(r) {
			_, said := bound.Holds(v)
			row.Cautions = append(row.Cautions, said...)
		}
	}
	before := b.Feed
	for _, stage := range []struct {
		name  string
		after *unit.Gauge
		bound water.Reading
	}{
		{"sediment filter", b.AfterSediment, water.FilterDrop}, {"softener", b.AfterSoftener, water.FilterDrop},
		{"carbon", b.AfterCarbon, water.FilterDrop}, {"pre-filter", b.AfterPrefilter, water.PrefilterDrop},
	} {
		if stage.after == nil {
			continue
		}
		if before != nil {
			if psi, err := water.PressureDrop(before.Float(), stage.after.Float(), "kPa"); err == nil {
				row.Drops = append(row.Drops, Drop{stage.name, psi, before.Float() - stage.after.Float()})
				for _, bound := range water.BoundsOf(stage.bound) {
					bound.Label += " over the " + stage.name
					_, said := bound.Holds(psi)
					row.Cautions = append(row.Cautions, said...)
				}
			}
		}
		before = stage.after
	}
	if b.Hardness != nil {
		hold(water.Hardness, b.Hardness.Float())
	}
	if b.FeedTemp != nil {
		hold(water.FeedTemperature, b.FeedTemp.Float())
	}
	if b.FeedConduct != nil && b.ProductConduct != nil {
		if r, err := water.RejectionPercent(b.FeedConduct.Float(), b.ProductConduct.Float()); err == nil {
			row.Rejection = &r
			hold(water.Rejection, r)
		}
	}
	switch b.Salt {
	case "low":
		row.Cautions = append(row.Cautions, unit.Caution{Code: "salt_low", Text: "The softener is low on salt: fill it up, or hard water reaches the reverse osmosis."})
	case "bridge":
		row.Cautions = append(row.Cautions, unit.Caution{Code: "salt_bridge", Text: "The salt has made a bridge: it looks full and is hollow. Break the crust up."})
	}
	return row
}

// A WaterTrend is a series of what wears out, and when it meets its limit.
type WaterTrend struct {
	Name     string
	Unit     string
	Limit    float64
	Whose    string
	Above    bool // the limit lies above
	Decimals int
	Points   []water.Measured
	At       []time.Time
	Forecast water.Forecast
	Steeper  unit.Date // when it meets the limit if it goes on growing by the same share; zero: not said of this
	over     int       // days that the course is drawn from
	grows    bool      // it may grow by shares: what a filter lets through steepens as it is used up
}

// A course is drawn from so many of the last days: a filter lets through more
// and more as it is used up, so that the days when it was new say little of the
// day it ends. Ours.
const (
	trendOver  = 120
	carbonOver = 60
)

// WaterTrends gives the courses of chlorine, hardness, rejection and product
// water, and of each kind of count. A filter or lamp that was changed begins
// its course anew.
func WaterTrends(h *record.Household, m *record.Member, now time.Time) []WaterTrend {
	today := unit.DateOf(now)
	limit, whose := session.ChlorineLimit.Float(), "program default, ISO 23500-3:2019"
	if m != nil {
		if rx := m.Prescription(today); rx != nil && rx.Value.Chlorine != nil {
			limit, whose = rx.Value.Chlorine.Float(), "set by "+rx.Value.SetBy+" on "+rx.Value.SetOn.Long()
		}
	}
	changed := func(item string) time.Time {
		at, _, _ := h.LastDone(m, item, now)
		return at
	}
	carbon := WaterTrend{Name: "Total chlorine after the first carbon", Unit: "mg/L", Limit: limit, Whose: whose, Above: true, Decimals: 2, over: carbonOver, grows: true}
	since := changed("carbon")
	for _, t := range chlorineTests(h) {
		if t.after == "first_carbon" && t.at.After(since) && !t.at.After(now) {
			carbon.add(t.at, t.op, t.value)
		}
	}
	hard := WaterTrend{Name: "Hardness after the softener", Unit: "mg/L as CaCO3", Limit: 17, Whose: "program default, 1 grain per US gallon", Above: true}
	reject := WaterTrend{Name: "Rejection of the reverse osmosis", Unit: "%", Limit: 90, Whose: "program default, clinics’ list of water checks 2015", Decimals: 1}
	product := WaterTrend{Name: "Conductivity of the product water", Unit: "µS/cm", Above: true, Decimals: 1}
	rows := PlantRows(h)
	slices.Reverse(rows)
	var base []float64
	for _, r := range rows {
		if r.At.After(now) {
			continue
		}
		if v := r.Value.Hardness; v != nil {
			hard.add(r.At, water.Equal, v.Float())
		}
		if r.Rejection != nil {
			reject.add(r.At, water.Equal, *r.Rejection)
		}
		if v := r.Value.ProductConduct; v != nil {
			product.add(r.At, water.Equal, v.Float())
			if len(base) < baselineFrom {
				base = append(base, v.Float())
			}
		}
	}
	if c := trend.CentreOf(base); c.Enough {
		product.Limit, product.Whose = c.Median*1.25, fmt.Sprintf("a quarter above its own baseline of %.1f, ours", c.Median)
	}
	var list []WaterTrend
	for _, t := range append([]WaterTrend{carbon, hard, reject, product}, countTrends(h, now)...) {
		if len(t.Points) > 0 && t.Limit > 0 {
			t.reckon(today)
			list = append(list, t)
		}
	}
	return list
}

// baselineFrom is how many of the first readings make the plant's baseline.
const baselineFrom = 10

func (t *WaterTrend) add(at time.Time, op water.Op, v float64) {
	t.Points = append(t.Points, water.Measured{On: unit.DateOf(at), Op: op, Value: v})
	t.At = append(t.At, at)
}

// reckon forecasts from the last months: by a straight line and, for what
// grows, by a line through the logarithms, which is the earlier of the two when
// the course steepens.
func (t *WaterTrend) reckon(today unit.Date) {
	recent := t.Points
	for len(recent) > 0 && today.Sub(recent[0].On) > cmp.Or(t.over, trendOver) {
		recent = recent[1:]
	}
	t.Forecast = water.ForecastLimit(recent, t.Limit, t.Above, today)
	if !t.grows || !t.Forecast.OnWay {
		return
	}
	shares := slices.Clone(recent)
	for i, p := range shares {
		if p.Value <= 0 {
			return // a reading of none has no logarithm
		}
		shares[i].Value = math.Log(p.Value)
	}
	if f := water.ForecastLimit(shares, math.Log(t.Limit), t.Above, today); f.OnWay && f.Likely.Before(t.Forecast.Likely) {
		t.Steeper = f.Likely
	}
}

// countTrends parts the laboratory's counts by substance, place and method:
// results of different methods never share a line.
func countTrends(h *record.Household, now time.Time) []WaterTrend {
	var all []water.Counted
	limits := map[water.Substance]water.Limit{}
	samples := map[string]water.Sample{}
	for _, one := range slices.Backward(h.Upkeep.Samples()) {
		samples[one.ID] = one // the first of a name, as [record.Upkeep.Sample] has it
	}
	for _, j := range h.Upkeep.Results {
		if j.Struck != nil || j.At.After(now) {
			continue
		}
		sample := samples[j.Value.Sample]
		method, _ := j.Value.Method()
		on := sample.DrawnAt
		if on.IsZero() {
			on = j.At
		}
		for _, one := range j.Judgements {
			if s := one.Result.What; s == water.ViableCount || s == water.Endotoxin {
				c := water.Counted{On: unit.DateOf(on), Point: sample.Point, Result: one.Result}
				if s == water.ViableCount {
					c.Method = method
				}
				all = append(all, c)
				limits[s] = one.Limit
			}
		}
	}
	var list []WaterTrend
	for _, series := range water.SplitByMethod(all) {
		first := series[0]
		l := limits[first.Result.What]
		t := WaterTrend{Name: first.Result.What.Label() + ", " + first.Point, Unit: string(l.Unit), Limit: l.Max, Whose: l.Edition, Above: true, Decimals: 2}
		if first.Method.Medium != "" {
			t.Name += fmt.Sprintf(", %s at %s for %.0f days", first.Method.Medium, first.Method.Celsius.Text(), first.Method.Days)
			t.Decimals = 0
		}
		for _, c := range series {
			t.add(c.On.Time(now.Location()), c.Result.Op, c.Result.Value)
		}
		list = append(list, t)
	}
	return list
}

type chlorineTest struct {
	at    time.Time
	op    water.Op
	value float64
	mgL   unit.Concentration
	after string
}

// chlorineTests lists all tests at home, oldest first.
func chlorineTests(h *record.Household) []chlorineTest {
	var list []chlorineTest
	for _, m := range h.People {
		for _, s := range m.Sessions {
			if o, _ := s.Opened(); s.Abandoned() || o.Place == "elsewhere" {
				continue
			}
			session.Each(s, func(b *session.Chlorine, e *session.Event) {
				if e.Missing["total_chlorine_mg_l"] != "" {
					return
				}
				t := chlorineTest{at: e.At, op: water.Equal, value: b.Result.Float(), mgL: b.Result, after: b.Point}
				if b.Below {
					t.op = water.Less
				}
				list = append(list, t)
			})
		}
	}
	slices.SortStableFunc(list, func(a, b chlorineTest) int { return a.at.Compare(b.at) })
	return list
}

// WaterRemarks are what is noticed over weeks: results that never move, a
// self-test repeated until it passes, notices about the water.
func WaterRemarks(h *record.Household, now time.Time) []unit.Caution {
	var results []unit.Concentration
	for _, t := range chlorineTests(h) {
		if !t.at.After(now) {
			results = append(results, t.mgL)
		}
	}
	list := water.Identical("Total chlorine", results)
	list = append(list, water.SelfTests(SelfTestTries(h))...)
	return append(list, water.Doubts(openNotices(h), unit.DateOf(now))...)
}

func openNotices(h *record.Household) []water.Notice {
	var list []water.Notice
	for _, d := range h.Upkeep.Notices {
		if d.Struck == nil {
			list = append(list, water.Notice{From: d.Value.From, To: d.Value.To, Text: d.Value.Words})
		}
	}
	return list
}

// ChlorineRule gives how often chlorine is tested again in a session.
func ChlorineRule(h *record.Household) session.ChlorineRepeat {
	rules, set := h.Upkeep.RulesNow()
	if set && rules.Repeat != nil {
		return session.ChlorineRepeat{Every: time.Duration(rules.Repeat.Float() * float64(time.Hour)), SetBy: rules.SetBy, SetOn: rules.SetOn}
	}
	return session.ChlorineRepeat{Every: water.DefaultChlorineRule().RepeatAfter}
}
