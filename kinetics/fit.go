package kinetics

import (
	"fmt"

	"ebbline/unit"
)

// OnePoolTransfer is a transfer so large that the two pools are one
// well-mixed pool to some nine digits.
const OnePoolTransfer = 1e12

// ThreeSamples is one session with the level before, the level after and the
// level before the next one: what is needed to find a person's urea volume and
// generation without assuming that the weeks repeat.
type ThreeSamples struct {
	ClearanceMlMin   float64 // of the dialyser in this session
	LengthMin        float64
	RemovedL         float64 // by the machine, fluid gained meanwhile included
	GainMlMin        float64 // fluid gained, at all times
	PostAboveLowestL float64 // this session's end above the lowest volume, as the weights say
	NextPreAfterMin  float64 // from the end of the session to the third sample

	Pre, Post, NextPre float64 // urea nitrogen, mg/mL
}

// A Fit is a urea volume and a generation found from samples.
type Fit struct {
	VolumeL         float64 // where it is lowest, as in [Pools]
	GenerationMgMin float64
}

// FitThree finds the volume and the generation with which the model goes
// through the three samples. Before the session the pools are taken to be at
// rest with each other, as after a long interval at the same gain; their level
// may be anything. For one pool, give the shape the transfer [OnePoolTransfer].
//
// Given the volume, the model is linear in the generation, so the third sample
// gives the generation; the second then decides the volume, by a search in one
// dimension that ends at rounding. On samples made by the model itself the
// answer is back to 1e-10.
//
// The volume is only as good as the clearance: 10 % more clearance assumed is
// some 10 % more volume found (see [FitThreeSlopes]).
//
// Refused with a [*unit.InputError]: a post not below the pre (tubes swapped?),
// samples that no volume from 0.1 to 2000 L explains, samples that would need
// less than no generation.
//
// Source: the inverse of the two-pool model; for one pool Gotch FA, Sargent JA,
// Kidney Int 1985;28:526–34 (from memory).
func FitThree(shape Shape, s ThreeSamples) (Fit, error) {
	if err := shape.check(); err != nil {
		return Fit{}, err
	}
	if err := s.check(); err != nil {
		return Fit{}, err
	}
	miss := func(volume float64) float64 {
		at := s.at(shape.Pools(volume, 1))
		return at.post(s.Pre, at.generation(s.Pre, s.NextPre)) - s.Post
	}
	volume, ok := fitRoot(s.lowest(shape), highestFitL, miss)
	if !ok {
		if miss(highestFitL) < 0 {
			return Fit{}, unit.Refuse("post_mg_ml", s.Post, "a level that this clearance can leave in this time; it is too high for the pre-session one")
		}
		return Fit{}, unit.Refuse("post_mg_ml", s.Post, "a level that this clearance can reach in this time; it is too low, as when drawn after saline or when the clearance was higher")
	}
	g := s.at(shape.Pools(volume, 1)).generation(s.Pre, s.NextPre)
	if !(g > 0) {
		return Fit{}, unit.Refuse("next_pre_mg_ml", s.NextPre, "a level that some generation explains; it is too low after this post-session one")
	}
	return Fit{volume, g}, nil
}

// The search for a volume.
const (
	lowestFitL  = 0.1
	highestFitL = 2000
)

// lowest is the least volume with which no pool is empty before the session.
func (s *ThreeSamples) lowest(shape Shape) float64 {
	missing := 1.001 * (s.GainMlMin*s.LengthMin/1000 - s.RemovedL - s.PostAboveLowestL)
	if shape.Fluid == FromExtracellular {
		missing /= shape.ExtracellularFraction
	}
	return max(lowestFitL, missing)
}

func (s *ThreeSamples) check() error {
	for _, f := range []struct {
		key   string
		value float64
		zero  bool // may be 0
		most  float64
	}{
		{"clearance_ml_min", s.ClearanceMlMin, false, mostClearance},
		{"length_min", s.LengthMin, false, mostMinutes},
		{"removed_l", s.RemovedL, true, mostLitres},
		{"gain_ml_min", s.GainMlMin, true, mostFlow},
		{"post_above_lowest_l", s.PostAboveLowestL, true, mostLitres},
		{"next_pre_after_min", s.NextPreAfterMin, false, mostMinutes},
		{"pre_mg_ml", s.Pre, false, mostLevel},
		{"post_mg_ml", s.Post, false, mostLevel},
		{"next_pre_mg_ml", s.NextPre, false, mostLevel},
	} {
		switch {
		case f.zero && !(f.value >= 0 && f.value <= f.most):
			return unit.Refuse(f.key, f.value, fmt.Sprintf("a figure from 0 to %g", f.most))
		case !f.zero && !(f.value > 0 && f.value <= f.most):
			return unit.Refuse(f.key, f.value, fmt.Sprintf("a figure above 0, up to %g", f.most))
		}
	}
	if s.Post >= s.Pre {
		return unit.Refuse("post_mg_ml", s.Post, "a level below the pre-session one; the tubes may have been swapped, or the wrong results paired")
	}
	return nil
}

// A threeAt is the model of one volume: the levels after the session and
// before the next one as linear functions of the level before and of G.
type threeAt struct{ postPre, postG, nextPre, nextG float64 }

func (a threeAt) post(pre, g float64) float64 { return a.postPre*pre + a.postG*g }

// generation is the G that leads from pre to next.
func (a threeAt) generation(pre, next float64) float64 { return (next - a.nextPre*pre) / a.nextG }

func (s *ThreeSamples) at(p Pools) threeAt {
	var (
		post    = (p.VolumeL + s.PostAboveLowestL) * 1000
		trend   = s.GainMlMin - s.RemovedL*1000/s.LengthMin
		session = p.stretch(s.LengthMin, s.ClearanceMlMin, post-trend*s.LengthMin, trend)
		gap     = p.stretch(s.NextPreAfterMin, 0, post, s.GainMlMin)
		slope   float64 // the inner level before the session is slope·pre + drift·G
		drift   float64
		on, off poolStep
	)
	slope, drift = p.atRest(post-trend*s.LengthMin, s.GainMlMin)
	session.solve(&on)
	gap.solve(&off)

	fromPre := poolMass{session.outer, session.inner * slope}
	fromG := poolMass{0, session.inner * drift}
	postPre, _ := fromPre.carry(&on, 0)
	postG, _ := fromG.carry(&on, 1)
	nextPre, _ := postPre.carry(&off, 0)
	nextG, _ := postG.carry(&off, 1)
	nextOuter := gap.outer + gap.outerTrend*gap.length
	return threeAt{postPre.outer / gap.outer, postG.outer / gap.outer, nextPre.outer / nextOuter, nextG.outer / nextOuter}
}

// atRest gives the inner level of two pools at rest with each other while the
// volume grows by gain, as slope·outer level + drift·G. They come to rest by a
// run up to the volume, from equal levels, long enough for the faster exchange
// to be over.
func (p *Pools) atRest(volume, gain float64) (slope, drift float64) {
	const over = 45 // time constants: e^−45 is 3e-20
	now := p.stretch(0, 0, volume, gain)
	length := over / (now.inward/now.outer + now.outward/now.inner)
	if gain > 0 {
		length = min(length, now.outer/now.outerTrend/2) // the pool may not have been empty
	}
	run := p.stretch(length, 0, volume-gain*length, gain)
	var s poolStep
	run.solve(&s)
	ones, _ := poolMass{run.outer, run.inner}.carry(&s, 0)
	made, _ := poolMass{}.carry(&s, 1)
	slope = ones.inner / now.inner * now.outer / ones.outer
	return slope, made.inner/now.inner - slope*made.outer/now.outer
}

// fitGuessL is where a search for a volume begins.
const fitGuessL = 35

// fitRoot finds where f, which rises with its argument, crosses 0 between lo
// and hi (both above 0), walking out from the usual volume.
func fitRoot(lo, hi float64, f func(float64) float64) (float64, bool) {
	const pace = 1.25
	a := max(lo, min(fitGuessL, hi))
	fa := f(a)
	for fa > 0 {
		if a <= lo {
			return 0, false
		}
		b, fb := a, fa
		a = max(lo, a/pace)
		if fa = f(a); fa <= 0 {
			return fitBisect(a, fa, b, fb, f), true
		}
	}
	for a < hi {
		b := min(a*pace, hi)
		fb := f(b)
		if fb >= 0 {
			return fitBisect(a, fa, b, fb, f), true
		}
		a, fa = b, fb
	}
	return 0, false
}

// fitBisect closes in on the root between a and b by false position with the
// Illinois correction, and by halving when that stalls.
//
// Source: Dowell M, Jarratt P, BIT 1971;11:168–74 (from memory).
func fitBisect(a, fa, b, fb float64, f func(float64) float64) float64 {
	for i := range 200 {
		if fa == 0 {
			return a
		}
		if fb == 0 || b-a <= 4e-16*b {
			return b
		}
		c := (a*fb - b*fa) / (fb - fa)
		if i%8 == 7 || !(c > a && c < b) {
			c = a + (b-a)/2
		}
		fc := f(c)
		switch {
		case fc < 0:
			a, fa = c, fc
			fb /= 2
		default:
			b, fb = c, fc
			fa /= 2
		}
	}
	return a + (b-a)/2
}
