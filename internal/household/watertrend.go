package household

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/trend"
	"ebbline/unit"
	"ebbline/water"
)

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
	// What is drawn begins anew where the thing it tells of was changed.
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
	membrane, salt := changed("membrane"), ""
	for _, r := range rows {
		if r.At.After(now) {
			continue
		}
		if seen := r.Value.Salt; seen != "" {
			if seen == "enough" && salt != "" && salt != "enough" { // it was filled up
				hard.Points, hard.At = nil, nil
			}
			salt = seen
		}
		if v := r.Value.Hardness; v != nil {
			hard.add(r.At, water.Equal, v.Float())
		}
		if !r.At.After(membrane) {
			continue
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
			if !s.AtHome() {
				continue
			}
			session.Each(s, func(b *session.Chlorine, e *session.Event) {
				if e.Missing["total_chlorine_mg_l"] != "" {
					return
				}
				t := chlorineTest{at: e.At, op: water.Equal, value: b.Result.Float(), mgL: b.Result, after: b.Point}
				switch {
				case b.Below:
					t.op = water.Less
				case b.Result < b.ReadsDown: // nothing shown is no nought
					t.op, t.value = water.Less, b.ReadsDown.Float()
				}
				list = append(list, t)
			})
		}
	}
	slices.SortStableFunc(list, func(a, b chlorineTest) int { return a.at.Compare(b.at) })
	return list
}

// soonDays is how far ahead a limit that will be met is spoken of beside what is
// due: time to order and fit a filter. Ours.
const soonDays = 42

// LimitsComing says of what wears out when it meets its limit, where that lies
// within six weeks or behind.
func LimitsComing(h *record.Household, m *record.Member, now time.Time) []unit.Caution {
	var list []unit.Caution
	today := unit.DateOf(now)
	for _, t := range WaterTrends(h, m, now) {
		limit := fmt.Sprintf("%s %s", trimmed(t.Limit), t.Unit)
		soon := func(d unit.Date) bool { return !d.IsZero() && d.Sub(today) <= soonDays }
		switch f := t.Forecast; {
		case f.Already:
			list = append(list, unit.Caution{Code: "limit_reached", Text: fmt.Sprintf("%s: on its course it stands at its limit of %s or beyond.", t.Name, limit)})
		case f.OnWay && (soon(f.Likely) || soon(t.Steeper)):
			words := fmt.Sprintf("%s: on its present course it meets %s about %s", t.Name, limit, f.Likely.Long())
			if !t.Steeper.IsZero() {
				words += ", if it goes on steepening about " + t.Steeper.Long()
			}
			list = append(list, unit.Caution{Code: "limit_coming", Text: words + "."})
		}
	}
	return list
}

func trimmed(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
