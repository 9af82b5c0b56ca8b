package session

import (
	"sort"
	"time"

	"ebbline/unit"
	"ebbline/water"
)

// A Lead is the bounds of one value of a reading, beyond which it leads to what to do
// about a trouble. The figures are in the unit in which the value is typed.
type Lead struct {
	Key         string   // of the value
	Trouble     string   // that it leads to
	Under, Over *float64 // the value leads below the one, and above the other; nil where nothing leads
}

// Beyond reports whether a value leads to the trouble.
func (l Lead) Beyond(v float64) bool {
	return l.Under != nil && v < *l.Under || l.Over != nil && v > *l.Over
}

// ReadingLeads gives the bounds of a reading typed while the treatment runs at now, by
// the rules that remarks are made by: a fluid as [FluidTold] has it, in °C and mS/cm; a
// pressure as [FallTold] has it, in mmHg; a fever in °C; a pulse a minute. None before
// the treatment.
func ReadingLeads(s *Session, now time.Time) []Lead {
	if began, ok := s.Began(); !ok || now.Before(began) {
		return nil
	}
	f := func(v float64) *float64 { return &v }
	list := []Lead{{Key: "dialysate_temp_c", Trouble: TroubleFluid, Over: f(float64(water.FluidHot) / 10)}}

	// The bounds of the conductivity lie round what is set, in hundredths of mS/cm.
	wrong := func(v int) bool {
		read := unit.Conductivity(v)
		is, _ := FluidTold(s, &read, nil)
		return is
	}
	middle := 1400
	if s.Rx != nil && s.Rx.SetConduct != nil {
		middle = int(*s.Rx.SetConduct)
	}
	low := sort.Search(middle, func(v int) bool { return !wrong(v) })
	high := middle + sort.Search(middle, func(d int) bool { return wrong(middle + d) }) - 1
	list = append(list, Lead{Key: "conductivity_ms_cm", Trouble: TroubleFluid, Under: f(float64(low) / 100), Over: f(float64(high) / 100)})

	const most = 300 // mmHg
	upper := sort.Search(most, func(v int) bool {
		p := unit.Pressure(v)
		is, _ := FallTold(s, &p, nil, now)
		return !is
	})
	if upper > 0 { // of a child whose start is not known nothing is low
		list = append(list, Lead{Key: "systolic_mmhg", Trouble: TroubleLow, Under: f(float64(upper))})
	}
	if lower := sort.Search(most, func(v int) bool {
		p := unit.Pressure(v)
		_, is := FallTold(s, nil, &p, now)
		return !is
	}); lower > 0 {
		list = append(list, Lead{Key: "diastolic_mmhg", Trouble: TroubleLow, Under: f(float64(lower))})
	}

	// From a bound on is fever: above the tenth before it.
	from := min(feverFrom, feverBase(s)+feverRise)
	list = append(list, Lead{Key: "body_temperature_c", Trouble: TroubleFever, Over: f(float64(from-1) / 10)})

	slow, fast := pulseBounds(s)
	pulse := Lead{Key: "pulse_per_min", Trouble: troubleOf["pulse_out"], Under: f(float64(slow.at))}
	if fast.at > 0 {
		pulse.Over = f(float64(fast.at))
	}
	return append(list, pulse)
}

// feverBase is the temperature that a rise is counted from: the one before the session,
// or the first one read; [feverFrom] where there is neither.
func feverBase(s *Session) unit.Temperature {
	began, _ := s.Began()
	if before := temperatureBefore(s, began); before != nil {
		return *before
	}
	base := feverFrom
	found := false
	Each(s, func(b *Reading, _ *Event) {
		if !found && b.BodyTemp != nil {
			base, found = *b.BodyTemp, true
		}
	})
	return base
}

// NoFall reports whether an upper pressure in mmHg, typed while the treatment runs at
// now, is no fall as [FallTold] has it and lies no more than 10 above what the session
// began at: a recovery is, however far it lies from the reading before. The 10 is that
// of [NearStart].
func NoFall(s *Session, sys unit.Pressure, now time.Time) bool {
	p, _, ok := pressureRule(s, now)
	if !ok || p.start == nil || sys > *p.start+fallNear {
		return false
	}
	fall, _ := FallTold(s, &sys, nil, now)
	return !fall
}
