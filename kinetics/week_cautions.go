package kinetics

import (
	"fmt"

	"ebbline/unit"
)

// CycleCautions says what must be said beside the steady state of a cycle.
func CycleCautions(c Cycle, s Steady) []unit.Caution {
	var list []unit.Caution
	lacking, soon := 0, 0
	for i, l := range s.Sessions {
		if !(l.SpKtV.Exists && l.EKtV.Exists && l.EKtV60.Exists) {
			lacking++
		}
		if c.gap(i) < reboundMin && len(c.Sessions) > 1 {
			soon++
		}
	}
	if lacking > 0 {
		list = append(list, unit.Caution{Code: "no_single_pool", Text: fmt.Sprintf(
			"In %d of %d sessions a Kt/V is left out: no single well-mixed pool goes from the level before to the one after. That happens when sessions follow each other closely or one has almost no clearance.",
			lacking, len(s.Sessions))})
	}
	if soon > 0 {
		list = append(list, unit.Caution{Code: "rebound_in_next_session", Text: fmt.Sprintf(
			"After %d of %d sessions the next one begins within the hour; the level 60 minutes after is then one during that session.",
			soon, len(s.Sessions))})
	}
	return list
}
