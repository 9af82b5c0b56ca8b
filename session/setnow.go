package session

import (
	"fmt"
	"math"
	"slices"
	"time"

	"ebbline/fluid"
	"ebbline/unit"
)

// Settings are what can be set on the machine after something changed under way.
type Settings struct {
	At        time.Time
	Removed   unit.Volume // taken as removed by now
	RemovedAt time.Time   // when it was last read off the machine; zero when never
	Estimated bool        // carried on since that reading: read the machine for the true one
	Added     unit.Volume // drinks and saline beyond the plan that no goal has taken in yet, less what only fills up to dry weight
	Omitted   unit.Volume // flushes that were planned and left out, beyond what was added: the goal is lower by that
	Options   []Setting   // the first is what keeps the whole treated time
	Needed    *unit.Minutes
	NeededBy  string // whose limit the minutes needed rest on
	Cautions  []unit.Caution
	Saline    unit.Volume // given for a low pressure or a cramp, and not in the goal; see forEase
	Lost      unit.Volume // of the goal, while removal was off; it is not made good
	Hold      *Hold       // since a low pressure; nil when there was none
	Said      []string    // what stands beside it: a rate too high, the hold, and that saline
	Over      bool        // the first option would run above 13 mL/h/kg and no limit cut it: it is not to be set
	Lead      []string    // the first of Said, which stand before any figure to set: of a rate too high
	Low       bool        // a reading is low and none since was inside: nothing is asked for
	beyond    unit.Volume // what both are from
	unchanged bool        // the goal is still the plan's
	Ask       bool        // the machine should be changed now; never while a trouble is open, or what is felt is one for the ambulance
}

// A Setting is one way to go on.
type Setting struct {
	Code        string // "keep_length", "keep_end" or "longer"
	Title       string
	Goal        unit.Volume // to dial in, in the machine's step
	GoalShown   string
	Length      unit.Minutes // whole treated time
	End         time.Time
	HeparinStop time.Time // moves with the end; zero when none is prescribed
	Rate        unit.Rate
	RatePerKg   unit.RatePerKg
	Within      bool        // inside the unit's rate limit, or none is set
	Over        bool        // above 13 mL/h/kg (ours), where the unit set no limit; nothing is cut for it
	LeftOver    unit.Volume // stays on although this is set
	Changed     bool        // differs from what is set on the machine by a step or more, or in length
}

// estimateAfter is how old a reading of the removal may be before it is said
// that it was carried on.
const estimateAfter = 2 * time.Minute

// keepEndWorth is how many minutes of pause make the question of the end worth
// asking.
const keepEndWorth unit.Minutes = 5

// SetNow computes what to set now: the goal with everything added beyond the
// plan, over the treated time that is left. A goal that the unit's limits do
// not let through in the time left is cut, down to the machine's step, and what
// stays on is said. Where a pause moved the end, another option keeps the end
// that was first planned; where the rate limit cut the goal, another gives the
// end at which all of it is off inside the limit. Time with removal off is not
// made good: the goal is lower by what the line lost then, or by what the rate of
// before does not take off any more, whichever is less. After a low pressure
// nothing is caught up; see [Hold].
//
// It needs a plan and a treatment that runs with time left, and otherwise
// returns an [*unit.InputError].
func SetNow(s *Session, now time.Time) (Settings, error) {
	run, ok := Follow(s, now)
	plan, _ := agreed(s, now)
	if !ok || plan == nil || !run.Ended.IsZero() {
		return Settings{}, unit.Refuse("session", "not running with a plan", "a treatment under way that was planned")
	}
	if run.Left < time.Minute {
		return Settings{}, unit.Refuse("treated_min", int(run.Treated.Minutes()), "treated time left; at the planned end, ask for another length")
	}
	l := lineOf(s, now)
	n := Settings{At: now, RemovedAt: run.RemovedAt}
	w, _ := watchRun(s, now)
	n.Removed = w.removedBy(l, now)
	n.Estimated = run.Removed == nil || now.Sub(run.RemovedAt) > estimateAfter
	n.Hold, n.Low, n.Saline = w.hold(plan.DryWeight), w.bp.low, w.salineFor()
	n.Lost = unit.Volume(math.Round(l.lost()))
	n.Said = heldWords(n.Hold, n.Lost, n.Saline)
	n.takes(w.addedSince(l.last(), now), plan, l.unchanged())

	left := minutesLeft(run)
	keep, again, err := n.option(s, run, *plan, left)
	if err != nil {
		return Settings{}, err
	}
	keep.Code, keep.Title = "keep_length", "Whole time: off at "+clock(keep.End)
	n.Options, n.Cautions = []Setting{keep}, cautionsAt(keep.RatePerKg, again.Cautions)
	if _, byUnit := stopsAt(s.Rx); byUnit && keep.Within || toldInSession(s, nil) {
		n.Cautions = nil // the unit has decided; there is no second opinion. Nor are the papers' people like her
	}
	if again.MinutesNeeded != nil && n.Hold == nil && n.Lost == 0 {
		needed := unit.Minutes(*again.MinutesNeeded)
		n.Needed, n.NeededBy = &needed, setByUnit(s.Rx)
	}
	paused := unit.Minutes((run.Elapsed - run.Treated).Minutes())
	if first := left - paused; paused >= keepEndWorth && first >= 1 {
		end, _, err := n.option(s, run, *plan, first)
		if err != nil {
			return Settings{}, err
		}
		end.Code, end.Title = "keep_end", fmt.Sprintf("First end: off at %s, %s shorter", clock(end.End), hoursText(paused))
		n.Options = append(n.Options, end)
	}
	if n.Needed != nil && *n.Needed > left {
		longer, _, err := n.option(s, run, *plan, *n.Needed)
		if err != nil {
			return Settings{}, err
		}
		longer.Code, longer.Title = "longer", fmt.Sprintf("All of it: off at %s, %s longer", clock(longer.End), hoursText(*n.Needed-left))
		n.Options = append(n.Options, longer)
	}
	quiet := w.quiet(now)
	n.Ask = !quiet && n.ask(s, run, left)
	if read, ok := rateRead(s, now); ok && !quiet {
		if words := n.readTooHigh(s, read, plan.DryWeight); words != "" {
			n.Ask, n.Lead = true, append(n.Lead, words)
		}
	}
	if keep = n.Options[0]; n.Ask && keep.Over {
		n.Over = true
		n.Lead = append([]string{overWords(s, keep.Goal-n.Removed, left)}, n.Lead...)
	}
	n.Said = append(slices.Clone(n.Lead), n.Said...)
	if words := NetUnknown(s, now); words != "" {
		n.Said = append(n.Said, words)
	}
	return n, nil
}

// takes takes in what came in beyond the plan since the last goal, which is negative where
// flushes were left out. While the goal is the plan's, what only fills up to the dry
// weight is no addition, and what was left for later is lowered before the goal is.
func (n *Settings) takes(beyond unit.Volume, plan *AgreedPlan, unchanged bool) {
	n.beyond, n.unchanged = beyond, unchanged
	n.Added, n.Omitted = max(beyond, 0), max(-beyond, 0)
	if unchanged {
		n.Added, n.Omitted = max(0, n.Added-plan.short()), max(0, n.Omitted-plan.LeftOver)
	}
}

// base is the goal that was told last, without flushes that were left out.
func (n Settings) base(run Run) unit.Volume { return max(run.Goal-n.Omitted, 0) }

// wanted is the goal with everything added beyond it, in the machine's step.
func (n Settings) wanted(run Run, step unit.Volume) unit.Volume {
	return (n.base(run) + max(n.Added, 0) + step/2) / step * step
}

// minutesLeft is what is left in whole minutes, one begun counted.
func minutesLeft(run Run) unit.Minutes { return unit.Minutes(math.Ceil(run.Left.Minutes())) }

// option computes one way to go on with so many minutes left.
func (n Settings) option(s *Session, run Run, plan AgreedPlan, left unit.Minutes) (Setting, fluid.Remainder, error) {
	length := unit.Minutes(math.Round(run.Treated.Minutes())) + left
	if length-run.Length == 1 || run.Length-length == 1 {
		length = run.Length
	}
	n.takes(n.beyond-flushesLeftOutBy(s, &plan, n.At, length), &plan, n.unchanged)
	in := fluid.ReplanInput{
		Goal: n.base(run).Exact(), Removed: n.Removed.Exact(), Added: max(n.Added, 0).Exact(),
		Treated: unit.Minutes(run.Treated.Minutes()).Exact(), Planned: run.Length.Exact(), StopIn: exactly(left),
		DryWeight: plan.DryWeight.Exact(),
	}
	if s.Rx != nil && s.Rx.Rate != nil {
		in.RateLimit = exactly(*s.Rx.Rate)
	}
	r, err := fluid.Replan(in)
	if err != nil {
		return Setting{}, r, err
	}
	step := s.Machine.FieldStep()
	wanted := n.base(run) + max(n.Added, 0)
	whole := n.wanted(run, step)
	goal := whole
	if r.RemovableMl != nil && !r.WithinLimits {
		goal = min(goal, floorTo(n.Removed+unit.Volume(*r.RemovableMl), step))
	}
	if s.Rx != nil && s.Rx.MaxRemoval != nil {
		goal = min(goal, max(floorTo(*s.Rx.MaxRemoval, step), floorTo(n.Removed, step)))
	}
	if goal > wanted && in.RateLimit != nil && above(*s.Rx.Rate, goal-n.Removed, left, plan.DryWeight) {
		goal = floorTo(wanted, step) // rounding up must not cross the limit
	}
	l := lineOf(s, n.At)
	if n.Lost > 0 && n.Hold == nil { // a hold is as strict
		most := max(wanted-n.Lost, n.Removed+takenAt(l.lastRate(), left), n.Removed)
		goal = min(goal, floorTo(most, step))
	}
	if n.Hold != nil {
		most := n.Removed + n.Hold.most(left)
		// The goal that the unit named stands when less than a step is missing from it.
		limit, _ := stopsAt(s.Rx)
		named := l.last().by == n.Hold.word && run.Goal <= goal && run.Goal-most < step
		if goal = min(goal, floorTo(most, step)); named && !above(limit, run.Goal-n.Removed, left, plan.DryWeight) {
			goal = run.Goal
		}
	}
	rest := max(goal-n.Removed, 0)
	shown, err := s.Machine.ShowGoal(goal)
	if err != nil {
		return Setting{}, r, err
	}
	// To the second as the run's own end is, so that the page shows one end.
	end := run.PlannedEnd.Add(time.Duration(left-minutesLeft(run)) * time.Minute)
	rate := rateOf(rest, left)
	if n.Hold != nil {
		rate = min(rate, n.Hold.Rate)
	}
	return Setting{
		Goal: goal, GoalShown: shown, Length: length, End: end, HeparinStop: heparinStop(s.Rx, end),
		Rate: rate, RatePerKg: perKg(rest, left, plan.DryWeight),
		Within:   s.Rx == nil || s.Rx.Rate == nil || !above(*s.Rx.Rate, rest, left, plan.DryWeight),
		Over:     (s.Rx == nil || s.Rx.Rate == nil) && above(stopRate, rest, left, plan.DryWeight),
		LeftOver: max(whole-goal, 0), Changed: goal != run.Goal || length != run.Length,
	}, r, nil
}

// cautionsAt keeps of the cautions about the whole goal those that hold for the
// rate that is offered: a goal that a limit cut no longer runs above ten.
func cautionsAt(rate unit.RatePerKg, of []unit.Caution) []unit.Caution {
	return slices.DeleteFunc(slices.Clone(of), func(c unit.Caution) bool {
		return c.Code == "rate_above_10" && rate <= lookRate || c.Code == "rate_above_13" && rate <= stopRate
	})
}
