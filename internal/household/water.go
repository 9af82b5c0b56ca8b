package household

import (
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
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

// Over reports whether a figure lies over its limit, and not at its action level
// or out of sight.
func (t WaterTask) Over() bool {
	return slices.ContainsFunc(t.Result.Judgements, func(j water.Judgement) bool { return j.Verdict == water.Over })
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
		case over(a) && over(b):
			return b.DrawnAt.Compare(a.DrawnAt)
		case over(a):
			return 1
		case over(b):
			return -1
		}
		return 0
	})
	return list
}

// LateSamples says of each sample under way what it waits for and since when.
func LateSamples(h *record.Household, now time.Time) []unit.Caution {
	rule := water.DefaultSampleRule()
	var list []unit.Caution
	for _, s := range h.Upkeep.SamplesAt(now) {
		list = append(list, rule.Overdue(s, now)...)
	}
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
		{"carbon", b.AfterCarbon, water.FilterDrop}, {"second carbon", b.AfterCarbon2, water.FilterDrop}, {"pre-filter", b.AfterPrefilter, water.PrefilterDrop},
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

// WaterRemarks are what is noticed over weeks: results that never move, a
// self-test repeated until it passes, notices about the water. Equal results
// are counted from the day the test was last tried on water that must show
// something.
func WaterRemarks(h *record.Household, now time.Time) []unit.Caution {
	var results []unit.Concentration
	tried, _, _ := h.LastDone(nil, "chlorine-check", now)
	for _, t := range chlorineTests(h) {
		if t.at.After(tried) && !t.at.After(now) {
			results = append(results, t.mgL)
		}
	}
	list := append(ultrapureRemarks(h, now), water.Identical("Total chlorine", results)...)
	list = append(list, water.SelfTests(SelfTestTries(h))...)
	return append(list, water.Doubts(noticesAt(h, now), unit.DateOf(now))...)
}

func noticesAt(h *record.Household, now time.Time) []water.Notice {
	var list []water.Notice
	for _, n := range h.NoticesAt(now) {
		list = append(list, n.Notice)
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
