package household

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// A RoundRow is something that recurs and where it stands.
type RoundRow struct {
	water.DueItem
	Group    string
	Personal bool   // it belongs to this person and not to the machine
	Never    bool   // nothing was ever written down of it
	Shown    string // what it showed the last time: the error of a scale, a temperature
	Failed   bool   // it was tried last and failed
	Trouble  string // why it cannot be told
}

// Groups of what recurs, in the order of the page.
const (
	GroupMachine = "Machine"
	GroupWater   = "Water plant"
	GroupSamples = "Samples"
	GroupCheck   = "Instruments"
	GroupPerson  = "You and your unit"
	GroupHouse   = "House"
	GroupOwn     = "Your own"
)

var groups = map[string]string{
	"heat": GroupMachine, "citric": GroupMachine, "chemical": GroupMachine, "ultrafilter": GroupMachine, "service": GroupMachine, "electrical": GroupMachine,
	"ro-disinfection": GroupWater, "softener-salt": GroupWater, "sediment": GroupWater, "carbon": GroupWater, "membrane": GroupWater, "uv": GroupWater,
	"culture": GroupSamples, "chemistry": GroupSamples, "feed": GroupSamples,
	"scale": GroupCheck, "cuff": GroupCheck, "thermometer": GroupCheck, "meter": GroupCheck, "chlorine-check": GroupCheck,
	"bloods": GroupPerson, "clinic": GroupPerson, "report": GroupPerson, "prescription": GroupPerson, "residual": GroupPerson, "hepatitis": GroupPerson,
	"retraining": GroupPerson, "visit": GroupPerson, "drill": GroupPerson,
	"count": GroupHouse, "sharps": GroupHouse, "fridge": GroupHouse, "waste": GroupHouse, "opened": GroupHouse, "opened-heparin": GroupHouse, "opened-antiseptic": GroupHouse, "opened-reagent": GroupHouse, "emergency-box": GroupHouse,
}

// Round lists all that recurs for a person and the household: what is due
// first, the longest overdue before the rest, then what is coming, then the
// rest by date, and last what nothing was ever written down of.
func Round(h *record.Household, m *record.Member, now time.Time) []RoundRow {
	c := h.Meter()
	counts := c.At(now)
	pace := c.Pace(now, sessionsPerWeek(h, counts.On))
	var rows []RoundRow
	for _, r := range h.Upkeep.Rounds() {
		if r.ID == "residual" && (m == nil || len(m.Residuals) == 0) || r.ID == "count" && len(h.Upkeep.ItemsNow()) == 0 {
			continue // nobody collects urine here, or nothing is on the shelf's list
		}
		row := RoundRow{Group: cmp.Or(groups[r.ID], GroupOwn), Personal: record.IsPersonal(r.ID)}
		at, shown, failed := h.LastDone(m, r.ID, now)
		row.Shown, row.Failed = shown, failed
		var last *water.Counts
		if !at.IsZero() {
			then := c.At(at)
			last = &then
		}
		item, err := r.DueAt(last, counts, pace)
		if err != nil {
			row.Trouble = err.Error()
			item = water.DueItem{Round: r, State: water.Due, On: counts.On}
		}
		row.DueItem = item
		row.Never = last == nil && err == nil
		if failed && row.State != water.Due {
			row.State, row.Left = water.Due, "failed when it was tried last"
		}
		if r.ID == "sharps" && h.BinFull(now) {
			row.State, row.On, row.Left = water.Due, counts.On, "three quarters full"
		}
		rows = append(rows, row)
	}
	slices.SortStableFunc(rows, func(a, b RoundRow) int {
		return cmp.Or(a.rank()-b.rank(), a.On.Sub(b.On))
	})
	return rows
}

func (r RoundRow) rank() int {
	switch {
	case r.Never:
		return 3
	case r.State == water.Due:
		return 0
	case r.State == water.Coming:
		return 1
	}
	return 2
}

// A Trouble is a fault with all that was written of it, oldest first.
type Trouble struct {
	ID      string
	Entries []record.Dated[record.Fault]
	Mended  bool
}

// Troubles lists the fault diary as it stood at a moment, the newest trouble
// first.
func Troubles(h *record.Household, now time.Time) []Trouble {
	var list []Trouble
	at := map[string]int{}
	for _, d := range h.Upkeep.Faults {
		if d.Struck != nil || d.At.After(now) {
			continue
		}
		i, ok := at[h.Newest(d.Value.About)]
		if !ok {
			i = len(list)
			list = append(list, Trouble{ID: d.ID})
		}
		at[d.ID] = i
		list[i].Entries = append(list[i].Entries, d)
		list[i].Mended = d.Value.Mended
	}
	slices.Reverse(list)
	return list
}

// SelfTestTries lists how many tries each session's self-test took, oldest
// first: all tries of a session together.
func SelfTestTries(h *record.Household) []int {
	type one struct {
		at    time.Time
		tries int
	}
	var all []one
	for _, m := range h.People {
		for _, s := range m.Sessions {
			if s.Abandoned() {
				continue
			}
			_, at := s.Opened()
			o := one{at: at}
			session.Each(s, func(b *session.SelfTest, _ *session.Event) { o.tries += max(b.Tries, 1) })
			if o.tries > 0 {
				all = append(all, o)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b one) int { return a.at.Compare(b.at) })
	tries := make([]int, len(all))
	for i, o := range all {
		tries[i] = o.tries
	}
	return tries
}

// EveryWords says how often something recurs: "3 months or 100 sessions".
func EveryWords(e water.Every) string {
	var parts []string
	add := func(n float64, one string) {
		if n > 0 {
			if n == 1 {
				parts = append(parts, one)
			} else {
				parts = append(parts, whole(n)+" "+one+"s")
			}
		}
	}
	add(float64(e.Days), "day")
	add(float64(e.Months), "month")
	add(float64(e.Sessions), "session")
	add(e.Hours, "hour")
	add(e.Litres, "litre")
	return strings.Join(parts, " or ")
}

func whole(n float64) string { return unit.Litres(n * 1000).String() }
