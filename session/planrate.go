package session

import (
	"slices"
	"strings"

	"ebbline/fluid"
	"ebbline/unit"
)

// The program's own bounds of the removal rate, in hundredths of mL/h per kg of
// dry weight. They count where the unit set no limit of rate; a largest removal
// is none, since it says nothing of the time. Above the first is a look, above
// the second a stop; a rate that equals one lies inside it.
//
// Source of the two figures: [fluid.SourceFlythe] and [fluid.SourceAssimon]. That
// the second one stops is ours.
const (
	lookRate unit.RatePerKg = fluid.CautionRate * 100
	stopRate unit.RatePerKg = fluid.HighCautionRate * 100
)

// perHour turns mL/min per g into hundredths of mL/h per kg.
const perHour = 60 * 1000 * 100

// rateOf gives mL/h to the nearest whole one; 0 for a length that is not above 0.
func rateOf(goal unit.Volume, length unit.Minutes) unit.Rate {
	if length <= 0 {
		return 0
	}
	return unit.Rate((int64(goal)*60*2 + int64(length)) / (2 * int64(length)))
}

// perKg gives mL/h per kg of dry weight, to the nearest hundredth:
//
//	rate = goal / (length · dry weight)
//
// It gives 0 where length or dry weight is not above 0.
func perKg(goal unit.Volume, length unit.Minutes, dry unit.Mass) unit.RatePerKg {
	den := int64(length) * int64(dry)
	if den <= 0 {
		return 0
	}
	return unit.RatePerKg((int64(goal)*perHour*2 + den) / (2 * den))
}

// above reports exactly, without rounding, whether a goal runs over so many mL/h
// per kg.
func above(rate unit.RatePerKg, goal unit.Volume, length unit.Minutes, dry unit.Mass) bool {
	return int64(goal)*perHour > int64(rate)*int64(length)*int64(dry)
}

// stopsAt gives the rate above which a plan is stopped, and whether it is the
// unit's own limit.
func stopsAt(rx *Prescription) (rate unit.RatePerKg, byUnit bool) {
	if rx != nil && rx.Rate != nil {
		return *rx.Rate, true
	}
	return stopRate, false
}

// RateKnown reports whether it is written what the unit says of the removal
// rate: its limit, or that it sets none.
func (l Limits) RateKnown() bool { return l.Rate != nil || l.RateNoneBy != "" }

// lengthAt gives the length in whole minutes at which a goal in mL runs at no
// more than so many mL/h per kg of dry weight, rounded up:
//
//	length = goal / (rate · dry weight)
//
// It needs a rate and a dry weight above zero.
func lengthAt(rate unit.RatePerKg, goal unit.Volume, dry unit.Mass) unit.Minutes {
	a, b := int64(goal)*perHour, int64(rate)*int64(dry)
	return unit.Minutes((a + b - 1) / b)
}

// goalAt gives the goal in mL that fits a length at so many mL/h per kg of dry
// weight, rounded down to a step of the machine's field:
//
//	goal = rate · dry weight · length
func goalAt(rate unit.RatePerKg, length unit.Minutes, dry unit.Mass, step unit.Volume) unit.Volume {
	return floorTo(unit.Volume(int64(rate)*int64(dry)*int64(length)/perHour), max(step, 1))
}

// planRate judges the rate of what is dialled in over the agreed length. Inside a
// limit of rate that the unit set nothing is found, however high the limit is.
func (l startLine) planRate(v *verdict, b *AgreedPlan, e *Event) {
	over := func(rate unit.RatePerKg) bool { return above(rate, b.SetGoal, b.Length, b.DryWeight) }
	runs := func(bound unit.RatePerKg) string {
		return rateOver(bound, b.SetGoal, b.Length, b.DryWeight) + " (" + rateOf(b.SetGoal, b.Length).Text() + ")"
	}
	down := func(to unit.RatePerKg) (longer, length, fits, rest string) {
		goal := l.fitting(to, b)
		return hoursText(lengthAt(to, b.SetGoal, b.DryWeight)), hoursText(b.Length), l.s.Machine.goalText(goal), l.s.Machine.goalText(b.Goal - goal)
	}
	switch limit := l.rx.Rate; {
	case b.Length <= 0 || b.DryWeight <= 0:
	case limit != nil && over(*limit):
		longer, length, fits, rest := down(*limit)
		v.ring(e, "plan_rate_limit", runs(*limit), limit, longer, limit, length, fits, rest).against(limit.Text() + ", " + setByUnit(l.rx))
	case limit != nil:
	case over(stopRate):
		longer, length, fits, rest := down(stopRate)
		v.ring(e, "plan_rate_stop", runs(stopRate), stopRate, longer, stopRate, length, fits, rest).against(ownRate(l.rx, stopRate))
	case over(lookRate) && !l.rx.RateKnown():
		v.look(e, "plan_rate_look", runs(lookRate), lookRate).against(ownRate(l.rx, lookRate))
	}
}

// planMost judges what is dialled in against the largest removal of one session that
// the unit set.
func (l startLine) planMost(v *verdict, b *AgreedPlan, e *Event) {
	most := l.rx.MaxRemoval
	if most == nil || b.SetGoal <= *most {
		return
	}
	to, _ := stopsAt(l.rx)
	fits := l.fitting(to, b)
	v.ring(e, "plan_most", b.SetGoal.Text(), most.Text(), l.s.Machine.goalText(fits), l.s.Machine.goalText(b.Goal-fits)).against(most.Text() + ", " + setByUnit(l.rx))
}

// fitting is the goal that fits a plan's length at a rate, and the largest removal
// that the unit set: at most what is dialled in.
func (l startLine) fitting(to unit.RatePerKg, b *AgreedPlan) unit.Volume {
	step := max(l.s.Machine.FieldStep(), 1)
	goal := b.SetGoal
	if b.Length > 0 && b.DryWeight > 0 {
		goal = min(goal, goalAt(to, b.Length, b.DryWeight, step))
	}
	if l.rx.MaxRemoval != nil {
		goal = min(goal, floorTo(*l.rx.MaxRemoval, step))
	}
	return goal
}

// rateLimit is what the rate of a plan is held against, and whose it is.
func rateLimit(rx *Prescription) string {
	rate, byUnit := stopsAt(rx)
	if byUnit {
		return rate.Text() + ", " + setByUnit(rx)
	}
	return ownRate(rx, rate)
}

// ownRate is a bound of the program's own, with who said that the unit has none.
func ownRate(rx *Prescription, bound unit.RatePerKg) string {
	return bound.Text() + ", " + ownRateWhose(rx)
}

func ownRateWhose(rx *Prescription) string {
	if rx.RateNoneBy == "" {
		return ownDefault
	}
	return ownDefault + ": it sets none (" + rx.RateNoneBy + ", " + rx.RateNoneOn.Long() + ")"
}

// goalText writes a volume in the unit and digits of the machine's goal field.
func (m Machine) goalText(v unit.Volume) string { return m.goalDigits(v) + "\u00a0" + m.goalUnit() }

// rateOver writes a rate that lies over a bound: with one decimal, and with two,
// rounded up, where one would not show that it is over.
func rateOver(bound unit.RatePerKg, goal unit.Volume, length unit.Minutes, dry unit.Mass) string {
	a, b := int64(goal)*perHour, int64(length)*int64(dry)
	shown := unit.RatePerKg((2*a+10*b)/(20*b)) * 10
	if shown <= bound {
		shown = unit.RatePerKg((a + b - 1) / b)
	}
	return shown.Digits(1) + "\u00a0" + shown.Symbol()
}

// rateCautions are the published cautions that stand beside a rate. Inside the
// unit's own limit of rate there are none: the unit has decided.
func rateCautions(rx *Prescription, goal unit.Volume, length unit.Minutes, dry unit.Mass) []unit.Caution {
	var said []unit.Caution
	if insideUnitRate(rx, goal, length, dry) {
		return said
	}
	if above(lookRate, goal, length, dry) {
		said = append(said, fluid.RateAbove10())
	}
	if above(stopRate, goal, length, dry) {
		said = append(said, fluid.RateAbove13())
	}
	return said
}

// insideUnitRate reports whether the unit set a limit of rate and the rate lies
// inside it.
func insideUnitRate(rx *Prescription, goal unit.Volume, length unit.Minutes, dry unit.Mass) bool {
	return rx != nil && rx.Rate != nil && !above(*rx.Rate, goal, length, dry)
}

// A RateRemark is what the start line will say of the rate of a plan.
type RateRemark struct {
	Words     string
	Limit     string // and whose it is
	Stop      bool
	Longer    unit.Minutes // of a stop: the length at which it lies inside
	Less      unit.Volume  // of a stop: the goal that fits the length
	LessShown string       // the same in the digits of the machine's field
}

// remarkOn gives what the start line will say of the rate, nil when nothing.
func (p *Plan) remarkOn(s *Session) *RateRemark {
	var v verdict
	l := startLine{s: s, rx: s.Rx}
	l.planRate(&v, &p.AgreedPlan, nil)
	if len(v.findings) == 0 {
		return nil
	}
	f := v.findings[0]
	r := &RateRemark{Words: f.words(), Limit: f.limit, Stop: f.state == StopHere}
	if r.Stop {
		to, _ := stopsAt(s.Rx)
		r.Longer, r.Less = lengthAt(to, p.SetGoal, p.DryWeight), l.fitting(to, &p.AgreedPlan)
		r.LessShown = s.Machine.goalText(r.Less)
	}
	return r
}

// Studied is the small line beside a plan that runs above the lower figure of the
// studies and inside the unit's own limit: whom that figure is from. It gives no
// second opinion on the limit.
const Studied = "Above the 10 mL/h/kg of the studies. Their people were treated three times a week in centres; strict for light, lax for heavy people."

// StudiedIn are the papers behind [Studied].
func StudiedIn() []string {
	return []string{fluid.SourceFlythe, fluid.SourceAssimon, fluid.SourceByWeight}
}

// Notes are the cautions of a plan that its page says in full. Those about the
// rate are not among them where the start line will say it; they are behind it.
func (p Plan) Notes() []unit.Caution {
	return slices.DeleteFunc(slices.Clone(p.Said), func(c unit.Caution) bool { return p.RateSaid != nil && aboutRate(c) })
}

// Behind are the published cautions behind what the start line will say of the
// rate, with their papers.
func (p Plan) Behind() []unit.Caution {
	return slices.DeleteFunc(slices.Clone(p.Said), func(c unit.Caution) bool { return p.RateSaid == nil || !aboutRate(c) })
}

func aboutRate(c unit.Caution) bool { return strings.HasPrefix(c.Code, "rate_above_") }

// Beside gives what stands beside an agreed plan on paper. A remark about the
// rate that was kept with an older plan, although the rate lay inside the unit's
// own limit, is left out.
func (b AgreedPlan) Beside(rx *Prescription) []string {
	if !insideUnitRate(rx, b.SetGoal, b.Length, b.DryWeight) {
		return b.Cautions
	}
	var list []string
	for _, words := range b.Cautions {
		if !strings.HasPrefix(words, rateSays) {
			list = append(list, words)
		}
	}
	return list
}

// rateSays is how both cautions about the rate begin.
const rateSays = "The removal rate is above "
