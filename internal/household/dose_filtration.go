package household

import (
	"ebbline/session"
	"ebbline/unit"
)

// convectionCaution says of a dose that is worked out by flows what it leaves out in
// haemodiafiltration: what the substitution fluid carries along. The clearance by KoA is
// that of diffusion, with what the removal carries along. None where the order is of
// haemodialysis, or where the clearance came from the bloods, which have all of it.
func convectionCaution(rx *session.Prescription, from ClearanceSource) []unit.Caution {
	if !rx.ByFiltration() || from != FromKoA {
		return nil
	}
	return []unit.Caution{{Code: "convection_not_counted", Text: "Haemodiafiltration: what the substitution fluid clears is not counted here, " +
		"since the clearance is worked out from KoA and flows. The figures may read low. Go by the bloods."}}
}
