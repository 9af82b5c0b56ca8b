package kinetics

import (
	"fmt"
	"math"

	"ebbline/unit"
)

// Recorded is a stretch of days as they really were: sessions missed, moved,
// short or away from home, with their own clearances and fluid. It need not
// repeat.
type Recorded struct {
	LengthMin    float64
	StartVolumeL float64    // total volume at the start of the stretch
	Start        PoolLevels // see [Pools.AtRest] and [Levels.PreInner]
	Sessions     []RecordedSession
	GainedL      float64 // water gained from the last session (or the start) to the end of the stretch
}

// PoolLevels is the urea nitrogen of both pools, mg/mL.
type PoolLevels struct{ Outer, Inner float64 }

// A RecordedSession is a session that took place, with the time before it.
// Water is the weight: what was gained since the session before and what was
// lost in this one, 1 kg = 1 L, each taken to run evenly.
type RecordedSession struct {
	StartMin       float64 // from the start of the stretch
	LengthMin      float64 // treated time
	ClearanceMlMin float64 // of the dialyser
	GainedL        float64 // from the end of the session before, or the start of the stretch
	LostL          float64 // from the weight before to the weight after; below 0 when the session added water
}

// Followed is what the model says of a recorded stretch.
type Followed struct {
	// StdKtV is (G / mean pre) / V × 10080 min over the sessions of the
	// stretch; it does not exist without one.
	StdKtV       KtV
	MeanPre      float64 // mg/mL; 0 without a session
	TimeAveraged float64 // mg/mL
	EKRMlMin     float64 // G / TimeAveraged
	RemovedG     float64 // urea nitrogen by the dialyser
	ResidualG    float64 // by the kidneys
	StoredG      float64 // in the body at the end, less what was there at the start
	Sessions     []Levels
	End          PoolLevels
	EndVolumeL   float64
	LongestGap   float64 // minutes without dialysis, the ends of the stretch included
}

// AtRest gives the levels of both pools when they are at rest with each other,
// as after a long interval at the same gain, from the level in the blood and
// the total volume then.
func (p Pools) AtRest(outerMgMl, volumeL, gainMlMin float64) (PoolLevels, error) {
	if err := p.check(); err != nil {
		return PoolLevels{}, err
	}
	switch now := p.stretch(0, 0, volumeL*1000, gainMlMin); {
	case !(outerMgMl >= 0 && outerMgMl <= mostLevel):
		return PoolLevels{}, unit.Refuse("start_mg_ml", outerMgMl, "a level of 0 or more")
	case !(gainMlMin >= 0 && gainMlMin <= mostFlow):
		return PoolLevels{}, unit.Refuse("gain_ml_min", gainMlMin, "a gain of 0 or more")
	case !(now.outer > 0 && volumeL <= mostVolumeL+mostLitres):
		return PoolLevels{}, unit.Refuse("start_volume_l", volumeL, "a volume that leaves water in both pools")
	}
	slope, drift := p.atRest(volumeL*1000, gainMlMin)
	return PoolLevels{outerMgMl, slope*outerMgMl + drift*p.GenerationMgMin}, nil
}

// Follow runs the model through a recorded stretch. Pools.VolumeL is the
// person's volume at dry weight, to which the inner pool belongs when the fluid
// comes from outside the cells.
//
// Refused are values outside those that [Pools] names, sessions that overlap or
// are out of order or lie outside the stretch, and water that would leave a
// pool empty.
func (p Pools) Follow(r Recorded) (Followed, error) {
	track, err := p.track(r)
	if err != nil {
		return Followed{}, err
	}
	g := p.GenerationMgMin
	out := Followed{End: track.end, EndVolumeL: track.endVolume / 1000}
	area, gap := 0.0, 0.0
	for i := range track.pieces {
		piece := &track.pieces[i]
		_, drawn := piece.mass.carry(&piece.step, g)
		area += drawn
		if piece.session < 0 {
			gap += piece.length
			out.LongestGap = max(out.LongestGap, gap)
			continue
		}
		gap = 0
		l := track.levels(i)
		out.RemovedG += l.RemovedMg / 1000
		out.MeanPre += l.Pre / float64(len(r.Sessions))
		out.Sessions = append(out.Sessions, l)
	}
	out.ResidualG = p.ResidualMlMin * area / 1000
	out.StoredG = g*r.LengthMin/1000 - out.RemovedG - out.ResidualG
	out.TimeAveraged = area / r.LengthMin
	out.EKRMlMin = g / out.TimeAveraged
	if out.MeanPre > 0 {
		out.StdKtV = KtV{g / out.MeanPre / (p.VolumeL * 1000) * weekMin, true}
	}
	return out, nil
}

// Cautions says what must be said beside the dose of a recorded stretch.
func (f Followed) Cautions() []unit.Caution {
	var list []unit.Caution
	made := f.RemovedG + f.ResidualG + f.StoredG
	if share := f.StoredG / made; math.Abs(share) > notRepeating {
		way := "more"
		if share < 0 {
			way = "less"
		}
		list = append(list, unit.Caution{Code: "not_repeating", Text: fmt.Sprintf(
			"At the end of this stretch the body holds %.0f g %s urea nitrogen than at its start, %.0f %% of what was made. The dose is that of these days, not of a schedule kept up.",
			math.Abs(f.StoredG), way, 100*math.Abs(share))})
	}
	if !f.StdKtV.Exists {
		list = append(list, unit.Caution{Code: "no_session", Text: "There is no session in this stretch, so there is no standard Kt/V by definition."})
	}
	return list
}

// notRepeating is the share of what was made that may be stored or lost over a
// stretch before that is said (ours).
const notRepeating = 0.03
