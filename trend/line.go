package trend

import (
	"math"
	"slices"
)

// A Point is one value on one day. Days may be any running number: of days, of
// sessions, of litres through a filter.
type Point struct {
	Day   float64
	Value float64
}

// MinLine is the fewest points, and a third of it the fewest different days,
// that a line is drawn through.
const MinLine = 6

// maxLine bounds the pairs that are looked at: the last maxLine points count.
const maxLine = 400

// A Line is the course of a series: Level on Day, and from there PerDay.
type Line struct {
	N         int
	Day       float64 // median of the days
	Level     float64 // of the line on Day
	PerDay    float64 // slope
	Low, High float64 // 95 % confidence limits of the slope
	Spread    float64 // of the values about the line
	Says      Says    // Rising or Falling only when the limits of the slope leave 0 out
}

// LineOf draws the line of Theil and Sen: the slope is the median of the
// slopes between all pairs of points on different days, its 95 % limits are
// the slopes that many places from the middle which Kendall's statistic gives,
//
//	C = 1.96·√(n(n−1)(2n+5)/18), the (N−C)/2th slope from either end of N,
//
// and the level is the median of what remains when the slope is taken off.
// Nearly a third of the points may be wild. Of more than 400 points the last
// 400 by day are used. With fewer than [MinLine] points on three days it says
// [TooFew], and nothing else is set but N.
//
// Source: Sen PK, J Am Stat Assoc 1968;63:1379–89 (from memory).
func LineOf(points []Point) Line {
	p := known(points)
	l := Line{N: len(p), Says: TooFew}
	if len(p) < MinLine || differentDays(p) < MinLine/2 {
		return l
	}
	slopes := pairSlopes(p)
	n, pairs := float64(len(p)), len(slopes)
	c := 1.96 * math.Sqrt(n*(n-1)*(2*n+5)/18)
	in := max(0, int((float64(pairs)-c)/2)-1) // places that the limits lie in from either end
	l.Low, l.High = slopes[in], slopes[pairs-1-in]
	l.PerDay = median(slopes)

	days := make([]float64, len(p))
	rest := make([]float64, len(p))
	for i, q := range p {
		days[i] = q.Day
	}
	l.Day = median(days)
	for i, q := range p {
		rest[i] = q.Value - l.PerDay*(q.Day-l.Day)
	}
	about := CentreOf(rest)
	l.Level, l.Spread = about.Median, about.Spread
	switch {
	case l.Low > 0:
		l.Says = Rising
	case l.High < 0:
		l.Says = Falling
	default:
		l.Says = Steady
	}
	return l
}

// At gives the line's value on a day.
func (l Line) At(day float64) float64 { return l.Level + l.PerDay*(day-l.Day) }

// pairSlopes gives the slopes between points on different days, in order.
func pairSlopes(p []Point) []float64 {
	var slopes []float64
	for i := range p {
		for j := range i {
			if p[i].Day != p[j].Day {
				slopes = append(slopes, (p[i].Value-p[j].Value)/(p[i].Day-p[j].Day))
			}
		}
	}
	slices.Sort(slopes)
	return slopes
}

// known gives the last maxLine points that are numbers, in order of day.
func known(points []Point) []Point {
	var p []Point
	for _, q := range points {
		if len(finite([]float64{q.Day, q.Value})) == 2 {
			p = append(p, q)
		}
	}
	slices.SortStableFunc(p, func(a, b Point) int {
		switch {
		case a.Day < b.Day:
			return -1
		case a.Day > b.Day:
			return 1
		}
		return 0
	})
	return p[max(0, len(p)-maxLine):]
}

func differentDays(p []Point) int {
	n := 0
	for i := range p {
		if i == 0 || p[i].Day != p[i-1].Day {
			n++
		}
	}
	return n
}
