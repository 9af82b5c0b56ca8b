package record

import (
	"slices"
	"time"

	"ebbline/session"
)

// batch is the batch that an id names, in the version that counts now; nil for none.
func (h *Household) batch(id string) *Dated[session.BatchMade] {
	list := h.Upkeep.Batches
	id = h.Newest(id)
	if i := slices.IndexFunc(list, func(d Dated[session.BatchMade]) bool { return d.ID == id }); i >= 0 {
		return &list[i]
	}
	return nil
}

// machineAt is the machine as it was described when an entry was written.
func (h *Household) machineAt(place int) (m session.Machine) {
	for i := range h.Machine {
		if d := &h.Machine[i]; d.Struck == nil && d.place < place {
			m = d.Value
		}
	}
	return m
}

// batchesBack is how far before a session a batch is looked for that it may be from, and
// how long after its last batch a household is still asked which one it uses. Ours: no
// batch keeps for so long.
const batchesBack = 30 * 24 * time.Hour

// Batches lists the batches of the machine there is now, made in the last 30 days, the
// newest first, each with all that was tested of it.
func (h *Household) Batches(now time.Time) []session.Batch {
	machine, _ := h.Machine.Now()
	if machine.Fluid() != session.FluidBatch {
		return nil
	}
	list := h.batchesOf(machine, nil, nil, now.Add(-batchesBack), now.Add(time.Nanosecond))
	slices.Reverse(list)
	return list
}

// batches lists what a session may be from, oldest first: the batches of its machine
// that were made in the last 30 days before it was opened, or while it was open.
func (m *Member) batches(s *session.Session) []session.Batch {
	if s == nil || s.Machine.Fluid() != session.FluidBatch || len(m.house.Upkeep.Batches) == 0 {
		return nil
	}
	_, opened := openingOf(s)
	return m.house.batchesOf(s.Machine, m, s, opened.Add(-batchesBack), m.house.untilOf(m, s))
}

// untilOf is when a session was over, or is now while it runs.
func (h *Household) untilOf(m *Member, s *session.Session) time.Time {
	ended, over := s.Ended()
	switch {
	case !s.Treated():
		return h.momentOf(m, s)
	case over:
		return ended.Add(time.Nanosecond)
	case !h.asOf.IsZero():
		return h.asOf.Add(time.Nanosecond)
	}
	return h.LastAt.Add(early)
}

// struckBatches lists the batches that a session names and that were struck out since,
// each once for every id by which it is named.
func (m *Member) struckBatches(s *session.Session) (list []session.Batch) {
	if s == nil || s.Machine.Fluid() != session.FluidBatch {
		return nil
	}
	session.Each(s, func(used *session.BatchUsed, _ *session.Event) {
		said := slices.ContainsFunc(list, func(b session.Batch) bool { return slices.Contains(b.Was, used.Batch) })
		if d := m.house.batch(used.Batch); d != nil && d.Struck != nil && !said {
			list = append(list, session.Batch{ID: d.ID, Was: []string{used.Batch}, At: d.At, BatchMade: d.Value, Struck: d.Struck})
		}
	})
	return list
}

// batchesOf lists the batches of a machine made between two moments. Beside each stands
// what was tested of it, and in other sessions than one.
func (h *Household) batchesOf(machine session.Machine, m *Member, but *session.Session, from, until time.Time) []session.Batch {
	var list []session.Batch
	for i := range h.Upkeep.Batches {
		d := &h.Upkeep.Batches[i]
		if d.Struck != nil || d.At.Before(from) || !d.At.Before(until) || !h.machineAt(d.place).IsOne(machine) {
			continue
		}
		list = append(list, session.Batch{ID: d.ID, At: d.At, Changed: d.Written, BatchMade: d.Value})
	}
	if len(list) == 0 {
		return nil
	}
	if but != nil {
		session.Each(but, func(used *session.BatchUsed, _ *session.Event) {
			b := h.named(list, used.Batch)
			if b != nil && !slices.Contains(b.Was, used.Batch) {
				b.Was = append(b.Was, used.Batch) // perhaps in an earlier version
			}
			if b != nil { // the water as it was when this one was made
				b.Doubted, b.CarbonOpen = h.doubtedAt(b.At), h.carbonOpen(h.carbonOver(b.At), m, b.At)
			}
		})
	}
	slices.SortStableFunc(list, func(a, b session.Batch) int { return a.At.Compare(b.At) })
	of := make(map[string]*session.Batch, len(list)) // years of tests are looked through for a few
	for i := range list {
		of[list[i].ID] = &list[i]
	}
	for i := range h.Upkeep.BatchTests {
		d := &h.Upkeep.BatchTests[i]
		b := of[h.Newest(d.Value.Batch)]
		if b == nil {
			continue
		}
		for _, t := range []time.Time{d.Written, strikeOf(d.Struck)} {
			if t.After(b.Changed) {
				b.Changed = t
			}
		}
		if d.Struck == nil {
			b.Log = append(b.Log, d.Value.Events(session.Event{ID: d.ID, At: d.At, Written: d.Written, By: d.By, Place: d.place})...)
		}
	}
	h.batchSessions(list, but)
	for i := range list {
		slices.SortStableFunc(list[i].Log, func(a, b session.Event) int { return a.At.Compare(b.At) })
	}
	return list
}

// strikeOf is when something was struck out or corrected; zero where it was not.
func strikeOf(s *session.Strike) time.Time {
	if s == nil {
		return time.Time{}
	}
	return s.At
}

// batchSessions adds what the sessions from each batch tested of it, and their calls.
func (h *Household) batchSessions(list []session.Batch, but *session.Session) {
	for _, m := range h.People {
		for _, s := range m.since(list[0].At) {
			if s == but || !s.Has("batch_used") || !s.AtHome() {
				continue
			}
			for _, e := range s.Log {
				switch e.Body.(type) {
				case *session.Chlorine, *session.FluidCheck, *session.BathLabel, *session.Rang:
				default:
					continue
				}
				if b := h.named(list, session.BatchOf(s, &e)); b != nil && e.Struck == nil {
					b.Log = append(b.Log, e)
				}
			}
		}
	}
}

// carbonOver is when chlorine came through the first carbon last before a moment, in the
// sessions of anybody.
func (h *Household) carbonOver(until time.Time) (last time.Time) {
	for _, m := range h.People {
		for _, s := range m.since(until.Add(-lookBack)) {
			if !s.AtHome() {
				continue
			}
			session.Each(s, func(b *session.Chlorine, e *session.Event) {
				over, _ := session.ChlorineOver(s, b, e)
				if over && b.Point == "first_carbon" && e.At.Before(until) && e.At.After(last) {
					last = e.At
				}
			})
		}
	}
	return last
}

// named gives the one of some batches that an id means, in the version that counts now.
func (h *Household) named(list []session.Batch, id string) *session.Batch {
	id = h.Newest(id)
	if i := slices.IndexFunc(list, func(b session.Batch) bool { return b.ID == id }); i >= 0 {
		return &list[i]
	}
	return nil
}
