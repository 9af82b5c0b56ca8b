package record

import (
	"slices"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// Over how many of the last sessions at home it is counted how often the machine stood
// longer than the program's own figure, and how often is a habit: a week of three has
// one long gap, two in six sessions. Ours.
const (
	idleOver  = 6
	idleOften = 2
)

// IdleAsked asks for the unit's figure of how long the machine may stand, where none is
// written and the program's own was passed before two of the person's last six sessions
// at home, or will be each week by the days that are ordered; empty otherwise. It holds
// nothing up.
func (m *Member) IdleAsked() string {
	if rules, set := m.house.Upkeep.RulesNow(); set && (rules.MaxIdle != nil || rules.IdleNone) {
		return ""
	}
	looked, stood := 0, 0
	for _, s := range slices.Backward(m.Sessions) {
		end, over := s.Ended()
		if !over || s.Abandoned() || !s.AtHome() {
			continue
		}
		if session.StoodOver(s, m.cleanedBefore(s), end) {
			stood++
		}
		if looked++; looked == idleOver {
			break
		}
	}
	own := water.DefaultDisinfectionRule().MaxIdle
	if stood >= idleOften {
		return session.AskIdleWords(stood, looked, int(own.Hours()))
	}
	if rx := m.Prescription(unit.DateOf(m.house.LastAt)); rx != nil && rx.Value.LongestGap() > own {
		return session.AskGapWords(int(own.Hours()))
	}
	return ""
}

// AllAsked is [Member.Asked] with [Member.IdleAsked].
func (m *Member) AllAsked(day unit.Date) []string {
	list := m.Asked(day)
	if idle := m.IdleAsked(); idle != "" {
		list = append(list, idle)
	}
	return list
}
