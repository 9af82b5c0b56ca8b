package main

import (
	"ebbline/session"
	"ebbline/unit"
)

func netFigure(p person) bool { return p.filtered != session.RemovedGross }
func noFlushes(p person) bool { return p.flushes == 0 }

// treatments are events of treatments with rules of their own, and one that any plan
// can meet: the machine set to another goal.
func treatments() []event {
	return []event{
		{code: "misread", title: "the machine set to another goal than the plan", checks: []string{session.CheckPlan}, codes: []string{"plan_goal", "paper_goal"}, stay: true,
			make: func(_ *life, e *evening) { e.misread = 300 }},
		{code: "unasked", title: "heparin drawn where none is ordered", checks: []string{session.CheckHeparin}, codes: []string{"heparin_unasked"}, stay: true,
			skip: func(p person) bool { return p.heparin }, make: func(_ *life, e *evening) { e.unasked = true }},
		{code: "flush", title: "a flush not given for 10 min", skip: noFlushes,
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				l.rows(e, 5)
				i := e.middle()
				due := l.person.flushes
				for due < e.readings[i-1].minute+2 {
					due += l.person.flushes
				}
				e.readings = e.readings[:i+1]
				e.readings[i].minute = due + 10
				for j, m := range e.flushes {
					if m >= due {
						e.flushes = e.flushes[:j]
						break
					}
				}
				return i
			},
			told: func(b *life) bool {
				s := b.house.Session(b.session)
				due, ok := session.NextFlush(s, s.Log[len(s.Log)-1].At)
				return ok && due.Late
			}},
		{code: "pair", title: "more substitution fluid than the figure that holds it", skip: netFigure,
			row: func(_ *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				e.readings[i].Given = ref(unit.Litres(40_000))
				e.readings = e.readings[:i+1] // the count does not go back after it
				return i
			},
			told: func(b *life) bool { return b.asked["substitution_l"] }},
		{code: "bare", title: "a figure with substitution fluid in it, that fluid not typed", remarks: []string{"removed_gross"}, note: true, skip: netFigure,
			row: func(_ *life, e *evening, _ *session.AgreedPlan) int {
				e.bare = e.middle()
				return e.bare
			}},
	}
}
