package household

import (
	"time"

	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
)

// A RecallRow is a recall as it stands: what was found when it was written
// down, what is set aside by it now, and every session that used such a lot.
type RecallRow struct {
	*record.Recalled
	Found stock.Found       // when it was written down
	Aside []RecallLot       // on the shelf now
	Past  []stock.FoundPast // by the record as it is now
	Left  unit.Pieces       // set aside and not yet sent back or destroyed
}

// Settled reports whether nothing is left to be done: it was closed, or nothing
// matches, on the shelf or in any session.
func (r RecallRow) Settled() bool {
	return r.Closed != nil || r.Found.None() && len(r.Aside) == 0 && len(r.Past) == 0
}

// A RecallLot is a lot on the shelf that a recall holds.
type RecallLot struct {
	Item string
	record.ShelfLot
}

// Recalls lists the notices, those still open first.
func Recalls(h *record.Household, now time.Time) []RecallRow {
	var open, closed []RecallRow
	if len(h.Upkeep.Recalls) == 0 {
		return nil
	}
	shelf, past := h.Shelf(now), h.PastLots(now)
	for i := len(h.Upkeep.Recalls) - 1; i >= 0; i-- {
		r := h.Upkeep.Recalls[i]
		if !r.Active() || r.At.After(now) {
			continue
		}
		row := recallRow(h, r, shelf, past)
		if !row.Settled() {
			open = append(open, row)
		} else {
			closed = append(closed, row)
		}
	}
	return append(open, closed...)
}

// RecallOf gives one notice, and false when there is none of that id.
func RecallOf(h *record.Household, id string, now time.Time) (RecallRow, bool) {
	r := h.Upkeep.Recall(id)
	if r == nil || !r.Active() {
		return RecallRow{}, false
	}
	return recallRow(h, r, h.Shelf(now), h.PastLots(now)), true
}

func recallRow(h *record.Household, r *record.Recalled, shelf []record.ShelfItem, past []stock.Past) RecallRow {
	row := RecallRow{Recalled: r, Found: h.FoundBy(r), Past: record.SearchIn(&r.Value, shelf, past).Past}
	for _, it := range shelf {
		for _, l := range it.Lots {
			if l.Recall == r.ID {
				row.Aside = append(row.Aside, RecallLot{it.Item, l})
				row.Left += l.Count
			}
		}
	}
	return row
}

// A RecallLetter tells the unit what was found, for one person: the shelf is
// the household's, the sessions are that person's own.
type RecallLetter struct {
	Row      RecallRow
	Sessions []LetterSession
	Others   int // sessions of other people of the household, which their own letter names
	Unit     record.KidneyUnit
	Person   record.Person
}

// A LetterSession is one session that used such a lot.
type LetterSession struct {
	On    unit.Date
	ID    string
	Lot   string
	Match stock.Match
}

// LetterOf words a recall for a person's unit.
func LetterOf(h *record.Household, m *record.Member, id string, now time.Time) (RecallLetter, bool) {
	row, ok := RecallOf(h, id, now)
	if !ok {
		return RecallLetter{}, false
	}
	l := RecallLetter{Row: row}
	l.Unit, _ = h.Unit.Now()
	l.Person, _ = m.Person.Now()
	for _, p := range row.Past {
		s := h.Session(p.Past.Session)
		if s == nil || s.Person != m.ID {
			l.Others++
			continue
		}
		l.Sessions = append(l.Sessions, LetterSession{p.Past.On, s.ID, p.Past.Lot, p.Match})
	}
	return l, true
}
