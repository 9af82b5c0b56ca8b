package record

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// In haemodiafiltration litres of fluid go into the blood, so its water is held to
// ultrapure: under 0.1 CFU/mL and under 0.03 EU/mL (ISO 23500-3:2019 for water, 23500-5:2019
// for fluid; the substitution fluid itself is stricter still, from memory).

// Filtered reports whether anybody's order on a day is of haemodiafiltration.
func (h *Household) Filtered(day unit.Date) bool {
	return slices.ContainsFunc(h.People, func(m *Member) bool { return m.filtered(day) })
}

func (m *Member) filtered(day unit.Date) bool {
	rx := m.Prescription(day)
	return rx != nil && rx.Value.ByFiltration()
}

// HeldTo gives the use that water is held to on a day, and reports whether that is by
// haemodiafiltration and not by the unit's own rules.
func (h *Household) HeldTo(day unit.Date) (use water.Use, filtered bool) {
	rules, _ := h.Upkeep.RulesNow()
	if use = water.Use(rules.Use); use != water.Ultrapure && h.Filtered(day) {
		return water.Ultrapure, true
	}
	return use, false
}

// microbes are the substances whose limits are stricter for ultrapure water.
var microbes = []water.Substance{water.ViableCount, water.Endotoxin}

// An Impure is a figure that was judged as of standard water and is not known to be
// within the limits of ultrapure water, judged by those.
type Impure struct {
	Judgement water.Judgement
	Point     string
	Result    *Judged
}

// Words say what was found and what it is held to, and why.
func (i Impure) Words() string {
	r, l := i.Judgement.Result, i.Judgement.Limit
	op := ""
	if r.Op != water.Equal {
		op = string(r.Op) + " "
	}
	found := r.What.Label() + " " + op + strconv.FormatFloat(r.Value, 'g', -1, 64) + " " + string(r.Unit)
	held := "under " + strconv.FormatFloat(l.Max, 'g', -1, 64) + " " + string(l.Unit) + " because of haemodiafiltration"
	day := unit.DateOf(i.Result.At).Long()
	if i.Over() {
		return strings.ToUpper(found[:1]) + found[1:] + " in " + i.Point + " (" + day + ") is over: ultrapure is asked for, " + held + "."
	}
	return strings.ToUpper(found[:1]) + found[1:] + " in " + i.Point + " (" + day + ") does not show ultrapure, " + held + ". Ask for a method that sees less."
}

// Over reports whether it lies over the limit; else that cannot be told.
func (i Impure) Over() bool { return i.Judgement.Verdict == water.Over }

// ImpureAt lists, as of a moment, the latest figure of microbes and endotoxin at each
// place behind the water treatment that was judged as of standard water and is not within
// the limits of ultrapure. One that was judged as ultrapure has its judgement and task.
func (u *Upkeep) ImpureAt(at time.Time) (list []Impure) {
	type place struct {
		point string
		what  water.Substance
	}
	latest := map[place]bool{}
	results := slices.Clone(u.Results)
	slices.SortStableFunc(results, func(a, b *Judged) int { return b.At.Compare(a.At) })
	for _, j := range results {
		sample, known := u.Sample(j.Value.Sample)
		if j.Struck != nil || j.At.After(at) || !known || sample.Point == "feed water" {
			continue
		}
		for _, r := range j.Value.Results {
			key := place{sample.Point, r.What}
			if !slices.Contains(microbes, r.What) || latest[key] {
				continue
			}
			latest[key] = true
			if j.Value.Use == string(water.Ultrapure) {
				continue
			}
			if one, ok := u.asUltrapure(j, r); ok && one.Verdict != water.Within {
				list = append(list, Impure{one, sample.Point, j})
			}
		}
	}
	return list
}

// asUltrapure judges a figure by the limits of ultrapure water: those of the table it was
// judged by, or of the default table where that one has none.
func (u *Upkeep) asUltrapure(j *Judged, r water.Result) (water.Judgement, bool) {
	for _, name := range []string{j.Value.Edition, water.DefaultEdition} {
		if e, err := u.Edition(name); err == nil {
			if one, err := e.Judge(water.Ultrapure, r); err == nil {
				return one, true
			}
		}
	}
	return water.Judgement{}, false
}

// impure lists what of it holds up a start of somebody whose order is of
// haemodiafiltration.
func (h *Household) impure(m *Member, until time.Time) (list []session.Waiting) {
	if m == nil || !m.filtered(unit.DateOf(until)) {
		return nil
	}
	for _, i := range h.Upkeep.ImpureAt(until) {
		if i.Over() {
			list = append(list, session.Waiting{Words: i.Words() + " Ring your unit.", Since: i.Result.At})
		}
	}
	return list
}

// heldTo asks about a figure of microbes that is judged as of standard water in a house
// with haemodiafiltration.
func (c *Checker) heldTo(b *WaterResult, point string) {
	if b.Use == string(water.Ultrapure) || point == "feed water" || !c.House.Filtered(unit.DateOf(c.Entry.At)) {
		return
	}
	if slices.ContainsFunc(b.Results, func(r water.Result) bool { return slices.Contains(microbes, r.What) }) {
		c.Ask("use", "is standard water, but water is held to ultrapure here because of haemodiafiltration. If your unit wants it judged so, choose it again")
	}
}
