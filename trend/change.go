package trend

import "math"

// A Change compares the last few values with those before them.
type Change struct {
	Before, Recent Centre
	Difference     float64 // recent median less the median before
	Share          float64 // of the median before; 0 when that is 0
	Says           Says
}

// minBefore and minRecent are the fewest values on either side of a change.
const (
	minBefore = 6
	minRecent = 3
)

// ChangeOf compares the last `recent` values of a series, in order of time,
// with up to `before` values that precede them. It says Rising or Falling when
// the medians differ by at least `share` of the earlier median (0.25 for a
// quarter) and by more than twice the standard error of such a difference,
//
//	1.2533·spread·√(1/n before + 1/n recent),
//
// where the spread is that of the earlier values and 1.2533 = √(π/2) is the
// price of a median against a mean. The second condition keeps a series that
// jumps about from firing at every third value. With fewer than six earlier
// or three recent values it says TooFew.
func ChangeOf(values []float64, recent, before int, share float64) Change {
	v := finite(values)
	recent, before = max(recent, minRecent), max(before, minBefore)
	cut := max(len(v)-recent, 0)
	c := Change{Before: CentreOf(v[max(cut-before, 0):cut]), Recent: CentreOf(v[cut:]), Says: TooFew}
	if c.Before.N < minBefore || c.Recent.N < minRecent {
		return c
	}
	c.Difference = c.Recent.Median - c.Before.Median
	if c.Before.Median != 0 {
		c.Share = c.Difference / math.Abs(c.Before.Median)
	}
	noise := math.Sqrt(math.Pi/2) * c.Before.Spread * math.Sqrt(1/float64(c.Before.N)+1/float64(c.Recent.N))
	size := math.Abs(c.Difference)
	c.Says = Steady
	if size > 0 && size >= share*math.Abs(c.Before.Median) && size > 2*noise {
		c.Says = Rising
		if c.Difference < 0 {
			c.Says = Falling
		}
	}
	return c
}
