package main

import (
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// lookOut is what is said of a session at a moment: the start line, the run, what
// to set and the plan.
// The pages are made from the same values, in the same words.
type lookOut struct {
	HoursSince *float64     `json:"hours_since_last"` // hours, not rounded, from the end of the session before to this one's opening; null without one
	StartLine  []checkOut   `json:"start_line"`
	Remarks    []remarkOut  `json:"remarks"`
	NextCheck  *checkDueOut `json:"next_check"`
	SugarDue   *sugarDueOut `json:"sugar_due"` // where the unit set hours for the blood sugar
	FlushDue   *flushDueOut `json:"flush_due"` // where flushes are ordered
	ToSet      *toSetOut    `json:"to_set"`
	Withheld   *string      `json:"to_set_withheld"` // why what to_set names is not to be set; null otherwise
	Plan       *planOut     `json:"plan"`
}

// remarkOut is one remark on the run.
type remarkOut struct {
	At    time.Time `json:"at"`
	Code  string    `json:"code"`
	Level string    `json:"level"`
	Words string    `json:"words"`
	Entry *string   `json:"entry"` // null where an entry is lacking
}

// checkDueOut is when the next reading is due.
type checkDueOut struct {
	At       time.Time    `json:"at"`
	EveryMin unit.Minutes `json:"every_min"`
	Why      string       `json:"why"`
}

// sugarDueOut is when the blood sugar is due by the hours that the unit set.
type sugarDueOut struct {
	At       time.Time    `json:"at"`
	EveryMin unit.Minutes `json:"every_min"`
	Late     bool         `json:"late"` // for longer than a reading may come late
}

// flushDueOut is the next flush of those that are ordered.
type flushDueOut struct {
	At       *time.Time   `json:"at"` // null while the treatment stands still
	VolumeMl unit.Volume  `json:"volume_ml"`
	EveryMin unit.Minutes `json:"every_min"`
	Number   int          `json:"number"`
	Of       int          `json:"of"`
	Late     bool         `json:"late"`
}

// toSetOut is what to set on the machine now.
type toSetOut struct {
	GoalMl      unit.Volume  `json:"goal_ml"`
	RateMlH     unit.Rate    `json:"rate_ml_h"`
	MinutesLeft unit.Minutes `json:"minutes_left"`
	LeftOverMl  unit.Volume  `json:"left_over_ml"`
	Ask         bool         `json:"ask"`
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
	out := lookOut{StartLine: []checkOut{}, Remarks: []remarkOut{}}
	last := h.LastEnd // of the session before, dialysis or not
	if last.Before(h.RemovedAt) {
		last = h.RemovedAt
	}
	if opened, at := s.Opened(); opened.Place != "" && !last.IsZero() {
		hours := at.Sub(last).Hours()
		out.HoursSince = &hours
	}
	for _, c := range session.StartLine(s, h, now) {
		one := checkOut{Check: c.ID, State: c.State, Words: c.Words, Limit: c.Limit}
		if c.Overridden != nil {
			one.Reason = &c.Overridden.Reason
		}
		out.StartLine = append(out.StartLine, one)
	}
	remarks := append(session.RemarksWith(s, h, now), session.AfterSugars(s, now)...)
	for _, r := range remarks {
		one := remarkOut{At: r.At, Code: r.Code, Level: r.Level, Words: r.Words}
		if r.Entry != "" {
			one.Entry = &r.Entry
		}
		out.Remarks = append(out.Remarks, one)
	}
	if due, ok := session.NextCheckWith(s, h, now); ok {
		out.NextCheck = &checkDueOut{At: due.At, EveryMin: due.Every, Why: due.Why}
	}
	if due, ok := session.NextSugar(s, now); ok {
		out.SugarDue = &sugarDueOut{due.At, due.Every, due.Late}
	}
	if due, ok := session.NextFlush(s, now); ok {
		out.FlushDue = &flushDueOut{nil, due.Volume, due.Every, due.Number, due.Of, due.Late}
		if !due.At.IsZero() {
			out.FlushDue.At = &due.At
		}
	}
	if words := session.Withheld(s, now); words != "" {
		out.Withheld = &words
	}
	if set, ok := session.ToSetNow(s, now); ok {
		out.ToSet = &toSetOut{set.Goal, set.Rate, set.Left, set.LeftOver, set.Ask}
	}
	if plan, e := session.Agreed(s, now); plan != nil {
		out.Plan = &planOut{
			GoalMl: int64(plan.Goal), RateMlH: int64(plan.Rate), RatePerKg: plan.RatePerKg.Float(),
			Cautions: session.CautionsOf(s, *plan, h, e.At),
		}
	}
	return out
}
