package kinetics

import (
	"fmt"
	"math"
)

// A Verdict says whether a draw can be right.
type Verdict string

const (
	SampleFits    Verdict = "fits"
	SampleSwapped Verdict = "swapped"     // post not below pre
	SampleLow     Verdict = "post_low"    // lower than this clearance leaves it
	SampleHigh    Verdict = "post_high"   // higher than this clearance leaves it
	SampleLate    Verdict = "post_late"   // as high as the rebound some time after the end
	SampleUnit    Verdict = "other_unit"  // all levels off by the factor between two units
	SampleOdd     Verdict = "level_odd"   // all levels off against the other months
	SampleInput   Verdict = "not_usable"  // a figure or a schedule that cannot be
	SamplePaired  Verdict = "next_paired" // next pre not above post
)

// Text words a verdict for a person.
func (d JudgedDraw) Text() string {
	switch d.Verdict {
	case SampleFits:
		return "The samples fit the session and the other months."
	case SampleSwapped:
		return "The sample after is not below the one before: the tubes may have been swapped, or results of two days paired."
	case SampleLow:
		return "The sample after is lower than this clearance and time can leave it: it may have been drawn after saline, from the wrong line, or the session was longer or stronger than written."
	case SampleHigh:
		return "The sample after is higher than this clearance and time should leave it: the session may have been shorter or weaker than written, blood may have gone round twice, or the sample was drawn late."
	case SampleLate:
		return fmt.Sprintf("The sample after is as high as the rebound some %.0f minutes after the end: it may have been drawn late. A weaker session would look the same.", d.LateMin)
	case SampleUnit:
		return "Before and after are both off against the other months by the factor between two units: look at the unit of this result."
	case SampleOdd:
		return "Before and after are both far off against the other months: look at the unit, the name on the tube and what was eaten."
	case SamplePaired:
		return "The sample before the next session is not above the one after this session: results of other days may have been paired."
	}
	return "The draw has a figure or a schedule that cannot be, so it is left out."
}

// oddBeyond is how many standard deviations a draw may lie from the others
// before it is left out. With twelve draws one person in thirty loses a good
// one, at little cost.
const oddBeyond = 3.0

// judgeDraws judges each draw alone and then against the others or, with fewer
// than three, against the prior.
func judgeDraws(shape Shape, draws []MonthlyDraw, errs SampleErrors, prior *VolumePrior) []JudgedDraw {
	judged := make([]JudgedDraw, len(draws))
	spread := make([]drawSpread, len(draws))
	var lnV, lnG []float64
	for i, d := range draws {
		judged[i], spread[i] = judgeAlone(shape, d, errs)
		if judged[i].Verdict == SampleFits {
			lnV = append(lnV, math.Log(judged[i].Alone.VolumeL))
			lnG = append(lnG, math.Log(judged[i].Alone.GenerationMgMin))
		}
	}
	for i := range judged {
		j := &judged[i]
		if j.Verdict != SampleFits {
			continue
		}
		centre, own := middle(lnV), 0.0
		switch {
		case len(lnV) >= 3:
		case prior != nil:
			// The clearance may be off as well, and this draw cannot tell.
			centre, own = math.Log(prior.VolumeL), math.Hypot(prior.Spread, errs.Clearance)
		default:
			continue
		}
		off := math.Log(j.Alone.VolumeL) - centre
		switch limit := oddBeyond * math.Hypot(spread[i].volume, own); {
		case off < -limit:
			j.Verdict = SampleLow
		case off > limit:
			j.Verdict, j.LateMin = lateOrHigh(shape, draws[i], math.Exp(centre))
		case len(lnV) >= 3:
			j.Verdict = judgeLevel(math.Log(j.Alone.GenerationMgMin)-middle(lnG), spread[i].generation)
		}
	}
	return judged
}

// A drawSpread is how far a good draw's answers may lie from the truth, as
// logarithms, clearance aside.
type drawSpread struct{ volume, generation float64 }

// judgeAlone judges a draw by itself.
func judgeAlone(shape Shape, d MonthlyDraw, errs SampleErrors) (JudgedDraw, drawSpread) {
	positive := func(v float64) bool { return v > 0 && v <= mostLevel }
	switch {
	case d.Cycle.check() != nil || d.Session < 0 || d.Session >= len(d.Cycle.Sessions) ||
		!positive(d.Pre) || !positive(d.Post) || !(d.NextPre >= 0 && d.NextPre <= mostLevel):
		return JudgedDraw{Verdict: SampleInput}, drawSpread{}
	case d.Post >= d.Pre:
		return JudgedDraw{Verdict: SampleSwapped}, drawSpread{}
	case d.NextPre > 0 && d.NextPre <= d.Post:
		return JudgedDraw{Verdict: SamplePaired}, drawSpread{}
	}
	fit, err := FitSteady(shape, SteadySamples{Cycle: d.Cycle, Session: d.Session, Pre: d.Pre, Post: d.Post})
	if err != nil {
		// No volume explains it: see on which side it lies.
		at, ok := newFitDraw(d).predicted(shape, math.Log(highestFitL), 0)
		switch {
		case !ok:
			return JudgedDraw{Verdict: SampleInput}, drawSpread{}
		case math.Log(d.Post/d.Pre) > at[1]-at[0]:
			return JudgedDraw{Verdict: SampleHigh}, drawSpread{}
		}
		return JudgedDraw{Verdict: SampleLow}, drawSpread{}
	}
	e := personFit{shape: shape, errs: errs}
	v, ok := e.view(newFitDraw(d), [3]float64{math.Log(fit.VolumeL), math.Log(fit.GenerationMgMin), 0})
	if !ok {
		return JudgedDraw{Verdict: SampleInput}, drawSpread{}
	}
	// The ratio gives the volume, the pre-session level then the generation.
	ratio := v.slope[1][0] - v.slope[0][0]
	own := v.slope[1][2] - v.slope[0][2]
	perPre := 1 + v.slope[0][0]/ratio // ln G moves by this with ln pre
	return JudgedDraw{Verdict: SampleFits, Alone: fit}, drawSpread{
		volume: math.Sqrt(2*errs.Sample*errs.Sample+own*own*errs.Session*errs.Session) / math.Abs(ratio),
		generation: math.Sqrt(errs.Month*errs.Month + perPre*perPre*errs.Sample*errs.Sample +
			math.Pow(v.slope[0][0]/ratio, 2)*(errs.Sample*errs.Sample+own*own*errs.Session*errs.Session)),
	}
}

// latestMin is how long after the end a sample may still be told as late.
const latestMin = 120.0

// lateOrHigh reports whether a high post sample has the level of the rebound at
// some time after the session, in a person of this volume.
func lateOrHigh(shape Shape, d MonthlyDraw, volumeL float64) (Verdict, float64) {
	p := shape.Pools(volumeL, 1)
	s, err := p.Steady(d.Cycle, nil)
	if err != nil {
		return SampleHigh, 0
	}
	course, err := p.Course(d.Cycle, s)
	if err != nil {
		return SampleHigh, 0
	}
	track, err := p.track(course)
	if err != nil {
		return SampleHigh, 0
	}
	want := d.Post / d.Pre * s.Sessions[d.Session].Pre
	session := course.Sessions[d.Session]
	end := session.StartMin + session.LengthMin
	for late := 2.0; late <= latestMin; late++ {
		if track.at(end+late).Outer >= want {
			return SampleLate, late
		}
	}
	return SampleHigh, 0
}

// unitFactors are the ratios between the three ways a laboratory prints urea:
// mmol/L, mg/dL of urea nitrogen and mg/dL of urea.
var unitFactors = []float64{2.801, 6.006, 6.006 / 2.801}

// judgeLevel judges levels that are off by a factor against the other months.
func judgeLevel(off, spread float64) Verdict {
	if math.Abs(off) <= oddBeyond*spread {
		return SampleFits
	}
	for _, f := range unitFactors {
		if math.Abs(math.Abs(off)-math.Log(f)) < spread {
			return SampleUnit
		}
	}
	return SampleOdd
}
