package water

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/unit"
)

// A SampleState is how far a sample has come.
type SampleState string

const (
	SamplePlanned SampleState = "planned"
	SampleDrawn   SampleState = "drawn"
	SampleSent    SampleState = "sent"
	SampleResult  SampleState = "result"
	SampleJudged  SampleState = "judged"
	SampleLost    SampleState = "lost" // spoilt, lost on the way, or given up: a new one is planned instead
)

// Usual places where a sample is drawn, each before disinfection, the worst
// moment (ISO 23500-1 and AAMI RD52, from memory).
const (
	PointProduct = "product water"
	PointInlet   = "machine inlet"
	PointFluid   = "dialysis fluid at the dialyser"
)

// A Sample is one bottle (or the bottles drawn together) on its way from the
// plan to the judged result.
type Sample struct {
	ID        string      `json:"id"`
	Point     string      `json:"point"`
	For       []Substance `json:"for"`
	State     SampleState `json:"state"`
	PlannedOn unit.Date   `json:"planned_on"`
	DrawnAt   time.Time   `json:"drawn_at,omitzero"`
	SentAt    time.Time   `json:"sent_at,omitzero"`
	ReachedAt time.Time   `json:"reached_at,omitzero"` // at the laboratory, as it reports
	ResultAt  time.Time   `json:"result_at,omitzero"`
	JudgedAt  time.Time   `json:"judged_at,omitzero"`
	LostAt    time.Time   `json:"lost_at,omitzero"`
	Cooled    bool        `json:"cooled,omitempty"`
	// Since the last disinfection of what the sample is drawn from; nil: not written down.
	HoursSinceDisinfection *float64 `json:"hours_since_disinfection,omitempty"`
}

// nextStates lists what each state may become. A result may come for a sample whose
// sending was never written down.
var nextStates = map[SampleState][]SampleState{
	SamplePlanned: {SampleDrawn, SampleLost},
	SampleDrawn:   {SampleSent, SampleResult, SampleLost},
	SampleSent:    {SampleResult, SampleLost},
	SampleResult:  {SampleJudged},
}

// Step takes the sample to a state at an instant. Only the next states are
// accepted, and no instant before that of an earlier state; otherwise the
// sample is returned as it was with an [*unit.InputError].
func (s Sample) Step(to SampleState, at time.Time) (Sample, error) {
	if !slices.Contains(nextStates[s.State], to) {
		var accepted []string
		for _, n := range nextStates[s.State] {
			accepted = append(accepted, string(n))
		}
		if accepted == nil {
			accepted = []string{"nothing more"}
		}
		return s, unit.Refuse("state", to, "after "+string(s.State)+" comes "+strings.Join(accepted, " or "))
	}
	if at.IsZero() || at.Before(s.lastAt()) {
		return s, unit.Refuse("at", at.Format(time.RFC3339), "an instant not before "+s.lastAt().Format(time.RFC3339))
	}
	switch to {
	case SampleDrawn:
		s.DrawnAt = at
	case SampleSent:
		s.SentAt = at
	case SampleResult:
		s.ResultAt = at
	case SampleJudged:
		s.JudgedAt = at
	case SampleLost:
		s.LostAt = at
	}
	s.State = to
	return s, nil
}

func (s Sample) lastAt() time.Time {
	last := s.DrawnAt
	for _, t := range []time.Time{s.SentAt, s.ResultAt} {
		if t.After(last) {
			last = t
		}
	}
	return last
}

// A SampleRule is how long each state may last before it is overdue.
type SampleRule struct {
	Send   time.Duration // from drawn to sent
	Answer time.Duration // from sent to result
	Judge  time.Duration // from result to judged
	Reach  time.Duration // from drawn to the laboratory, cooled
	Warm   time.Duration // the same, not cooled
}

// DefaultSampleRule: sent the same day, at the laboratory within 24 hours when
// cooled and 30 minutes when not (ISO 23500-1, from memory), answered within
// 14 days (a culture takes 7; our own proposal), judged within 2 (ours).
func DefaultSampleRule() SampleRule {
	const day = 24 * time.Hour
	return SampleRule{Send: day, Answer: 14 * day, Judge: 2 * day, Reach: day, Warm: 30 * time.Minute}
}

// Overdue says what the sample waits for and since when it is late; nothing
// when it is in time, judged or lost. A planned sample is late from the day
// after the planned one.
func (r SampleRule) Overdue(s Sample, now time.Time) []unit.Caution {
	late := func(code, what string, due time.Time) []unit.Caution {
		if !now.After(due) {
			return nil
		}
		return []unit.Caution{{Code: code, Text: fmt.Sprintf("The sample of %s %s, due since %s.", s.Point, what, due.Format("2 January 2006"))}}
	}
	switch s.State {
	case SamplePlanned:
		if unit.DateOf(now).Sub(s.PlannedOn) > 0 {
			return late("sample_not_drawn", "has not been drawn", s.PlannedOn.Add(1).Time(now.Location()).Add(-time.Nanosecond))
		}
	case SampleDrawn:
		return late("sample_not_sent", "has not been sent", s.DrawnAt.Add(r.Send))
	case SampleSent:
		return late("sample_no_result", "has brought no result", s.SentAt.Add(r.Answer))
	case SampleResult:
		return late("sample_not_judged", "has not been judged", s.ResultAt.Add(r.Judge))
	}
	return nil
}

// Handling says what may have changed the count between the tap and the
// laboratory: too long on the way, or drawn after disinfection, which flatters
// it.
func (r SampleRule) Handling(s Sample) []unit.Caution {
	var list []unit.Caution
	if way := s.ReachedAt.Sub(s.DrawnAt); !s.ReachedAt.IsZero() && !s.DrawnAt.IsZero() {
		allowed, how := r.Warm, "uncooled"
		if s.Cooled {
			allowed, how = r.Reach, "cooled"
		}
		if way > allowed {
			list = append(list, unit.Caution{Code: "sample_too_long_on_way",
				Text: fmt.Sprintf("The sample was %.1f hours on its way, %s; up to %.1f are accepted: the count may be wrong either way.", way.Hours(), how, allowed.Hours())})
		}
	}
	// Twelve hours, our own choice, part the evening after from the next use.
	if h := s.HoursSinceDisinfection; h != nil && *h < 12 {
		list = append(list, unit.Caution{Code: "sample_after_disinfection",
			Text: fmt.Sprintf("It was drawn %s hours after disinfection, the best moment: the count may flatter. Draw the next one before disinfection.", number(*h))})
	}
	return list
}

// A Task is what follows from a result that cannot stand as it is.
type Task struct {
	What  string    `json:"what"`
	Owner string    `json:"owner"`
	Due   unit.Date `json:"due"`
	Phone string    `json:"phone"` // of the unit
}

// FollowUp makes the task for a judgement: over the limit on the same day,
// at the action level or unknown within seven (our own proposal; the unit's
// rule goes first). A result within its limit gives none. Owner and the unit's
// telephone number are required.
func (j Judgement) FollowUp(owner, phone string, today unit.Date) (Task, bool, error) {
	if j.Verdict == Within {
		return Task{}, false, nil
	}
	if strings.TrimSpace(owner) == "" || strings.TrimSpace(phone) == "" {
		return Task{}, false, unit.Refuse("owner", strings.TrimSpace(owner+" "+phone), "who does it, and the unit's telephone number")
	}
	name, figure := j.Result.What.Label(), fmt.Sprintf("%s%s %s", opSign(j.Result.Op), number(j.Result.Value), j.Result.Unit)
	limit := fmt.Sprintf("%s %s, %s", number(j.Limit.Max), j.Limit.Unit, j.Limit.Edition)
	t := Task{Owner: owner, Phone: phone, Due: today.Add(7)}
	switch j.Verdict {
	case Over:
		t.Due = today
		t.What = fmt.Sprintf("%s %s is over the limit (%s): ring the unit before the next session, disinfect or have it seen to, and draw again.", name, figure, limit)
	case Action:
		t.What = fmt.Sprintf("%s %s is at the action level %s (limit %s): disinfect, draw again, tell the unit.", name, figure, number(j.Limit.Action), limit)
	default:
		t.What = fmt.Sprintf("%s %s does not show whether the limit (%s) is kept: ask the laboratory for a method that does, and tell the unit.", name, figure, limit)
	}
	return t, true, nil
}

func opSign(op Op) string {
	if op == Equal {
		return ""
	}
	return string(op)
}
