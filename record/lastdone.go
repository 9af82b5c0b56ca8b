package record

import (
	"slices"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// LastDone finds when something that recurs was done last up to a moment, from
// its own entries and from what else the record tells of it: a session's
// disinfection, a sample that was drawn, a count of the shelf. It gives the zero
// time when nothing was ever written of it, what it showed then, and whether a
// later try failed. What belongs to one person is looked for among that person's
// entries; m may be nil.
func (h *Household) LastDone(m *Member, item string, now time.Time) (at time.Time, shown string, failed bool) {
	var tried time.Time // the last try that failed; entries stand as they were written, not as things happened
	for _, d := range h.Upkeep.Done {
		if d.Struck != nil || d.Value.Item != item || d.At.After(now) || IsPersonal(item) && m != nil && d.Person != "" && d.Person != m.ID {
			continue
		}
		switch {
		case d.Value.Outcome == "failed":
			if !d.At.Before(tried) {
				tried = d.At
			}
			failed = failed || !tried.Before(at)
		case !d.At.Before(at):
			at, failed = d.At, tried.After(d.At)
			shown, _ = d.Value.Off()
			if item == "fridge" && d.Value.ShownTemp != nil {
				shown = d.Value.ShownTemp.Text()
			}
		}
	}
	later := func(t time.Time) {
		if t.After(at) && !t.After(now) {
			at, shown, failed = t, "", tried.After(t)
		}
	}
	switch item {
	case "heat", "citric", "chemical":
		h.disinfected(item, now, later)
	case "bloods", "prescription", "residual":
		if m != nil {
			m.lastOf(item, now, later)
		}
	default:
		h.Upkeep.lastOf(item, now, later)
	}
	return at, shown, failed
}

// disinfected tells of the disinfections that sessions at home ended with. One
// with citric acid is one of heat too.
func (h *Household) disinfected(item string, now time.Time, later func(time.Time)) {
	for _, m := range h.People {
		for i := len(m.Sessions) - 1; i >= 0; i-- {
			s := m.Sessions[i]
			if !s.AtHome() {
				continue
			}
			found := false
			session.Each(s, func(b *session.Disinfection, e *session.Event) {
				if b.Result == "passed" && (b.Programme == programmes[item] || item == "heat" && b.Programme == "heat_citric") {
					later(e.At)
					found = found || !e.At.After(now)
				}
			})
			if found {
				break
			}
		}
	}
}

// lastOf tells of the other entries of the house that say the same.
func (u *Upkeep) lastOf(item string, now time.Time, later func(time.Time)) {
	switch item {
	case "culture", "chemistry", "feed":
		for _, s := range u.Samples() {
			if !s.DrawnAt.IsZero() && s.State != water.SampleLost && kindOfSample(s) == item {
				later(s.DrawnAt)
			}
		}
	case "softener-salt":
		for _, d := range u.Readings {
			if d.Struck == nil && d.Value.Salt != "" {
				later(d.At)
			}
		}
	case "sharps", "waste":
		want := map[string]string{"sharps": "opened", "waste": "collected"}[item]
		for _, d := range u.Sharps {
			if d.Struck == nil && d.Value.Did == want {
				later(d.At)
			}
		}
	case "count":
		var oldest time.Time
		for i, it := range u.ItemsNow() {
			if last := u.LastCounted(it, now); i == 0 || last.Before(oldest) {
				oldest = last
			}
		}
		later(oldest)
	}
}

// lastOf tells of the person's other entries that say the same.
func (m *Member) lastOf(item string, now time.Time, later func(time.Time)) {
	switch item {
	case "bloods":
		for _, b := range m.Bloods {
			if b.Counts() {
				later(b.At)
			}
		}
	case "residual":
		for _, r := range m.Residuals {
			if r.Struck == nil {
				later(r.At)
			}
		}
	case "prescription":
		if rx := m.Prescription(unit.DateOf(now)); rx != nil {
			for _, d := range []unit.Date{rx.Value.OrderedOn, rx.Value.DrySetOn} {
				later(d.Time(now.Location()))
			}
		}
	}
}

// kindOfSample gives which round a sample belongs to.
func kindOfSample(s water.Sample) string {
	switch {
	case s.Point == "feed water":
		return "feed"
	case slices.Contains(s.For, water.ViableCount) || slices.Contains(s.For, water.Endotoxin):
		return "culture"
	}
	return "chemistry"
}

// BinFull reports whether the open sharps bin is at three quarters, or was closed
// without a new one.
func (h *Household) BinFull(now time.Time) bool {
	var last string
	var at time.Time
	for _, d := range h.Upkeep.Sharps {
		if d.Struck == nil && d.Value.Did != "collected" && !d.At.Before(at) && !d.At.After(now) {
			last, at = d.Value.Did, d.At
		}
	}
	return last == "three_quarters" || last == "closed"
}
