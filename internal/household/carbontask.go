package household

import (
	"fmt"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// CarbonTask is a first carbon that let chlorine through, until it is changed or
// put away as followed up.
type CarbonTask struct {
	record.CarbonFailure           // the latest
	Since                time.Time // the first
	Times                int
	Owner                string // who sees to it: the person of that session
	Due                  unit.Date
	Late                 bool
	Who                  string // whom to ring
	Phone                string
}

// carbonWithin is how soon a first carbon that lets chlorine through is changed,
// while the water behind the second is tested at each session: within 72 hours
// (AAMI RD52, from memory).
const carbonWithin = 72 * time.Hour

// FailedCarbon gives the task of the first carbon, and false where there is none.
func FailedCarbon(h *record.Household, now time.Time) (CarbonTask, bool) {
	failed := h.CarbonFailures(now)
	if len(failed) == 0 {
		return CarbonTask{}, false
	}
	last := failed[len(failed)-1]
	t := CarbonTask{CarbonFailure: last, Since: failed[0].At, Times: len(failed), Due: unit.DateOf(failed[0].At.Add(carbonWithin))}
	t.Late = t.Due.Before(unit.DateOf(now))
	if p, ok := h.Member(last.Person).Person.Now(); ok {
		t.Owner = p.Name
	}
	u, _ := h.Unit.Now()
	switch t.Who = "technician"; {
	case u.Technician != "":
		t.Phone = u.Technician
	case u.Day != "":
		t.Who, t.Phone = "unit", u.Day
	default:
		t.Who, t.Phone = "unit", "no number is written down"
	}
	return t, true
}

// What says what was found and what is to be done.
func (t CarbonTask) What() string {
	times := ""
	if t.Times > 1 {
		times = fmt.Sprintf(", %d times since %s", t.Times, unit.DateOf(t.Since).Long())
	}
	return fmt.Sprintf("The first carbon let chlorine through: %s on %s, limit %s%s. Have it changed. Until then test after the second carbon too, at each session.",
		t.Result.Text(), unit.DateOf(t.At).Long(), t.Limit, times)
}

// obstacle is the task as Today says it.
func (t CarbonTask) obstacle() Obstacle {
	return Obstacle{Words: fmt.Sprintf("%s %s, by %s. Ring the %s: %s.", t.What(), t.Owner, t.Due.Long(), t.Who, t.Phone), Do: "See to it", Part: "round/water", Task: true}
}
