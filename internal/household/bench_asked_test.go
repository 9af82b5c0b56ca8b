package household

import (
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// BenchmarkAskedTenYears works out what Today asks the unit for, in the record of ten
// years whose unit never said how long the machine may stand, and beside it, turn by turn, judges one start line with its history: the floor.
func BenchmarkAskedTenYears(b *testing.B) {
	path, life, c := tenYears(b)
	d := opened(b, path, c)
	defer d.Close()
	d.View(func(h *record.Household) {
		m := h.Member(life.Person)
		h.Upkeep.Rules = nil // the unit has set no figure
		var asked, floor time.Duration
		for b.Loop() {
			began := time.Now()
			m.AllAsked(unit.DateOf(c.at))
			asked += time.Since(began)
			began = time.Now()
			s := m.Sessions[len(m.Sessions)-2]
			session.StartLine(s, m.History(s), c.at)
			floor += time.Since(began)
		}
		b.ReportMetric(float64(asked.Microseconds())/float64(b.N), "µs-asked")
		b.ReportMetric(float64(floor.Microseconds())/float64(b.N), "µs-floor")
		b.ReportMetric(float64(asked)/float64(floor), "x-floor")
	})
}
