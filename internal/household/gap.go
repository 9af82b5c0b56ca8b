package household

import (
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// SinceLast is the person's time without treatment: of the session that is being
// set up, as its start line counts it; else since the last one, with what has
// gone by since then. ok is false while a treatment runs.
func SinceLast(m *record.Member, now time.Time) (g session.Gap, ok bool) {
	if open := m.Open(); open != nil {
		if open.Phase() != session.SettingUp {
			return g, false
		}
		return session.SinceLast(open, m.History(open), now), true
	}
	h := m.History(nil)
	if due, known := NextDue(m, now); known {
		h.Missed = due.Missed
	}
	var rx *session.Prescription
	if in := m.Prescription(unit.DateOf(now)); in != nil {
		rx = &in.Value
	}
	return session.GapOf(h, rx, now), true
}

// AmbulanceFirst is what the start line of an open session says for which the
// ambulance is rung before the unit; empty where nothing is.
func AmbulanceFirst(m *record.Member, now time.Time) string {
	open := m.Open()
	if open == nil || open.Phase() != session.SettingUp {
		return ""
	}
	return session.AmbulanceFirst(session.StartLine(open, m.History(open), now))
}
