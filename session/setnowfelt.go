package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// feltFor is how long what is felt and is one for the ambulance keeps the program
// from asking for removal, counted from the last complaint. Ours.
const feltFor = 15 * time.Minute

// hardFelt follows what was felt in the body and leads to a trouble for the
// ambulance (chest pain, breathless, chills, faint and the like). While it holds
// nothing is asked for at the machine, as while a trouble is open. Each ends when
// its trouble is said to be over; all end together once a reading is inside and 15
// minutes have passed, both after the last complaint: any "unwell", a cramp or a low
// pressure, whatever its words.
type hardFelt struct {
	codes  []string // of the troubles they lead to
	last   time.Time
	inside bool // a reading was, since the last complaint
}

// complaint takes in one; code is of the trouble it leads to, and may be empty.
func (f *hardFelt) complaint(code string, at time.Time) {
	f.settle(at)
	if ringsAmbulance(code) && !slices.Contains(f.codes, code) {
		f.codes = append(f.codes, code)
	}
	f.last, f.inside = at, false
}

// over takes in that a trouble is.
func (f *hardFelt) over(code string) {
	f.codes = slices.DeleteFunc(f.codes, func(c string) bool { return c == code })
}

// settle ends what does not hold any more at a moment.
func (f *hardFelt) settle(at time.Time) {
	if f.inside && at.Sub(f.last) >= feltFor {
		f.codes = nil
	}
}

// holds reports whether something felt does at a moment.
func (f *hardFelt) holds(at time.Time) bool {
	f.settle(at)
	return len(f.codes) > 0
}

// quiet reports whether nothing is asked for at the machine: a reading is low and
// none since was inside, the last one counts as low and fell, a trouble is open, or something felt is one for the
// ambulance.
func (w *watch) quiet(now time.Time) bool {
	return w.bp.low || w.bp.nadir || w.felt.holds(now) || len(OpenTroubles(w.s, now)) > 0
}

// rounding is how far a rate read off the machine may lie above the one that holds
// the removal: what a machine that sets it from goal and time rounds. It is the step
// of the goal field as so much an hour (10 mL/h at most), 5 mL/h or 1 %, whichever
// is most, and none for a removal that is to stop. Ours.
func rounding(m Machine, held unit.Rate) unit.Rate {
	if held <= 0 {
		return 0
	}
	step := min(unit.Rate(m.FieldStep()), 10)
	return max(step, 5, held/100)
}
