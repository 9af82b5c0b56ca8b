package record

import (
	"fmt"
	"slices"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// waiting lists what of water and round holds up a start that is made after a
// moment, what goes by a date with that day: what the household put on the start
// line, a water result over its limit that nobody has seen to, and in
// haemodiafiltration one over the limits of ultrapure water. The machine's
// heat disinfection is not among them, since the start line has a check of its
// own for it.
func (h *Household) waiting(m *Member, until time.Time) []session.Waiting {
	var list []session.Waiting
	for _, j := range h.Upkeep.Results {
		if over := j.over(); over != "" && j.OpenAt(until) {
			list = append(list, session.Waiting{Words: "Water over its limit: " + over + ". Ring your unit.", Since: j.At})
		}
	}
	list = append(list, h.impure(m, until)...)
	var counts *Meter
	for _, r := range h.Upkeep.roundsAt(until) {
		if !r.StartLine || r.ID == "heat" {
			continue
		}
		at, _, failed := h.LastDone(m, r.ID, until)
		switch {
		case failed:
			list = append(list, session.Waiting{Words: r.Name + " failed when it was tried last.", Since: h.Upkeep.failedAt(r.ID, until)})
			continue
		case at.IsZero():
			list = append(list, session.Waiting{Words: r.Name + ": never written down. Do it, or say when."})
			continue
		}
		if counts == nil {
			counts = h.Meter()
		}
		if w, ok := dueFrom(r, counts, at, until); ok {
			list = append(list, w)
		}
	}
	return list
}

// dueFrom says from which day something holds up a start: at once where a count
// of it is reached, from its date where it goes by dates too, and false where
// neither can be told.
func dueFrom(r water.Round, counts *Meter, last, until time.Time) (session.Waiting, bool) {
	then, now := counts.At(last), counts.At(until)
	now.On = then.On // its dates are left to the day of the start
	item, err := r.DueAt(&then, now, water.Pace{})
	switch {
	case err != nil:
		return session.Waiting{Words: r.Name + ": cannot be told. Look at its counters."}, true
	case item.State == water.Due:
		return session.Waiting{Words: fmt.Sprintf("%s is due by its %s.", r.Name, item.By)}, true
	case item.On.IsZero():
		return session.Waiting{}, false
	}
	return session.Waiting{Words: fmt.Sprintf("%s: due since %s.", r.Name, item.On.Long()), On: item.On, Since: item.On.Time(until.Location())}, true
}

// over names the first figure that lies over its limit.
func (j *Judged) over() string {
	for _, one := range j.Judgements {
		if one.Verdict == water.Over {
			return one.Result.What.Label()
		}
	}
	return ""
}

// doubtedAt reports whether a notice about the water touches the day of a moment.
func (h *Household) doubtedAt(at time.Time) bool {
	return slices.ContainsFunc(h.NoticesAt(at), func(n Noticed) bool { return n.Open(unit.DateOf(at)) })
}

// Noticed is a notice about the water as it stands: with the last day that a
// later entry gave it.
type Noticed struct {
	water.Notice
	ID string
}

// NoticesAt lists the notices about the water as they stood at a moment, in the
// order they were written; the zero moment is now. One that was corrected since
// it ended keeps its end.
func (h *Household) NoticesAt(now time.Time) []Noticed {
	var list []Noticed
	for _, d := range h.Upkeep.Notices {
		switch {
		case d.Struck != nil || !now.IsZero() && d.At.After(now):
		case d.Value.About == "":
			list = append(list, Noticed{water.Notice{From: d.Value.From, To: d.Value.To, Text: d.Value.Words}, d.ID})
		default:
			about := h.Newest(d.Value.About)
			for i := range list {
				if list[i].ID == about {
					list[i].To = d.Value.To
				}
			}
		}
	}
	return list
}
