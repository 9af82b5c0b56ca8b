package session

import (
	"fmt"
	"slices"
	"time"

	"ebbline/unit"
)

// terms writes the plan line by line, each with where it came from and when.
// The lines that carry ML add up to the goal to the mL; below dry weight the first
// of them is negative.
func (p *Plan) terms(s *Session, h History) {
	rx := s.Rx
	weight, weighed := Last[WeighIn](s)
	prescribed := "prescription of " + rx.OrderedOn.Long()
	add := func(code, label, value, from string, at time.Time, ml *unit.Volume) {
		p.Terms = append(p.Terms, Term{Code: code, Label: label, Value: value, ML: ml, From: from, At: at})
	}
	ml := func(v unit.Volume) *unit.Volume { return &v }

	add("pre_weight", "Weight now", p.PreWeight.Text(), "scale “"+weight.Scale+"”", weighed.At, nil)
	if p.Clothing != 0 {
		add("clothing", "Less clothes", p.Clothing.Text(), "your entry", weighed.At, nil)
	}
	dryFrom := "set by " + rx.DrySetBy
	if !rx.DrySetOn.IsZero() {
		dryFrom += " on " + rx.DrySetOn.Long()
	}
	add("dry_weight", "Dry weight", p.DryWeight.Text(), dryFrom, time.Time{}, nil)
	if g := SinceLast(s, h, p.MadeAt); !g.First() {
		add("since_last", g.label(), g.Hours(), g.missed()+"; "+unit.DateOf(g.Last).Long(), g.Last, nil)
	}
	if h.LastPost != nil {
		if over := h.LastPost.Weight - h.LastPost.Clothing - p.DryWeight; over > 0 {
			add("last_end", "Left above dry weight last time", over.Text(), "weight after of "+unit.DateOf(h.LastPostAt).Long(), h.LastPostAt, nil)
		}
		gain := p.PreWeight - p.Clothing - (h.LastPost.Weight - h.LastPost.Clothing)
		add("gain", "Gain since the last session", minus(gainText(gain, p.DryWeight)), "weight after of "+unit.DateOf(h.LastPostAt).Long(), h.LastPostAt, nil)
	} else {
		from := "the last session has no weight after"
		if h.Treated == 0 {
			from = "no session before this one is written down"
		}
		add("gain", "Gain since the last session", "not known", from, time.Time{}, nil)
	}
	if p.BelowDry {
		add("below_dry", "Below dry weight", minus((-p.Under()).Text()), "weight now − clothes − dry weight, 1 kg = 1 L", time.Time{}, ml(unit.Volume(-p.Under())))
	} else {
		add("above_dry", "Above dry weight", p.AboveDry.Text(), "weight now − clothes − dry weight, 1 kg = 1 L", time.Time{}, ml(p.AboveDry))
	}
	from := prescribed
	if p.Intake != rx.Intake {
		from = "your entry for this session; prescribed is " + rx.Intake.Text()
	}
	add("intake", "Drinks and food during the session", p.Intake.Text(), from, time.Time{}, ml(p.Intake))
	if s.Machine.AddsWashback {
		add("washback", "Washback", p.Washback.Text(), "the machine adds it by itself, so it is not added here", time.Time{}, ml(0))
	} else {
		add("washback", "Washback", p.Washback.Text(), prescribed+"; the machine does not add it", time.Time{}, ml(p.Washback))
	}
	if p.Saline != 0 {
		add("saline", "Other saline", p.Saline.Text(), "your entry for this session", time.Time{}, ml(p.Saline))
	}
	if n := rx.FlushCount(p.Length); n > 0 {
		add("flushes", "Flushes", p.Flushes.Text(), fmt.Sprintf("%d of %s, every %s; %s", n, rx.FlushML.Text(), rx.FlushEvery.Text(), prescribed), time.Time{}, ml(p.Flushes))
	}
	if short := p.short(); short > 0 {
		add("not_removed", "Still short of dry weight", short.Text(), "what comes in does not reach it, and the goal is never below 0", time.Time{}, ml(short))
	}
	if rounding := p.Goal - max(0, p.Sum()); rounding != 0 {
		add("rounding", "Rounded to the machine's step", minus(rounding.Text()), "steps of "+p.Step.Text(), time.Time{}, ml(rounding))
	}
	sum := "the sum of the lines above"
	if s.ByFiltration() {
		sum += ": what comes off you. The substitution fluid is not in it"
	}
	add("goal", "Goal", p.Goal.Text(), sum, time.Time{}, nil)
	if p.LeftOver > 0 {
		add("left_over", "Left for later", p.LeftOver.Text(), p.whyLeft(), time.Time{}, nil)
		add("set_goal", "To dial in", p.SetGoal.Text(), "the goal without what is left for later", time.Time{}, nil)
	}
	length, how, err := rx.SessionLength()
	if err != nil || p.Length != length {
		how = "your entry for this session"
		if err == nil {
			how += "; prescribed is " + hoursText(length)
		}
	}
	add("length", "Length", hoursText(p.Length), how, time.Time{}, nil)
	add("rate", "Rate", p.Rate.Text(), "dialled in ÷ length", time.Time{}, nil)
	add("rate_kg", "Rate for each kilogram of dry weight", p.RatePerKg.Text(), "rate ÷ dry weight "+p.DryWeight.Text(), time.Time{}, nil)
}

func (p *Plan) whyLeft() string {
	for _, l := range p.Limits {
		if l.Cut {
			return "the limit of " + l.Value + ", " + l.Whose
		}
	}
	return "your choice for this session"
}

// AskAbove is the goal above which the plan is asked about whatever the
// weight. Ours.
const AskAbove unit.Volume = 4000

// lengthAsk is how far a length may lie from the prescribed one unasked. Ours.
const lengthAsk unit.Minutes = 15

// DryWeightAge is the age at which a dry weight without a review date shouts.
// Ours.
const DryWeightAge = 90 // days

// stomachDays is how long not eating or diarrhoea puts the dry weight in doubt.
// Ours.
const stomachDays = 14

// say collects what is stale and what must stand beside the numbers.
func (p *Plan) say(s *Session, h History, now time.Time) {
	shout := func(code, format string, args ...any) {
		p.Shouts = append(p.Shouts, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	say := func(code, format string, args ...any) {
		p.Said = append(p.Said, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	rx, today := s.Rx, unit.DateOf(now)
	if words := p.Dry.Words(); words != "" {
		shout(p.Dry.Code(), "%s", words)
	}
	_, weighed := Last[WeighIn](s)
	if age := now.Sub(weighed.At); age > WeightAge {
		p.WeighAgain = true
		shout("weight_old", "Weight is %s. Weigh again, then plan.", ago(weighed.At, now))
	}
	staleDry(s, h, today, shout)
	if !rx.ReviewBy.IsZero() && rx.ReviewBy.Before(today) {
		shout("prescription_review", "Prescription was due for review by %s. Ring your unit.", rx.ReviewBy.Long())
	}
	if rx.How == "phone" && !h.PaperCame {
		shout("phoned", "Prescription was phoned on %s; the paper has not come.", rx.OrderedOn.Long())
	}
	p.Said = append(p.Said, rateCautions(rx, p.SetGoal, p.Length, p.DryWeight)...)
	if insideUnitRate(rx, p.SetGoal, p.Length, p.DryWeight) && above(lookRate, p.SetGoal, p.Length, p.DryWeight) {
		p.Studied = Studied
	}
	if p.Goal > AskAbove {
		say("goal_large", "Goal is over %s. Weight, scale, clothes: right?", litresText(AskAbove))
	}
	if length, _, err := rx.SessionLength(); err == nil && (p.Length-length > lengthAsk || length-p.Length > lengthAsk) {
		say("length_differs", "Length %s; prescribed is %s.", hoursText(p.Length), hoursText(length))
	}
	if p.LeftOver > 0 {
		p.Question = p.question(rx, h)
	}
	for _, c := range append(slices.Clone(p.Shouts), p.Said...) {
		p.Cautions = append(p.Cautions, c.Text)
	}
}

// staleDry shouts when the dry weight is past its date, or older than
// something that changes a body.
func staleDry(s *Session, h History, today unit.Date, shout func(code, format string, args ...any)) {
	rx := s.Rx
	switch {
	case rx.DrySetOn.IsZero():
		shout("dry_undated", "Dry weight has no date. Ask your unit when it was set.")
		return
	case !rx.DryReview.IsZero() && rx.DryReview.Before(today):
		shout("dry_review", "Dry weight of %s was due for review by %s. Ring your unit.", rx.DrySetOn.Long(), rx.DryReview.Long())
	case rx.DryReview.IsZero() && today.Sub(rx.DrySetOn) > DryWeightAge:
		shout("dry_age", "Dry weight is %d days old. Ask your unit.", today.Sub(rx.DrySetOn))
	}
	hospital, stomach := h.Hospital, h.Stomach
	Each(s, func(b *Fitness, e *Event) {
		if b.Hospital {
			hospital = later(hospital, unit.DateOf(e.At))
		}
		if b.Stomach {
			stomach = later(stomach, unit.DateOf(e.At))
		}
	})
	if !hospital.IsZero() && rx.DrySetOn.Before(hospital) {
		shout("dry_hospital", "Dry weight is older than your hospital stay (told %s). Ring about it.", hospital.Long())
	}
	if !stomach.IsZero() && rx.DrySetOn.Before(stomach) && today.Sub(stomach) <= stomachDays {
		shout("dry_stomach", "Not eating, vomiting or diarrhoea on %s: dry weight may be wrong. Ring about it.", stomach.Long())
	}
}

// question words what is left over as something to ask the unit; it proposes
// no change by itself.
func (p *Plan) question(rx *Prescription, h History) string {
	q := litresText(p.LeftOver) + " stays on. Ask your unit how to take it: "
	if n := p.sessionsFor(h); n > 0 {
		q += fmt.Sprintf("over the next %d sessions (about %s each)", n, ((p.LeftOver + unit.Volume(n) - 1) / unit.Volume(n)).Text())
	} else {
		q += "spread over the next sessions"
	}
	if rx.MaxRemoval != nil && p.Goal > *rx.MaxRemoval {
		return q + ", or in an extra session?" // more hours do not make room under the largest removal
	}
	for _, w := range p.Ways {
		if rx.Rate != nil && w.Rate == *rx.Rate {
			return q + ", in " + hoursText(w.Shortest) + " today, or in an extra session?"
		}
	}
	return q + ", or in an extra session?"
}

// sessionsFor gives how many sessions with the person's usual goal have room
// for what is left over, within what this session could take; 0 when that is
// not known, or is more than six.
func (p *Plan) sessionsFor(h History) int {
	if len(h.Goals) < 4 {
		return 0
	}
	recent := slices.Sorted(slices.Values(h.Goals))
	room := p.SetGoal - recent[len(recent)/2]
	if room <= 0 {
		return 0
	}
	if n := int((p.LeftOver + room - 1) / room); n <= 6 {
		return n
	}
	return 0
}
