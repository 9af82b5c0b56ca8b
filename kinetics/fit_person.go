package kinetics

import (
	"math"

	"ebbline/unit"
)

// A MonthlyDraw is one set of blood samples with the schedule it was drawn in.
// The schedule is taken as kept up: give the sessions of the fortnight before,
// written as a cycle.
type MonthlyDraw struct {
	Cycle     Cycle
	Session   int     // which of the cycle's sessions was sampled
	Pre, Post float64 // urea nitrogen, mg/mL
	NextPre   float64 // before the next session of the cycle; 0 when not drawn
}

// SampleErrors is how far the figures behind an estimate may be off, as
// coefficients of variation, each taken as lognormal.
type SampleErrors struct {
	Sample    float64 // of one blood sample: drawing, handling and assay
	Clearance float64 // of the clearance put in, the same way in all sessions
	Session   float64 // of one session's clearance against the others'
	Month     float64 // of the generation from month to month
}

// UsualErrors is 4 % for a sample (3 to 5 %) and 10 % for the clearance that is
// assumed, both common practice, and, ours, 3 % from session to session and
// 12 % in what is eaten from month to month. Generations of 0.155, 0.180 and
// 0.188 mmol/min were measured over the three gaps of one week in one group,
// a spread of 10 %.
func UsualErrors() SampleErrors {
	return SampleErrors{Sample: 0.04, Clearance: 0.10, Session: 0.03, Month: 0.12}
}

// A VolumePrior is what is known of the urea volume without blood samples, as
// from height and weight.
type VolumePrior struct {
	VolumeL float64
	Spread  float64 // coefficient of variation, some 0.15
}

// A Likely value with the range that holds the truth in 80 of 100 persons.
type Likely struct{ Value, Low, High float64 }

// An Estimate is what months of samples say of a person.
type Estimate struct {
	VolumeL         Likely
	GenerationMgMin Likely // the mean over the months
	ClearanceFactor Likely // true clearance over the one that was put in
	Judged          []JudgedDraw
	Used            int // how many draws the estimate rests on

	shape Shape
	mean  [3]float64 // ln volume, ln generation, ln factor
	root  [3][3]float64
}

// A JudgedDraw is one draw as the estimate sees it.
type JudgedDraw struct {
	Verdict Verdict
	// Alone is what this draw says by itself with the clearance as put in; zero
	// when it says nothing.
	Alone Fit
	// GenerationMgMin is the month's generation given all months; 0 when the
	// draw was not used.
	GenerationMgMin float64
	// LateMin is, for a late sample, how long after the end its level fits.
	LateMin float64
}

// EstimatePerson estimates a person's urea volume and generation from months
// of samples. One clearance factor is shared by all sessions, since what is
// wrong with an assumed clearance is mostly wrong every time: it does not
// average out, and the range of the volume stays near the clearance's own.
//
// Each draw is first judged by itself and against the others; one that cannot
// be right is named in Judged and left out, not averaged in. The rest is a
// least-squares fit of the logarithms, each with its error, and the ranges are
// those of the curvature at the best fit (Laplace). The prior may be nil: then
// any volume is as likely as any other before the samples.
//
// Refused are errors that are not above 0 and below 1 and a list without a
// usable draw; the judgements are then returned with the refusal.
//
// In a simulation of 1,000 persons of known volume and generation the ranges
// hold the truth in 75 to 85 of 100, with a bias below 2 %
// (TestEstimateCoversTheTruth).
func EstimatePerson(shape Shape, draws []MonthlyDraw, errs SampleErrors, prior *VolumePrior) (Estimate, error) {
	if err := shape.check(); err != nil {
		return Estimate{}, err
	}
	if err := errs.check(prior); err != nil {
		return Estimate{}, err
	}
	out := Estimate{shape: shape, Judged: judgeDraws(shape, draws, errs, prior)}
	e := personFit{shape: shape, errs: errs, prior: prior}
	for i, d := range draws {
		if out.Judged[i].Verdict == SampleFits {
			e.draws = append(e.draws, newFitDraw(d))
			e.from = append(e.from, i)
		}
	}
	out.Used = len(e.draws)
	if out.Used == 0 {
		return out, unit.Refuse("draws", len(draws), "at least one pair of samples that can be right")
	}
	mean, cov, ok := e.solve(out.start())
	if !ok {
		return out, unit.Refuse("draws", len(draws), "samples that one volume explains")
	}
	out.mean, out.root = mean, cholesky3(cov)
	for k, to := range []*Likely{&out.VolumeL, &out.GenerationMgMin, &out.ClearanceFactor} {
		reach := eightyPercent * math.Sqrt(cov[k][k])
		*to = Likely{math.Exp(mean[k]), math.Exp(mean[k] - reach), math.Exp(mean[k] + reach)}
	}
	for k, i := range e.from {
		out.Judged[i].GenerationMgMin = math.Exp(mean[1] + e.monthAbove(k, mean))
	}
	return out, nil
}

// eightyPercent is how many standard deviations to either side hold 80 % of a
// normal distribution.
const eightyPercent = 1.2815515655446004

func (e SampleErrors) check(prior *VolumePrior) error {
	for _, f := range []struct {
		name  string
		value float64
	}{{"sample_error", e.Sample}, {"clearance_error", e.Clearance}, {"session_error", e.Session}, {"month_error", e.Month}} {
		if !(f.value > 0 && f.value < 1) {
			return unit.Refuse(f.name, f.value, "a coefficient of variation above 0 and below 1")
		}
	}
	if prior != nil && !(prior.VolumeL > 0 && prior.VolumeL <= highestFitL && prior.Spread > 0 && prior.Spread < 1) {
		return unit.Refuse("prior_volume_l", prior.VolumeL, "a volume above 0 with a spread above 0 and below 1")
	}
	return nil
}

// start is where the search begins: the middle of what the draws say alone.
func (p *Estimate) start() [3]float64 {
	var v, g []float64
	for _, d := range p.Judged {
		if d.Verdict == SampleFits {
			v = append(v, math.Log(d.Alone.VolumeL))
			g = append(g, math.Log(d.Alone.GenerationMgMin))
		}
	}
	return [3]float64{middle(v), middle(g), 0}
}
