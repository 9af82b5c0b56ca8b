package calc

import (
	"fmt"
	"strings"

	"ebbline/fluid"
)

func init() {
	register(Topic{
		Name:    "weighin",
		Summary: "whether a weight typed in can be what the scale showed",
		Example: `{"entered_kg": 77.4, "dry_weight_kg": 72, "last_post_kg": 72.3, "hours_since_post": 44,
 "history": [
  {"pre_kg": 74.5, "previous_post_kg": 72.2, "hours": 44}, {"pre_kg": 74.3, "previous_post_kg": 72.1, "hours": 43.5},
  {"pre_kg": 75.4, "previous_post_kg": 72.3, "hours": 68}, {"pre_kg": 74.2, "previous_post_kg": 72.0, "hours": 44},
  {"pre_kg": 74.6, "previous_post_kg": 72.4, "hours": 44.5}, {"pre_kg": 75.1, "previous_post_kg": 72.2, "hours": 67.5}]}`,
		Run: runWeighIn,
	})
}

// mostHistory is some thirteen years of daily sessions.
const mostHistory = 5000

func runWeighIn(o *Object) (Answer, error) {
	var in fluid.WeighInInput
	readExact(o, "entered_kg", fluid.EnteredKg(), &in.Entered)
	readExact(o, "dry_weight_kg", fluid.WeightKg(), &in.DryWeight)
	readExactIf(o, "last_post_kg", fluid.WeightKg(), &in.LastPost)
	in.HoursSincePost = o.FloatIf("hours_since_post", fluid.GapHours().Low, fluid.GapHours().High)
	if o.Has("history") {
		o.Objects("history", 0, mostHistory, func(_ int, item *Object) {
			var iv fluid.Interval
			readExact(item, "pre_kg", fluid.WeightKg(), &iv.Pre)
			readExact(item, "previous_post_kg", fluid.WeightKg(), &iv.PreviousPost)
			iv.Hours = item.Float("hours", fluid.GapHours().Low, fluid.GapHours().High)
			in.History = append(in.History, iv)
		})
	}
	if err := o.Done(); err != nil {
		return Answer{}, err
	}
	w, err := fluid.WeighIn(in)
	if err != nil {
		return Answer{}, refused(err)
	}
	return Answer{Out: w, Cautions: w.Cautions, Sources: []string{weighInSource}, Steps: weighInSteps(in, w)}, nil
}

// weighInSource says whose the thresholds are: nobody publishes any.
const weighInSource = "thresholds of our own, chosen on simulated weights with known slips"

func weighInSteps(in fluid.WeighInInput, w fluid.Weighed) []Step {
	formula := "last post-weight + the gain usual for the hours since, over " + fmt.Sprint(len(in.History)) + " intervals"
	if w.UsualLowKg == nil {
		formula = "too little history: −1 % to +6 % of the last post-weight, or to +8 % of the dry weight; middle"
	}
	steps := []Step{
		{Term: "weight entered", Value: in.Entered.String() + " kg"},
		{"weight expected", sig(w.ExpectedKg, 4) + " kg from " + w.From, formula, weighInSource},
	}
	if w.UsualLowKg != nil {
		steps = append(steps, Step{"usual band", sig(*w.UsualLowKg, 4) + " to " + sig(*w.UsualHighKg, 4) + " kg",
			"expected ± 3.2 deviations of a new weight", weighInSource})
	}
	var why []string
	for _, r := range w.Reasons {
		why = append(why, string(r))
	}
	if len(why) == 0 {
		why = []string{"none"}
	}
	steps = append(steps, Step{Term: "reasons to ask", Value: strings.Join(why, ", ")})
	if w.LikelyKg != nil {
		steps = append(steps, Step{"probably meant", sig(*w.LikelyKg, 5) + " kg", "the slip that lies nearest to the expected weight", weighInSource})
	}
	return append(steps, Step{Term: "verdict", Value: string(w.Verdict)})
}
