package session

import (
	"fmt"
	"time"

	"ebbline/unit"
)

// A Closing is what the end of a session adds up to.
type Closing struct {
	Planned   unit.Minutes // length wanted, 0 when nobody said
	Treated   unit.Minutes // from instants, without pauses
	Machine   *unit.Minutes
	AskTime   string // when machine and instants differ by more than five minutes
	Delivered string // "whole", "shortened", "longer", "missed" or "not known"
	Words     string // the same in words
	Short     unit.Minutes
	Blood     float64 // litres processed
	Balance   Balance
	Balanced  bool
	Nadir     *unit.Pressure // lowest systolic while running
	Low       bool           // it counts as low pressure of the session
	Open      []OpenItem
}

// timeApart is how far the treated time of the machine may lie from that of
// the entries before it is asked about. Ours.
const timeApart unit.Minutes = 5

// Close adds up a session as far as it has come at now.
func Close(s *Session, now time.Time) Closing {
	c := Closing{Open: OpenItems(s)}
	c.Planned, _ = plannedLength(s)
	c.Treated = TreatedMinutes(s, now)
	if run, ok := Follow(s, now); ok {
		c.Blood = run.Blood
	}
	c.Balance, c.Balanced = BalanceOf(s)
	if b, _ := Last[Closed](s); b != nil && b.MachineTreated != nil {
		c.Machine = b.MachineTreated
		if apart(*c.Machine, c.Treated) {
			c.AskTime = fmt.Sprintf("Machine says %s treated, your entries %s. A pause not written?", hoursText(*c.Machine), hoursText(c.Treated))
		}
	}
	c.delivered(s)
	c.Nadir, c.Low = nadirOf(s)
	return c
}

// TimeApart gives the treated time of the entries in words, and reports whether
// the machine's lies more than five minutes off it.
func TimeApart(s *Session, machine unit.Minutes, now time.Time) (treated string, far bool) {
	own := TreatedMinutes(s, now)
	return hoursText(own), apart(machine, own)
}

func apart(machine, treated unit.Minutes) bool {
	d := machine - treated
	return max(d, -d) > timeApart
}

// shortened reports whether a treatment ended early.
func shortened(s *Session) bool {
	ended, over := s.Ended()
	planned, known := plannedLength(s)
	return over && known && short(TreatedMinutes(s, ended), planned)
}

func short(treated, planned unit.Minutes) bool { return treated < planned-timeApart }

// plannedLength is what the unit ordered and the plan agreed to, before
// anything was changed under way: shortening a session does not make it whole.
func plannedLength(s *Session) (unit.Minutes, bool) {
	plan, _ := ToDial(s)
	if plan != nil && s.RemovalOnly() {
		return plan.Length, true // the order's length is that of a dialysis
	}
	if s.Rx != nil {
		if length, _, err := s.Rx.SessionLength(); err == nil {
			return length, true
		}
	}
	if plan != nil {
		return plan.Length, true
	}
	return 0, false
}

func (c *Closing) delivered(s *Session) {
	_, over := s.Ended()
	why := ""
	if off, _ := Last[CameOff](s); off != nil && off.Why != "" {
		why = ": " + off.Why
	}
	closed, _ := Last[Closed](s)
	switch {
	case !s.Treated() && closed != nil:
		c.Delivered, c.Words, c.Short = "missed", "Missed: set up, not treated.", c.Planned
	case !over || c.Planned == 0:
		c.Delivered, c.Words = "not known", "Not known yet."
	case short(c.Treated, c.Planned):
		c.Short = c.Planned - c.Treated
		c.Delivered = "shortened"
		c.Words = fmt.Sprintf("Shortened by %s (%d %%)%s.", hoursText(c.Short), (100*c.Short+c.Planned/2)/c.Planned, why)
	case c.Treated > c.Planned+timeApart:
		c.Delivered, c.Words = "longer", fmt.Sprintf("%s, %s more than prescribed.", hoursText(c.Treated), hoursText(c.Treated-c.Planned))
	default:
		c.Delivered, c.Words = "whole", hoursText(c.Treated)+", as prescribed."
	}
}

// nadirOf gives the lowest systolic while running and whether it counts as low
// pressure of the session ([bloodPressure.countsAsLow]).
func nadirOf(s *Session) (lowest *unit.Pressure, low bool) {
	take := func(p *unit.Pressure) {
		if p != nil && (lowest == nil || *p < *lowest) {
			lowest = p
		}
	}
	Each(s, func(b *Reading, _ *Event) { take(b.Systolic) })
	Each(s, func(b *LowPressure, _ *Event) { take(b.Systolic) })
	if lowest == nil {
		return nil, false
	}
	p := pressureFrom(s, startSystolic(s))
	return lowest, p.countsAsLow(*lowest)
}
