package record

import (
	"slices"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A CarbonFailure is a test of chlorine after the first carbon that was above the
// limit of its session.
type CarbonFailure struct {
	Person string // whose session it was
	ID     string // of the entry
	At     time.Time
	Result unit.Concentration
	Limit  unit.Concentration
}

// CarbonFailures lists, oldest first, the tests after the first carbon that were
// above the limit up to a moment and that nobody has seen to: since the last of
// them no carbon was changed and none was put away as followed up.
func (h *Household) CarbonFailures(now time.Time) []CarbonFailure {
	seen := h.carbonSeenTo(now)
	var list []CarbonFailure
	for _, m := range h.People {
		for _, s := range m.since(seen) {
			if !s.AtHome() {
				continue
			}
			session.Each(s, func(b *session.Chlorine, e *session.Event) {
				over, limit := session.ChlorineOver(s, b, e)
				if over && b.Point == "first_carbon" && e.At.After(seen) && !e.At.After(now) {
					list = append(list, CarbonFailure{Person: m.ID, ID: e.ID, At: e.At, Result: b.Result, Limit: limit})
				}
			})
		}
	}
	slices.SortStableFunc(list, func(a, b CarbonFailure) int { return a.At.Compare(b.At) })
	return list
}

// carbonOpen is when chlorine came through the first carbon last, in an earlier
// session of a person or in one of another on the same water, and zero where that was
// seen to before a moment.
func (h *Household) carbonOpen(own time.Time, of *Member, until time.Time) time.Time {
	last := own
	for _, m := range h.People {
		if m == of {
			continue
		}
		if at := m.before(nil).CarbonOver; at.After(last) && at.Before(until) {
			last = at
		}
	}
	if last.IsZero() || !last.After(h.carbonSeenTo(until)) {
		return time.Time{}
	}
	return last
}

// carbonSeenTo is when the carbon was changed, or its failing put away, last.
func (h *Household) carbonSeenTo(now time.Time) (at time.Time) {
	later := func(t time.Time, struck *session.Strike) {
		if struck == nil && !t.After(now) && t.After(at) {
			at = t
		}
	}
	for _, d := range h.Upkeep.Done {
		if d.Value.Item == "carbon" && d.Value.Outcome != "failed" {
			later(d.At, d.Struck)
		}
	}
	for _, d := range h.Upkeep.TasksClosed {
		if h.Upkeep.Result(d.Value.Result) == nil { // else it is about a laboratory's result
			later(d.At, d.Struck)
		}
	}
	return at
}
