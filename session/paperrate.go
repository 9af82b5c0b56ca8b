package session

import "ebbline/unit"

// Adult reports whether the program's own figures of a removal rate, 10 and 13 mL/h
// per kg, may be used for the person of a session: the people they are from were
// adults. They are not used for a child, nor under [LightWeight], which is ours.
func (s *Session) Adult() bool {
	return !s.Child && (s.Rx == nil || s.Rx.DryWeight <= 0 || s.Rx.DryWeight >= LightWeight)
}

// paperBounds are the rates above which the unit's paper stops, and is looked at, in
// hundredths of mL/h per kg of dry weight; 0 where there is no such figure.
//
//	the unit wrote a rate          stop above it, no look
//	a child, or under [LightWeight] neither: the program's figures are of adults
//	pregnant                        stop above 13, no look: the lower one is a guideline's target
//	anybody else                    stop above 13, look above 10 until it is known what the unit sets
func (l startLine) paperBounds() (stop, look unit.RatePerKg, byUnit bool) {
	switch {
	case l.rx.Rate != nil:
		return *l.rx.Rate, 0, true
	case !l.s.Adult():
		return 0, 0, false
	case l.rx.RateKnown() || IsPregnant(l.s, l.h, l.at):
		return stopRate, 0, false
	}
	return stopRate, lookRate, false
}

// paperRate judges the rate of the unit's paper, its highest one, which the mean of a
// profile hides, and its volume. It names what is over and offers no other length or
// volume: the plan is the unit's. Where neither the unit nor the program has a figure
// to hold it against, that is said once.
func (l startLine) paperRate(v *verdict, p *PaperPlan, e *Event) {
	stop, look, byUnit := l.paperBounds()
	most, dry := l.rx.MaxRemoval, l.rx.DryWeight
	// over words a rate of so many mL in so many minutes, where it lies over a bound.
	over := func(bound unit.RatePerKg, amount unit.Volume, length unit.Minutes) (runs string, so bool) {
		if bound <= 0 || dry <= 0 || length <= 0 || !above(bound, amount, length, dry) {
			return "", false
		}
		return rateOver(bound, amount, length, dry) + " (" + rateOf(amount, length).Text() + ")", true
	}
	peak := unit.Volume(0) // mL in one hour
	if p.Rate != nil {
		peak = unit.Volume(*p.Rate)
	}
	limit := l.paperLimit()
	if runs, so := over(stop, p.Goal, p.Length); so && byUnit {
		v.ring(e, "paper_rate_limit", runs, stop).against(limit)
	} else if so {
		v.ring(e, "paper_rate_stop", runs, stop).against(limit)
	} else if runs, so := over(stop, peak, 60); so && byUnit {
		v.ring(e, "paper_peak_limit", runs, stop).against(limit)
	} else if so {
		v.ring(e, "paper_peak", runs, stop).against(limit)
	} else if runs, so := over(look, p.Goal, p.Length); so {
		v.look(e, "paper_rate_look", runs, look).against(ownRate(l.rx, look))
	} else if runs, so := over(look, peak, 60); so {
		v.look(e, "paper_peak_look", runs, look).against(ownRate(l.rx, look))
	}
	switch {
	case most != nil && p.Goal > *most:
		v.ring(e, "paper_most", p.Goal.Text(), most.Text()).against(most.Text() + ", " + setByUnit(l.rx))
	case stop == 0 && most == nil && !l.rx.RateKnown():
		v.look(e, "paper_unheld")
	}
}

// paperLimit is what the rate of the unit's paper is held against, and whose it is;
// empty where there is no figure.
func (l startLine) paperLimit() string {
	switch stop, _, byUnit := l.paperBounds(); {
	case byUnit:
		return stop.Text() + ", " + setByUnit(l.rx)
	case stop > 0:
		return ownRate(l.rx, stop)
	case l.rx.MaxRemoval != nil:
		return l.rx.MaxRemoval.Text() + ", " + setByUnit(l.rx)
	}
	return ""
}
