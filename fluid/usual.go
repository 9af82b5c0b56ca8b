package fluid

import (
	"math"
	"slices"

	"ebbline/unit"
)

// An Interval is one stretch between two sessions as it was recorded.
type Interval struct {
	PreviousPost unit.ExactMass
	Pre          unit.ExactMass
	Hours        float64 // from the one weighing to the other
}

// What the expectation of a weight rests on. All of it is our own, chosen on
// simulated lives with known truth; see the test of slips.
const (
	enough    = 5   // intervals before a usual gain is spoken of at all
	recent    = 150 // intervals looked at: a year of three a week
	tails     = 8   // Student's t: room for feasts and hot days
	bandWidth = 3.2 // half the band, in deviations of a new weight

	turnedOver = 5 // intervals off the line to one side that make a new line

	presumedKg     = 0.5 // deviation of a gain before the history tells
	presumedWeight = 6   // intervals that this presumption counts for
	atOnceKg       = 1.0 // how far a gain over no time may lie from 0

	// From the last post-weight, when there is no history: -1 % to +6 %.
	// From the dry weight, when there is no post-weight either: to +8 %.
	fallbackDown, fallbackUp, fallbackUpFromDry = 0.01, 0.06, 0.08

	// Within that the weight is looked for where people gain on average, 3.5 %
	// of the dry weight with a deviation of 1.1 from one session of three a
	// week to the next: López-Gómez JM et al., Kidney Int 2005;67 Suppl 93:S63–8.
	commonGain, commonSpread, commonHours = 0.035, 1.1 / 3.5, 56
)

// An expectation is where a weight should lie: a centre with the deviation of
// a new weight about it, and the band outside which it is asked about, in kg.
type expectation struct {
	centre, deviation float64
	low, high         float64
	learned           bool // from the person's own history
	from              string
}

func (e expectation) holds(kg float64) bool { return kg >= e.low && kg <= e.high }

// surprise is how unlikely a weight is: the negative logarithm of its density
// in Student's t, less that of the centre.
func (e expectation) surprise(kg float64) float64 {
	z := (kg - e.centre) / e.deviation
	return (tails + 1) / 2.0 * math.Log1p(z*z/tails)
}

// expect gives where the weight should lie: from the history when it holds
// enough intervals and one comparable with this, else from the last
// post-weight alone, else from the dry weight.
func expect(in WeighInInput) expectation {
	if in.LastPost == nil {
		return fallback(in.DryWeight.Float(), fallbackUpFromDry, "dry weight")
	}
	post := in.LastPost.Float()
	centre, deviation, ok := usualGain(in.History, in.HoursSincePost)
	if !ok {
		e := fallback(post, fallbackUp, "last post-weight")
		if in.HoursSincePost != nil {
			gain := min(commonGain*post**in.HoursSincePost/commonHours, fallbackUp*post/2)
			e.centre, e.deviation = post+gain, math.Hypot(presumedKg, commonSpread*gain)
		}
		return e
	}
	centre += post
	return expectation{
		centre: centre, deviation: deviation,
		low: centre - bandWidth*deviation, high: centre + bandWidth*deviation,
		learned: true, from: "history",
	}
}

func fallback(weight, up float64, from string) expectation {
	low, high := weight*(1-fallbackDown), weight*(1+up)
	return expectation{centre: (low + high) / 2, deviation: (high - low) / 4, low: low, high: high, from: from}
}

// usualGain gives the gain to expect over the hours since the last session and
// the deviation of a new one about it, in kg. Without the hours it takes all
// intervals alike. It has no answer when there are too few intervals or none
// that compares: the stretch may be from a quarter of the shortest to two and
// a half times the longest. Where the gains have turned, only those since then
// count.
func usualGain(history []Interval, since *float64) (centre, deviation float64, ok bool) {
	history = history[max(0, len(history)-recent):]
	if len(history) < enough {
		return 0, 0, false
	}
	hours, gains := make([]float64, len(history)), make([]float64, len(history))
	for i, iv := range history {
		hours[i], gains[i] = iv.Hours, iv.Pre.Float()-iv.PreviousPost.Float()
	}
	at := 1.0
	if since != nil {
		at = *since
	} else {
		for i := range hours {
			hours[i] = at
		}
	}
	shortest, longest := slices.Min(hours), slices.Max(hours)
	if at > 2.5*longest || at < shortest/4 {
		return 0, 0, false
	}
	l := fit(hours, gains)
	if since := l.turned(hours, gains); since > 0 {
		hours, gains = hours[since:], gains[since:]
		l = fit(hours, gains)
		shortest, longest = slices.Min(hours), slices.Max(hours)
	}
	// Beyond what was seen the line itself is a guess: a third of its rise.
	unseen := l.perHour / 3 * max(0, shortest-at, at-longest)
	return l.start + l.perHour*at, math.Hypot(l.scale*math.Sqrt(1+l.leverage(at)), unseen), true
}

// A line is gain = start + perHour·hours, with the scale of gains about it.
type line struct {
	start, perHour, scale float64

	weight, hours, squares, determinant float64 // sums that the leverage needs
}

// fit fits a line under Student's t by reweighted least squares (the EM steps
// for that distribution), so that a slip that was once let through, or a
// feast, does not bend it. The start is held near 0 and the scale near its
// presumed value with the weight of a few intervals, for short histories.
func fit(hours, gains []float64) line {
	l := line{scale: presumedKg}
	perHour := make([]float64, len(gains))
	for i := range gains {
		perHour[i] = gains[i] / hours[i]
	}
	l.perHour = median(perHour)

	const rounds = 12 // it settles in half as many
	for range rounds {
		var w, h, hh, g, hg float64
		for i := range gains {
			k := l.share(hours[i], gains[i])
			w += k
			h += k * hours[i]
			hh += k * hours[i] * hours[i]
			g += k * gains[i]
			hg += k * hours[i] * gains[i]
		}
		w += l.scale * l.scale / (atOnceKg * atOnceKg)
		det := w*hh - h*h
		l.start, l.perHour = (g*hh-h*hg)/det, (w*hg-h*g)/det
		l.weight, l.hours, l.squares, l.determinant = w, h, hh, det

		squares := presumedWeight * presumedKg * presumedKg
		for i := range gains {
			r := l.off(hours[i], gains[i])
			squares += l.share(hours[i], gains[i]) * r * r
		}
		l.scale = math.Sqrt(squares / float64(len(gains)-1+presumedWeight))
	}
	return l
}

func (l line) off(hours, gain float64) float64 { return gain - l.start - l.perHour*hours }

// turned returns the first interval of a new way of gaining, or 0 where there is
// none. Counted back from the latest interval, at least turnedOver must lie off the
// line to one side by more than its scale, or by more than the presumed one where
// that is less, and so must three in four of all intervals since then. An illness
// in which somebody gains nothing any more is then usual after five sessions, not
// after half a year of them. Ours, chosen on simulated lives.
func (l line) turned(hours, gains []float64) int {
	far := min(l.scale, presumedKg)
	for _, side := range []float64{-1, 1} {
		start, off, all := 0, 0, 0
		for i := len(gains) - 1; i >= 0; i-- {
			all++
			if side*l.off(hours[i], gains[i]) > far {
				off++
				if off >= turnedOver && 4*off >= 3*all {
					start = i
				}
			}
		}
		if start > 0 {
			return start
		}
	}
	return 0
}

// share is the weight of one interval: less the further it lies from the line.
func (l line) share(hours, gain float64) float64 {
	z := l.off(hours, gain) / l.scale
	return (tails + 1) / (tails + z*z)
}

// leverage is how uncertain the line itself is at the given hours, as a
// variance in units of the squared scale.
func (l line) leverage(at float64) float64 {
	return (l.squares - 2*at*l.hours + at*at*l.weight) / l.determinant
}

func median(values []float64) float64 {
	s := slices.Sorted(slices.Values(values))
	n := len(s)
	if n%2 == 1 {
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}
