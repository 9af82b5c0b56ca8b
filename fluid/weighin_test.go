package fluid

import (
	"errors"
	"math"
	"slices"
	"testing"

	"ebbline/unit"

	"pgregory.net/rapid"
)

// A steady person of 72 kg: two days and three days in turn.
func steady() WeighInInput {
	in := WeighInInput{DryWeight: kg(72), LastPost: new(kg(72.3)), HoursSincePost: new(44.0)}
	for _, iv := range [][3]float64{
		{72.2, 74.5, 44}, {72.1, 74.3, 43.5}, {72.3, 75.4, 68}, {72.0, 74.2, 44}, {72.4, 74.6, 44.5}, {72.2, 75.1, 67.5},
		{72.2, 74.2, 44}, {72.1, 74.4, 44}, {72.3, 75.3, 68}, {72.2, 74.3, 43}, {72.3, 74.7, 44}, {72.1, 75.0, 68},
	} {
		in.History = append(in.History, Interval{PreviousPost: kg(iv[0]), Pre: kg(iv[1]), Hours: iv[2]})
	}
	return in
}

func weigh(t *testing.T, in WeighInInput, entered float64) Weighed {
	t.Helper()
	in.Entered = kg(entered)
	w, err := WeighIn(in)
	if err != nil {
		t.Fatalf("%v kg: %v", entered, err)
	}
	if (w.Verdict == Accept) != (len(w.Reasons) == 0) || (w.Verdict == Refuse) != slices.Contains(w.Reasons, Impossible) {
		t.Fatalf("%v kg: %s because of %v", entered, w.Verdict, w.Reasons)
	}
	return w
}

func TestWeighInReasons(t *testing.T) {
	for _, tt := range []struct {
		entered float64
		verdict Verdict
		reasons []Reason
		likely  float64 // 0 for none
	}{
		{74.6, Accept, []Reason{}, 0},
		{73.6, Accept, []Reason{}, 0},
		{75.3, Accept, []Reason{}, 0},
		{76.4, Ask, []Reason{UnusualGain, DigitsSwapped, OneDigitOff}, 74.6}, // 74.6 with two digits swapped
		{47.6, Ask, []Reason{BelowDry, UnusualGain, DigitsSwapped}, 74.6},
		{84.6, Ask, []Reason{UnusualGain, OneDigitOff}, 74.6},
		{14.6, Refuse, []Reason{OneDigitOff, Impossible}, 74.6},
		{79.6, Ask, []Reason{UnusualGain, OneDigitOff}, 74.6},
		{746, Refuse, []Reason{PointLost, Impossible}, 74.6},
		{7.46, Refuse, []Reason{PointLost, Impossible}, 74.6},
		{74_600, Refuse, []Reason{PointLost, Impossible}, 74.6}, // grams
		{164.5, Ask, []Reason{UnusualGain, Pounds}, 74.6},
		{158.7, Ask, []Reason{UnusualGain, Pounds}, 72},                         // a day of little gain, in pounds: below the band, and still no kg
		{169.8, Ask, []Reason{UnusualGain, Pounds}, 77},                         // a day of much
		{33.8, Ask, []Reason{BelowDry, UnusualGain, OneDigitOff, Pounds}, 74.5}, // 74.5 kg taken for lb and converted
		{11.7, Refuse, []Reason{Stone, Impossible}, 74.3},
		{11.1, Refuse, []Reason{Stone, Impossible}, 74.4}, // 11 st 10 lb
		{78, Ask, []Reason{UnusualGain, OneDigitOff}, 74},
		{90, Ask, []Reason{UnusualGain}, 0}, // neither slip nor unit makes it usual
		{71.8, Ask, []Reason{BelowDry, UnusualGain, OneDigitOff}, 74.8},
		{0, Refuse, []Reason{Impossible}, 0},
		{400, Refuse, []Reason{Impossible}, 0},
	} {
		w := weigh(t, steady(), tt.entered)
		if w.Verdict != tt.verdict || !slices.Equal(w.Reasons, tt.reasons) {
			t.Errorf("%v kg: %s because of %v, want %s because of %v", tt.entered, w.Verdict, w.Reasons, tt.verdict, tt.reasons)
		}
		switch {
		case tt.likely == 0 && w.LikelyKg != nil:
			t.Errorf("%v kg: likely %v, want none", tt.entered, *w.LikelyKg)
		case tt.likely != 0 && (w.LikelyKg == nil || math.Abs(*w.LikelyKg-tt.likely) > 1e-9):
			t.Errorf("%v kg: likely %v, want %v", tt.entered, w.LikelyKg, tt.likely)
		}
		if w.From != "history" || *w.UsualLowKg > 73.6 || *w.UsualHighKg < 75.3 {
			t.Errorf("%v kg: usual %v to %v from %s", tt.entered, *w.UsualLowKg, *w.UsualHighKg, w.From)
		}
	}
}

// Three days bring more than two: the same weight is usual after the one and
// not after the other.
func TestWeighInGoesByTheHours(t *testing.T) {
	short, long := steady(), steady()
	long.HoursSincePost = new(68.0)
	if w := weigh(t, short, 76.2); w.Verdict != Ask {
		t.Errorf("3.9 kg in 44 h: %s", w.Verdict)
	}
	if w := weigh(t, long, 75.9); w.Verdict != Accept {
		t.Errorf("3.6 kg in 68 h: %s because of %v, usual %v to %v", w.Verdict, w.Reasons, *w.UsualLowKg, *w.UsualHighKg)
	}
	centre := func(in WeighInInput) float64 { return weigh(t, in, 74.6).ExpectedKg }
	if gap := centre(long) - centre(short); gap < 0.6 || gap > 1.1 {
		t.Errorf("a day more is expected to bring %.2f kg", gap)
	}
	// Without the hours all intervals count alike: wider than for either.
	unknown := steady()
	unknown.HoursSincePost = nil
	u, s := weigh(t, unknown, 74.6), weigh(t, short, 74.6)
	if c := u.ExpectedKg; c < centre(short) || c > centre(long) || *u.UsualHighKg-*u.UsualLowKg <= *s.UsualHighKg-*s.UsualLowKg {
		t.Errorf("hours unknown: %v, %v to %v", c, *u.UsualLowKg, *u.UsualHighKg)
	}
}

// Without history: -1 % to +6 % of the last post-weight, or to +8 % of the dry
// weight when that is missing. No band is called usual then.
func TestWeighInWithoutHistory(t *testing.T) {
	first := steady()
	first.History = first.History[:enough-1]
	first.HoursSincePost = nil
	for entered, want := range map[float64]Verdict{
		71.57: Ask, 72.1: Accept, 76.4: Ask /* 74.6 swapped */, 74.6: Accept, 76.6: Accept, 76.7: Ask, 160.9: Ask, 33.1: Ask, 73.0: Accept, 746: Refuse,
	} {
		w := weigh(t, first, entered)
		if w.Verdict != want || w.UsualLowKg != nil || w.UsualHighKg != nil || w.From != "last post-weight" {
			t.Errorf("%v kg after 72.3: %s because of %v, want %s", entered, w.Verdict, w.Reasons, want)
		}
	}
	first.LastPost = nil
	for entered, want := range map[float64]Verdict{71.99: Ask, 72: Accept, 77.76: Accept, 77.77: Ask, 160.9: Ask} {
		if w := weigh(t, first, entered); w.Verdict != want || w.From != "dry weight" {
			t.Errorf("%v kg at 72 dry: %s because of %v, want %s", entered, w.Verdict, w.Reasons, want)
		}
	}
	// A history cannot stand in for the post-weight that is missing.
	lost := steady()
	lost.LastPost = nil
	if w := weigh(t, lost, 74.6); w.UsualLowKg != nil || w.From != "dry weight" {
		t.Errorf("without the last post-weight: %+v", w)
	}
}

// A stretch like none in the history is not judged by it.
func TestWeighInAfterAnotherKindOfStretch(t *testing.T) {
	for hours, from := range map[float64]string{10: "last post-weight", 20: "history", 92: "history", 160: "history", 171: "last post-weight"} {
		in := steady()
		in.HoursSincePost = &hours
		if w := weigh(t, in, 74.6); w.From != from {
			t.Errorf("after %v h: from the %s, want %s", hours, w.From, from)
		}
	}
}

// Below the dry weight: where the person's own band reaches, it is taken as any
// other weight is; elsewhere, and without a history, it is asked about.
func TestWeighInBelowDry(t *testing.T) {
	light := steady() // gains little and often comes near
	light.LastPost = new(kg(71.9))
	for i := range light.History {
		light.History[i].Pre = kg(light.History[i].PreviousPost.Float() + []float64{0.4, 0.7, 0.2, 0.9}[i%4])
	}
	if w := weigh(t, light, 71.8); w.Verdict != Accept || len(w.Cautions) != 0 {
		t.Errorf("0.2 kg below: %s because of %v, usual %v to %v", w.Verdict, w.Reasons, *w.UsualLowKg, *w.UsualHighKg)
	}
	if w := weigh(t, light, 70.4); w.Verdict != Ask || w.Reasons[0] != BelowDry || codes(w.Cautions) != "far_below_dry " {
		t.Errorf("1.6 kg below: %s because of %v", w.Verdict, w.Reasons)
	}
	light.History = nil
	if w := weigh(t, light, 71.99); w.Verdict != Ask || w.Reasons[0] != BelowDry || codes(w.Cautions) != "below_dry " {
		t.Errorf("10 g below without history: %s because of %v", w.Verdict, w.Reasons)
	}
	// Who always gains two kilograms and more is asked at once.
	if w := weigh(t, steady(), 71.6); w.Verdict != Ask || w.Reasons[0] != BelowDry {
		t.Errorf("0.4 kg below, for the first time: %s because of %v", w.Verdict, w.Reasons)
	}
	at := light
	at.LastPost = nil
	if w := weigh(t, at, 72); w.Verdict != Accept {
		t.Errorf("at dry weight: %s because of %v", w.Verdict, w.Reasons)
	}
}

// Somebody who begins about 0.4 kg below the dry weight, day for day, is not
// asked about it each time; a slip of theirs is.
func TestWeighInOftenBelowDry(t *testing.T) {
	often := steady()
	often.LastPost = new(kg(72.1))
	for i := range often.History {
		often.History[i].Pre = kg(71.6 + []float64{0, 0.3, -0.2, -0.4, 0.2, 0.1}[i%6])
	}
	for _, entered := range []float64{71.2, 71.4, 71.5, 71.6, 71.9, 72.1} {
		if w := weigh(t, often, entered); w.Verdict != Accept {
			t.Errorf("%v kg: %s because of %v, usual %v to %v", entered, w.Verdict, w.Reasons, *w.UsualLowKg, *w.UsualHighKg)
		}
	}
	for entered, likely := range map[float64]float64{76.1: 71.6, 73.6: 71.6, 74.6: 71.6, 61.6: 71.6, 17.6: 71.6, 716: 71.6, 157.9: 71.6} {
		w := weigh(t, often, entered)
		if w.Verdict == Accept || w.LikelyKg == nil || math.Abs(*w.LikelyKg-likely) > 0.35 {
			t.Errorf("%v kg: %s because of %v, likely %v", entered, w.Verdict, w.Reasons, w.LikelyKg)
		}
	}
}

// From one day on they begin below the dry weight: after five such days the new
// way is the usual one, and the old one is not.
func TestWeighInAfterATurn(t *testing.T) {
	in := steady()
	in.LastPost, in.HoursSincePost = new(kg(72.1)), new(44.0)
	for len(in.History) < 100 {
		in.History = append(in.History, steady().History...)
	}
	for days, want := range map[int]Verdict{0: Ask, 1: Ask, 3: Ask, 5: Accept, 20: Accept, 60: Accept} {
		turned := in
		turned.History = slices.Clone(in.History)
		for i := range days {
			turned.History = append(turned.History, Interval{PreviousPost: kg(72.1), Pre: kg(71.6 + 0.2*float64(i%3-1)), Hours: 44})
		}
		if w := weigh(t, turned, 71.6); w.Verdict != want {
			t.Errorf("after %d such days: %s because of %v, want %s", days, w.Verdict, w.Reasons, want)
		}
		if w := weigh(t, turned, 76.1); w.Verdict != Ask {
			t.Errorf("after %d such days 71.6 with two digits swapped: %s", days, w.Verdict)
		}
	}
	// A feast, a hot day and two of each are no turn.
	for _, off := range [][]float64{{2}, {-1.5, -1.5}, {2, 0, 2, 0, 2, 0}} {
		odd := in
		odd.History = slices.Clone(in.History)
		for _, by := range off {
			odd.History = append(odd.History, Interval{PreviousPost: kg(72.2), Pre: kg(74.4 + by), Hours: 44})
		}
		if w := weigh(t, odd, 74.3); w.Verdict != Accept || math.Abs(w.ExpectedKg-weigh(t, in, 74.3).ExpectedKg) > 0.3 {
			t.Errorf("after gains off by %v: %s, expected %v", off, w.Verdict, w.ExpectedKg)
		}
	}
}

// A slip that was once let through does not bend what is usual.
func TestWeighInHistoryWithASlip(t *testing.T) {
	in := steady()
	clean := weigh(t, in, 74.6)
	in.History[4].Pre = kg(84.6)
	bent := weigh(t, in, 74.6)
	if math.Abs(bent.ExpectedKg-clean.ExpectedKg) > 0.5 || weigh(t, in, 84.6).Verdict != Ask {
		t.Errorf("one slip of 10 kg moves the expectation from %v to %v", clean.ExpectedKg, bent.ExpectedKg)
	}
}

func TestWeighInRefuses(t *testing.T) {
	for _, tt := range []struct {
		field  string
		change func(*WeighInInput)
	}{
		{"entered_kg", func(in *WeighInInput) { in.Entered = kg(-1) }},
		{"dry_weight_kg", func(in *WeighInInput) { in.DryWeight = kg(0) }},
		{"last_post_kg", func(in *WeighInInput) { in.LastPost = new(kg(301)) }},
		{"hours_since_post", func(in *WeighInInput) { in.HoursSincePost = new(0.0) }},
		{"hours_since_post", func(in *WeighInInput) { in.HoursSincePost = new(math.NaN()) }},
		{"history[2].hours", func(in *WeighInInput) { in.History[2].Hours = math.Inf(1) }},
		{"history[3].pre_kg", func(in *WeighInInput) { in.History[3].Pre = kg(7.42) }},
		{"history[4].previous_post_kg", func(in *WeighInInput) { in.History[4].PreviousPost = kg(301) }},
	} {
		in := steady()
		in.Entered = kg(74.6)
		tt.change(&in)
		w, err := WeighIn(in)
		if ie := (*unit.InputError)(nil); !errors.As(err, &ie) || ie.Field != tt.field || w.Verdict != "" {
			t.Errorf("%s: %v, want a refusal of that field", tt.field, err)
		}
	}
}

// Whatever the history, the judgement hangs together.
func TestWeighInProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, r Range) float64 { return rapid.Float64Range(r.Low, r.High).Draw(t, name) }
		in := WeighInInput{Entered: kg(number("entered", Range{0, 400})), DryWeight: kg(number("dry", WeightKg()))}
		if rapid.Bool().Draw(t, "has post") {
			in.LastPost = new(kg(number("post", WeightKg())))
		}
		if rapid.Bool().Draw(t, "has hours") {
			in.HoursSincePost = new(number("hours", GapHours()))
		}
		for range rapid.IntRange(0, 12).Draw(t, "intervals") {
			in.History = append(in.History, Interval{kg(number("previous", WeightKg())), kg(number("pre", WeightKg())), number("gap", GapHours())})
		}
		w, err := WeighIn(in)
		if err != nil {
			t.Fatal(err)
		}
		entered := in.Entered.Float()
		if (w.UsualLowKg == nil) != (w.UsualHighKg == nil) || w.UsualLowKg != nil && !(*w.UsualLowKg < *w.UsualHighKg) {
			t.Fatalf("usual %v to %v", w.UsualLowKg, w.UsualHighKg)
		}
		if w.UsualLowKg != nil && (entered < *w.UsualLowKg || entered > *w.UsualHighKg) && w.Verdict == Accept {
			t.Fatalf("%v kg was taken outside %v to %v", entered, *w.UsualLowKg, *w.UsualHighKg)
		}
		if w.Verdict == Accept && (entered < in.DryWeight.Float() && w.UsualLowKg == nil || w.LikelyKg != nil) {
			t.Fatalf("%v kg at %v dry was taken: %+v", entered, in.DryWeight, w)
		}
		if !(w.ExpectedKg > -1e6 && w.ExpectedKg < 1e6) || w.LikelyKg != nil && !(*w.LikelyKg > 0 && *w.LikelyKg < 1e6) {
			t.Fatalf("expected %v, likely %v", w.ExpectedKg, w.LikelyKg)
		}
	})
}
