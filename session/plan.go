package session

import (
	"slices"
	"time"

	"ebbline/fluid"
	"ebbline/unit"
)

// A Plan is what is to be taken off in this session and how fast, with every
// term, where it came from and when, and what must be said beside it. The
// numbers are an [AgreedPlan] that the person has not yet agreed to.
type Plan struct {
	AgreedPlan
	MadeAt      time.Time
	GoalShown   string      // what to dial in, in the machine's own unit and digits
	GoalDigits  string      // the same without its unit
	LengthShown string      // "4 h 27 min"
	Step        unit.Volume // of the machine's goal field
	Terms       []Term
	Limits      []LimitLine
	Ways        []Way // only when the whole goal lies over a rate: what would hold it
	WholeRate   unit.RatePerKg
	Expected    unit.Mass // what the scale should show after, same clothes, when the set goal comes off
	Dry         UnderDry  // how far under the dry weight, and what that asks for
	WeighAgain  bool      // the weight is more than an hour old
	Afterwards  bool      // typed in from paper, or held elsewhere: what was dialled in is told, not cut
	Shouts      []unit.Caution
	Said        []unit.Caution
	RateSaid    *RateRemark // what the start line will say of the rate; nil when nothing
	Studied     string      // above the studies' figures and inside the unit's limit: whom they are from
	Question    string      // for the unit, when something is left over
	Within      string      // "inside the limits your unit set on 3 March 2026", or empty
}

// A Term is one line of the plan as a person reads it.
type Term struct {
	Code  string
	Label string
	Value string       // with its unit
	ML    *unit.Volume // what it adds to the goal; nil when the line only explains
	From  string
	At    time.Time // zero where no moment belongs to it
}

// A LimitLine is one limit, whose it is, and whether the plan lies within.
type LimitLine struct {
	What  string
	Value string
	Whose string
	Unit  bool // set by the unit; else the program's own, which cautions and never cuts
	Over  bool // the whole goal lies over it, or the weight lies that far under
	Fits  bool // what is dialled in lies inside it, though the whole goal may not
	Cut   bool // it is what cut the goal: of two limits, the one that leaves less
	Under bool // it is about lying under the dry weight
}

// Lies says how the plan lies to the limit.
func (l LimitLine) Lies() string {
	switch {
	case l.Cut:
		return "cuts the goal"
	case l.Under && l.Over:
		return "this far under"
	case l.Under:
		return "not so far under"
	case l.Over && l.Fits:
		return "whole goal above it; dialled in, inside"
	case l.Over:
		return "above it"
	}
	return "inside it"
}

// A Way is what would keep the whole goal at one rate.
type Way struct {
	Rate     unit.RatePerKg
	Whose    string
	Shortest unit.Minutes // that takes off the whole goal
	Largest  unit.Volume  // goal that fits the length of this session
}

// Choices are what the person settled for this session on the plan page. A nil
// is "as prescribed".
type Choices struct {
	Intake  *unit.Volume
	Saline  *unit.Volume
	Length  *unit.Minutes
	SetGoal *unit.Volume // less than the plan would set
}

// longAfter is how long after its weight a plan of a paper session is taken to be
// typed in, not made. Ours.
const longAfter = 12 * time.Hour

// WeightAge is how old a weight may be when a plan is made from it.
const WeightAge = time.Hour

// LightWeight is the dry weight below which the defaults of adults do not fit:
// there is no plan then unless the unit has set a removal rate. Ours.
const LightWeight unit.Mass = 35_000

// MakePlan makes the plan of a session from its weigh-in, its prescription and
// its machine:
//
//	above dry = pre-weight − clothing − dry weight   (1 kg = 1 L)
//	goal      = max(0, above dry + drinks + washback + saline + flushes), to the machine's step
//	dialled in = the goal, or the largest the unit's limits let through,
//	             down to the machine's step
//
// Of a session typed in afterwards, what was dialled in may lie over the unit's
// limits: it happened, and the start line judges it.
//
// Washback is left out when the machine adds it by itself. Below dry weight above
// dry is negative in the sum, and 0 in the plan's own figure of it beside
// below_dry. How far under is always a term; a caution is added from
// [fluid.BelowDryLook] on, or from the unit's own figure ([UnderDryOf]). It needs a
// weigh-in, a dry weight, a length and a machine whose goal field is known, and
// otherwise returns an [*unit.InputError]; when its two computations differ it
// returns a [*fluid.Disagreement] and no number. Where no plan is made at all it
// returns a [*NoPlan], whatever else is lacking.
func MakePlan(s *Session, c Choices, h History, now time.Time) (Plan, error) {
	if no := NoPlanOf(s, h, now); no != nil {
		return Plan{}, no
	}
	in, p, err := planTerms(s, c)
	if err != nil {
		return Plan{}, err
	}
	made, err := fluid.NewPlan(in)
	if err != nil {
		return Plan{}, err
	}
	if err := fluid.Recheck(in, made); err != nil {
		return Plan{}, err
	}
	p.MadeAt = now
	p.BelowDry = made.BelowDry
	p.AboveDry = unit.Volume(max(made.AboveDryMl, 0))
	p.Goal = unit.Volume(made.GoalMl)
	p.SetGoal = p.Goal
	if made.LargestGoalMl != nil {
		p.SetGoal = min(p.Goal, floorTo(unit.Volume(*made.LargestGoalMl), p.Step))
	}
	opened, _ := s.Opened()
	p.Afterwards = opened.Afterwards()
	if c.SetGoal != nil {
		most := p.SetGoal
		if p.Afterwards {
			most = p.Goal
		}
		if *c.SetGoal < 0 || *c.SetGoal > most || *c.SetGoal%p.Step != 0 {
			return Plan{}, unit.Refuse("set_goal_ml", *c.SetGoal, "0 to "+most.Text()+" in steps of "+p.Step.Text())
		}
		p.SetGoal = *c.SetGoal
	}
	p.LeftOver = p.Goal - p.SetGoal
	p.Rate = rateOf(p.SetGoal, p.Length)
	p.RatePerKg = perKg(p.SetGoal, p.Length, p.DryWeight)
	p.WholeRate = perKg(p.Goal, p.Length, p.DryWeight)
	p.Expected = p.PreWeight - unit.Mass(p.SetGoal) + unit.Mass(p.Intake+p.Washback+p.Saline+p.Flushes)
	if p.GoalShown, err = s.Machine.ShowGoal(p.SetGoal); err != nil {
		return Plan{}, err
	}
	p.GoalDigits = s.Machine.goalDigits(p.SetGoal)
	p.LengthShown = hoursText(p.Length)
	p.Dry = UnderDryOf(s, p.AgreedPlan, now)
	if err := p.limits(s.Rx, in, made); err != nil {
		return Plan{}, err
	}
	p.terms(s, h)
	p.RateSaid = p.remarkOn(s)
	if _, weighed := Last[WeighIn](s); p.Afterwards && now.Sub(weighed.At) > longAfter {
		now = weighed.At // typed in afterwards, it is judged as of its own day
	}
	p.say(s, h, now)
	return p, nil
}

// planTerms gathers what the plan is made from.
func planTerms(s *Session, c Choices) (fluid.PlanInput, Plan, error) {
	rx := s.Rx
	if rx == nil {
		return fluid.PlanInput{}, Plan{}, unit.Refuse("prescription_id", "no prescription", "one from your unit")
	}
	if s.Machine.GoalUnit != "L" && s.Machine.GoalUnit != "mL" {
		return fluid.PlanInput{}, Plan{}, unit.Refuse("goal_unit", s.Machine.GoalUnit, "L or mL, as the machine's goal field shows")
	}
	weight, weighed := Last[WeighIn](s)
	if weight == nil || weighed.Missing["weight_kg"] != "" {
		return fluid.PlanInput{}, Plan{}, unit.Refuse("pre_weight_kg", "no weight", "a weight before this session")
	}
	length, _, err := rx.SessionLength()
	if err != nil && c.Length == nil {
		return fluid.PlanInput{}, Plan{}, err
	}
	p := Plan{Step: s.Machine.FieldStep()}
	p.PrescriptionID, p.WeighInID = s.PrescriptionID, weighed.ID
	p.PreWeight, p.Clothing, p.DryWeight = weight.Weight, weight.Clothing, rx.DryWeight
	p.Intake, p.Washback, p.Length = rx.Intake, s.Machine.WashbackIn(rx), length
	if c.Intake != nil {
		p.Intake = *c.Intake
	}
	if c.Saline != nil {
		p.Saline = *c.Saline
	}
	if c.Length != nil {
		p.Length = *c.Length
	}
	p.Flushes = rx.FlushesPlanned(p.Length)
	in := fluid.PlanInput{
		PreWeight: p.PreWeight.Exact(), Clothing: p.Clothing.Exact(), DryWeight: p.DryWeight.Exact(), Session: p.Length.Exact(),
		Intake: p.Intake.Exact(), Washback: p.Washback.Exact(), Saline: (p.Saline + p.Flushes).Exact(), Step: p.Step.Exact(),
	}
	if rx.Rate != nil {
		limit := rx.Rate.Exact()
		in.RateLimit = &limit
	}
	if rx.MaxRemoval != nil {
		most := rx.MaxRemoval.Exact()
		in.MaxRemoval = &most
	}
	return in, p, nil
}

// limits lists the limits with their owners, and what would hold the goal.
func (p *Plan) limits(rx *Prescription, in fluid.PlanInput, made fluid.Plan) error {
	cuts := func(largest float64) bool {
		return made.LargestGoalMl != nil && floorTo(unit.Volume(largest), p.Step) == floorTo(unit.Volume(*made.LargestGoalMl), p.Step)
	}
	rates := []struct {
		rate unit.RatePerKg
		unit bool
	}{{lookRate, false}, {stopRate, false}}
	if rx.Rate != nil {
		rates = rates[:1]
		rates[0].rate, rates[0].unit = *rx.Rate, true
	}
	for _, r := range rates {
		whose := ownRateWhose(rx)
		if r.unit {
			whose = setByUnit(rx)
		}
		over := above(r.rate, p.Goal, p.Length, p.DryWeight)
		p.Limits = append(p.Limits, LimitLine{
			What: "Removal rate", Value: r.rate.Text(), Whose: whose, Unit: r.unit, Over: over,
			Fits: !above(r.rate, p.SetGoal, p.Length, p.DryWeight),
		})
		if !over {
			continue
		}
		in.RateLimit, in.MaxRemoval = exactly(r.rate), nil
		at, err := fluid.NewPlan(in)
		if err != nil {
			return err
		}
		p.Ways = append(p.Ways, Way{
			Rate: r.rate, Whose: whose,
			Shortest: unit.Minutes(*at.ShortestSessionMin), Largest: floorTo(unit.Volume(*at.LargestGoalMl), p.Step),
		})
		p.Limits[len(p.Limits)-1].Cut = r.unit && cuts(*at.LargestGoalMl)
	}
	if rx.MaxRemoval != nil {
		over := p.Goal > *rx.MaxRemoval
		p.Limits = append(p.Limits, LimitLine{
			What: "Largest removal", Value: litresText(*rx.MaxRemoval), Whose: setByUnit(rx), Unit: true, Over: over, Cut: over && cuts(float64(*rx.MaxRemoval)),
			Fits: p.SetGoal <= *rx.MaxRemoval,
		})
	}
	if p.BelowDry {
		p.Limits = append(p.Limits, LimitLine{
			What: "Below dry weight: ring from", Value: p.Dry.Ring.Text(), Whose: p.Dry.Whose, Unit: rx.DryRing != nil,
			Over: p.Dry.Under >= p.Dry.Ring, Under: true,
		})
	}
	if (rx.Rate != nil || rx.MaxRemoval != nil) && p.Dry.Level == fluid.DryQuiet && made.WithinLimits {
		p.Within = insideWords(rx)
	}
	return nil
}

func exactly[M unit.Measure](q unit.Quantity[M]) *unit.Exact[M] {
	e := q.Exact()
	return &e
}

// CautionsOf gives the codes of what is said beside a plan that was agreed at a
// moment, each once.
func CautionsOf(s *Session, plan AgreedPlan, h History, at time.Time) []string {
	codes := []string{}
	again, err := MakePlan(s, Choices{Intake: &plan.Intake, Saline: &plan.Saline, Length: &plan.Length, SetGoal: &plan.SetGoal}, h, at)
	if err != nil { // its weight or its prescription has changed since; the start line says that
		again = Plan{Said: rateCautions(s.Rx, plan.SetGoal, plan.Length, plan.DryWeight)}
	}
	for _, c := range append(slices.Clone(again.Shouts), again.Said...) {
		if !slices.Contains(codes, c.Code) {
			codes = append(codes, c.Code)
		}
	}
	return codes
}
