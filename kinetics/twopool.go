package kinetics

import (
	"fmt"

	"ebbline/unit"
)

// FluidFrom says which pool gives the fluid that is removed and takes up the
// fluid that is gained.
type FluidFrom int

const (
	// FromExtracellular keeps the water inside the cells constant.
	FromExtracellular FluidFrom = iota
	// FromBoth keeps the share of each pool constant. Water that crosses
	// between the pools carries no urea.
	FromBoth
	// FromBothCarrying is FromBoth with water that carries the urea of the side
	// it leaves.
	FromBothCarrying
)

// Pools is what the two-pool urea model needs to know of a person.
//
// Urea is counted as urea nitrogen, mg/mL (1 mg/mL is 100 mg/dL of BUN and
// 35.7 mmol/L of urea). The outer pool, which the blood samples, holds the
// share ExtracellularFraction of the water; the rest is the inner pool:
//
//	d(Vo·Co)/dt = G − (K + Kr)·Co + Kc·(Ci − Co)
//	d(Vi·Ci)/dt =                 − Kc·(Ci − Co)
//
// with K the clearance of the dialyser (0 between sessions), Kr the residual
// clearance, Kc the transfer between the pools and G the generation.
//
// Volumes are taken from 0.01 to 10,000 L, fractions from 0.001 to 0.999,
// generations above 0 up to 1e6 mg/min, residual clearances from 0 to 100,000
// mL/min and transfers above 0 up to 1e13 mL/min. Anything else is refused
// with a [*unit.InputError].
//
// Source: Schneditz D, Daugirdas JT, ASAIO J 1994;40:M667–73, for the pools;
// Gotch FA, Sargent JA, Kidney Int 1985;28:526–34, for the variable volume
// (both from memory).
type Pools struct {
	VolumeL               float64   // total urea volume where it is lowest in the cycle
	ExtracellularFraction float64   // of VolumeL; usually one third (from memory)
	Fluid                 FluidFrom // where the fluid comes from
	GenerationMgMin       float64   // urea nitrogen made, mg/min
	ResidualMlMin         float64   // the kidneys' own clearance
	TransferMlMin         float64   // between the pools; some 16 mL/min per litre of volume (from memory)
}

// UsualExtracellularFraction is the share of the urea volume outside the
// cells that is taken when nobody measured it (from memory).
const UsualExtracellularFraction = 1.0 / 3

// UsualTransferPerLitre is the transfer between the pools, mL/min per litre of
// urea volume, that is taken when nobody measured it (from memory; published
// figures run from 14 to 26).
const UsualTransferPerLitre = 16.0

func (p *Pools) check() error {
	switch {
	case !(p.VolumeL >= leastVolumeL && p.VolumeL <= mostVolumeL):
		return unit.Refuse("urea_volume_l", p.VolumeL, "a volume from 0.01 to 10,000 L")
	case !(p.GenerationMgMin > 0 && p.GenerationMgMin <= mostGeneration):
		return unit.Refuse("generation_mg_min", p.GenerationMgMin, "a rate above 0, up to 1e6 mg/min")
	}
	return p.checkShape()
}

// checkShape checks all but the two that an inverse looks for.
func (p *Pools) checkShape() error {
	switch {
	case !(p.ExtracellularFraction >= leastFraction && p.ExtracellularFraction <= mostFraction):
		return unit.Refuse("extracellular_fraction", p.ExtracellularFraction, "a fraction from 0.001 to 0.999")
	case p.Fluid < FromExtracellular || p.Fluid > FromBothCarrying:
		return unit.Refuse("fluid_from", int(p.Fluid), "FromExtracellular, FromBoth or FromBothCarrying")
	case !(p.ResidualMlMin >= 0 && p.ResidualMlMin <= mostClearance):
		return unit.Refuse("residual_clearance_ml_min", p.ResidualMlMin, "a clearance from 0 to 100,000 mL/min")
	case !(p.TransferMlMin > 0 && p.TransferMlMin <= mostTransfer):
		return unit.Refuse("transfer_ml_min", p.TransferMlMin, "a transfer above 0, up to 1e13 mL/min")
	}
	return nil
}

// stretch is a stretch of the model that starts at a total volume of volume
// mL which grows by trend mL/min.
func (p *Pools) stretch(length, clearance, volume, trend float64) (s poolStretch) {
	s.length, s.removal = length, clearance+p.ResidualMlMin
	s.transfer, s.outward, s.inward = p.TransferMlMin, p.TransferMlMin, p.TransferMlMin
	s.outer, s.inner = p.pools(volume)
	s.outerTrend = trend
	if p.Fluid == FromExtracellular {
		return s
	}
	s.together = true
	s.outerTrend = p.ExtracellularFraction * trend
	s.innerTrend = trend - s.outerTrend
	if p.Fluid == FromBothCarrying {
		s.outward += max(0, -s.innerTrend)
		s.inward += max(0, s.innerTrend)
	}
	return s
}

// pools splits a total volume, mL, into the two.
func (p *Pools) pools(volume float64) (outer, inner float64) {
	if p.Fluid != FromExtracellular {
		outer = p.ExtracellularFraction * volume
		return outer, volume - outer
	}
	inner = (1 - p.ExtracellularFraction) * p.VolumeL * 1000
	return volume - inner, inner
}

// poolMass is the urea nitrogen in the two pools, mg.
type poolMass struct{ outer, inner float64 }

// carry takes the masses through a step and gives the outer pool's area too.
func (m poolMass) carry(s *poolStep, generation float64) (after poolMass, area float64) {
	return poolMass{
		outer: s.oo*m.outer + s.oi*m.inner + s.og*generation,
		inner: s.io*m.outer + s.ii*m.inner + s.ig*generation,
	}, s.ao*m.outer + s.ai*m.inner + s.ag*generation
}

func sessionField(i int, name string) string { return fmt.Sprintf("sessions[%d].%s", i, name) }
