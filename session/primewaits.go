package session

import "slices"

// primeNeeds are the kinds of entry that the prime waits for: nothing is filled from
// a machine that failed its test, with water that was not tested or from a bath that
// was not read.
var primeNeeds = []string{"self_test", "chlorine", "bath_label"}

// primesLast is the sheet with its prime after the steps of [primeNeeds], as far as
// it has them and none of them waits for the prime itself. With ready bags it waits for
// no test of water.
func (r RunSheet) primesLast(m Machine) RunSheet {
	prime := r.index(PrimeStep)
	if prime < 0 {
		return r
	}
	r = r.clone()
	p := &r.Steps[prime]
	for _, one := range r.Steps {
		if one.Entry == "chlorine" && m.Fluid() == FluidBags {
			continue
		}
		if one.Tick != TickValue || !slices.Contains(primeNeeds, one.Entry) || slices.Contains(p.After, one.ID) {
			continue
		}
		before := p.After
		if p.After = append(slices.Clone(before), one.ID); len(r.ring()) > 0 {
			p.After = before
		}
	}
	return r
}

// waits is what a step waits for.
func (r RunSheet) waits(id string) []string {
	step, _ := r.Step(id)
	return step.After
}

// waterWanting reports whether the chlorine tests of a session leave the step of the
// run sheet open, by the samples that the start line's check asks for: without its
// calls, and without what a strip or its date makes of a sample that is not over.
func waterWanting(tests []sample) bool {
	behind := lastBehind(tests)
	return slices.ContainsFunc(waterPlaces, func(place string) bool {
		over, good := lastOver(tests, place)
		return over != nil && good < goodSamples && !(place == firstCarbon && behind != nil && behind.good)
	})
}
