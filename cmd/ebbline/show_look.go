package main

import (
	"time"

	"ebbline/record"
	"ebbline/session"
)

// lookOut is what is said of a session at a moment: the start line and the plan.
// The pages are made from the same values, in the same words.
type lookOut struct {
	HoursSince *float64   `json:"hours_since_last"` // from the end of the session before to this one's opening
	StartLine  []checkOut `json:"start_line"`
	Plan       *planOut   `json:"plan"`
}

// checkOut is one check of the start line.
type checkOut struct {
	Check  string             `json:"check"`
	State  session.CheckState `json:"state"`
	Words  string             `json:"words"`
	Limit  string             `json:"limit"`
	Reason *string            `json:"reason"` // written to go on in spite of it
}

// planOut is the agreed plan with what is said beside it.
type planOut struct {
	GoalMl    int64    `json:"goal_ml"`
	RateMlH   int64    `json:"rate_ml_h"`
	RatePerKg float64  `json:"rate_ml_per_kg_h"`
	Cautions  []string `json:"cautions"` // codes
}

func lookAt(m *record.Member, s *session.Session, now time.Time) lookOut {
	h := m.History(s)
	out := lookOut{StartLine: []checkOut{}}
	if opened, at := s.Opened(); opened.Place != "" && !h.LastEnd.IsZero() {
		hours := at.Sub(h.LastEnd).Hours()
		out.HoursSince = &hours
	}
	for _, c := range session.StartLine(s, h, now) {
		one := checkOut{Check: c.ID, State: c.State, Words: c.Words, Limit: c.Limit}
		if c.Overridden != nil {
			one.Reason = &c.Overridden.Reason
		}
		out.StartLine = append(out.StartLine, one)
	}
	if plan, e := session.Last[session.AgreedPlan](s); plan != nil && !e.At.After(now) {
		out.Plan = &planOut{
			GoalMl: int64(plan.Goal), RateMlH: int64(plan.Rate), RatePerKg: plan.RatePerKg.Float(),
			Cautions: session.CautionsOf(s, *plan, h, e.At),
		}
	}
	return out
}
