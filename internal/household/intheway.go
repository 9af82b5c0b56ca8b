package household

import (
	"fmt"
	"time"

	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

// An Obstacle is something of water, machine or shelf that stands in the way of
// the next session, and where it is seen to.
type Obstacle struct {
	Words string
	Do    string
	Part  string // of the pages: round, round/water, shelf
	Stop  bool   // it will stand at the start line, or the session cannot be held
}

// StandsInTheWay lists what of water, machine and shelf the next session of a
// person waits for, the gravest first, and nothing that can wait.
func StandsInTheWay(h *record.Household, m *record.Member, now time.Time) []Obstacle {
	var stops, others []Obstacle
	add := func(o Obstacle) {
		if o.Stop {
			stops = append(stops, o)
		} else {
			others = append(others, o)
		}
	}
	for _, t := range WaterTasks(h, now) {
		over := false
		for _, j := range t.Result.Judgements {
			over = over || j.Verdict == water.Over
		}
		words := "A water result waits to be seen to"
		if over {
			words = "A water result is over its limit"
		}
		add(Obstacle{Words: fmt.Sprintf("%s: %s, by %s. Your unit: %s.", words, t.Result.Value.Owner, t.Due.Long(), t.Phone), Do: "See to it", Part: "round/water", Stop: over})
	}
	for _, r := range Round(h, m, now) {
		if r.Never || r.State != water.Due {
			continue
		}
		switch {
		case r.Round.StartLine:
			add(Obstacle{Words: r.Round.Name + ": " + r.Left + ".", Do: "Write it down", Part: "round", Stop: true})
		case r.Round.ID == "bloods" && r.Overdue:
			add(Obstacle{Words: "Bloods are due: " + r.Left + ". Before heparin and saline.", Do: "See what is due", Part: "round"})
		}
	}
	if rule := machineIdle(m, now); rule != "" {
		add(Obstacle{Words: rule, Do: "Write it down", Part: "round", Stop: true})
	}
	for _, c := range water.Doubts(openNotices(h), unit.DateOf(now)) {
		add(Obstacle{Words: c.Text, Do: "See the water", Part: "round/water"})
	}
	v := Shelf(h, now)
	for _, r := range v.Rows {
		if r.Reckoned && r.Forecast.SessionsLeft == 0 {
			held := ""
			if len(r.Held) > 0 {
				held = " What lies there is set aside."
			}
			add(Obstacle{Words: r.Item + ": not enough on the shelf for the next session." + held, Do: "See the shelf", Part: "shelf", Stop: true})
		}
	}
	for _, w := range v.Waiting {
		if w.Late {
			add(Obstacle{Words: "The delivery of " + w.Value.For.Long() + " has not come, or was not written down.", Do: "See the shelf", Part: "shelf"})
		}
	}
	if d := v.DraftOrder(unit.DateOf(now)); d.State == water.Due {
		add(Obstacle{Words: "An order should go out by " + d.By.Long() + " for the delivery of " + d.For.Long() + ".", Do: "See the order", Part: "shelf/order"})
	}
	return append(stops, others...)
}

// machineIdle says that the machine will have stood longer than the unit lets it
// when the next session begins, where the unit has said how long.
func machineIdle(m *record.Member, now time.Time) string {
	if m == nil || m.Open() != nil {
		return "" // the start line tells it there
	}
	care := m.History(nil)
	if care.Idle.SetBy == "" || care.Cleaned == nil {
		return ""
	}
	stood := now.Sub(care.CleanedAt)
	if stood <= care.Idle.Longest {
		return ""
	}
	return fmt.Sprintf("The machine has stood for %d hours since its disinfection; %s set %d.", int(stood/time.Hour), care.Idle.SetBy, int(care.Idle.Longest/time.Hour))
}
