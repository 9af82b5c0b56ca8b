package record

import (
	"time"

	"ebbline/session"
)

// inUseFor is how long after its start a treatment that nobody wrote the end of still
// counts as running on the machine. Ours: a long night and some hours.
const inUseFor = 16 * time.Hour

// inUse finds another person's session that runs on the household's machine at a moment,
// as both were written when they happened: who, and since when.
func (h *Household) inUse(m *Member, until time.Time) (who string, since time.Time) {
	for _, other := range h.People {
		if other == m {
			continue
		}
		for _, s := range other.since(until) {
			opened, _ := s.Opened()
			began, ok := s.Began()
			if !ok || opened.Source != "live" || opened.Place != "home" || !began.Before(until) || began.Before(until.Add(-inUseFor)) {
				continue
			}
			if ended, over := s.Ended(); over && ended.Before(until) {
				continue
			}
			if closed, e := session.Last[session.Closed](s); closed != nil && e.At.Before(until) {
				continue
			}
			if p := other.personAt(until); p != nil && began.After(since) {
				who, since = p.Value.Name, began
			}
		}
	}
	return who, since
}
