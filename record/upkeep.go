package record

import (
	"fmt"
	"slices"
	"time"

	"ebbline/session"
	"ebbline/stock"
	"ebbline/water"
)

// Upkeep is what the record holds of water, machine, round and shelf. It
// belongs to the household and not to one of its people. Lists are in the order
// they were written.
type Upkeep struct {
	Readings    []Dated[WaterReading]
	Steps       []Dated[WaterSample]
	Results     []*Judged
	Rules       Versions[WaterRules]
	Limits      []Dated[WaterLimit]
	Notices     []Dated[UtilityNotice]
	Residuals   []Dated[ResidualTest]
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

	counted map[string][]int // where each item's counts stand in Counts
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

// Stands tells whether every figure of the result lies within its limit.
func (j *Judged) Stands() bool {
	return !slices.ContainsFunc(j.Judgements, func(one water.Judgement) bool { return one.Verdict != water.Within })
}

// OpenAt tells whether somebody had to see to the result at a moment.
func (j *Judged) OpenAt(now time.Time) bool {
	return j.Struck == nil && !j.At.After(now) && !j.Stands() && (j.Closed == nil || j.Closed.At.After(now))
}

// Open tells whether somebody still has to see to the result.
func (j *Judged) Open() bool { return j.Struck == nil && j.Closed == nil && !j.Stands() }

// Recalled is a recall with what was found when it was written down.
type Recalled struct {
	Dated[Recall]
	Found  stock.Found
	Closed *Dated[RecallClosed]
}

// Active tells whether the lots it names may not be picked.
func (r *Recalled) Active() bool { return r.Struck == nil }

// Result returns the result with this id, or nil.
func (u *Upkeep) Result(id string) *Judged {
	for _, j := range u.Results {
		if j.ID == id {
			return j
		}
	}
	return nil
}

// Recall returns the recall with this id, or nil.
func (u *Upkeep) Recall(id string) *Recalled {
	for _, r := range u.Recalls {
		if r.ID == id {
			return r
		}
	}
	return nil
}

// Order returns the order with this id, or nil.
func (u *Upkeep) Order(id string) *Dated[OrderSent] {
	for i := range u.Orders {
		if u.Orders[i].ID == id {
			return &u.Orders[i]
		}
	}
	return nil
}

// upkeep folds an entry of water, round or shelf; it gives false for one of
// another kind.
func (h *Household) upkeep(e Entry) bool {
	u := &h.Upkeep
	switch b := e.Body.(type) {
	case *WaterReading:
		u.Readings = put(u.Readings, e)
	case *WaterSample:
		u.Steps = put(u.Steps, e)
	case *WaterResult:
		j := &Judged{Dated: dated[WaterResult](e), Judgements: b.Judged}
		if len(j.Judgements) == 0 {
			j.Judgements, _ = u.Judge(b) // it was checked before it was taken
		}
		u.Results = append(u.Results, j)
	case *TaskClosed:
		if j := u.Result(b.Result); j != nil {
			d := dated[TaskClosed](e)
			j.Closed = &d
		}
	case *WaterRules:
		u.Rules = put(u.Rules, e)
	case *WaterLimit:
		u.Limits = put(u.Limits, e)
	case *UtilityNotice:
		u.Notices = put(u.Notices, e)
	case *ResidualTest:
		u.Residuals = put(u.Residuals, e)
	case *RoundItem:
		u.RoundItems = put(u.RoundItems, e)
	case *RoundDone:
		u.Done = append(u.Done, Personal[RoundDone]{dated[RoundDone](e), e.Person})
	case *Fault:
		u.Faults = put(u.Faults, e)
	case *SharpsBin:
		u.Sharps = put(u.Sharps, e)
	case *NeedlestickCard:
		u.Needlestick = put(u.Needlestick, e)
	case *CalendarSecret:
		u.Calendars = append(u.Calendars, Personal[CalendarSecret]{dated[CalendarSecret](e), e.Person})
	default:
		return h.shelfEntry(e)
	}
	return true
}

func (h *Household) shelfEntry(e Entry) bool {
	u := &h.Upkeep
	switch b := e.Body.(type) {
	case *StockItem:
		u.Items = put(u.Items, e)
	case *Supplier:
		u.Supplier = put(u.Supplier, e)
	case *DeliveryPlanned:
		u.Planned = put(u.Planned, e)
	case *OrderSent:
		u.Orders = put(u.Orders, e)
	case *Delivery:
		u.Deliveries = put(u.Deliveries, e)
	case *StockCount:
		if u.counted == nil {
			u.counted = map[string][]int{}
		}
		name := plainName(b.Item)
		u.counted[name] = append(u.counted[name], len(u.Counts))
		u.Counts = put(u.Counts, e)
	case *StockUsed:
		u.Used = put(u.Used, e)
	case *Substitute:
		u.Substitutes = put(u.Substitutes, e)
	case *Quarantine:
		u.Quarantines = put(u.Quarantines, e)
	case *Recall:
		r := &Recalled{Dated: dated[Recall](e)}
		r.Found = h.Search(b, e.At)
		u.Recalls = append(u.Recalls, r)
	case *RecallClosed:
		if r := u.Recall(b.Recall); r != nil {
			d := dated[RecallClosed](e)
			r.Closed = &d
		}
	default:
		return false
	}
	return true
}

// strike strikes out an entry of water, round or shelf.
func (u *Upkeep) strike(id string, s *session.Strike) {
	strikeIn(u.Readings, id, s)
	strikeIn(u.Steps, id, s)
	for _, j := range u.Results {
		if j.ID == id {
			j.Struck = s
		}
		if j.Closed != nil && j.Closed.ID == id {
			j.Closed = nil // it is open again
		}
	}
	strikeIn(u.Rules, id, s)
	strikeIn(u.Limits, id, s)
	strikeIn(u.Notices, id, s)
	strikeIn(u.Residuals, id, s)
	strikeIn(u.RoundItems, id, s)
	strikePersonal(u.Done, id, s)
	strikePersonal(u.Calendars, id, s)
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
	for _, r := range u.Recalls {
		if r.ID == id {
			r.Struck = s
		}
		if r.Closed != nil && r.Closed.ID == id {
			r.Closed = nil
		}
	}
}

func strikePersonal[T any](list []Personal[T], id string, s *session.Strike) {
	for i := range list {
		if list[i].ID == id {
			list[i].Struck = s
		}
	}
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
func (u *Upkeep) Edition(name string) (water.Edition, error) {
	e, err := water.FindEdition(name)
	if err != nil {
		return e, err
	}
	for _, l := range u.Limits {
		if l.Struck != nil {
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
func (u *Upkeep) Judge(r *WaterResult) ([]water.Judgement, error) {
	e, err := u.Edition(r.Edition)
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
// program's own, and set tells whether the unit set any.
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
