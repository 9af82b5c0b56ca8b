package fluid

import (
	"fmt"
	"math"
	"slices"

	"ebbline/unit"
)

// WeighInInput is a weight as typed and what is known of the person's weights.
type WeighInInput struct {
	Entered   unit.ExactMass // as typed
	DryWeight unit.ExactMass

	LastPost       *unit.ExactMass // of the session just before; nil when it is missing
	HoursSincePost *float64        // nil when not known
	History        []Interval      // in order of time, the latest last
}

// A Verdict is what becomes of an entered weight.
type Verdict string

// Accept takes the weight, Ask wants it typed again, Refuse does not take it.
const (
	Accept Verdict = "accept"
	Ask    Verdict = "ask"
	Refuse Verdict = "refuse"
)

// A Reason is why a weight was not simply taken.
type Reason string

// The reasons, in the order in which they are given.
const (
	BelowDry      Reason = "below_dry"      // under the dry weight, and not as this person often is
	UnusualGain   Reason = "unusual_gain"   // outside the band in which the weight was expected
	DigitsSwapped Reason = "digits_swapped" // with two neighbouring digits exchanged it would be as expected
	OneDigitOff   Reason = "one_digit_off"  // with one digit changed it would be as expected
	PointLost     Reason = "point_lost"     // with the point elsewhere it would be as expected
	Pounds        Reason = "pounds"         // in the other of kg and lb it would be as expected
	Stone         Reason = "stone"          // read as stone it would be as expected
	Impossible    Reason = "impossible"     // outside 20 to 300 kg
)

var allReasons = []Reason{BelowDry, UnusualGain, DigitsSwapped, OneDigitOff, PointLost, Pounds, Stone, Impossible}

// A Weighed weight is the judgement on an entered one. Weights are in kg.
type Weighed struct {
	Verdict     Verdict  `json:"verdict"`
	Reasons     []Reason `json:"reasons"`       // empty when accepted
	LikelyKg    *float64 `json:"likely_kg"`     // what was probably meant; nil when nothing suggests itself
	UsualLowKg  *float64 `json:"usual_low_kg"`  // the band learned from the history;
	UsualHighKg *float64 `json:"usual_high_kg"` // nil without enough of it

	ExpectedKg float64        `json:"-"` // where the weight was expected
	From       string         `json:"-"` // what that rests on: "history", "last post-weight", "dry weight"
	Cautions   []unit.Caution `json:"-"`
}

// The thresholds of the judgement, our own, chosen on simulated lives.
const (
	// A weight in the usual band is still asked about when a slip explains it
	// better: when the chances of all single slips together outweigh the
	// chance that it is true. A swap of two given digits is taken to happen
	// this often, each wrong digit this often, against true weights at 1; both
	// are set far above how often people slip, as a missed slip costs more
	// than a weight typed twice.
	swapOdds, digitOdds = 0.2, 0.03

	// Slips that move the weight by less than this are not looked for inside
	// the band: nothing tells them from an ordinary day.
	smallestSlipKg = 1.4

	// A unit mix-up is recognised this far outside the band, as a share of its
	// edge: pounds and stone lie so far from kg that nothing else is near.
	mixUp = 0.03
)

// WeighIn judges whether a weight typed in can be what the scale showed, so
// that a slip is typed again before it becomes a goal.
//
// The weight is expected at the last post-weight plus the gain that is usual
// for the hours since, learned from the history; with fewer than five
// intervals, or none that compares, between -1 % and +6 % of the last
// post-weight; without that, between -1 % and +8 % of the dry weight. Outside
// the band it asks. Inside, it asks when two digits swapped or one digit
// changed make it much more likely. Below the dry weight it asks too, unless a
// band learned from the history reaches there: who often begins below the dry
// weight is not asked each time. That such a weight needs a look or a call is
// not decided here but by [JudgeBelowDry]. Outside 20 to 300 kg it refuses. A
// weight that other digits, another place of the point, pounds or
// stone would make usual carries that reason and what was probably meant;
// conversions are given to 0.1 kg.
//
// It is no proof: inside the band a slip of less than 1.4 kg passes for an
// ordinary day.
//
// Input outside the ranges of this room returns an [*unit.InputError].
//
// Source: the bounds and thresholds are our own. That mix-ups of lb and kg are
// common: 23.2 % of 1,291 weight reports, Institute for Safe Medication
// Practices.
func WeighIn(in WeighInInput) (Weighed, error) {
	if err := in.check(); err != nil {
		return Weighed{}, err
	}
	kg, e := in.Entered.Float(), expect(in)
	w := Weighed{Verdict: Accept, Reasons: []Reason{}, ExpectedKg: e.centre, From: e.from}
	if e.learned {
		w.UsualLowKg, w.UsualHighKg = new(e.low), new(e.high)
	}

	because := map[Reason]bool{
		Impossible:  !WeightKg().has(kg),
		UnusualGain: WeightKg().has(kg) && !e.holds(kg),
		BelowDry:    WeightKg().has(kg) && in.belowDry(e),
	}
	slips := guesses(in.Entered.String())
	if e.holds(kg) {
		slips = e.betterThan(kg, slips)
	} else {
		slips = e.explaining(slips)
	}
	lowest := math.Inf(1)
	for _, s := range slips {
		because[s.kind] = true
		if cost := e.surprise(s.kg) + s.cost; cost < lowest {
			lowest = cost
			w.LikelyKg = new(s.kg)
		}
	}

	for _, r := range allReasons {
		if because[r] {
			w.Reasons = append(w.Reasons, r)
			w.Verdict = Ask
		}
	}
	if because[Impossible] {
		w.Verdict = Refuse
	}
	if because[BelowDry] {
		w.Cautions = append(w.Cautions, dryCautions(mul(sub(in.Entered.Rat(), in.DryWeight.Rat()), thousand))...)
	}
	return w, nil
}

// belowDry reports whether the weight lies below the dry weight where this
// person's weights usually do not.
func (in WeighInInput) belowDry(e expectation) bool {
	usual := e.learned && e.holds(in.Entered.Float())
	return !usual && in.Entered.Rat().Cmp(in.DryWeight.Rat()) < 0
}

// explaining keeps the guesses that would make the weight a usual one.
func (e expectation) explaining(slips []guess) []guess {
	return slices.DeleteFunc(slips, func(s guess) bool {
		if s.kind == Pounds || s.kind == Stone {
			return s.kg < e.low*(1-mixUp) || s.kg > e.high*(1+mixUp)
		}
		return !e.holds(s.kg)
	})
}

// betterThan keeps the guesses that speak against a weight inside the band,
// none of them unless together they are likelier than the weight itself.
func (e expectation) betterThan(kg float64, slips []guess) []guess {
	odds := map[Reason]float64{}
	for _, s := range slips {
		if math.Abs(s.kg-kg) < smallestSlipKg {
			continue
		}
		ratio := math.Exp(e.surprise(kg) - e.surprise(s.kg))
		switch s.kind {
		case DigitsSwapped:
			odds[s.kind] += swapOdds * ratio
		case OneDigitOff:
			odds[s.kind] += digitOdds * ratio
		}
	}
	if odds[DigitsSwapped]+odds[OneDigitOff] <= 1 {
		return nil
	}
	likelier := DigitsSwapped
	if odds[OneDigitOff] > odds[DigitsSwapped] {
		likelier = OneDigitOff
	}
	return slices.DeleteFunc(slips, func(s guess) bool {
		return s.kind != likelier || math.Abs(s.kg-kg) < smallestSlipKg || !e.holds(s.kg)
	})
}

func (in WeighInInput) check() error {
	err := first(
		check("entered_kg", in.Entered, EnteredKg()),
		check("dry_weight_kg", in.DryWeight, WeightKg()),
		checkIf("last_post_kg", in.LastPost, WeightKg()),
	)
	if err != nil {
		return err
	}
	if h := in.HoursSincePost; h != nil && !GapHours().has(*h) {
		return unit.Refuse("hours_since_post", *h, GapHours().words("h"))
	}
	for i, iv := range in.History {
		for _, f := range []struct {
			name  string
			value float64
			r     Range
			unit  string
		}{
			{"pre_kg", iv.Pre.Float(), WeightKg(), "kg"},
			{"previous_post_kg", iv.PreviousPost.Float(), WeightKg(), "kg"},
			{"hours", iv.Hours, GapHours(), "h"},
		} {
			if !f.r.has(f.value) {
				return unit.Refuse(fmt.Sprintf("history[%d].%s", i, f.name), f.value, f.r.words(f.unit))
			}
		}
	}
	return nil
}
