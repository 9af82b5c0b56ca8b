package household

import (
	"errors"
	"time"

	"ebbline/fluid"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// An Outlook is what the time to the next session holds: what may be taken in
// until then, and what would come off at the weight that was written last.
type Outlook struct {
	Allowance *fluid.Allowance
	Limit     string    // whose limit the allowance keeps to
	Until     time.Time // the weigh-in that it is reckoned to
	Why       []string  // without an allowance: what it lacks, in sentences

	Weight   unit.Mass // the last one written, without clothes
	WeightAt time.Time // zero when there is none
	After    bool      // it was written after a session, not before one
	Off      *fluid.Plan
}

// LookAhead reckons the outlook from a due session. For a machine that adds
// the washback by itself none is counted. Urine is not counted: nothing in the
// record says how much there is.
func LookAhead(h *record.Household, m *record.Member, due Due, now time.Time) Outlook {
	var o Outlook
	o.lastWeight(m)
	rx := m.Prescription(due.Day)
	if rx == nil {
		o.Why = append(o.Why, "There is no prescription for that day.")
		return o
	}
	length, _, err := rx.Value.SessionLength()
	if err != nil {
		o.Why = append(o.Why, "The length of a session is not known.")
		return o
	}
	at := due.At
	if at.IsZero() {
		at = now
	}
	if no := m.NoPlan(at); no != nil {
		o.Why = append(o.Why, no.Words())
		return o
	}
	flushes := rx.Value.FlushesPlanned(length)
	in := fluid.PlanInput{
		DryWeight: rx.Value.DryWeight.Exact(), Session: length.Exact(), Intake: rx.Value.Intake.Exact(), Washback: rx.Value.Washback.Exact(),
		Saline: flushes.Exact(),
	}
	if machine, ok := h.Machine.Now(); ok {
		in.Step = machine.FieldStep().Exact()
		in.Washback = machine.WashbackIn(&rx.Value).Exact()
	}
	if r := rx.Value.Rate; r != nil {
		exact := r.Exact()
		in.RateLimit = &exact
	}
	if v := rx.Value.MaxRemoval; v != nil {
		exact := v.Exact()
		in.MaxRemoval = &exact
	}
	if !o.WeightAt.IsZero() {
		in.PreWeight = o.Weight.Exact()
		if p, err := fluid.NewPlan(in); err == nil && fluid.Recheck(in, p) == nil {
			o.Off = &p
		}
	}
	o.allow(m, due, rx, in, rx.Value.Intake+flushes, now)
	return o
}

// lastWeight finds the weight that was written last, before or after a session.
func (o *Outlook) lastWeight(m *record.Member) {
	for i := len(m.Sessions) - 1; i >= 0; i-- {
		s := m.Sessions[i]
		if s.Abandoned() {
			continue
		}
		if b, e := session.Last[session.WeighOut](s); b != nil && e.Missing["weight_kg"] == "" {
			o.Weight, o.WeightAt, o.After = b.Weight-b.Clothing, e.At, true
			return
		}
		if b, e := session.Last[session.WeighIn](s); b != nil && e.Missing["weight_kg"] == "" {
			o.Weight, o.WeightAt, o.After = b.Weight-b.Clothing, e.At, false
			return
		}
	}
}

// allow gives what may be gained until the weigh-in of the due session, given what comes in
// during it, washback apart.
func (o *Outlook) allow(m *record.Member, due Due, rx *record.Rx, in fluid.PlanInput, taken unit.Volume, now time.Time) {
	lack := func(words string) { o.Why = append(o.Why, words) }
	if rx.Value.Rate == nil && rx.Value.MaxRemoval == nil {
		lack("Your unit has set no limit for the removal, neither a rate nor a largest one.")
	}
	switch {
	case !due.Timed:
		lack("No session is written down yet, so there is no weight to start from.")
	case due.Overdue > 0:
		lack("It was worked out until the session that is overdue. Ring your unit.")
	case !now.Before(due.At):
		lack("The time at which you usually begin has gone by, so the next weigh-in is now.")
	case o.WeightAt.IsZero() || !o.After || o.WeightAt.Before(due.Last.Add(-time.Minute)):
		lack("The last session has no weight after it.")
	}
	if len(o.Why) > 0 {
		return
	}
	gap := hoursBetween(o.WeightAt, due.At)
	a, err := fluid.Between(fluid.BetweenInput{
		LastPost: o.Weight.Exact(), DryWeight: in.DryWeight, Gap: gap, Session: in.Session,
		Intake: taken.Exact(), Washback: in.Washback, RateLimit: in.RateLimit, MaxRemoval: in.MaxRemoval,
	})
	if err != nil {
		var input *unit.InputError
		if errors.As(err, &input) {
			lack("It cannot be worked out: " + input.Error() + ".")
		}
		return
	}
	o.Allowance, o.Limit, o.Until = &a, rx.Value.SetByUnit(), due.At
}

// hoursBetween gives the stretch between two moments, to the minute.
func hoursBetween(from, to time.Time) unit.ExactHours {
	var h unit.ExactHours
	minutes := float64(to.Sub(from) / time.Minute)
	_ = h.SetFloat(minutes / 60) // a span of moments is finite
	return h
}
