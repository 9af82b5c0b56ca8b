package session

import (
	"ebbline/unit"
	"ebbline/water"
)

// FluidTold says of a conductivity and a temperature of the dialysis fluid which is
// too far out to go on with, by the rule that opens [TroubleFluid]: the fluid is too
// hot over [water.FluidHot], and wrong by [water.Conductivity] beside what the
// prescription sets. Either may be nil.
func FluidTold(s *Session, conduct *unit.Conductivity, temp *unit.Temperature) (wrong, hot bool) {
	if conduct != nil {
		var set *unit.Conductivity
		if s.Rx != nil {
			set = s.Rx.SetConduct
		}
		wrong = water.Conductivity(*conduct, set, nil).FluidStanding == water.FluidWrong
	}
	return wrong, temp != nil && water.TooHot(*temp)
}
