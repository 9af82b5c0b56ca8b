package session

import "ebbline/unit"

// AfterLow reports whether a blood pressure written after the treatment is low, by
// the rule of the session and against what it began at, in words. Of several that were
// written the last counts. Standing, only the figure it lies under counts, the unit's
// or 90 mmHg: to stand some 20 or 30 lower than one sat before is common after a
// session (one simulated session in six). Whose start is itself low by the program's
// rule is inside within 10 mmHg of it. Of a child without a figure of the unit's to act
// below, a fall by [childStandFall] percent counts standing. It is no remark: those end
// with the treatment.
func AfterLow(s *Session) (words string, ok bool) {
	began, treated := s.Began()
	if _, over := theEnd(s); !over || !treated {
		return "", false
	}
	p := pressureOf(s, began)
	p.start = startSystolic(s)
	var after VitalsAfter
	Each(s, func(b *VitalsAfter, _ *Event) {
		if b.LieSystolic != nil || b.StandSystolic != nil {
			after = *b
		}
	})
	f := facts{whose: p.whose}
	if p.start != nil {
		f.was = p.start.String()
	}
	low := func(sys *unit.Pressure) string {
		if sys == nil || !p.isLow(*sys) {
			return ""
		}
		if p.own() && p.start != nil && p.isLow(*p.start) && max(*sys-*p.start, *p.start-*sys) <= fallNear {
			return ""
		}
		return sys.String()
	}
	upright := func(sys *unit.Pressure) string {
		if p.child && p.below == nil {
			if sys == nil || p.start == nil || !fellBy(*sys, *p.start, childStandFall) {
				return ""
			}
			return low(sys)
		}
		below := fallBelow
		if p.below != nil {
			below = *p.below
		}
		if sys == nil || *sys >= below {
			return ""
		}
		return low(sys)
	}
	lying, standing := low(after.LieSystolic), upright(after.StandSystolic)
	return afterLowWords(lying, standing, f), lying+standing != ""
}
