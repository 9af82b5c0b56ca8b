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
	of, others := RingOrder(u, first, at)
	return append(of, others...)
}

// RingOrder is the same list in two: the numbers of whom first names, and those to
// try after them.
func RingOrder(u record.KidneyUnit, first string, at time.Time) (of, others []report.Phone) {
	ambulance, technician := []report.Phone{ambulanceOf(u)}, []report.Phone{technicianOf(u)}
	unit := unitsOwn(u)
	if !at.IsZero() && (at.Hour() < dayFrom || at.Hour() >= dayUntil) {
		slices.Reverse(unit)
	}
	switch first {
	case session.RingUnit:
		of, others = unit, ambulance
	case session.RingTechnician:
		of, others = technician, append(unit, ambulance...)
	default:
		of, others = ambulance, unit
	}
	return there(of), there(others)
}

func ambulanceOf(u record.KidneyUnit) report.Phone {
	return report.Phone{Who: "Ambulance", Number: u.Ambulance}
}

func technicianOf(u record.KidneyUnit) report.Phone {
	return report.Phone{Who: "Technician", Number: u.Technician}
}

func unitsOwn(u record.KidneyUnit) []report.Phone {
	return []report.Phone{{Who: "Unit, by day", Number: u.Day}, {Who: "Unit, at night", Number: u.Night}}
}

// there leaves out the numbers that nobody wrote down.
func there(list []report.Phone) []report.Phone {
	return slices.DeleteFunc(list, func(p report.Phone) bool { return p.Number == "" })
}

// Rings returns whom one trouble is rung about first: as the person's unit set it, else
// as it is with every unit. A technician whose number nobody wrote down is not rung: then
// it is as with every unit too.
func Rings(h *record.Household, m *record.Member, t session.TroubleType) string {
	own := m.StepsFor(t.Code)
	if own == nil || own.Value.Ring == "" {
		return t.Ring
	}
	if u, _ := h.Unit.Now(); own.Value.Ring == session.RingTechnician && u.Technician == "" {
		return t.Ring
	}
	return own.Value.Ring
}
