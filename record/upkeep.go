package record

import (
	"fmt"
	"math"
	"slices"
	"time"

	"ebbline/session"
	"ebbline/water"
)

// Upkeep is what the record holds of water, machine, round and shelf. It
// belongs to the household and not to one of its people. Lists are in the order
// they were written.
type Upkeep struct {
	Readings    []Dated[WaterReading]
	Steps       []Dated[WaterSample]
	Results     []*Judged
	TasksClosed []Dated[TaskClosed]
	Rules       Versions[WaterRules]
	Limits      []Dated[WaterLimit]
	Notices     []Dated[UtilityNotice]
	Residuals   []Dated[ResidualTest]
	Batches     []Dated[session.BatchMade]
	BatchTests  []Dated[session.BatchTested]
	RoundItems  []Dated[RoundItem]
	Done        []Personal[RoundDone]
	Faults      []Dated[Fault]
	Sharps      []Dated[SharpsBin]
	Needlestick Versions[NeedlestickCard]
	Calendars   []Personal[CalendarSecret]

	Items       []Dated[StockItem]
	Supplier    Versions[Supplier]
	Planned     []Dated[DeliveryPlanned]
	Orders      []Dated[OrderSent]
	Deliveries  []Dated[Delivery]
	Counts      []Dated[StockCount]
	Used        []Dated[StockUsed]
	Substitutes []Dated[Substitute]
	Quarantines []Dated[Quarantine]
	Recalls     []*Recalled
	Closings    []Dated[RecallClosed] // of recalls

	counted map[string][]int // where each item's counts stand in Counts
	lotsIn  lotPlaces        // where each lot stands in Deliveries and Counts
}

// Personal is an entry that may name the person it belongs to.
type Personal[T any] struct {
	Dated[T]
	Person string
}

// Judged is a laboratory's result with the judgements that were made of it, and
// with the entry that put its task away.
type Judged struct {
	Dated[WaterResult]
	Judgements []water.Judgement
	Closed     *Dated[TaskClosed]
}

// Stands reports whether every figure of the result lies within its limit.
func (j *Judged) Stands() bool {
	return !slices.ContainsFunc(j.Judgements, func(one water.Judgement) bool { return one.Verdict != water.Within })
}

// OpenAt reports whether somebody had to see to the result at a moment.
func (j *Judged) OpenAt(now time.Time) bool {
	return j.Struck == nil && !j.At.After(now) && !j.Stands() && (j.Closed == nil || j.Closed.At.After(now))
}

// Open reports whether somebody still has to see to the result.
func (j *Judged) Open() bool { return j.Struck == nil && j.Closed == nil && !j.Stands() }

// Recalled is a recall with what became of its pieces.
type Recalled struct {
	Dated[Recall]
	Closed *Dated[RecallClosed]
}

// Active reports whether the lots it names may not be picked.
func (r *Recalled) Active() bool { return r.Struck == nil }

// Result returns the result with this id, or nil.
func (u *Upkeep) Result(id string) *Judged { return among(u.Results, id) }

// Recall returns the recall with this id, or nil.
func (u *Upkeep) Recall(id string) *Recalled { return among(u.Recalls, id) }

// Order returns the order with this id, or nil.
func (u *Upkeep) Order(id string) *Dated[OrderSent] {
	for i := range u.Orders {
		if u.Orders[i].ID == id {
			return &u.Orders[i]
		}
	}
	return nil
}

// apply folds an entry of water, round or shelf; it gives false for one of
// another kind.
func (u *Upkeep) apply(e placed) bool {
	switch b := e.Body.(type) {
	case *WaterReading:
		u.Readings = put(u.Readings, dated[WaterReading](e))
	case *WaterSample:
		u.Steps = put(u.Steps, dated[WaterSample](e))
	case *WaterResult:
		u.Results = put(u.Results, &Judged{Dated: dated[WaterResult](e), Judgements: u.judgementsOf(b, e.place)})
	case *TaskClosed:
		u.TasksClosed = put(u.TasksClosed, dated[TaskClosed](e))
	case *WaterRules:
		u.Rules = put(u.Rules, dated[WaterRules](e))
	case *WaterLimit:
		u.Limits = put(u.Limits, dated[WaterLimit](e))
	case *UtilityNotice:
		u.Notices = put(u.Notices, dated[UtilityNotice](e))
	case *ResidualTest:
		u.Residuals = put(u.Residuals, dated[ResidualTest](e))
	case *session.BatchMade:
		u.Batches = put(u.Batches, dated[session.BatchMade](e))
	case *session.BatchTested:
		u.BatchTests = put(u.BatchTests, dated[session.BatchTested](e))
	case *RoundItem:
		u.RoundItems = put(u.RoundItems, dated[RoundItem](e))
	case *RoundDone:
		u.Done = put(u.Done, Personal[RoundDone]{dated[RoundDone](e), e.Person})
	case *Fault:
		u.Faults = put(u.Faults, dated[Fault](e))
	case *SharpsBin:
		u.Sharps = put(u.Sharps, dated[SharpsBin](e))
	case *NeedlestickCard:
		u.Needlestick = put(u.Needlestick, dated[NeedlestickCard](e))
	case *CalendarSecret:
		u.Calendars = put(u.Calendars, Personal[CalendarSecret]{dated[CalendarSecret](e), e.Person})
	default:
		return u.applyShelf(e)
	}
	return true
}

func (u *Upkeep) applyShelf(e placed) bool {
	switch e.Body.(type) {
	case *StockItem:
		u.Items = put(u.Items, dated[StockItem](e))
	case *Supplier:
		u.Supplier = put(u.Supplier, dated[Supplier](e))
	case *DeliveryPlanned:
		u.Planned = put(u.Planned, dated[DeliveryPlanned](e))
	case *OrderSent:
		u.Orders = put(u.Orders, dated[OrderSent](e))
	case *Delivery:
		u.Deliveries = put(u.Deliveries, dated[Delivery](e))
		u.lotsIn.delivered = lotsAfter(u.lotsIn.delivered, u.Deliveries, e.ID, Delivery.lots)
	case *StockCount:
		u.Counts = put(u.Counts, dated[StockCount](e))
		u.countAgain(e.ID)
		u.lotsIn.counted = lotsAfter(u.lotsIn.counted, u.Counts, e.ID, StockCount.lots)
	case *StockUsed:
		u.Used = put(u.Used, dated[StockUsed](e))
	case *Substitute:
		u.Substitutes = put(u.Substitutes, dated[Substitute](e))
	case *Quarantine:
		u.Quarantines = put(u.Quarantines, dated[Quarantine](e))
	case *Recall:
		u.Recalls = put(u.Recalls, &Recalled{Dated: dated[Recall](e)})
	case *RecallClosed:
		u.Closings = put(u.Closings, dated[RecallClosed](e))
	default:
		return false
	}
	return true
}

// countAgain notes where the counts of each item stand, from the last one on or,
// when that is not the new one, all of them.
func (u *Upkeep) countAgain(newest string) {
	from := len(u.Counts) - 1
	if u.Counts[from].ID != newest || u.counted == nil {
		u.counted, from = map[string][]int{}, 0
	}
	for i := from; i < len(u.Counts); i++ {
		name := plainName(u.Counts[i].Value.Item)
		u.counted[name] = append(u.counted[name], i)
	}
}

// strike strikes out an entry of water, round or shelf.
func (u *Upkeep) strike(id string, s *session.Strike) {
	strikeIn(u.Readings, id, s)
	strikeIn(u.Steps, id, s)
	strikeAmong(u.Results, id, s)
	strikeIn(u.TasksClosed, id, s)
	strikeIn(u.Rules, id, s)
	strikeIn(u.Limits, id, s)
	strikeIn(u.Notices, id, s)
	strikeIn(u.Residuals, id, s)
	strikeIn(u.Batches, id, s)
	strikeIn(u.BatchTests, id, s)
	strikeIn(u.RoundItems, id, s)
	strikeIn(u.Done, id, s)
	strikeIn(u.Calendars, id, s)
	strikeIn(u.Faults, id, s)
	strikeIn(u.Sharps, id, s)
	strikeIn(u.Needlestick, id, s)
	strikeIn(u.Items, id, s)
	strikeIn(u.Supplier, id, s)
	strikeIn(u.Planned, id, s)
	strikeIn(u.Orders, id, s)
	strikeIn(u.Deliveries, id, s)
	strikeIn(u.Counts, id, s)
	strikeIn(u.Used, id, s)
	strikeIn(u.Substitutes, id, s)
	strikeIn(u.Quarantines, id, s)
	strikeAmong(u.Recalls, id, s)
	strikeIn(u.Closings, id, s)
}

// Calendar gives the secret of a person's calendar, and false when there is
// none.
func (u *Upkeep) Calendar(person string) (CalendarSecret, bool) {
	for i := len(u.Calendars) - 1; i >= 0; i-- {
		if c := u.Calendars[i]; c.Struck == nil && c.Person == person {
			return c.Value, true
		}
	}
	return CalendarSecret{}, false
}

// Edition gives a table of limits as the unit's own limits change it.
func (u *Upkeep) Edition(name string) (water.Edition, error) { return u.edition(name, math.MaxInt) }

// edition is [Upkeep.Edition] by the limits that were written before a place.
func (u *Upkeep) edition(name string, before int) (water.Edition, error) {
	e, err := water.FindEdition(name)
	if err != nil {
		return e, err
	}
	for _, l := range u.Limits {
		if l.Struck != nil || l.place >= before {
			continue
		}
		own := water.Limit{
			What: water.Substance(l.Value.What), Use: water.Use(l.Value.Use), Max: l.Value.Max.Float(), Action: l.Value.Action.Float(), Unit: water.Unit(l.Value.Unit),
		}
		if changed, err := e.WithUnit(l.Value.SetBy, l.Value.SetOn.String(), own); err == nil {
			e = changed // a limit of dialysis fluid does not belong to a table of water
		}
	}
	return e, nil
}

// Judge holds each figure of a result against its limit, as the limits stand
// now.
func (u *Upkeep) Judge(r *WaterResult) ([]water.Judgement, error) { return u.judge(r, math.MaxInt) }

// judge is [Upkeep.Judge] by the limits that were written before a place.
func (u *Upkeep) judge(r *WaterResult, before int) ([]water.Judgement, error) {
	e, err := u.edition(r.Edition, before)
	if err != nil {
		return nil, err
	}
	var list []water.Judgement
	for _, one := range r.Results {
		j, err := e.Judge(water.Use(r.Use), one)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", one.What.Label(), err)
		}
		if m, told := r.Method(); told && one.What == water.ViableCount {
			j.Cautions = append(j.Cautions, m.Check(one, j.Limit)...)
		}
		list = append(list, j)
	}
	return list, nil
}

// RulesNow gives the rules for water in force; what the unit did not set is the
// program's own, and set reports whether the unit set any.
func (u *Upkeep) RulesNow() (rules WaterRules, set bool) {
	return u.rulesAt(time.Time{})
}

// rulesAt is [Upkeep.RulesNow] as it stood at a moment; the zero moment is now.
func (u *Upkeep) rulesAt(at time.Time) (rules WaterRules, set bool) {
	for _, d := range slices.Backward(u.Rules) {
		if d.Struck == nil && (at.IsZero() || !d.At.After(at)) {
			return d.Value, true
		}
	}
	return WaterRules{Edition: water.DefaultEdition, Use: string(water.Standard)}, false
}

// Samples gives every sample as far as it has come, in the order they were
// planned.
func (u *Upkeep) Samples() []water.Sample { return u.SamplesAt(time.Time{}) }

// SamplesAt is [Upkeep.Samples] as it stood at a moment; the zero moment is now.
func (u *Upkeep) SamplesAt(now time.Time) []water.Sample {
	later := func(t time.Time) bool { return !now.IsZero() && t.After(now) }
	var list []water.Sample
	at := map[string]int{}
	steps := slices.Clone(u.Steps)
	slices.SortStableFunc(steps, func(a, b Dated[WaterSample]) int { return a.At.Compare(b.At) })
	for _, d := range steps {
		if d.Struck != nil || later(d.At) {
			continue
		}
		b := d.Value
		if b.State == string(water.SamplePlanned) {
			at[b.Sample] = len(list)
			list = append(list, water.Sample{ID: b.Sample, Point: b.Point, For: substancesOf(b.For), State: water.SamplePlanned, PlannedOn: b.PlannedOn})
			continue
		}
		i, ok := at[b.Sample]
		if !ok {
			continue // its planning was struck out
		}
		s := &list[i]
		if b.State == "reached" {
			s.ReachedAt = d.At
			continue
		}
		if next, err := s.Step(water.SampleState(b.State), d.At); err == nil {
			*s = next
		}
		if b.State == string(water.SampleDrawn) {
			s.Cooled = b.Cooled
			if b.SinceClean != nil {
				hours := b.SinceClean.Float()
				s.HoursSinceDisinfection = &hours
			}
		}
	}
	for _, j := range u.Results {
		i, ok := at[j.Value.Sample]
		if !ok || j.Struck != nil || later(j.At) {
			continue
		}
		s := &list[i]
		for _, to := range []water.SampleState{water.SampleResult, water.SampleJudged} {
			if next, err := s.Step(to, j.At); err == nil {
				*s = next
			}
		}
	}
	return list
}

// Sample gives one sample, and false when none has this id.
func (u *Upkeep) Sample(id string) (water.Sample, bool) {
	for _, s := range u.Samples() {
		if s.ID == id {
			return s, true
		}
	}
	return water.Sample{}, false
}

func substancesOf(words []string) []water.Substance {
	var list []water.Substance
	for _, w := range words {
		list = append(list, water.Substance(w))
	}
	return list
}
