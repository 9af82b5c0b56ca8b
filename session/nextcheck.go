package session

import (
	"time"

	"ebbline/unit"
)

// A CheckDue says when the next reading is due, and why then.
type CheckDue struct {
	At    time.Time    // before now when it is overdue
	Every unit.Minutes // the interval that holds now
	Why   string       // one of the reasons below
	Whose string       // whose interval that is
	Unit  bool         // it is one that the unit set
}

// An interval is how often a reading is due, and whose word that is.
type interval struct {
	every unit.Minutes
	whose string
	unit  bool // the unit set it
}

func ours(every unit.Minutes) interval { return interval{every, ownDefault, false} }

// Why the next reading is due when it is.
const (
	DueInterval = "interval"     // the interval of this session
	DueLow      = "low_pressure" // after a low blood pressure
	DueLook     = "look"         // after another remark of level look
	DueAsleep   = "asleep"       // at the end of a sleep by plan
)

// How often a reading is due.
const (
	// CheckEvery is the interval where the unit has said nothing: each hour
	// (common practice at home; half-hourly in centres).
	CheckEvery unit.Minutes = 60
	// CheckAfterLow is the interval after a low pressure until a reading is
	// inside, where the unit has said nothing: measured again in 5 to 10
	// minutes (from memory; common practice).
	CheckAfterLow unit.Minutes = 5
	// checkInside is the interval from there until two readings running are
	// inside, and checkLook the one after another look, once. Ours.
	checkInside unit.Minutes = 15
	checkLook   unit.Minutes = 15
)

// NextCheck gives when the next reading is due in a run as it stands at now: the
// interval after the last reading, or after the beginning. ok is false before
// the treatment began and from its end on.
//
// What is due is counted from the last reading, or from the beginning; a low
// pressure that was said without a reading counts as one.
//
// After a low pressure a reading is due every 5 minutes until one is inside,
// then every 15 until two running are; after another remark of level look 15
// minutes after the last reading, once. The unit's interval after a low pressure
// takes the place of the 5, and of the 15 that follow when it is the longer. Of
// several reasons the one with the earliest moment counts; of equals a low
// pressure, then a look, then the interval, then the end of a sleep.
//
// "Asleep by plan" takes the place of the interval until it ends. A reading on
// waking does not end it; a low pressure and another look do, at the next
// reading: to sleep on is entered again. Any reading with a blood pressure
// answers a check that a pressure called for; one without does not.
//
// While a trouble is open that the person said is there, no reading is due later than
// 15 minutes after the one before, or after that was said. Ours.
//
// It knows no history: [NextCheckWith] does.
func NextCheck(s *Session, now time.Time) (due CheckDue, ok bool) { return nextCheck(s, now, nil) }

// nextCheck is [NextCheck] with further looks.
func nextCheck(s *Session, now time.Time, told []Remark) (due CheckDue, ok bool) {
	if ended, over := theEnd(s); over && !now.Before(ended) {
		return CheckDue{}, false
	}
	w, ok := watchRunTold(s, now, told)
	if !ok {
		return CheckDue{}, false
	}
	due = w.check.due(now).CheckDue
	for _, t := range OpenTroubles(s, now) {
		if _, said := s.Find(t.Entry).Body.(*Trouble); !said {
			continue
		}
		from := w.check.read
		if t.Since.After(from) {
			from = t.Since
		}
		if at := from.Add(lasting(checkLook)); at.Before(due.At) {
			due = CheckDue{At: at, Every: checkLook, Why: DueLook, Whose: ownDefault}
		}
	}
	return due, true
}

// checks follow when a reading is due, entry by entry.
type checks struct {
	usual, afterLow interval

	read  time.Time // of the last reading, or the beginning
	sleep time.Time // when the sleep by plan ends; zero without one
	woken bool      // something was to look at in that sleep

	lowFrom time.Time // of the last pressure while one is called for; zero when none is
	calmed  bool      // that pressure was the first one inside

	lookFrom  time.Time // of the first look that no reading has answered; zero without one
	nadirFrom time.Time // of one that a blood pressure called for
}

func checksOf(s *Session, began time.Time) checks {
	c := checks{read: began, usual: checkEvery(s), afterLow: ours(CheckAfterLow)}
	if s.Rx != nil && s.Rx.AfterLow != nil && *s.Rx.AfterLow > 0 {
		c.afterLow = interval{*s.Rx.AfterLow, setByUnit(s.Rx), true}
	}
	return c
}

// reading takes in that a reading was written.
func (c *checks) reading(at time.Time, pressure bool) {
	c.read = at
	if c.woken {
		c.sleep, c.woken = time.Time{}, false
	}
	c.lookFrom = time.Time{}
	if pressure {
		c.nadirFrom = time.Time{}
	}
}

// low takes in a low pressure, and inside a reading that is inside.
func (c *checks) low(e *Event) {
	c.lowFrom, c.calmed = e.At, false
	c.wake(e)
}

func (c *checks) inside(at time.Time) {
	switch {
	case c.lowFrom.IsZero():
	case c.calmed:
		c.lowFrom = time.Time{}
	default:
		c.lowFrom, c.calmed = at, true
	}
}

// look takes in a remark of level look other than a low pressure. A second one
// does not put off the reading that the first called for.
func (c *checks) look(e *Event, byPressure bool) {
	from := &c.lookFrom
	if byPressure {
		from = &c.nadirFrom
	}
	if from.IsZero() {
		*from = e.At
	}
	c.wake(e)
}

// wake ends the sleep by plan: at once when a reading shows why, else with the
// next one, so that the interval is counted from a reading.
func (c *checks) wake(e *Event) {
	if !e.At.Before(c.sleep) {
		return
	}
	if _, read := e.Body.(*Reading); read {
		c.sleep = time.Time{}
		return
	}
	c.woken = true
}

func (c *checks) asleep(at time.Time, length unit.Minutes) {
	c.sleep, c.woken = at.Add(lasting(length)), false
}

// dueAt is a check that is due, and the latest moment from which it counts as
// late: what would have been due in a sleep by plan is late from its end.
type dueAt struct {
	CheckDue
	latest time.Time
}

func (c *checks) due(now time.Time) dueAt {
	var first dueAt
	offer := func(from time.Time, in interval, why string, at, latest time.Time) {
		if from.IsZero() {
			return
		}
		if first.At.IsZero() || at.Before(first.At) {
			first.CheckDue = CheckDue{At: at, Every: in.every, Why: why, Whose: in.whose, Unit: in.unit}
		}
		if first.latest.IsZero() || latest.Before(first.latest) {
			first.latest = latest
		}
	}
	after := func(from time.Time, in interval, why string) {
		at := from.Add(lasting(in.every))
		offer(from, in, why, at, at)
	}
	if c.calmed {
		in := ours(checkInside)
		if c.afterLow.every > in.every {
			in = c.afterLow
		}
		after(c.lowFrom, in, DueLow)
	} else {
		after(c.lowFrom, c.afterLow, DueLow)
	}
	// Counted from the last reading, so that what was said between two readings
	// may call for one at once; late only as long after it was said.
	look := ours(checkLook)
	offer(c.lookFrom, look, DueLook, c.read.Add(lasting(checkLook)), c.lookFrom.Add(lasting(checkLook)))
	after(c.nadirFrom, look, DueLook)
	if now.Before(c.sleep) {
		offer(c.read, c.usual, DueAsleep, c.sleep, c.sleep)
	} else {
		at := c.read.Add(lasting(c.usual.every))
		latest := at
		if c.sleep.After(at) {
			latest = c.sleep
		}
		offer(c.read, c.usual, DueInterval, at, latest)
	}
	return first
}

func lasting(m unit.Minutes) time.Duration { return time.Duration(m) * time.Minute }

// checkEvery gives the interval of a session, and whose it is.
func checkEvery(s *Session) interval {
	if s.Rx != nil && s.Rx.CheckEvery != nil && *s.Rx.CheckEvery > 0 {
		return interval{*s.Rx.CheckEvery, setByUnit(s.Rx), true}
	}
	return ours(CheckEvery)
}
