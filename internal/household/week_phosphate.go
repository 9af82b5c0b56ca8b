package household

import (
	"fmt"
	"math"

	"ebbline/kinetics"
)

// The quartiles of the clearance by which the body's stores refill the blood
// with phosphate, mL/min.
//
// Source: Leypoldt et al., Kidney Int 2013 (abstract read).
const (
	slowStores = 65.0
	fastStores = 116.0
)

// phosphateShare is the KoA of a dialyser for phosphate as a share of that for
// urea: some half (from memory; our assumption, since the prescription does not
// say it).
const phosphateShare = 0.5

// phosphate compares how much phosphate two weeks clear. In a steady week the
// phosphate before sessions goes as the load over the litres cleared, so the
// ratio says how it would move with food and binders as they are.
func (b *WeekBook) phosphate(w Week) Phosphate {
	ratio := func(stores float64) (float64, bool) {
		now, ok := b.clearedPhosphate(b.Now, stores)
		then, also := b.clearedPhosphate(w, stores)
		return now / then, ok && also && then > 0
	}
	mid, ok := ratio(kinetics.MobilisationMlMin)
	one, ok1 := ratio(slowStores)
	two, ok2 := ratio(fastStores)
	if !ok || !ok1 || !ok2 {
		return Phosphate{}
	}
	p := Phosphate{Has: true, Relative: mid, Low: min(one, two, mid), High: max(one, two, mid)}
	switch change := 100 * (mid - 1); {
	case math.Abs(change) < 3:
		p.Says = "about as now"
	case change < 0:
		p.Says = fmt.Sprintf("about %.0f %% lower", -change)
	default:
		p.Says = fmt.Sprintf("about %.0f %% higher", change)
	}
	return p
}

// clearedPhosphate is the litres of blood that the sessions of a week clear of
// phosphate.
func (b *WeekBook) clearedPhosphate(w Week, stores float64) (float64, bool) {
	volume, err := kinetics.PhosphateVolume(b.Dry)
	if err != nil {
		return 0, false
	}
	k, ok := b.phosphateClearance(w)
	if !ok {
		return 0, false
	}
	sum := 0.0
	for _, gap := range w.gaps() {
		s := kinetics.PhosphateSession{
			PreMmolL: 1.6, MobilisationMl: stores, VolumeL: volume, Clearance: k,
			RemovedL: b.GainLH * gap / 60, LengthMin: w.LengthMin,
		}
		c, err := s.Course()
		if err != nil {
			return 0, false
		}
		sum += c.ClearedL
	}
	return sum / w.cycleMin() * 10080, true
}

// phosphateClearance takes the plasma water that passes the dialyser and half
// its KoA for urea; without a KoA, six tenths of the clearance of urea (from
// memory).
func (b *WeekBook) phosphateClearance(w Week) (float64, bool) {
	if w.KoA == 0 || w.Dialysate == 0 {
		k, err := b.clearance(w, 0)
		return 0.6 * k, err == nil
	}
	flow, err := kinetics.PlasmaWaterFlow(w.BloodFlow, b.Hct)
	if err != nil {
		return 0, false
	}
	k, err := kinetics.DiffusiveClearance(phosphateShare*kinetics.InVivoShare*w.KoA, flow, w.Dialysate)
	return k.Value, err == nil
}
