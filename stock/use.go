package stock

import (
	"math"

	"ebbline/unit"
)

// A Use is how an item is used up.
type Use struct {
	PerSession unit.Pieces `json:"per_session"`
	PerWeek    unit.Pieces `json:"per_week,omitempty"`  // whatever the number of sessions
	PerCycle   unit.Pieces `json:"per_cycle,omitempty"` // of disinfection
	Spare      float64     `json:"spare,omitempty"`     // factor for spares and failed set-ups, 1 to 3; 0 is taken as 1; see [SpareFactor]
}

// Effective spreads all kinds of use over the sessions of a week:
//
//	(per session + per week / sessions + per cycle × cycles / sessions) × spare
//
// rounded up to a millionth of a piece. It needs sessionsPerWeek above 0 up to
// 14, cyclesPerWeek from 0 to 28, no negative use and a result above 0.
func (u Use) Effective(sessionsPerWeek, cyclesPerWeek float64) (unit.Pieces, error) {
	spare := u.Spare
	if spare == 0 {
		spare = 1
	}
	switch {
	case !(sessionsPerWeek > 0 && sessionsPerWeek <= 14):
		return 0, unit.Refuse("sessions_per_week", sessionsPerWeek, "a number above 0, up to 14")
	case !(cyclesPerWeek >= 0 && cyclesPerWeek <= 28):
		return 0, unit.Refuse("cycles_per_week", cyclesPerWeek, "a number from 0 to 28")
	case u.PerSession < 0 || u.PerWeek < 0 || u.PerCycle < 0:
		return 0, unit.Refuse("per_session", u.PerSession, "no negative use")
	case !(spare >= 1 && spare <= 3):
		return 0, unit.Refuse("spare", spare, "a factor from 1 to 3")
	}
	v := (float64(u.PerSession) + (float64(u.PerWeek)+float64(u.PerCycle)*cyclesPerWeek)/sessionsPerWeek) * spare
	n := unit.Pieces(math.Ceil(v - 1e-6)) // a rounding in binary is not a millionth more
	if n <= 0 {
		return 0, unit.Refuse("per_session", n, "some use per session, week or cycle")
	}
	return n, nil
}
