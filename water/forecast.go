package water

import (
	"fmt"
	"math"

	"ebbline/trend"
	"ebbline/unit"
)

// A Measured is one reading of something that wears out: chlorine behind the
// first carbon, hardness behind the softener, rejection.
type Measured struct {
	On    unit.Date
	Op    Op
	Value float64
}

// A Forecast says when a series of readings reaches its limit on its present
// course.
type Forecast struct {
	Says     trend.Says
	Already  bool
	OnWay    bool      // the three days below are set
	Likely   unit.Date // on its present course
	Soonest  unit.Date
	Latest   unit.Date
	Left     int // readings that were below what the method sees, or above, and left out
	Cautions []unit.Caution
}

// ForecastLimit draws a line through the readings (see [trend.ReachOf]) and
// says when it meets the limit; above tells on which side the limit lies: true
// for chlorine and hardness, false for rejection.
//
// Censored readings cannot be placed on a line and are left out, never turned
// into 0. When they are more than half, the line would be drawn through the
// few that could be seen, so it says too few.
func ForecastLimit(readings []Measured, limit float64, above bool, today unit.Date) Forecast {
	var points []trend.Point
	var f Forecast
	for _, m := range readings {
		if m.Op != Equal {
			f.Left++
			continue
		}
		points = append(points, trend.Point{Day: float64(m.On.Sub(today)), Value: m.Value})
	}
	if f.Left > len(points) {
		f.Says = trend.TooFew
		return f
	}
	r := trend.ReachOf(points, limit, 0, above)
	f.Says, f.Already, f.OnWay = r.Line.Says, r.Already, r.OnWay
	if r.OnWay {
		f.Likely, f.Soonest, f.Latest = dayAfter(today, r.Likely), dayAfter(today, r.Soonest), dayAfter(today, r.Latest)
	}
	switch {
	case f.Already:
		f.Cautions = []unit.Caution{{Code: "limit_reached", Text: fmt.Sprintf("On their course the readings stand at the limit of %s or beyond.", number(limit))}}
	case f.OnWay && r.Likely <= soon:
		f.Cautions = []unit.Caution{{Code: "limit_coming", Text: fmt.Sprintf("On its present course it reaches %s about %s, between %s and %s.", number(limit), f.Likely.Long(), f.Soonest.Long(), f.Latest.Long())}}
	}
	return f
}

// soon is how many days ahead a limit that is coming is spoken of: time to
// order and fit a filter. Our own choice.
const soon = 42

// farthest keeps a forecast inside the calendar.
const farthest = 3650

func dayAfter(today unit.Date, days float64) unit.Date {
	return today.Add(int(math.Floor(min(days, farthest))))
}
