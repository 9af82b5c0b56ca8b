package kinetics

import (
	"fmt"
	"math"

	"ebbline/unit"
)

// A recordedTrack is a recorded stretch cut into pieces of constant rates, each
// with the state it begins in.
type recordedTrack struct {
	pools     *Pools
	record    *Recorded
	pieces    []recordedPiece
	end       PoolLevels
	endVolume float64 // mL
}

type recordedPiece struct {
	poolStretch
	start   float64 // min from the start of the stretch
	session int     // its index, or −1 between sessions
	step    poolStep
	mass    poolMass // at the start
}

func (p *Pools) track(r Recorded) (*recordedTrack, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := r.check(); err != nil {
		return nil, err
	}
	t := &recordedTrack{pools: p, record: &r}
	at, volume := 0.0, r.StartVolumeL*1000
	first := p.stretch(0, 0, volume, 0)
	if !(first.outer > 0 && first.inner > 0) {
		return nil, unit.Refuse("start_volume_l", r.StartVolumeL, "a volume that leaves water in both pools")
	}
	mass := poolMass{r.Start.Outer * first.outer, r.Start.Inner * first.inner}
	add := func(length, clearance, water float64, session int) bool {
		if length <= 0 {
			volume += water // gained in no time, as when two sessions touch
		} else {
			piece := recordedPiece{poolStretch: p.stretch(length, clearance, volume, water/length), start: at, session: session, mass: mass}
			if !(piece.outer > 0 && piece.outer+piece.outerTrend*length > 0 && piece.inner+piece.innerTrend*length > 0) {
				return false
			}
			piece.solve(&piece.step)
			mass, _ = mass.carry(&piece.step, p.GenerationMgMin)
			t.pieces = append(t.pieces, piece)
			volume += water
			at += length
		}
		s := p.stretch(0, 0, volume, 0)
		t.end, t.endVolume = PoolLevels{mass.outer / s.outer, mass.inner / s.inner}, volume
		return s.outer > 0
	}
	for i, s := range r.Sessions {
		if !add(s.StartMin-at, 0, s.GainedL*1000, -1) {
			return nil, unit.Refuse(sessionField(i, "gained_l"), s.GainedL, "an amount that leaves water in both pools")
		}
		at = s.StartMin
		if !add(s.LengthMin, s.ClearanceMlMin, -s.LostL*1000, i) {
			return nil, unit.Refuse(sessionField(i, "lost_l"), s.LostL, "an amount that leaves water in both pools")
		}
		at = s.StartMin + s.LengthMin
	}
	if !add(r.LengthMin-at, 0, r.GainedL*1000, -1) {
		return nil, unit.Refuse("gained_l", r.GainedL, "an amount that leaves water in both pools")
	}
	if !(mass.outer >= 0 && mass.outer <= math.MaxFloat64) {
		return nil, unit.Refuse("start", r.Start.Outer, "levels and times that lead to figures that can be written")
	}
	return t, nil
}

func (r *Recorded) check() error {
	litres := func(v float64) bool { return math.Abs(v) <= mostLitres }
	switch {
	case !(r.LengthMin > 0 && r.LengthMin <= mostMinutes):
		return unit.Refuse("length_min", r.LengthMin, "a length above 0")
	case !(r.StartVolumeL > 0 && r.StartVolumeL <= mostVolumeL+mostLitres):
		return unit.Refuse("start_volume_l", r.StartVolumeL, "a volume above 0")
	case !(r.Start.Outer >= 0 && r.Start.Outer <= mostLevel):
		return unit.Refuse("start.outer", r.Start.Outer, "a level of 0 or more")
	case !(r.Start.Inner >= 0 && r.Start.Inner <= mostLevel):
		return unit.Refuse("start.inner", r.Start.Inner, "a level of 0 or more")
	case !litres(r.GainedL):
		return unit.Refuse("gained_l", r.GainedL, "an amount of water")
	}
	before := 0.0
	for i, s := range r.Sessions {
		switch {
		case !(s.StartMin >= before):
			return unit.Refuse(sessionField(i, "start_min"), s.StartMin, fmt.Sprintf("a time at or after %g min, when the one before has ended", before))
		case !(s.LengthMin > 0):
			return unit.Refuse(sessionField(i, "length_min"), s.LengthMin, "a length above 0")
		case !(s.StartMin+s.LengthMin <= r.LengthMin):
			return unit.Refuse(sessionField(i, "length_min"), s.LengthMin, "a session that ends within the stretch")
		case !(s.ClearanceMlMin >= 0 && s.ClearanceMlMin <= mostClearance):
			return unit.Refuse(sessionField(i, "clearance_ml_min"), s.ClearanceMlMin, "a clearance of 0 or more")
		case !litres(s.GainedL):
			return unit.Refuse(sessionField(i, "gained_l"), s.GainedL, "an amount of water")
		case !(litres(s.LostL) && math.Abs(s.LostL)/s.LengthMin <= mostFlow/1000):
			return unit.Refuse(sessionField(i, "lost_l"), s.LostL, "an amount of water that can be lost in that time")
		}
		before = s.StartMin + s.LengthMin
	}
	return nil
}

// levels gives what the session of piece i did.
func (t *recordedTrack) levels(i int) Levels {
	piece := &t.pieces[i]
	g := t.pools.GenerationMgMin
	session := &t.record.Sessions[piece.session]
	post, drawn := piece.mass.carry(&piece.step, g)
	end := t.pools.stretch(0, 0, piece.outer+piece.inner+(piece.outerTrend+piece.innerTrend)*piece.length, 0)
	volume := end.outer + end.inner
	l := Levels{
		StartMin: session.StartMin,
		Pre:      piece.mass.outer / piece.outer, Post: post.outer / end.outer,
		PreInner: piece.mass.inner / piece.inner, PostInner: post.inner / end.inner,
		Mixed:      (post.outer + post.inner) / volume,
		Rebound60:  t.at(piece.start + piece.length + reboundMin).Outer,
		PreVolumeL: (piece.outer + piece.inner) / 1000, PostVolumeL: volume / 1000,
		RemovedMg: session.ClearanceMlMin * drawn,
	}
	l.doses(&piece.poolStretch, &piece.step, piece.mass, session.ClearanceMlMin, g)
	return l
}

// at gives the levels at a time. Past the end of the stretch the model goes on
// with no session and nothing gained.
func (t *recordedTrack) at(minute float64) PoolLevels {
	levels, _ := t.point(minute)
	return levels
}

// point gives the levels and the volume, mL, at a time.
func (t *recordedTrack) point(minute float64) (PoolLevels, float64) {
	for i := range t.pieces {
		piece := &t.pieces[i]
		if minute < piece.start+piece.length {
			part := piece.upTo(minute - piece.start)
			return part.end(t.pools.GenerationMgMin)
		}
	}
	past := minute - t.record.LengthMin
	if past <= 0 {
		return t.end, t.endVolume
	}
	last := recordedPiece{poolStretch: t.pools.stretch(past, 0, t.endVolume, 0)}
	last.mass = poolMass{t.end.Outer * last.outer, t.end.Inner * last.inner}
	last.solve(&last.step)
	return last.end(t.pools.GenerationMgMin)
}

// upTo is the first minutes of a piece.
func (p *recordedPiece) upTo(minutes float64) recordedPiece {
	part := *p
	part.length = max(minutes, 0)
	if part.length == 0 {
		part.step = poolStill
		return part
	}
	part.solve(&part.step)
	return part
}

// end gives the levels and the volume at the end of a piece.
func (p *recordedPiece) end(generation float64) (PoolLevels, float64) {
	mass, _ := p.mass.carry(&p.step, generation)
	outer, inner := p.outer+p.outerTrend*p.length, p.inner+p.innerTrend*p.length
	return PoolLevels{mass.outer / outer, mass.inner / inner}, outer + inner
}
