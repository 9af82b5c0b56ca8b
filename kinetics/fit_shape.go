package kinetics

import "ebbline/unit"

// A Shape is what is taken as known of a person while the volume and the
// generation are looked for.
type Shape struct {
	ExtracellularFraction float64
	Fluid                 FluidFrom
	ResidualMlMin         float64

	// The transfer between the pools: one of the two, above 0. In proportion to
	// the volume is the better guess for a person whose transfer nobody
	// measured; see [UsualTransferPerLitre].
	TransferMlMin     float64
	TransferMlMinPerL float64
}

// UsualShape is the shape taken when nothing was measured: a third of the
// water outside the cells, the fluid from there, and the usual transfer.
func UsualShape(residualMlMin float64) Shape {
	return Shape{
		ExtracellularFraction: UsualExtracellularFraction,
		ResidualMlMin:         residualMlMin,
		TransferMlMinPerL:     UsualTransferPerLitre,
	}
}

// Pools is the person of this shape with a volume and a generation.
func (s Shape) Pools(volumeL, generationMgMin float64) Pools {
	p := Pools{
		VolumeL: volumeL, ExtracellularFraction: s.ExtracellularFraction, Fluid: s.Fluid,
		GenerationMgMin: generationMgMin, ResidualMlMin: s.ResidualMlMin, TransferMlMin: s.TransferMlMin,
	}
	if s.TransferMlMinPerL > 0 {
		p.TransferMlMin = s.TransferMlMinPerL * volumeL
	}
	return p
}

func (s Shape) check() error {
	if !(s.TransferMlMinPerL >= 0 && s.TransferMlMinPerL <= mostTransfer/mostVolumeL) {
		return unit.Refuse("transfer_ml_min_per_l", s.TransferMlMinPerL, "a transfer of 0 or more")
	}
	if s.TransferMlMin != 0 && s.TransferMlMinPerL != 0 {
		return unit.Refuse("transfer_ml_min_per_l", s.TransferMlMinPerL, "either this or transfer_ml_min, not both")
	}
	p := s.Pools(1, 1)
	return p.checkShape()
}
