package record

import (
	"time"

	"ebbline/session"
	"ebbline/water"
)

// programmes are the items of the round that are disinfections, by the words a
// session has for them.
var programmes = map[string]string{"heat": "heat", "citric": "heat_citric", "chemical": "chemical"}

// lookBack is how far back chemical cycles are looked for that no test has
// followed: whatever they left has been through a dozen and more rinses by then.
// Ours.
const lookBack = 60 * 24 * time.Hour

// machineCare adds to a session's history what was done to the machine outside
// its person's sessions, whether disinfectant may still be in it, and how long
// the unit lets it stand.
func (m *Member) machineCare(to *session.History, s *session.Session) {
	h := m.house
	until := h.momentOf(m, s)
	to.Idle = session.IdleRule{Longest: water.DefaultDisinfectionRule().MaxIdle}
	if rules, set := h.Upkeep.rulesAt(until); set && rules.MaxIdle != nil {
		to.Idle = session.IdleRule{Longest: time.Duration(rules.MaxIdle.Float() * float64(time.Hour)), SetBy: rules.SetBy, SetOn: rules.SetOn}
	}
	cycles, tests := h.cleaning(s, until)
	to.ResidueWanted = water.ResidualTestNeeded(cycles, tests, until)
	for _, t := range tests {
		if t.Negative && t.At.Before(until) && t.At.After(to.ResidueTested) {
			to.ResidueTested = t.At
		}
	}
	to.Waiting = h.waiting(m, until)
	to.Doubted = h.doubtedAt(until)
	m.shelfOf(to, s, until)
	used := m.lastUse(to, s, until)
	for _, d := range h.Upkeep.Done {
		programme, is := programmes[d.Value.Item]
		if !is || d.Struck != nil || !d.At.Before(until) || !d.At.After(to.CleanedAt) || !d.At.After(used) {
			continue
		}
		result := "passed"
		if d.Value.Outcome == "failed" {
			result = "failed"
		}
		to.Cleaned, to.CleanedAt = &session.Disinfection{Programme: programme, Result: result}, d.At
	}
}

// momentOf is when a session stood at the start line, or is about to: what was
// written after that belongs to later ones.
func (h *Household) momentOf(m *Member, s *session.Session) time.Time {
	if s != nil {
		if began, ok := s.Began(); ok {
			return began
		}
		if (s.Phase() == session.Done || m.latest() != s) && len(s.Log) > 0 {
			return s.Log[len(s.Log)-1].At
		}
	}
	if !h.asOf.IsZero() {
		return h.asOf
	}
	return h.LastAt.Add(early)
}

// latest is the session that was begun last, or nil.
func (m *Member) latest() *session.Session {
	for i := len(m.Sessions) - 1; i >= 0; i-- {
		if s := m.Sessions[i]; !s.Abandoned() {
			return s
		}
	}
	return nil
}

// lastUse gives the end of the last treatment on the machine, of whomever. When
// it was somebody else's, what that session wrote of its disinfection is taken
// into the history: two people on one machine start after one another.
func (m *Member) lastUse(to *session.History, but *session.Session, until time.Time) time.Time {
	var used time.Time
	var last *session.Session
	var whose *Member
	for _, one := range m.house.People {
		list := one.Sessions
		if one == m {
			list = m.Earlier(but)
		}
		for i := len(list) - 1; i >= 0; i-- {
			s := list[i]
			opened, _ := s.Opened()
			at, ok := s.Ended()
			if !ok {
				at, ok = s.Began()
			}
			if !ok || s == but || s.Abandoned() || opened.Place == "elsewhere" || !at.Before(until) {
				continue
			}
			if at.After(used) {
				used, last, whose = at, s, one
			}
			break
		}
	}
	if whose != nil && whose != m {
		to.Cleaned, to.CleanedAt = nil, time.Time{}
		if b, e := session.Last[session.Disinfection](last); b != nil && e.At.Before(until) {
			to.Cleaned, to.CleanedAt = b, e.At
		}
	}
	return used
}

// cleaning lists the machine's disinfections of the last weeks and the tests for
// what they leave behind; what was ticked in the session given is not among the
// tests, since its own start line looks for it.
func (h *Household) cleaning(but *session.Session, until time.Time) (cycles []water.Cycle, tests []water.ResidualTest) {
	from := until.Add(-lookBack)
	add := func(at time.Time, programme, result string) {
		c := water.Cycle{Programme: water.Programme(programme), Began: at, Passed: result == "passed"}
		if programme == "heat_citric" {
			c.Programme = water.Citric
		}
		if result != "running" {
			c.Ended = at
		}
		if at.After(from) {
			cycles = append(cycles, c)
		}
	}
	for _, m := range h.People {
		for i := len(m.Sessions) - 1; i >= 0; i-- {
			s := m.Sessions[i]
			opened, at := s.Opened()
			if at.Before(from) {
				break
			}
			if s.Abandoned() || opened.Place == "elsewhere" || at.After(until) {
				continue
			}
			session.Each(s, func(b *session.Disinfection, e *session.Event) { add(e.At, b.Programme, b.Result) })
			ticked := water.ResidualTest{}
			session.Each(s, func(b *session.StepDone, e *session.Event) {
				if b.Step == session.ResidueStep {
					ticked = water.ResidualTest{At: e.At, Negative: b.State == "done"}
				}
			})
			if ticked.Negative && s != but {
				tests = append(tests, ticked)
			}
		}
	}
	for _, d := range h.Upkeep.Done {
		if programme, is := programmes[d.Value.Item]; is && d.Struck == nil {
			result := "passed"
			if d.Value.Outcome == "failed" {
				result = "failed"
			}
			add(d.At, programme, result)
		}
	}
	for _, d := range h.Upkeep.Residuals {
		if d.Struck == nil {
			tests = append(tests, water.ResidualTest{At: d.At, Negative: d.Value.Shows(d.At)})
		}
	}
	return cycles, tests
}
