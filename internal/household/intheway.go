package household

import (
	"fmt"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// An Obstacle is something of water, machine or shelf that stands in the way of
// the next session, and where it is seen to.
type Obstacle struct {
	Words string
	Do    string
	Part  string // of the pages: round, round/water, shelf
	Task  bool   // it is the task of a water result, which Round and Water show whole
	Stop  bool   // it will stand at the start line, or the session cannot be held
}

// StandsInTheWay lists what of water, machine and shelf the next session of a
// person waits for, the gravest first, and nothing that can wait until after it:
// that stands among [Errands].
func StandsInTheWay(h *record.Household, m *record.Member, now time.Time) []Obstacle {
	var stops, others []Obstacle
	add := func(o Obstacle) {
		if o.Stop {
			stops = append(stops, o)
		} else {
			others = append(others, o)
		}
	}
	for _, t := range taskObstacles(h, m, now) {
		if t.presses {
			add(t.Obstacle)
		}
	}
	for _, o := range impureObstacles(h, m, now) {
		add(o)
	}
	if t, failed := FailedCarbon(h, now); failed {
		add(t.obstacle())
	}
	disinfect := false // said already
	for _, r := range Round(h, m, now) {
		switch {
		case r.State != water.Due || r.Never && r.Round.Status != water.Given:
		case r.Round.StartLine:
			disinfect = disinfect || r.Round.ID == "heat"
			add(Obstacle{Words: r.Round.Name + ": " + r.Left + ".", Do: "Write it down", Part: "round", Stop: true})
		case r.Round.ID == "bloods" && r.Overdue && !r.Never:
			add(Obstacle{Words: "Bloods are due: " + r.Left + ". Before heparin and saline.", Do: "See what is due", Part: "round"})
		}
	}
	switch words, rinse := residueWanted(h, m); {
	case words == "":
	case rinse:
		add(Obstacle{Words: words, Do: "Write the rinse down", Part: "round/done/rinse", Stop: true})
	default:
		add(Obstacle{Words: words, Do: "Write the test down", Part: "round/residual", Stop: true})
	}
	if rule := machineIdle(m, now); rule != "" && !disinfect {
		add(Obstacle{Words: rule, Do: "Write it down", Part: "round", Stop: true})
	}
	for _, c := range water.Doubts(noticesAt(h, now), unit.DateOf(now)) {
		add(Obstacle{Words: c.Text, Do: "See the water", Part: "round/water"})
	}
	for _, r := range Shelf(h, now).Rows {
		if r.Reckoned && r.Forecast.SessionsLeft == 0 {
			held := ""
			if len(r.Held) > 0 {
				held = " What lies there is set aside."
			}
			add(Obstacle{Words: r.Item + ": not enough on the shelf for the next session." + held, Do: "See the shelf", Part: "shelf", Stop: true})
		}
	}
	return append(stops, others...)
}

// taskObstacle is the task of a water result, and whether it is to be seen to
// before the next session ends: it is over a limit, or its day comes by then.
type taskObstacle struct {
	Obstacle
	presses bool
}

func taskObstacles(h *record.Household, m *record.Member, now time.Time) []taskObstacle {
	next := nextDay(m, now)
	var list []taskObstacle
	for _, t := range WaterTasks(h, now) {
		words := "A water result waits to be seen to"
		if t.Over() {
			words = "A water result is over its limit"
		}
		list = append(list, taskObstacle{Obstacle{Words: fmt.Sprintf("%s: %s, by %s. Your unit: %s.", words, t.Result.Value.Owner, t.Due.Long(), t.Phone), Do: "See to it", Part: "round/water", Task: true, Stop: t.Over()},
			t.Over() || !next.Before(t.Due)})
	}
	return list
}

// nextDay is the day of the next session, or today where none is known or it is
// overdue.
func nextDay(m *record.Member, now time.Time) unit.Date {
	today := unit.DateOf(now)
	if m != nil {
		if due, ok := NextDue(m, now); ok && today.Before(due.Day) {
			return due.Day
		}
	}
	return today
}

// Errands lists what stands in nobody's way yet and must not be forgotten: a
// result that waits, a sample that is late, a limit that is coming, an order that
// should go out, a delivery that has not come.
func Errands(h *record.Household, m *record.Member, now time.Time) []Obstacle {
	var list []Obstacle
	for _, t := range taskObstacles(h, m, now) {
		if !t.presses {
			list = append(list, t.Obstacle)
		}
	}
	for _, c := range LateSamples(h, now) {
		list = append(list, Obstacle{Words: c.Text, Do: "See the samples", Part: "round/water#samples"})
	}
	for _, c := range LimitsComing(h, m, now) {
		list = append(list, Obstacle{Words: c.Text, Do: "See its course", Part: "round/water#courses"})
	}
	v := Shelf(h, now)
	for _, w := range v.Waiting {
		if w.Late {
			list = append(list, Obstacle{Words: "The delivery of " + w.Value.For.Long() + " has not come, or was not written down.", Do: "See the shelf", Part: "shelf"})
		}
	}
	if d := v.DraftOrder(unit.DateOf(now)); d.State == water.Due {
		list = append(list, Obstacle{Words: "An order should go out by " + d.By.Long() + " for the delivery of " + d.For.Long() + ".", Do: "See the order", Part: "shelf/order"})
	}
	return list
}

// residueWanted says why the next start waits for a residue test or a rinse, and
// whether the rinse comes next; it is empty where it waits for neither.
func residueWanted(h *record.Household, m *record.Member) (words string, rinse bool) {
	if m == nil || m.Open() != nil {
		return "", false // the start line tells it there
	}
	if _, described := h.Machine.Now(); !described {
		return "", false // that comes first
	}
	return session.ResidueWanted(m.History(nil))
}

// machineIdle says that the machine has stood longer than the unit lets it, or was
// not disinfected since the last session, where the unit has said how long it may
// stand.
func machineIdle(m *record.Member, now time.Time) string {
	if m == nil || m.Open() != nil {
		return "" // the start line tells it there
	}
	care := m.History(nil)
	switch {
	case care.Idle.SetBy == "" || care.New:
		return ""
	case care.Cleaned == nil:
		return "No disinfection of the machine is written since the last session, and " + care.Idle.SetBy + " set how long it may stand."
	}
	stood := now.Sub(care.CleanedAt)
	if stood <= care.Idle.Longest {
		return ""
	}
	return fmt.Sprintf("The machine has stood for %d hours since its disinfection; %s set %d.", int(stood/time.Hour), care.Idle.SetBy, int(care.Idle.Longest/time.Hour))
}
