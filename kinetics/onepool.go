package kinetics

import (
	"math"

	"ebbline/unit"
)

// OnePool is one well-mixed pool of urea over a time of constant rates: a
// session, or the time between two sessions.
//
//	V·dC/dt = G − E·C,   V = V0 + s·t,   E = K + Kr + s
//
// with s the trend of the volume: negative while fluid is removed faster than
// it is gained.
type OnePool struct {
	VolumeL         float64 // at the start
	TrendMlMin      float64 // of the volume
	ClearanceMlMin  float64 // dialyser and residual together
	GenerationMgMin float64
	LengthMin       float64
}

// After gives the concentration at the end from the one at the start:
//
//	C = (C0 − G/E)·(V1/V0)^(−E/s) + G/E
//
// with the limits of that where E or s is 0. The volume must stay above 0,
// clearance and generation be 0 or more, and the length and the concentration
// be 0 or more; anything else is refused.
//
// Source: Gotch FA, Sargent JA, Kidney Int 1985;28:526–34, variable-volume
// single-pool model (from memory; checked against an integration).
func (p OnePool) After(startMgMl float64) (float64, error) {
	volume := p.VolumeL * 1000
	end := volume + p.TrendMlMin*p.LengthMin
	switch {
	case !(p.VolumeL > 0 && p.VolumeL <= mostVolumeL):
		return 0, unit.Refuse("volume_l", p.VolumeL, "a volume above 0")
	case !(p.LengthMin >= 0 && p.LengthMin <= mostMinutes):
		return 0, unit.Refuse("length_min", p.LengthMin, "a length of 0 or more")
	case !(end > 0 && end <= math.MaxFloat64):
		return 0, unit.Refuse("trend_ml_min", p.TrendMlMin, "a trend that leaves a volume above 0 at the end")
	case !(p.ClearanceMlMin >= 0 && p.ClearanceMlMin <= mostClearance):
		return 0, unit.Refuse("clearance_ml_min", p.ClearanceMlMin, "a clearance of 0 or more")
	case !(p.GenerationMgMin >= 0 && p.GenerationMgMin <= mostGeneration):
		return 0, unit.Refuse("generation_mg_min", p.GenerationMgMin, "a generation of 0 or more")
	case !(startMgMl >= 0 && startMgMl <= mostLevel):
		return 0, unit.Refuse("start_mg_ml", startMgMl, "a concentration of 0 or more")
	}
	return p.after(startMgMl), nil
}

func (p OnePool) after(start float64) float64 {
	volume := p.VolumeL * 1000
	tau := p.LengthMin / volume * logRatio(p.TrendMlMin*p.LengthMin/volume) // ∫dt/V
	x := (p.ClearanceMlMin + p.TrendMlMin) * tau
	if x < 0 { // removal of fluid beyond the clearance: the level climbs
		return start*math.Exp(-x) + p.GenerationMgMin*tau*expGrowth(-x)
	}
	return start*math.Exp(-x) + p.GenerationMgMin*tau*expGap(x)
}

// expGrowth returns (e^x − 1)/x, which is 1 at 0.
func expGrowth(x float64) float64 {
	if math.Abs(x) < 1e-8 {
		return 1 + x/2
	}
	return math.Expm1(x) / x
}

// A KtV is a Kt/V that may not exist.
type KtV struct {
	Value  float64 // 0 when it does not exist
	Exists bool
}

// A singlePoolFall is the question of which single pool goes from one level to
// another in a session.
type singlePoolFall struct {
	clearance  float64 // of the dialyser, mL/min
	length     float64 // min
	trend      float64 // of the volume, mL/min
	excess     float64 // E = clearance + residual + trend
	generation float64 // mg/min
}

// ktv gives K·t/V′ with V′ the volume at the end of the session of the one
// well-mixed pool that falls by fall to a level where E·C − G is rest.
//
// With τ = ∫dt/V over the session the pool goes as
// E·C − G ∝ e^(−E·τ), so τ = ln(1 + E·fall/rest)/E; and V′ = −s·t/(e^(−s·τ) − 1).
// No search is needed. The pool exists when fall and rest have the same sign:
// the level then lies between the start and where it would settle.
func (f *singlePoolFall) ktv(fall, rest float64) KtV {
	if f.clearance == 0 {
		return KtV{0, true}
	}
	slope := fall / rest
	if !(slope > 0 && 1+f.excess*slope > 0) {
		return KtV{}
	}
	return f.after(slope * logRatio(f.excess*slope))
}

// after is the Kt/V of the pool whose ∫dt/V over the session is tau.
func (f *singlePoolFall) after(tau float64) KtV {
	v := f.clearance * tau * expGrowth(-f.trend*tau)
	if !(v > 0 && v <= math.MaxFloat32) {
		return KtV{}
	}
	return KtV{v, true}
}
