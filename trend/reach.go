package trend

// A Reach says when a series on its present course meets a limit. Days are
// counted as the points' are.
type Reach struct {
	Line    Line // its Says is TooFew when there are too few points to say anything
	Already bool // the line stands at or beyond the limit now
	OnWay   bool // it moves towards the limit, and the three days below are set
	Likely  float64
	Soonest float64 // with the slope's confidence limit that gets there first
	Latest  float64 // with the other
}

// ReachOf draws the line through the points (see [LineOf]) and says on which
// day it meets the limit, which lies above the series or below it. The range
// is that of the slope's 95 % limits about the middle of the points; it does
// not foresee a change of course. A line whose slope may be nought is not said
// to be on its way.
func ReachOf(points []Point, limit, now float64, above bool) Reach {
	l := LineOf(points)
	r := Reach{Line: l}
	if l.Says == TooFew {
		return r
	}
	toward, fast, slow := Rising, l.High, l.Low
	r.Already = l.At(now) >= limit
	if !above {
		toward, fast, slow = Falling, l.Low, l.High
		r.Already = l.At(now) <= limit
	}
	if r.Already || l.Says != toward {
		return r
	}
	meets := func(slope float64) float64 { return max(now, l.Day+(limit-l.Level)/slope) }
	r.OnWay = true
	r.Likely, r.Soonest, r.Latest = meets(l.PerDay), meets(fast), meets(slow)
	return r
}
