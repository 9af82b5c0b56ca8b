package access

import (
	"fmt"
	"math"
	"slices"

	"ebbline/trend"
	"ebbline/unit"
)

// A Pressure is one reading of a session, at the flow and needle it was read
// at.
type Pressure struct {
	On    unit.Date     `json:"on"`
	Side  Side          `json:"side"`
	MmHg  unit.Pressure `json:"mmhg"` // as shown; arterial ones are negative
	Flow  unit.Flow     `json:"blood_flow_ml_min"`
	Gauge int           `json:"gauge"`
}

// flowApart is how far two blood flows may lie apart to be called alike, in
// mL/min. Our own choice; the venous pressure at one access was 83 mmHg with a
// 14 G and 147 with a 17 G needle at 200 mL/min (a randomised trial of
// gauges), so nothing unlike is ever compared.
const flowApart unit.Flow = 10

// Alike picks the readings of one side at the same gauge and at a blood flow
// within 10 mL/min, in order of day.
func Alike(all []Pressure, side Side, gauge int, flow unit.Flow) []Pressure {
	var list []Pressure
	for _, p := range all {
		if d := p.Flow - flow; p.Side == side && p.Gauge == gauge && max(d, -d) <= flowApart {
			list = append(list, p)
		}
	}
	slices.SortStableFunc(list, func(a, b Pressure) int { return a.On.Sub(b.On) })
	return list
}

// A PressureTrend is what the readings at one gauge and flow show.
type PressureTrend struct {
	N        int
	Recent   trend.Change // last 3 against the 12 before
	Says     trend.Says   // of the size of the pressure: Rising is the wrong way on either side
	Since    unit.Date    // of a slow drift: day on which it was seen; zero: none
	Cautions []unit.Caution
}

// The rule for a rise, our own proposal after common practice (a rise of more
// than 20 to 25 % at like conditions for three sessions): the median of the
// last three is a quarter or more above the median of up to twelve before.
const (
	recent   = 3
	previous = 12
	quarter  = 0.25
)

// Compare looks at the readings of one side at the gauge and flow of its
// latest one. It sees a rise in two ways: a step of a quarter over three
// sessions, and a slow drift by adding up small departures from the first 20
// readings (see [trend.Watch]). Arterial pressures are compared by their size,
// so that "rising" is a stronger pull.
//
// With fewer than nine like readings it says too few. One session gives one
// reading, the first at its running blood flow; more would count one bad
// needle several times.
func Compare(all []Pressure, side Side) PressureTrend {
	own := slices.DeleteFunc(slices.Clone(all), func(p Pressure) bool { return p.Side != side })
	if len(own) == 0 {
		return PressureTrend{Says: trend.TooFew}
	}
	slices.SortStableFunc(own, func(a, b Pressure) int { return a.On.Sub(b.On) })
	last := own[len(own)-1]
	like := Alike(own, side, last.Gauge, last.Flow)
	sizes := make([]float64, len(like))
	for i, p := range like {
		sizes[i] = math.Abs(p.MmHg.Float())
	}
	t := PressureTrend{N: len(like), Recent: trend.ChangeOf(sizes, recent, previous, quarter)}
	t.Says = t.Recent.Says
	at := fmt.Sprintf("at %d G and about %s", last.Gauge, last.Flow.Text())
	if t.Says == trend.Rising {
		t.Cautions = append(t.Cautions, unit.Caution{Code: string(side) + "_pressure_up",
			Text: fmt.Sprintf("The %s pressure %s was about %.0f mmHg in the last %d sessions, %.0f %% above the %d before: show this to your unit.",
				side, at, t.Recent.Recent.Median, t.Recent.Recent.N, t.Recent.Share*100, t.Recent.Before.N)})
	}
	if i := driftAt(sizes); i >= 0 {
		t.Since = like[i].On
		if t.Says != trend.Rising {
			t.Says = trend.Rising
			t.Cautions = append(t.Cautions, unit.Caution{Code: string(side) + "_pressure_drift",
				Text: fmt.Sprintf("The %s pressure %s has crept up since it was first recorded, as seen from %s on: show this to your unit.", side, at, t.Since.Long())})
		}
	}
	return t
}

// baseline is how many readings the drift is measured against, and widen makes
// up for a spread that so few readings give too small.
const (
	baseline = 20
	widen    = 1.4
)

// driftAt gives the place of the reading from which on an upward drift has
// been seen and still stands, or -1. Upward only: a falling pressure has other
// causes and other rules.
func driftAt(sizes []float64) int {
	if len(sizes) <= baseline {
		return -1
	}
	c := trend.CentreOf(sizes[:baseline])
	w := trend.WatchOn(c.Median, widen*max(c.Spread, 2)) // readings are to about 2 mmHg at best
	since := -1
	for i, v := range sizes[baseline:] {
		switch {
		case w.Add(v) != trend.Rising:
			since = -1
		case since < 0:
			since = baseline + i
		}
	}
	return since
}
