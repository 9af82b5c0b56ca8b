package record

import (
	"fmt"
	"slices"
	"strings"

	"ebbline/fluid"
	"ebbline/session"
)

// A WeightDoubt is why a weight is asked about or refused, in its parts: the page of
// a scale that shows another unit has other words for some of them.
type WeightDoubt struct {
	Value  string // "82.5 kg"
	Why    []WeightReason
	Likely string // what was probably meant, in kilograms; empty when nothing suggests itself
	Do     string // what to do about it; empty where it is refused
}

// A WeightReason is one reason, and its words.
type WeightReason struct {
	Of    fluid.Reason
	Words string
}

// Digit reports whether it is a slip of single digits.
func (r WeightReason) Digit() bool {
	return r.Of == fluid.DigitsSwapped || r.Of == fluid.OneDigitOff || r.Of == fluid.PointLost
}

// InPounds reports whether it looks like a weight in pounds.
func (r WeightReason) InPounds() bool { return r.Of == fluid.Pounds }

// InStone reports whether it looks like a weight in stone.
func (r WeightReason) InStone() bool { return r.Of == fluid.Stone }

// Words are the doubt as a finding says it.
func (d WeightDoubt) Words() string {
	var why []string
	for _, r := range d.Why {
		why = append(why, r.Words)
	}
	said := d.Value + " " + strings.Join(why, ", and ")
	if d.Likely != "" {
		said += "; was it " + d.Likely + " kg"
	}
	if d.Do != "" {
		said += "? " + d.Do
	}
	return said
}

// reasons words why a weight is asked about, in the order of package fluid.
var reasons = map[fluid.Reason]string{
	fluid.BelowDry:      "lies below the dry weight",
	fluid.UnusualGain:   "is not what you usually gain",
	fluid.DigitsSwapped: "looks like two digits swapped",
	fluid.OneDigitOff:   "looks like one wrong digit",
	fluid.PointLost:     "looks like a lost point",
	fluid.Pounds:        "looks like pounds",
	fluid.Stone:         "looks like stone",
	fluid.Impossible:    "is no weight of a person",
}

func doubtOf(w *session.WeighIn, judged fluid.Weighed) WeightDoubt {
	d := WeightDoubt{Value: w.Weight.String() + " kg"}
	for _, r := range judged.Reasons {
		words := reasons[r]
		if r == fluid.UnusualGain && judged.UsualLowKg == nil {
			words = "is a gain that few people have" // nothing is known yet of this one's own
			if slices.Contains(judged.Reasons, fluid.BelowDry) {
				words = "by far"
			}
		}
		d.Why = append(d.Why, WeightReason{r, words})
	}
	if judged.LikelyKg != nil {
		d.Likely = fmt.Sprintf("%.1f", *judged.LikelyKg)
	}
	return d
}

// doubt notes what stands against the weight before a session.
func (c *Checker) doubt(step Step, d WeightDoubt) {
	c.found = append(c.found, Finding{Field: "weight_kg", Step: step, Words: d.Words(), Weight: &d})
}
