package fluid

import (
	"fmt"
	"math/big"
	"strconv"
)

// A Disagreement says that two computations of one plan differ. Neither figure
// may then be shown as the one to use.
type Disagreement struct {
	Field              string // the figure's key, "goal_ml"
	Planned, Rechecked string
}

func (d *Disagreement) Error() string {
	return fmt.Sprintf("%s: the two computations differ, %s and %s; use neither", d.Field, d.Planned, d.Rechecked)
}

// Recheck computes the plan of in a second time in another way and returns a
// [*Disagreement] when p differs from it in any figure.
//
// Where [NewPlan] adds terms of fractions from the pre-weight down to a goal,
// this starts from the end, from what the scale is to show when the person is
// dry and dressed, and counts whole parts: the largest part that goes evenly
// into every input. There is no fraction and no float on the way, and no
// arithmetic is shared with NewPlan.
func Recheck(in PlanInput, p Plan) error {
	if err := in.check(); err != nil {
		return err
	}
	c := count(in)
	goal := c.goal()
	var found []*Disagreement
	compare := func(field string, planned *float64, again *big.Rat) {
		if d := differ(field, planned, again); d != nil {
			found = append(found, d)
		}
	}
	compare("above_dry_ml", &p.AboveDryMl, ratio(minus(c.pre, c.end), c.part))
	compare("goal_ml", &p.GoalMl, ratio(goal, c.part))
	compare("rate_ml_h", &p.RateMlH, ratio(times(goal, whole(60)), c.minutes))
	compare("rate_ml_per_kg_h", &p.RateMlHKg, ratio(times(goal, whole(60_000), c.part), times(c.minutes, c.dry)))
	compare("shortest_session_min", p.ShortestSessionMin, c.shortest(goal))
	compare("largest_goal_ml", p.LargestGoalMl, c.largest())
	compare("left_over_ml", &p.LeftOverMl, c.leftOver(goal))
	compare("expected_post_weight_kg", &p.ExpectedPostKg, ratio(minus(plus(c.pre, c.added), goal), times(whole(1000), c.part)))
	if below := c.pre.Cmp(c.end) < 0; below != p.BelowDry {
		found = append(found, &Disagreement{"below_dry", strconv.FormatBool(p.BelowDry), strconv.FormatBool(below)})
	}
	if inside := c.inside(goal); inside != p.WithinLimits {
		found = append(found, &Disagreement{"within_limits", strconv.FormatBool(p.WithinLimits), strconv.FormatBool(inside)})
	}
	if len(found) > 0 {
		return found[0]
	}
	return nil
}

// counts holds the input in whole parts: weights in parts of a gram, volumes
// of a mL, times of a minute, the limit of a mL/h/kg.
type counts struct {
	part          *big.Int // parts in one
	pre, end, dry *big.Int // end is dry and dressed
	added, step   *big.Int
	minutes       *big.Int
	limit, most   *big.Int // nil without one
}

func count(in PlanInput) counts {
	pre, dry, clothes, minutes := in.PreWeight.Rat(), in.DryWeight.Rat(), in.Clothing.Rat(), in.Session.Rat()
	intake, washback, saline, step := in.Intake.Rat(), in.Washback.Rat(), in.Saline.Rat(), in.Step.Rat()
	if step.Sign() == 0 {
		step.SetInt64(1)
	}
	given := []*big.Rat{pre, dry, clothes, minutes, intake, washback, saline, step}
	var limit, most *big.Rat
	if in.RateLimit != nil {
		limit = in.RateLimit.Rat()
		given = append(given, limit)
	}
	if in.MaxRemoval != nil {
		most = in.MaxRemoval.Rat()
		given = append(given, most)
	}

	c := counts{part: whole(1)}
	for _, g := range given { // least common multiple of all denominators
		shared := new(big.Int).GCD(nil, nil, c.part, g.Denom())
		c.part = new(big.Int).Quo(times(c.part, g.Denom()), shared)
	}
	inParts := func(g *big.Rat) *big.Int {
		return new(big.Int).Quo(times(g.Num(), c.part), g.Denom())
	}
	grams := func(g *big.Rat) *big.Int { return times(inParts(g), whole(1000)) }
	c.pre, c.dry, c.end = grams(pre), grams(dry), plus(grams(dry), grams(clothes))
	c.added = plus(inParts(saline), inParts(washback), inParts(intake))
	c.step, c.minutes = inParts(step), inParts(minutes)
	if limit != nil {
		c.limit = inParts(limit)
	}
	if most != nil {
		c.most = inParts(most)
	}
	return c
}

// goal is what stands on the scale or is still to come, less where it must
// end, in whole steps: twice as much and one step more, halved and cut, rounds
// a half away from zero. What does not reach that end stays on whole.
func (c counts) goal() *big.Int {
	all := plus(c.pre, c.added)
	if all.Cmp(c.end) <= 0 {
		return whole(0)
	}
	twice := times(whole(2), minus(all, c.end))
	return times(c.step, new(big.Int).Quo(plus(twice, c.step), times(whole(2), c.step)))
}

// largest is the greatest whole number of mL inside the limits, nil without one.
func (c counts) largest() *big.Rat {
	var n *big.Int
	if c.limit != nil {
		n = new(big.Int).Quo(times(c.limit, c.dry, c.minutes), times(whole(60_000), c.part, c.part, c.part))
	}
	if c.most != nil {
		if m := new(big.Int).Quo(c.most, c.part); n == nil || m.Cmp(n) < 0 {
			n = m
		}
	}
	if n == nil {
		return nil
	}
	return ratio(n, whole(1))
}

func (c counts) leftOver(goal *big.Int) *big.Rat {
	largest := c.largest()
	if largest == nil {
		return new(big.Rat)
	}
	over := minus(goal, times(largest.Num(), c.part))
	if over.Sign() < 0 {
		return new(big.Rat)
	}
	return ratio(over, c.part)
}

// shortest is the least whole number of minutes in which the limit lets the
// goal through, nil without a rate limit.
func (c counts) shortest(goal *big.Int) *big.Rat {
	if c.limit == nil {
		return nil
	}
	n, rest := new(big.Int).QuoRem(times(goal, whole(60_000), c.part), times(c.limit, c.dry), new(big.Int))
	if rest.Sign() > 0 {
		n.Add(n, whole(1))
	}
	return ratio(n, whole(1))
}

// inside reports whether the goal passes through both limits in the session.
func (c counts) inside(goal *big.Int) bool {
	if c.most != nil && goal.Cmp(c.most) > 0 {
		return false
	}
	return c.limit == nil ||
		times(goal, whole(60_000), c.part, c.part).Cmp(times(c.limit, c.dry, c.minutes)) <= 0
}

// differ compares a planned figure with the float64 nearest to the one
// computed again: both come from exact values, so they must be equal.
func differ(field string, planned *float64, again *big.Rat) *Disagreement {
	first, second := "none", "none"
	if planned != nil {
		first = strconv.FormatFloat(*planned, 'g', -1, 64)
	}
	if again != nil {
		v, _ := again.Float64()
		second = strconv.FormatFloat(v, 'g', -1, 64)
	}
	if first == second {
		return nil
	}
	return &Disagreement{Field: field, Planned: first, Rechecked: second}
}

func whole(n int64) *big.Int           { return big.NewInt(n) }
func minus(a, b *big.Int) *big.Int     { return new(big.Int).Sub(a, b) }
func ratio(num, den *big.Int) *big.Rat { return new(big.Rat).SetFrac(num, den) }

func plus(terms ...*big.Int) *big.Int {
	total := new(big.Int)
	for _, t := range terms {
		total.Add(total, t)
	}
	return total
}

func times(factors ...*big.Int) *big.Int {
	product := big.NewInt(1)
	for _, f := range factors {
		product.Mul(product, f)
	}
	return product
}
