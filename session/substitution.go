package session

import (
	"time"

	"ebbline/unit"
)

// OrderedSubstitution is the fluid that haemodiafiltration gives into the blood, as
// the unit ordered it. An order may lack both: it was written before they were asked.
type OrderedSubstitution struct {
	Substitution      *unit.Litres `json:"substitution_l,omitempty"`     // in a session
	SubstitutionPlace string       `json:"substitution_place,omitempty"` // relative to the dialyser: before, after or mixed
}

// The places at which the fluid is added, relative to the dialyser.
const (
	SubstitutedBefore = "before"
	SubstitutedAfter  = "after"
	SubstitutedMixed  = "mixed"
)

// placeOfSubstitution words them.
var placeOfSubstitution = map[string]string{
	SubstitutedBefore: "before the dialyser", SubstitutedAfter: "after the dialyser", SubstitutedMixed: "before and after the dialyser",
}

// Whole reports whether both are there.
func (o OrderedSubstitution) Whole() bool { return o.Substitution != nil && o.SubstitutionPlace != "" }

// SubstitutionText words what was ordered: "substitution 23 L, after the dialyser". What
// is not written is named.
func (o OrderedSubstitution) SubstitutionText() string {
	text := "substitution not written"
	if o.Substitution != nil {
		text = "substitution " + o.Substitution.Text()
	}
	if words := placeOfSubstitution[o.SubstitutionPlace]; words != "" {
		return text + ", " + words
	}
	return text + ", where it is added is not written"
}

// ByFiltration reports whether the order is of haemodiafiltration. False without a
// prescription.
func (rx *Prescription) ByFiltration() bool { return rx != nil && rx.Filtration }

// ByFiltration reports whether a session is one of haemodiafiltration: it is ordered,
// and this session is not one of removal only, in which no substitution fluid is given.
func (s *Session) ByFiltration() bool { return s.Rx.ByFiltration() && !s.RemovalOnly() }

// What the figure for the fluid removed means on a machine in haemodiafiltration.
const (
	// RemovedNet is what came off the person: fluid given as substitution and taken off
	// again is not in it.
	RemovedNet = "net"
	// RemovedGross has the substitution fluid in it.
	RemovedGross = "with_substitution"
)

// RemovedShows gives what the machine's figure for the fluid removed means in a
// session: [RemovedNet], [RemovedGross], or empty while nobody has said. Without
// haemodiafiltration nothing is given and taken off again, and every figure is net. A
// session held elsewhere ran on a machine that is not described here: what the place
// wrote as removed is what came off.
func (s *Session) RemovedShows() string {
	opened, _ := s.Opened()
	if !s.ByFiltration() || opened.Place == "elsewhere" {
		return RemovedNet
	}
	return s.Machine.RemovedShows
}

// ShownUntil is what the machine's figure for the fluid removed was said to mean until a
// moment in a session, when something else was written.
type ShownUntil struct {
	Until time.Time
	Means string
}

// removedShows is [Session.RemovedShows] for the figure of one entry: by what was said
// when the entry was first written down.
func (s *Session) removedShows(e *Event) string {
	now := s.RemovedShows()
	if len(s.Shown) == 0 || now != s.Machine.RemovedShows {
		return now
	}
	for _, b := range s.Shown {
		if e.FirstWritten().Before(b.Until) {
			return b.Means
		}
	}
	return now
}

// The fluid that a washback is given with.
const (
	WithSaline       = "saline"
	WithMachineFluid = "machine_fluid"
)

// WashedWith words what the blood was given back with: saline where nothing was said.
func (c *CameOff) WashedWith() string {
	if c.WashbackWith == WithMachineFluid {
		return "fluid from the machine"
	}
	return "saline"
}
