package session

import (
	"slices"

	"ebbline/unit"
)

// Adult reports whether the program's own figures of a removal rate, 10 and 13 mL/h
// per kg, are made for the person of a session: the people they are from were adults.
// Of a child, and under [LightWeight], which is ours, 10 is not used, and 13 only stops
// what the unit wrote nothing of.
func (s *Session) Adult() bool {
	return !s.Child && (s.Rx == nil || s.Rx.DryWeight <= 0 || s.Rx.DryWeight >= LightWeight)
}

// paperBounds are the rates above which the unit's paper stops, and is looked at, in
// hundredths of mL/h per kg of dry weight; 0 where there is no such figure.
//
//	the unit wrote a rate          stop above it, no look
//	a child, or under [LightWeight] stop above 13, no look: the lower one is of adults
//	pregnant                        stop above 13, no look: the lower one is a guideline's target
//	anybody else                    stop above 13, look above 10 until it is known what the unit sets
func (l startLine) paperBounds() (stop, look unit.RatePerKg, byUnit bool) {
	switch {
	case l.rx.Rate != nil:
		return *l.rx.Rate, 0, true
	case !l.s.Adult():
		return stopRate, 0, false
	case l.rx.RateKnown() || IsPregnant(l.s, l.h, l.at):
		return stopRate, 0, false
	}
	return stopRate, lookRate, false
}

// paperRate judges the rate of the unit's paper, its highest one, which the mean of a
// profile hides, and its volume. It names what is over and offers no other length or
// volume: the plan is the unit's. Of a child, and under [LightWeight], 13 stops as what it
// is, a figure of adults; inside it nothing is there to hold the rate against where the
// unit wrote none, and that is said once.
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
	limit, adult := stop.Text()+", "+setByUnit(l.rx), l.s.Adult()
	if !byUnit {
		limit = ownRate(l.rx, stop)
	}
	if runs, so := over(stop, p.Goal, p.Length); so && byUnit {
		v.ring(e, "paper_rate_limit", runs, stop).against(limit)
	} else if so && !adult {
		v.ring(e, "paper_rate_adults", runs, stop.Text(), noneWritten(l.rx)).against(limit)
	} else if so {
		v.ring(e, "paper_rate_stop", runs, stop).against(limit)
	} else if runs, so := over(stop, peak, 60); so && byUnit {
		v.ring(e, "paper_peak_limit", runs, stop).against(limit)
	} else if so && !adult {
		v.ring(e, "paper_peak_adults", runs, stop.Text(), noneWritten(l.rx)).against(limit)
	} else if so {
		v.ring(e, "paper_peak", runs, stop).against(limit)
	} else if runs, so := over(look, p.Goal, p.Length); so {
		v.look(e, "paper_rate_look", runs, look).against(ownRate(l.rx, look))
	} else if runs, so := over(look, peak, 60); so {
		v.look(e, "paper_peak_look", runs, look).against(ownRate(l.rx, look))
	}
	stopped := slices.ContainsFunc(v.findings, func(f finding) bool { return f.entry == e.ID && f.state == StopHere })
	switch {
	case most != nil && p.Goal > *most:
		v.ring(e, "paper_most", p.Goal.Text(), most.Text()).against(most.Text() + ", " + setByUnit(l.rx))
	case !adult && most == nil && !l.rx.RateKnown() && !stopped:
		v.look(e, "paper_unheld")
	}
}

// paperLimit is what the rate of the unit's paper is held against, and whose it is;
// empty where there is none but that of adults.
func (l startLine) paperLimit() string {
	switch stop, _, byUnit := l.paperBounds(); {
	case byUnit:
		return stop.Text() + ", " + setByUnit(l.rx)
	case l.s.Adult():
		return ownRate(l.rx, stop)
	case l.rx.MaxRemoval != nil:
		return l.rx.MaxRemoval.Text() + ", " + setByUnit(l.rx)
	}
	return ""
}

// paperBeyond looks at a paper's goal that would end further under the dry weight than
// the unit is rung for, by its figure or the program's own ([UnderDryOf]); ours is so much
// less under [LightWeight] as the dry weight is:
//
//	end = weight − clothing − goal + drinks, washback and flushes as ordered   (1 L = 1 kg)
func (l startLine) paperBeyond(v *verdict, p *PaperPlan, e *Event) {
	in, weighed := lastBy[WeighIn](l.s, l.at)
	if in == nil || weighed.Missing["weight_kg"] != "" || l.rx.DryWeight <= 0 {
		return
	}
	u := UnderDryOf(l.s, AgreedPlan{PreWeight: in.Weight, Clothing: in.Clothing, DryWeight: l.rx.DryWeight}, l.at)
	if l.rx.DryRing == nil && l.rx.DryWeight < LightWeight {
		u.Ring = u.Ring * l.rx.DryWeight / LightWeight
	}
	end := in.Weight - in.Clothing - unit.Mass(p.Goal) + unit.Mass(l.rx.Intake+l.s.Machine.WashbackIn(l.rx)+l.rx.FlushesPlanned(p.Length))
	if under := l.rx.DryWeight - end; under > u.Ring {
		v.look(e, "paper_beyond", p.Goal.Text(), in.Weight.Text(), under.Text()).against(u.Limit())
	}
}
