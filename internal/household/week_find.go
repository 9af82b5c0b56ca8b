package household

import (
	"fmt"
	"slices"
	"strings"
)

// A Wish is what somebody cares about most when looking at other weeks.
type Wish string

// The wishes.
const (
	FewestHours  Wish = "hours"
	Gentlest     Wish = "gentle"
	FreeEvenings Wish = "evenings"
)

// maxGapH is the gap that "no gap over two days" allows, with an hour for a
// late start.
const maxGapH = 49

// Wanted picks from weighed weeks those that meet their target, keep the unit's
// own limits at the usual gain and, when asked, leave no gap over two days, the
// best by a wish first.
func Wanted(all []WeekOutcome, wish Wish, noLongGap bool) []WeekOutcome {
	var list []WeekOutcome
	for _, o := range all {
		if o.Meets() && o.Over == "" && (!noLongGap || o.GapH <= maxGapH) {
			list = append(list, o)
		}
	}
	slices.SortStableFunc(list, func(a, b WeekOutcome) int {
		less := func(x, y float64) int {
			switch {
			case x < y:
				return -1
			case x > y:
				return 1
			}
			return 0
		}
		hours, gentle, evenings := less(a.AroundH, b.AroundH), less(a.MaxRate, b.MaxRate), b.Evenings-a.Evenings
		order := []int{hours, gentle, evenings}
		switch wish {
		case Gentlest:
			order = []int{gentle, hours, evenings}
		case FreeEvenings:
			order = []int{evenings, hours, gentle}
		}
		for _, o := range order {
			if o != 0 {
				return o
			}
		}
		return 0
	})
	return list
}

// Question words a week as something to ask the unit.
func (b *WeekBook) Question(o WeekOutcome) string {
	var s strings.Builder
	fmt.Fprintf(&s, "Would this week fit me: %s?", o.Long())
	fmt.Fprintf(&s, " Now it is %s.", b.Now.Long())
	fmt.Fprintf(&s, " By the estimate from my own bloods it would give a standard Kt/V of %s (%s to %s), urea before sessions at most %s mmol/L (%s to %s), a removal rate of at most %s mL/h/kg at my usual gain, a longest gap of %s hours and %s hours a week with setting up and coming off.",
		figure(o.StdKtV.Value, 2), figure(o.StdKtV.Low, 2), figure(o.StdKtV.High, 2), figure(o.PeakMmolL.Value, 1), figure(o.PeakMmolL.Low, 1), figure(o.PeakMmolL.High, 1),
		figure(o.MaxRate, 1), figure(o.GapH, 0), figure(o.AroundH, 1))
	if o.Phosphate.Has {
		fmt.Fprintf(&s, " Phosphate before sessions: %s, with food and binders as they are (direction and size only).", o.Phosphate.Says)
	}
	if o.Over != "" {
		fmt.Fprintf(&s, " At my usual gain it would be %s.", o.Over)
	}
	return s.String()
}
