package session

import (
	"time"

	"ebbline/unit"
)

// A count follows what a machine shows as removed, and gives what came off the person:
// the net removal, by which everything else is worked out. When its count began at zero
// again, what it showed before is added from then on:
//
//	removed = Σ last value shown before each new beginning + value shown now   (mL)
//
// What came off between that last value and the new beginning is not known and
// is not in it.
//
// In haemodiafiltration what the figure means was said of the machine
// ([Session.RemovedShows]). Where the substitution fluid is in it,
//
//	value = value shown − substitution so far, both of one reading   (mL)
//
// and a reading without both tells nothing of the removal; nor does one in which the
// substitution is the greater by more than [lastDigit], which cannot be. Up to that it
// is 0. Nor does any while nobody has said what the figure means. Each figure is read by
// what was said when it was written down.
type count struct {
	s      *Session    // whose it is
	fault  string      // code of why the last figure tells nothing; empty where it does
	before unit.Volume // net, of counts that are over
	net    unit.Volume // of this one, last
	shown  unit.Volume // by the machine, of this one, last
	again  bool        // there were others

	given givenFluid
	base  unit.Volume // the same in all when this count began
}

// lastDigit is how much less than the substitution fluid a figure that has it in it may
// show: a counter of litres is read to 0.1 L. Ours.
const lastDigit unit.Volume = 100

func countOf(s *Session) count { return count{s: s} }

// take takes in an entry that tells of removal and gives all that was removed by
// then; ok is false for an entry that tells of none.
func (c *count) take(e *Event) (total unit.Volume, ok bool) {
	if e.Struck != nil {
		return 0, false
	}
	var shown *unit.Volume
	var given *unit.Litres
	switch b := e.Body.(type) {
	case *Reading:
		if b.Again {
			c.before, c.net, c.shown, c.base, c.again = c.before+c.net, 0, 0, c.given.total(), true
			c.given.again = true
		}
		shown, given = b.Removed, b.Given
	case *CameOff:
		shown, given = b.Removed, b.Given
	}
	if given != nil {
		c.given.take(*given)
	}
	if shown == nil {
		return 0, false
	}
	c.shown = *shown
	net := *shown
	means := c.s.removedShows(e)
	if means == RemovedGross {
		net -= c.given.total() - c.base
	}
	switch {
	case means == "":
		c.fault = "removed_unsaid"
	case means == RemovedGross && given == nil:
		c.fault = "removed_gross"
	case net < -lastDigit:
		c.fault = "removed_cannot"
	default:
		c.fault, c.net = "", max(net, 0)
		return c.before + c.net, true
	}
	return 0, false
}

// givenFluid follows the machine's count of the substitution fluid. It began at zero
// again when the counts were said to have begun again and it shows less than before: not
// every machine begins both.
type givenFluid struct {
	before, shown unit.Volume
	again         bool // said since its last value
}

func (g *givenFluid) take(l unit.Litres) {
	ml := unit.Volume(l) // a litre is kept to the millilitre
	if g.again && ml < g.shown {
		g.before += g.shown
	}
	g.shown, g.again = ml, false
}

func (g *givenFluid) total() unit.Volume { return g.before + g.shown }

// A Count is what was known of the removal at a moment.
type Count struct {
	Removed unit.Volume // in all, net
	Shown   unit.Volume // by the machine: less than Removed once its count began again, and more where the substitution fluid is in it
	Before  unit.Volume // Removed at the reading of it before this one
	At      time.Time   // when it was read; zero when never

	Given      unit.Volume // substitution fluid in all
	GivenShown unit.Volume // by the machine
	GivenAt    time.Time   // when it was read; zero when never

	count count
}

// Counted gives the removal as last typed from the machine up to an instant.
func Counted(s *Session, at time.Time) Count {
	out := Count{count: countOf(s)}
	for i := range s.Log {
		e := &s.Log[i]
		if e.At.After(at) {
			break
		}
		if total, ok := out.count.take(e); ok {
			out.Before, out.Removed, out.At = out.Removed, total, e.At
		}
		if e.Struck == nil && givenBy(e.Body) != nil {
			out.GivenAt = e.At
		}
	}
	out.Shown = out.count.shown
	out.Given, out.GivenShown = out.count.given.total(), out.count.given.shown
	return out
}

// BeganAgain reports whether the machine's count of what was removed began at zero again.
func (c Count) BeganAgain() bool { return c.count.again }

// With gives the removal in all once a further entry is in; ok is false for one that
// tells of none.
func (c Count) With(body any) (total unit.Volume, ok bool) {
	return c.count.take(&Event{Body: body, Written: notYet})
}

// Cannot reports whether a further entry shows less removed than the substitution fluid
// that is in the figure: no machine can.
func (c Count) Cannot(body any) bool {
	c.count.take(&Event{Body: body, Written: notYet})
	return c.count.fault == "removed_cannot"
}

// GivenWith gives the substitution fluid in all once a further entry is in, whose counts
// may have begun again.
func (c Count) GivenWith(body any, again bool) unit.Volume {
	given := c.count.given
	given.again = given.again || again
	if l := givenBy(body); l != nil {
		given.take(*l)
	}
	return given.total()
}

// notYet is when an entry is written that is only tried: after all that was.
var notYet = time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)

// givenBy is the substitution fluid that an entry tells of, or nil.
func givenBy(body any) *unit.Litres {
	switch b := body.(type) {
	case *Reading:
		return b.Given
	case *CameOff:
		return b.Given
	}
	return nil
}

// removedBy gives the removal last typed from the machine up to an instant, with
// what its earlier counts showed.
func removedBy(s *Session, at time.Time) (*unit.Volume, time.Time) {
	c := Counted(s, at)
	if c.At.IsZero() {
		return nil, time.Time{}
	}
	return &c.Removed, c.At
}

// RemovedInAll gives the total typed at the end of a treatment, with what earlier
// counts of the machine showed; nil while none was typed. A reading before the
// end is not the end.
func RemovedInAll(s *Session) *unit.Volume {
	off, ended := Last[CameOff](s)
	if off == nil || off.Removed == nil {
		return nil
	}
	c := Counted(s, ended.At)
	if c.count.fault != "" {
		return nil
	}
	return &c.Removed
}

// removedTyped is the machine's figure for what was removed as an entry has it, or nil.
func removedTyped(body any) *unit.Volume {
	switch b := body.(type) {
	case *Reading:
		return b.Removed
	case *CameOff:
		return b.Removed
	}
	return nil
}
