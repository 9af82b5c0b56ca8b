package web

import (
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/session"
)

// beforeDue is how long before it is due a test is spoken of.
const beforeDue = 20 * time.Minute

// chlorineAgain says on the running page when total chlorine is to be tested
// again by the unit's rule, and what a test showed that was made while the
// treatment ran.
func chlorineAgain(v visit) []session.Remark {
	var list []session.Remark
	began, ok := v.session.Began()
	if !ok {
		return nil
	}
	limit, whose := session.ChlorineLimit, "program default"
	if rx := v.session.Rx; rx != nil && rx.Chlorine != nil {
		limit, whose = *rx.Chlorine, rx.SetByUnit()
	}
	session.Each(v.session, func(b *session.Chlorine, e *session.Event) {
		if e.At.After(began) && b.Result > limit && !b.Below && e.Missing["total_chlorine_mg_l"] == "" {
			list = append(list, session.Remark{Code: "chlorine_over", At: e.At, Level: session.LevelLook, Entry: e.ID,
				Words: "Total chlorine " + b.Result.Text() + ", limit " + limit.Text() + " (" + whose + "). Your unit’s own card and its number first. Coming off without delay is common practice; pain or port-wine blood: the ambulance."})
		}
	})
	rule := household.ChlorineRule(v.house)
	at, due := rule.Next(v.session, v.now)
	switch {
	case due:
		list = append(list, session.Remark{Code: "chlorine_again", At: at, Level: session.LevelLook, Words: "Total chlorine is to be tested again: every " + span(rule.Every) + ", " + rule.Whose() + "."})
	case !at.IsZero() && at.Sub(v.now) <= beforeDue:
		list = append(list, session.Remark{Code: "chlorine_again", At: at, Level: session.LevelNote, Words: "Total chlorine again at " + at.Format("15:04") + ", " + rule.Whose() + "."})
	}
	return list
}

// chlorineTap puts the form of the test among the events of a session in which
// it is made again.
func (b *runningBody) chlorineTap(v visit, base string) {
	if at, _ := household.ChlorineRule(v.house).Next(v.session, v.now); at.IsZero() {
		return
	}
	kind, _ := record.Find("chlorine")
	b.Taps = append(b.Taps, tap{Kind: kind, Link: base + "/chlorine"})
}
