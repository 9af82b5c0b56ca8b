package kinetics

import "ebbline/unit"

// SteadySamples is a schedule that has been kept long enough to repeat itself,
// with the levels before and after one of its sessions.
type SteadySamples struct {
	Cycle     Cycle
	Session   int     // which of the cycle's sessions was sampled
	Pre, Post float64 // urea nitrogen, mg/mL
}

// FitSteady finds the volume and the generation with which the schedule's
// steady state has these two levels. Levels go with the generation, so their
// ratio alone decides the volume and the pre-session level then gives the
// generation. The level before the next session, which [Pools.Steady] of the
// answer gives, is the test whether the schedule really was steady.
//
// Refused are what [Cycle] refuses, a post not below the pre, and levels that
// no volume from 0.1 to 2000 L explains.
func FitSteady(shape Shape, s SteadySamples) (Fit, error) {
	if err := shape.check(); err != nil {
		return Fit{}, err
	}
	if err := s.check(); err != nil {
		return Fit{}, err
	}
	levels := make([]Levels, len(s.Cycle.Sessions))
	var failed error
	at := func(volume float64) Levels {
		steady, err := shape.Pools(volume, 1).Steady(s.Cycle, levels)
		if err != nil {
			failed = err
			return Levels{Pre: 1, Post: 1}
		}
		return steady.Sessions[s.Session]
	}
	volume, ok := fitRoot(lowestFitL, highestFitL, func(v float64) float64 {
		l := at(v)
		return l.Post/l.Pre - s.Post/s.Pre
	})
	switch {
	case failed != nil:
		return Fit{}, failed
	case !ok:
		return Fit{}, unit.Refuse("post_mg_ml", s.Post, "a level that this schedule can leave after that pre-session one")
	}
	return Fit{volume, s.Pre / at(volume).Pre}, nil
}

func (s *SteadySamples) check() error {
	if err := s.Cycle.check(); err != nil {
		return err
	}
	switch {
	case s.Session < 0 || s.Session >= len(s.Cycle.Sessions):
		return unit.Refuse("session", s.Session, "one of the sessions of the cycle")
	case !(s.Pre > 0 && s.Pre <= mostLevel):
		return unit.Refuse("pre_mg_ml", s.Pre, "a level above 0")
	case !(s.Post > 0 && s.Post <= mostLevel):
		return unit.Refuse("post_mg_ml", s.Post, "a level above 0")
	case s.Post >= s.Pre:
		return unit.Refuse("post_mg_ml", s.Post, "a level below the pre-session one; the tubes may have been swapped, or the wrong results paired")
	}
	return nil
}
