package session

import (
	"slices"
	"strings"
	"time"
	"unicode"
)

// A Cycle is one disinfection of the machine, as it was written down; or, with a
// word for it, something else that was done to machine or water treatment.
type Cycle struct {
	Disinfection
	At    time.Time
	Place int    // in the order of writing
	Did   string // "serviced", "water treatment disinfected"; empty: the machine's disinfection
}

// before orders by time, and at one moment by writing.
func (c Cycle) before(at time.Time, place int) bool {
	return c.At.Before(at) || c.At.Equal(at) && c.Place < place
}

// follows reports whether something was done, and after an entry.
func (c Cycle) follows(e *Event) bool {
	return !c.At.IsZero() && Cycle{At: e.At, Place: e.Place}.before(c.At, c.Place)
}

// opensAgain are the kinds of entry that are written again after machine or water
// treatment was disinfected, serviced, moved or the like, with the check that each
// decides: the machine tests itself again, the bath is connected again, and the
// fluid is made again; where it was the water treatment, the water is other water.
var opensAgain = map[string]struct {
	check string
	water bool // not after the machine's own disinfection
}{
	"self_test":   {check: CheckSelfTest},
	"bath_label":  {check: CheckBath},
	"fluid_check": {check: CheckConduct},
	"chlorine":    {check: CheckChlorine, water: true},
}

// setUpCycles lists the disinfections that were run while a session was set up,
// up to an instant: those it wrote before its treatment began, and those of the
// round.
func setUpCycles(s *Session, h History, at time.Time) []Cycle {
	began, treated := s.Began()
	var list []Cycle
	Each(s, func(b *Disinfection, e *Event) {
		if !e.At.After(at) && !(treated && e.At.After(began)) {
			list = append(list, Cycle{Disinfection: *b, At: e.At, Place: e.Place})
		}
	})
	for _, c := range h.Meanwhile {
		if !c.At.After(at) {
			list = append(list, c)
		}
	}
	return list
}

// lastOf gives the latest of some cycles, and false where there is none.
func lastOf(list []Cycle) (last Cycle, there bool) {
	for _, c := range list {
		if !there || last.before(c.At, c.Place) {
			last, there = c, true
		}
	}
	return last, there
}

// CleanedAfter gives the disinfection that followed a session's treatment, or
// nil: one that was run while setting up came before it. A session that was
// never treated has the last it wrote.
func CleanedAfter(s *Session) (*Disinfection, *Event) {
	b, e := Last[Disinfection](s)
	if began, treated := s.Began(); b != nil && treated && e.At.Before(began) {
		return nil, nil
	}
	return b, e
}

// A redoing is what was done last to the machine and its water while a session was
// set up, and what of it may have been the water treatment; zero where nothing was.
// What was tested and primed before that is done again.
type redoing struct{ any, water Cycle }

// redone gathers it from the entries of a session and from those of the round.
func redone(s *Session, h History, at time.Time) redoing {
	list := setUpCycles(s, h, at)
	if t, place, ticked := disinfectTicked(s, at); ticked {
		list = append(list, Cycle{At: t, Place: place})
	}
	water := slices.DeleteFunc(slices.Clone(h.Reworked), func(c Cycle) bool { return c.At.After(at) })
	var r redoing
	r.any, _ = lastOf(append(list, water...))
	if b, _ := BatchNow(s, h, at); b == nil && s.Machine.Fluid() != FluidBags { // their water was drawn before
		r.water, _ = lastOf(water)
	}
	return r
}

// of gives what opens a kind of entry again, zero for nothing.
func (r redoing) of(kind string) Cycle {
	switch again, there := opensAgain[kind]; {
	case !there:
		return Cycle{}
	case again.water:
		return r.water
	}
	return r.any
}

// disinfectSteps are the ids of steps that run a disinfection.
var disinfectSteps = []string{"disinfect", "disinfecting"}

// disinfectTicked finds a step of setting up that says a disinfection was run.
// A tick tells neither the programme nor how it ended.
func disinfectTicked(s *Session, at time.Time) (t time.Time, place int, ticked bool) {
	Each(s, func(b *StepDone, e *Event) {
		if b.Phase == SetUp && slices.Contains(disinfectSteps, b.Step) && !e.At.After(at) {
			t, place, ticked = e.At, e.Place, b.State == "done" || b.State == "started"
		}
	})
	return t, place, ticked
}

// The ids of the steps that put dialyser and lines on the machine, prime them, and
// look for disinfectant that was left.
const (
	LinesStep   = "lines"
	PrimeStep   = "prime"
	ResidueStep = "residue"
)

// LinesOn reports whether blood lines are on the machine at an instant, and since
// when: their lot was written down, or their step was ticked, and it was not said
// since that they are off again; or the treatment runs. How they come off is said
// by taking the step back: "undone".
func LinesOn(s *Session, at time.Time) (since time.Time, on bool) {
	put := func(e *Event) {
		if !on {
			since, on = e.At, true
		}
	}
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(at) {
			continue
		}
		switch b := e.Body.(type) {
		case *Supply:
			if isLines(b.Item) {
				put(e)
			}
		case *StepDone:
			switch {
			case b.Phase != SetUp:
			case b.Step == LinesStep && (b.State == "undone" || b.State == "not_done"):
				on = false
			case b.Step == LinesStep && b.State == "done", b.Step == PrimeStep && (b.State == "done" || b.State == "started"):
				put(e)
			}
		case *Connected:
			put(e)
		case *CameOff, *Circuit, *Closed:
			on = false
		}
	}
	return since, on
}

// isLines reports whether an item that was opened is a part of the blood circuit.
// Each word of it is asked about as well, so that what else was written beside it,
// “needles and lines”, hides nothing; but for “cartridge”, which may be one of
// bicarbonate.
func isLines(item string) bool {
	circuit := func(name string) bool {
		of := goodsOf(name)
		return slices.Contains(of, lineGoods) || slices.Contains(of, dialyserGoods)
	}
	words := strings.FieldsFunc(strings.ToLower(item), func(r rune) bool { return !unicode.IsLetter(r) })
	return circuit(item) || slices.ContainsFunc(words, func(word string) bool { return !strings.HasPrefix(word, "cartridge") && circuit(word) })
}
