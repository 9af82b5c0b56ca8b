package household

import (
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// ultrapureRemarks say, where somebody's order is of haemodiafiltration, which figures of
// the water are not known to be those of ultrapure water.
func ultrapureRemarks(h *record.Household, now time.Time) (list []unit.Caution) {
	if !h.Filtered(unit.DateOf(now)) {
		return nil
	}
	for _, i := range h.Upkeep.ImpureAt(now) {
		list = append(list, unit.Caution{Code: "not_ultrapure", Text: i.Words()})
	}
	return list
}

// impureObstacles are those over the limit, before the next session of somebody whose own
// order it is.
func impureObstacles(h *record.Household, m *record.Member, now time.Time) (list []Obstacle) {
	if m == nil {
		return nil
	}
	rx := m.Prescription(unit.DateOf(now))
	if rx == nil || !rx.Value.ByFiltration() {
		return nil
	}
	for _, i := range h.Upkeep.ImpureAt(now) {
		if i.Over() {
			list = append(list, Obstacle{Words: i.Words() + " Ring your unit.", Do: "See the water", Part: "round/water", Stop: true})
		}
	}
	return list
}
