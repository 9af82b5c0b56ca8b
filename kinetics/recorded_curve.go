package kinetics

import (
	"math"

	"ebbline/unit"
)

// A CurvePoint is one point of the urea curve.
type CurvePoint struct {
	Min     float64 // from the start of the stretch
	Levels  PoolLevels
	VolumeL float64
	Session int // the session it lies in, or −1
}

// maxCurvePoints bounds a curve.
const maxCurvePoints = 100000

// Curve gives the urea curve of a recorded stretch: a point at the start and
// the end of every session and of the stretch, and between them points at most
// stepMin apart. Each point is exact; the step decides only how smooth a line
// through them looks.
func (p Pools) Curve(r Recorded, stepMin float64) ([]CurvePoint, error) {
	if !(stepMin > 0 && r.LengthMin/stepMin <= maxCurvePoints) {
		return nil, unit.Refuse("step_min", stepMin, "a step above 0 that makes fewer than 100,000 points")
	}
	t, err := p.track(r)
	if err != nil {
		return nil, err
	}
	var points []CurvePoint
	for i := range t.pieces {
		piece := &t.pieces[i]
		n := math.Ceil(piece.length / stepMin)
		for k := 0.0; k < n; k++ {
			part := piece.upTo(piece.length * k / n)
			levels, volume := part.end(p.GenerationMgMin)
			points = append(points, CurvePoint{piece.start + part.length, levels, volume / 1000, piece.session})
		}
		levels, volume := piece.end(p.GenerationMgMin)
		points = append(points, CurvePoint{piece.start + piece.length, levels, volume / 1000, piece.session})
	}
	return points, nil
}

// MeanLevel is the mean level in the blood from one time of a recorded stretch
// to another, which is what a timed collection of urine belongs to.
func (p Pools) MeanLevel(r Recorded, fromMin, toMin float64) (float64, error) {
	if !(fromMin >= 0 && fromMin < toMin && toMin <= r.LengthMin) {
		return 0, unit.Refuse("from_min", fromMin, "a time before to_min, both within the stretch")
	}
	t, err := p.track(r)
	if err != nil {
		return 0, err
	}
	area := 0.0
	for i := range t.pieces {
		piece := &t.pieces[i]
		from, to := max(fromMin, piece.start), min(toMin, piece.start+piece.length)
		if from >= to {
			continue
		}
		before, upTo := piece.upTo(from-piece.start), piece.upTo(to-piece.start)
		_, drawnBefore := piece.mass.carry(&before.step, p.GenerationMgMin)
		_, drawn := piece.mass.carry(&upTo.step, p.GenerationMgMin)
		area += drawn - drawnBefore
	}
	return area / (toMin - fromMin), nil
}

// Course writes one turn of a steady cycle as a recorded stretch that begins
// with the cycle's first session, for a curve of it.
func (p Pools) Course(c Cycle, s Steady) (Recorded, error) {
	if err := c.check(); err != nil {
		return Recorded{}, err
	}
	if len(s.Sessions) != len(c.Sessions) {
		return Recorded{}, unit.Refuse("sessions", len(s.Sessions), "the steady state of this cycle")
	}
	gain := c.GainMlMin()
	first := s.Sessions[0]
	r := Recorded{LengthMin: c.LengthMin, StartVolumeL: first.PreVolumeL, Start: PoolLevels{first.Pre, first.PreInner}}
	at := 0.0
	for i, cs := range c.Sessions {
		gap := 0.0
		if i > 0 {
			gap = c.gap(i - 1)
		}
		at += gap
		r.Sessions = append(r.Sessions, RecordedSession{
			StartMin: at, LengthMin: cs.LengthMin, ClearanceMlMin: cs.ClearanceMlMin,
			GainedL: gain * gap / 1000, LostL: cs.RemovedL - gain*cs.LengthMin/1000,
		})
		at += cs.LengthMin
	}
	last := c.gap(len(c.Sessions) - 1)
	r.LengthMin = at + last
	r.GainedL = gain * last / 1000
	return r, nil
}
