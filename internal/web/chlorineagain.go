package web

import (
	"ebbline/internal/household"
	"ebbline/record"
)

// chlorineTap puts the form of the test among the events of a session in which
// it is made again.
func (b *runningBody) chlorineTap(v visit, base string) {
	if at, _ := household.ChlorineRule(v.house).Next(v.session, v.now); at.IsZero() {
		return
	}
	kind, _ := record.Find("chlorine")
	b.Taps = append(b.Taps, tap{Kind: kind, Link: base + "/chlorine"})
}
