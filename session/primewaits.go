package session

import (
	"slices"

	"ebbline/unit"
)

// primeNeeds are the kinds of entry that the prime waits for: nothing is filled from
// a machine that failed its test, with water that was not tested or from a bath that
// was not read.
var primeNeeds = []string{"self_test", "chlorine", "bath_label"}

// primesLast is the sheet with its prime after the steps of [primeNeeds], as far as
// it has them and none of them waits for the prime itself.
func (r RunSheet) primesLast() RunSheet {
	prime := r.index(PrimeStep)
	if prime < 0 {
		return r
	}
	r = r.clone()
	p := &r.Steps[prime]
	for _, one := range r.Steps {
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

// A waterStep follows the chlorine tests of a session, entry by entry, for the step
// of the run sheet: by the rule of the start line's check, but for the call.
type waterStep struct {
	limit  unit.Concentration
	wants  map[string]int // good samples that a place which failed still asks for
	behind bool           // the last sample behind the second carbon was good
}

// fails takes in an entry and reports whether it is a test that leaves the step open.
func (w *waterStep) fails(e *Event) bool {
	b, is := e.Body.(*Chlorine)
	if !is {
		return false
	}
	if w.wants == nil {
		w.wants = map[string]int{}
	}
	over := b.over(w.limit, e)
	switch {
	case over:
		w.wants[b.Point] = goodSamples
	case w.wants[b.Point] > 0:
		w.wants[b.Point]--
	}
	if b.Point == secondCarbon || b.Point == atMachine {
		w.behind = !over
	}
	for place, n := range w.wants {
		if n > 0 && !(place == firstCarbon && w.behind) {
			return true
		}
	}
	return false
}
