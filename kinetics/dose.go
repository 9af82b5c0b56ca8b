package kinetics

import (
	"math"

	"ebbline/unit"
)

// A Figure is an estimate and what must be said beside it.
type Figure struct {
	Value    float64
	Cautions []unit.Caution // shown wherever Value is shown
}

// A Sampled session is one session as its bloods see it: urea before and
// after, and what is needed to read them.
type Sampled struct {
	Pre, Post    unit.Urea
	LengthMin    float64 // minutes treated, pauses taken out
	RemovedL     float64 // weight lost in the session, 1 kg = 1 L; not the machine's figure when the person drank or was given saline
	PostWeightKg float64
	PerWeek      float64 // sessions a week, 3.5 for every other day

	// DaysSincePrevious is the nominal count of days from the session before
	// to this one (1, 2 or 3). Zero means not known: the constant for three
	// sessions a week is then used.
	DaysSincePrevious float64
}

// check refuses what no session can be.
func (s Sampled) check() error {
	if err := checkFall(s.Pre, s.Post); err != nil {
		return err
	}
	return refuse(
		above("session_min", s.LengthMin, 0, maxSessionMin),
		within("removed_l", s.RemovedL, 0, maxRemovedL),
		within("post_weight_kg", s.PostWeightKg, minWeightKg, maxWeightKg),
		above("sessions_per_week", s.PerWeek, 0, maxSessionsAWk),
		within("days_since_previous", s.DaysSincePrevious, 0, maxDays),
	)
}

// checkFall refuses a pair of samples between which the urea did not fall.
func checkFall(pre, post unit.Urea) error {
	if err := refuse(
		above("pre_urea", pre.MmolPerL(), 0, maxUreaMmolPerL),
		above("post_urea", post.MmolPerL(), 0, maxUreaMmolPerL),
	); err != nil {
		return err
	}
	if post >= pre {
		return unit.Refuse("post_urea", ureaText(post), "less than pre_urea, "+ureaText(pre)+
			": the tubes may have been swapped, or the wrong results paired")
	}
	return nil
}

// ratio is R, the urea after over the urea before.
func (s Sampled) ratio() float64 { return float64(s.Post / s.Pre) }

// URR gives the urea reduction ratio as a fraction:
//
//	URR = 1 − post/pre
//
// Any unit serves, the same for both; pre and post must be above 0 and post
// below pre, otherwise an [*unit.InputError] comes back. Below 0.4 and above
// 0.9 a caution asks for a look at the samples. It leaves out the fluid
// removed and the number of sessions: use it beside a Kt/V, not instead.
//
// Source: by definition.
func URR(pre, post unit.Urea) (Figure, error) {
	if err := checkFall(pre, post); err != nil {
		return Figure{}, err
	}
	f := Figure{Value: 1 - float64(post/pre)}
	switch {
	case f.Value < 0.4:
		f.Cautions = append(f.Cautions, urrLow)
	case f.Value > 0.9:
		f.Cautions = append(f.Cautions, urrHigh)
	}
	return f, nil
}

// thriceWeekly is the share of urea that the body makes back in an hour, as
// fitted for three sessions a week.
const thriceWeekly = 0.008

// GenerationTerm gives the g in R − g·t of [SinglePool], per hour:
//
//	g = 0.0174 / days
//
// where days is the nominal count from the session before to this one; 0.0174,
// 0.0087, 0.0058 and 0.0044 for 1 to 4. With days = 0 (not known) it gives
// 0.008, the constant for three sessions a week. Days below 0 or above 60 are
// an [*unit.InputError].
//
// Source: Daugirdas et al., Nephrol Dial Transplant 2013;28:2156–60 (from
// memory; an abstract of Int J Artif Organs 2016 names the form and adds that
// accuracy may be poor in extreme schedules). A variant divides by the true
// gap in days; against a single-pool model the nominal days come out nearer.
func GenerationTerm(days float64) (float64, error) {
	if days == 0 {
		return thriceWeekly, nil
	}
	if err := refuse(above("days_since_previous", days, 0, maxDays)); err != nil {
		return 0, err
	}
	return 0.0174 / days, nil
}

// SinglePool estimates the single-pool Kt/V of one session by the
// second-generation logarithmic equation
//
//	spKt/V = −ln(R − g·t) + (4 − 3.5·R)·UF/W
//
// where R is post/pre, t the length in hours, g the [GenerationTerm] per hour,
// UF the litres removed and W the weight afterwards in kg.
//
// It needs 0 < post < pre, 0 < t ≤ 24 h, UF from 0 to 25 L, W from 1 to 500 kg
// and R − g·t above 0; otherwise an [*unit.InputError] comes back. It was
// fitted for R 0.1–0.7, t 2–5 h, UF/W up to 0.06, three sessions a week and
// results of 0.7–2.1; outside, the result carries a caution. Against a
// two-pool model it is good to 3 % at three a week up to 5 h; with g by days,
// to 9 % at any schedule up to 5 h. For sessions over about 5 h five or more
// times a week use the model.
//
// Sources: Daugirdas, J Am Soc Nephrol 1993;4:1205–13; form and constants read
// in European Best Practice Guidelines, Nephrol Dial Transplant 2002;17 Suppl
// 7:17–21. Ranges and comparisons computed.
func SinglePool(s Sampled) (Figure, error) {
	if err := s.check(); err != nil {
		return Figure{}, err
	}
	g, err := GenerationTerm(s.DaysSincePrevious)
	if err != nil {
		return Figure{}, err
	}
	r, hours, share := s.ratio(), s.LengthMin/60, s.RemovedL/s.PostWeightKg
	left := r - g*hours
	if left <= 0 {
		return Figure{}, unit.Refuse("session_min", s.LengthMin,
			"a length short enough for this fall in urea: post/pre less "+plain(g)+" an hour must stay above 0; use the week's model")
	}
	f := Figure{Value: -math.Log(left) + (4-3.5*r)*share}
	f.Cautions = singlePoolCautions(s, f.Value)
	return f, nil
}

// SinglePoolFirst gives the first-generation single-pool Kt/V, to read charts
// and papers from before 1993; [SinglePool] replaces it:
//
//	Kt/V = −ln(R − 0.008·t − UF/W)
//
// Symbols and ranges as in [SinglePool]; what stands under the logarithm must
// be above 0, or an [*unit.InputError] comes back.
//
// Source: Daugirdas, Int J Artif Organs 1989;12:411–19 (abstract read).
func SinglePoolFirst(s Sampled) (Figure, error) {
	if err := s.check(); err != nil {
		return Figure{}, err
	}
	left := s.ratio() - thriceWeekly*s.LengthMin/60 - s.RemovedL/s.PostWeightKg
	if left <= 0 {
		return Figure{}, unit.Refuse("session_min", s.LengthMin, "a length and a removal small enough for this fall in urea")
	}
	f := Figure{Value: -math.Log(left)}
	f.Cautions = singlePoolCautions(s, f.Value)
	return f, nil
}

// SinglePoolRange gives what [SinglePool] becomes when the sample after the
// session reads too high or too low by the given share (0.05 for 5 %): the
// lower and the upper figure. The sample after the session is what matters
// most; 5 % in it is about 0.06 in spKt/V at a usual dose. The share must lie
// from 0 to 0.5; a range that no longer has a logarithm is an
// [*unit.InputError].
//
// Source: computed from [SinglePool].
func SinglePoolRange(s Sampled, share float64) (low, high float64, err error) {
	if err := refuse(within("sample_error", share, 0, 0.5)); err != nil {
		return 0, 0, err
	}
	more, less := s, s
	more.Post *= unit.Urea(1 + share)
	less.Post *= unit.Urea(1 - share)
	worst, err := SinglePool(more)
	if err != nil {
		return 0, 0, err
	}
	best, err := SinglePool(less)
	if err != nil {
		return 0, 0, err
	}
	return worst.Value, best.Value, nil
}
