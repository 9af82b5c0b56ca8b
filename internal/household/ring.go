package household

import (
	"slices"
	"time"

	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
)

// The hours in which a unit's day number stands before its night number, where
// both are shown. Ours: nobody has written down when whose telephone is manned, so
// the other one always stands beside it.
const (
	dayFrom  = 7
	dayUntil = 19
)

// RingFirst lists the numbers that there are in the order in which to ring them
// when something is wrong: first whom the unit set for it (a Ring of
// [session.TroubleType]), then the others. The technician, who mends the machine, is
// there only where first. Of the unit's own two numbers that of the hour stands
// first; at the zero time, as on paper, that of the day.
func RingFirst(u record.KidneyUnit, first string, at time.Time) []report.Phone {
	ambulance, technician := report.Phone{Who: "Ambulance", Number: u.Ambulance}, report.Phone{Who: "Technician", Number: u.Technician}
	unit := []report.Phone{{Who: "Unit, by day", Number: u.Day}, {Who: "Unit, at night", Number: u.Night}}
	if !at.IsZero() && (at.Hour() < dayFrom || at.Hour() >= dayUntil) {
		slices.Reverse(unit)
	}
	var list []report.Phone
	switch first {
	case session.RingUnit:
		list = append(unit, ambulance)
	case session.RingTechnician:
		list = append(append([]report.Phone{technician}, unit...), ambulance)
	default:
		list = append([]report.Phone{ambulance}, unit...)
	}
	return slices.DeleteFunc(list, func(p report.Phone) bool { return p.Number == "" })
}

// Rings returns whom one trouble is rung about first: as the person's unit set it, else
// as it is with every unit.
func Rings(m *record.Member, t session.TroubleType) string {
	if own := m.StepsFor(t.Code); own != nil && own.Value.Ring != "" {
		return own.Value.Ring
	}
	return t.Ring
}
